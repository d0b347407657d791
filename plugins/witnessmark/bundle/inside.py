"""Runs inside the browser runtime while a heap image is made; nothing else imports it.

It imports what a site needs, calls every calculator once so that whatever is made on first
use has been made, lets go of what only that work needed, and leaves two functions behind
whose addresses the start of a page calls.
"""

from __future__ import annotations

import ast
import functools
import gc
import importlib
import json
import re
import sys
import time
import types
import typing
import warnings
import zipimport
from collections.abc import Callable, Iterator
from typing import Any

REQUEST = "/image-request.json"
REPORT = "/image-report.json"

# Archives whose modules are kept whole, with docstrings and numbers of lines.
whole: tuple[str, ...] = ()

# What only a reference page shows; it has been written when the site was built.
DISPLAYED = ("purpose", "formulas", "symbols", "assumptions", "sources", "check_values")

# A shop whose calculators look at any of that, or at docstrings, keeps all of it.
_LOOKS_BACK = re.compile(rf"__doc__|getdoc|\.(?:{'|'.join(DISPLAYED)})\b")

_compile_source = zipimport._compile_source  # type: ignore[attr-defined]
_unmarshal_code = zipimport._unmarshal_code  # type: ignore[attr-defined]
_OPTIMIZED = 1  # of the flags of a code object: it is one of a function
_DOCUMENTED = ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef
_CHARACTER_BY_NAME = re.compile(r"\\N\{|namereplace")

_CACHED: Any = type(functools.lru_cache(len))
_BYTES_HEAD = sys.getsizeof(b"")

# Modules that pint and the standard library need only while they are imported, or for work
# that a calculator never asks of them. They are let go; should anything ask for one after
# all, it is imported again from the archive on the host. Modules that a calculator or the
# contract imports by name are never let go.
LET_GO = (
    "_ast", "_bz2", "_compat_pickle", "_compression", "_opcode", "_opcode_metadata", "_pickle",
    "_random", "ast", "bz2", "dis", "flexcache", "flexcache.flexcache",
    "fnmatch", "glob", "hmac", "importlib.metadata", "importlib.resources",
    "importlib.resources._common", "importlib.resources._functional", "importlib.resources.abc",
    "inspect", "linecache", "locale", "lzma", "ntpath", "opcode", "pathlib", "pathlib._abc",
    "pathlib._local", "pickle", "platform", "platformdirs", "platformdirs._paths",
    "platformdirs._runtime", "platformdirs._xdg", "platformdirs.api", "platformdirs.unix",
    "platformdirs.version", "random", "shutil", "tempfile", "textwrap", "traceback",
    "typing_extensions", "unicodedata",
)  # fmt: skip


class Later(types.ModuleType):
    """Stands where a module stood that was let go; imports it when something asks for it."""

    def __getattr__(self, name: str) -> Any:
        return getattr(importlib.import_module(self.__name__), name)


class Tables:
    """Has tables that were held back brought before a module that reads them is imported."""

    def __init__(self, modules: set[str], file: str) -> None:
        self._modules = modules
        self._file = file

    def find_spec(self, name: str, *_: Any) -> None:
        """Find nothing: whoever comes after this finds the module."""
        if name in self._modules:
            try:
                open(self._file, "rb").close()  # the opening brings them
            except OSError as error:
                raise ImportError(f"the tables of {name} are not there", name=name) from error


class LaterName:
    """Stands where a function or class of such a module stood under its own name."""

    def __init__(self, module: str, name: str) -> None:
        self._real: Callable[[], Any] = lambda: getattr(importlib.import_module(module), name)

    def __call__(self, *args: Any, **named: Any) -> Any:
        return self._real()(*args, **named)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._real(), name)

    def __instancecheck__(self, value: object) -> bool:
        return isinstance(value, self._real())


def load(modules: list[str], archives: list[str]) -> None:
    """Import the calculators and call each once with its own entries, in both unit systems."""
    sys.path += archives
    zipimport._compile_source = _compiled  # type: ignore[attr-defined]
    zipimport._unmarshal_code = _unmarshalled  # type: ignore[attr-defined]
    sys.modules["importlib.metadata"] = _versions(archives)
    sys.modules["typing_extensions"] = _extensions()
    calc: Any = importlib.import_module("witnessmark.calc")
    for name in modules:
        for calculator in calc.calculators_of(importlib.import_module(name)):
            for units in ("si", "us"):
                request = {"calculator": calculator.name, "entries": {}, "units": units}
                calc.evaluate_json(json.dumps(request))


def _compiled(path: str, source: bytes) -> types.CodeType:
    """A module with its asserts, without docstrings and numbers of lines unless it is whole."""
    tree = ast.parse(source, path)
    if path.startswith(whole):
        return compile(tree, path, "exec", dont_inherit=True, optimize=0)
    for node in ast.walk(tree):
        if isinstance(node, _DOCUMENTED) and ast.get_docstring(node, clean=False) is not None:
            node.body[:1] = [] if len(node.body) > 1 else [ast.Pass()]
            ast.fix_missing_locations(node)
    return _bare(compile(tree, path, "exec", dont_inherit=True, optimize=0))


def _unmarshalled(*told: Any) -> types.CodeType | None:
    """A module that came as byte code, bare unless something is to be whole."""
    code: types.CodeType | None = _unmarshal_code(*told)
    return code if code is None or whole else _bare(code)


def _bare(code: types.CodeType) -> types.CodeType:
    """Without what serves tracebacks and ``help`` only: numbers of lines, functions' docstrings."""
    constants = [
        _bare(each) if isinstance(each, types.CodeType) else each for each in code.co_consts
    ]
    if _documents(code):
        constants[0] = None
    return code.replace(co_consts=tuple(constants), co_linetable=b"")


def _documents(code: types.CodeType) -> bool:
    """Whether the first constant of a function is its docstring, as it is up to Python 3.13."""
    is_function = code.co_flags & _OPTIMIZED and not code.co_name.startswith("<")
    return bool(is_function and code.co_consts and isinstance(code.co_consts[0], str))


def strip() -> None:
    """Take away what only ``help`` and tracebacks show, of all that has been imported."""
    for module in list(sys.modules.values()):
        if vars(module).get("__doc__") is not None:
            vars(module)["__doc__"] = None
    for each in [*gc.get_objects(), *_static_types(object)]:
        if isinstance(each, types.FunctionType):
            each.__doc__ = None
            code = each.__code__
            if code.co_linetable or _documents(code):
                each.__code__ = _bare(code)
        elif isinstance(each, type):
            # Built-in ones refuse to be changed, so that the dictionary itself is asked for.
            (names,) = (held for held in gc.get_referents(vars(each)) if isinstance(held, dict))
            if isinstance(names.get("__doc__"), str):
                names["__doc__"] = None


# Where objects in C keep the address of what describes them, and where that keeps the address of
# the text: offsets in bytes on this machine of 32 bits (CPython 3.13, Include/cpython).
_TEXT_OF = {
    types.BuiltinFunctionType: (8, 12),  # PyCFunctionObject.m_ml, PyMethodDef.ml_doc
    types.MethodDescriptorType: (20, 12),  # PyMethodDescrObject.d_method, ml_doc
    types.ClassMethodDescriptorType: (20, 12),
    types.WrapperDescriptorType: (20, 16),  # PyWrapperDescrObject.d_base, wrapperbase.doc
    types.GetSetDescriptorType: (20, 12),  # PyGetSetDescrObject.d_getset, PyGetSetDef.doc
    types.MemberDescriptorType: (20, 16),  # PyMemberDescrObject.d_member, PyMemberDef.doc
}
_TEXT_OF_TYPE = 88  # PyTypeObject.tp_doc
_HEAP_TYPE = 1 << 9  # of the flags of a type: it was not written down in C


def documented() -> list[list[Any]]:
    """What C says in docstrings: address, the two offsets (none for types), and how it ends."""
    told: list[list[Any]] = []
    for each in gc.get_objects():
        offsets = _TEXT_OF.get(type(each))
        if offsets and isinstance(each.__doc__, str):
            told.append([id(each), *offsets, each.__doc__])
    told += [
        [id(each), 0, _TEXT_OF_TYPE, each.__doc__]
        for each in _static_types(object)
        if isinstance(each.__doc__, str)
    ]
    return told


def _static_types(base: type) -> Iterator[type]:
    each: type
    for each in type.__subclasses__(base):
        if not each.__flags__ & _HEAP_TYPE:
            yield each
        yield from _static_types(each)


def finds(pattern: re.Pattern[str], archives: list[str]) -> bool:
    """Whether the source of any module in ``archives`` holds ``pattern``."""
    for archive in archives:
        reader: Any = zipimport.zipimporter(archive)
        for name in reader._get_files():
            source = reader.get_data(f"{archive}/{name}") if name.endswith(".py") else b""
            if pattern.search(source.decode()):
                return True
    return False


def shed() -> None:
    """Empty the parts of every declaration that are only displayed."""
    calculator: Any = sys.modules["witnessmark.calc.calculator"]
    for declared in calculator._CATALOGUE.values():
        for name in DISPLAYED:
            setattr(declared, name, type(getattr(declared, name))())


def _versions(archives: list[str]) -> types.ModuleType:
    """What pint asks importlib.metadata, without the mail and zip readers that it brings."""
    known = dict(path.rpartition("/")[2].split("-")[:2] for path in archives)
    module = types.ModuleType("importlib.metadata")
    module.version = known.__getitem__  # type: ignore[attr-defined]
    return module


def _extensions() -> types.ModuleType:
    """What pint takes from typing_extensions is in this Python's own library."""
    module = types.ModuleType("typing_extensions")
    for own in (warnings, typing):
        vars(module).update({name: getattr(own, name) for name in own.__all__})
    return module


def let_go(packages: set[str]) -> list[str]:
    """Drop the modules of LET_GO, less those of which ``packages`` hold parts; returns which."""
    held = {
        value.__module__
        for name, module in sys.modules.items()
        if name.partition(".")[0] in packages
        for value in vars(module).values()
        if isinstance(value, types.FunctionType | type)
    }
    gone = {name: sys.modules.pop(name) for name in LET_GO if name in {*sys.modules} - held}
    for module in list(sys.modules.values()):
        for key, value in list(vars(module).items()):
            # Of other kinds of objects nothing is touched: pint has one that springs to life.
            if isinstance(value, types.ModuleType) and gone.get(value.__name__) is value:
                if f"{module.__name__}.{key}" == value.__name__:
                    delattr(module, key)  # a package forgets its part, as before its import
                else:
                    setattr(module, key, Later(value.__name__))
            elif isinstance(value, types.FunctionType | type) and value.__module__ in gone:
                setattr(module, key, LaterName(value.__module__, value.__qualname__))
    return sorted(gone)


def hold_back(tables: list[dict[str, Any]], file: str) -> list[list[int]]:
    """Begin and end in memory of those tables whose modules nobody has imported."""
    held = [table for table in tables if not {*table["modules"]} & sys.modules.keys()]
    if held:
        modules = {name for table in held for name in table["modules"]}
        sys.meta_path.insert(0, Tables(modules, file))
    return [[table["begin"], table["end"]] for table in held]


def forget() -> None:
    """Empty what importing has cached: directories of archives, paths, texts of files.

    So are caches with a limit, which hold what the calculators' own entries gave.
    """
    for each in gc.get_objects():
        if type(each) is _CACHED and each.cache_parameters()["maxsize"] is not None:
            each.cache_clear()
    zipimport._compile_source = _compile_source  # type: ignore[attr-defined]
    zipimport._unmarshal_code = _unmarshal_code  # type: ignore[attr-defined]
    zipimport._zip_directory_cache.clear()  # type: ignore[attr-defined]
    sys.path_importer_cache.clear()
    re.purge()
    for clear in typing._cleanups:  # type: ignore[attr-defined]
        clear()
    sys._clear_internal_caches()  # type: ignore[attr-defined]
    gc.collect()
    gc.collect()


def fill_gaps(free: dict[str, int]) -> None:
    """Overwrite blocks that Python has free in its pools: take all of them, give them back.

    ``free`` gives the number of free blocks by their size in bytes.
    """
    held = [bytes(int(size) - _BYTES_HEAD) for size, count in free.items() for _ in range(count)]
    held.clear()


def answer(request: str) -> str:
    """The outcome after a plus sign, or why there is none after a minus sign."""
    try:
        return f"+{sys.modules['witnessmark.calc'].evaluate_json(request)}"
    except Exception as error:  # noqa: BLE001 - whatever it is, the page is told
        return f"-{type(error).__name__}: {error}"


def awake(_: str) -> str:
    """Make good what must not be as it was when the image was made."""
    if "random" in sys.modules:
        random: Any = sys.modules["random"]
        random.seed()
    year = time.localtime().tm_year
    offsets = [
        time.localtime(time.mktime((year, month, 1, 12, 0, 0, 0, 0, -1))).tm_gmtoff
        for month in (1, 7)
    ]
    time.timezone, time.altzone = -min(offsets), -max(offsets)
    time.daylight = int(offsets[0] != offsets[1])
    return "awake"


def make() -> None:
    """Do all of it, as REQUEST says; REPORT tells what the start of a page needs to know."""
    with open(REQUEST, encoding="utf-8") as file:
        asked = json.load(file)
    looks_back = finds(_LOOKS_BACK, asked["shop"])
    if looks_back:
        globals()["whole"] = tuple(f"{archive}/" for archive in asked["shop"])
    tables = asked["tables"]
    if finds(_CHARACTER_BY_NAME, asked["shop"]):
        # Such an escape looks into the names without an import. Other packages are done with
        # theirs when they have been imported.
        tables = [table for table in tables if "unicodedata" not in table["modules"]]
    load(asked["modules"], asked["archives"])
    texts = []
    if not looks_back:
        shed()
        texts = documented()
        strip()
    gone = let_go({"witnessmark", *(name.partition(".")[0] for name in asked["modules"])})
    held = hold_back(tables, asked["held"])
    forget()
    report = {
        "answer": id(answer),
        "awake": id(awake),
        "python": sys.version.split()[0],
        "modules": sorted(sys.modules),
        "gone": gone,
        "tables": held,
        "texts": texts,
    }
    with open(REPORT, "w", encoding="utf-8") as file:
        json.dump(report, file)
