"""The collection: the folder of calculator modules, imported afresh whenever it is loaded.

The folder is a Python package (``calculators/``). Its modules run in the browser too, so
they may import the standard library, pint, ``witnessmark.calc`` and each other, nothing
else; what they import is read from their source, without running it.
"""

from __future__ import annotations

import ast
import hashlib
import importlib
import importlib.util
import marshal
import sys
import traceback
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

from witnessmark.calc import (
    Calculator,
    ReferenceTable,
    calculators_of,
    reference_tables_of,
)
from witnessmark.faults import Faults, nearest
from witnessmark.remembered import Remembered

PERMITTED = ("pint", "witnessmark.calc")


@dataclass(frozen=True)
class Collection:
    """Every calculator and every table of a folder.

    ``calculators`` maps the name of a calculator to it, ``tables`` that of a table; ``modules``
    maps the dotted name of a module to its file, in the order of the names; ``package`` is the
    folder's own name.
    """

    folder: Path
    calculators: Mapping[str, Calculator[..., Any]]
    modules: Mapping[str, Path]
    tables: Mapping[str, ReferenceTable] = field(default_factory=dict)

    @property
    def package(self) -> str:
        """The name under which the modules are imported, ``calculators`` for example."""
        return self.folder.name

    def module_of(self, name: str) -> str:
        """The dotted name of the module that declares a calculator; KeyError when none does."""
        return self.calculators[name].module

    def closure(self, modules: Iterable[str]) -> tuple[Path, ...]:
        """The files of ``modules`` and of all modules of the package that they import.

        Packages on the way (their ``__init__.py``) belong to it. Sorted by module name.
        """
        found: set[str] = set()
        waiting = list(modules)
        while waiting:
            name = waiting.pop()
            if name in found:
                continue
            found.add(name)
            path = self.modules[name]
            wanted = _packages_above(name)
            for base, member, _ in _imports(path.read_bytes(), name, path):
                wanted += [base, f"{base}.{member}", *_packages_above(base)]
            waiting += [each for each in wanted if each in self.modules]
        return tuple(self.modules[name] for name in sorted(found))

    def digest(self, modules: Iterable[str]) -> str:
        """SHA-256 over the names and the text of the closure of ``modules``."""
        return _digest_of(self.folder, self.closure(modules))

    def fingerprint(self) -> str:
        """SHA-256 over every module as it stands in its file, readable as Python or not."""
        return _digest_of(self.folder, self.modules.values())


def fingerprint_of(folder: Path) -> str:
    """``Collection.fingerprint`` of a folder of which nothing is imported yet."""
    folder = folder.resolve()
    return _digest_of(folder, _modules(folder).values())


def _digest_of(folder: Path, paths: Iterable[Path]) -> str:
    total = hashlib.sha256()
    for path in paths:
        name = path.relative_to(folder).as_posix()
        total.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return total.hexdigest()


def load_collection(folder: Path, faults: Faults | None = None) -> Collection:
    """Import every module of ``folder`` afresh and collect the calculators they declare.

    A module that cannot be imported, imports what the browser would not have, or declares a
    name a second time becomes a fault with file and line. Without ``faults`` they are raised
    at once as ``FaultsFound``.
    """
    mine = Faults() if faults is None else faults
    folder = folder.resolve()
    modules = _modules(folder)
    calculators: dict[str, Calculator[..., Any]] = {}
    tables: dict[str, ReferenceTable] = {}
    if folder.name not in modules:
        mine.add(
            folder.name, 0, "", "no __init__.py", "a Python package with the calculators in it",
            code="collection-no-package",
        )  # fmt: skip
        modules = {}
    with _fresh_package(folder, modules):
        for name, path in modules.items():
            shown = _shown(folder, path)
            if not _readable(folder, name, path, modules, mine):
                continue
            module = _import(folder, name, shown, mine)
            for calculator in calculators_of(module) if module else ():
                if calculator.name in calculators:
                    other = _shown(folder, modules[calculators[calculator.name].module])
                    mine.add(
                        shown, _line_of(path, calculator.name), calculator.name,
                        f"a second calculator of this name (the first is in {other})",
                        "a name that no other calculator has", code="collection-same-name",
                    )  # fmt: skip
                else:
                    calculators[calculator.name] = calculator
            for table in reference_tables_of(module) if module else ():
                if tables.setdefault(table.name, table) is not table:
                    mine.add(
                        shown, _line_of(path, table.name), table.name,
                        "a second table of this name", "a name that no other table has",
                        code="collection-same-name",
                    )  # fmt: skip
    if faults is None:
        mine.raise_if_any()
    return Collection(folder, calculators, modules, tables)


def _modules(folder: Path) -> dict[str, Path]:
    modules = {}
    for path in folder.rglob("*.py"):
        parts = [folder.name, *path.relative_to(folder).with_suffix("").parts]
        if parts[-1] == "__init__":
            parts.pop()
        if all(part.isidentifier() for part in parts):
            modules[".".join(parts)] = path
    return dict(sorted(modules.items()))


@contextmanager
def _fresh_package(folder: Path, modules: Mapping[str, Path]) -> Iterator[None]:
    """Forget modules imported before, import from ``folder`` and leave no byte code behind."""
    finder = _Finder(modules)
    for name in [each for each in sys.modules if each.split(".")[0] == folder.name]:
        del sys.modules[name]
    importlib.invalidate_caches()
    wrote, sys.dont_write_bytecode = sys.dont_write_bytecode, True
    sys.path.insert(0, str(folder.parent))
    sys.meta_path.insert(0, finder)
    try:
        yield
    finally:
        sys.meta_path.remove(finder)
        sys.path.remove(str(folder.parent))
        sys.dont_write_bytecode = wrote


class _Finder(MetaPathFinder):
    """Finds the modules of the folder."""

    def __init__(self, modules: Mapping[str, Path]) -> None:
        self._modules = modules

    def find_spec(self, fullname: str, path: object, target: object = None) -> ModuleSpec | None:
        """The module, if it is one of the folder."""
        file = self._modules.get(fullname)
        if file is None:
            return None
        loader = _Loader(fullname, str(file))
        return importlib.util.spec_from_file_location(fullname, file, loader=loader)


class _Loader(SourceFileLoader):
    """Compiles a text once. Python's own files of byte code go by size and second of a source,
    and would miss what is saved twice in a second."""

    def get_code(self, fullname: str) -> CodeType:
        """The code of a module."""
        path = self.get_filename(fullname)
        made = _byte_code(self.get_data(path), path, str(sys.flags.optimize))
        code: CodeType = marshal.loads(made.encode("latin-1"))
        return code


def _byte_code_of(source: bytes, path: str, optimize: str) -> str:
    """The byte code of a module, a character a byte; it holds for one version of Python."""
    return marshal.dumps(compile(source, path, "exec", dont_inherit=True)).decode("latin-1")


_byte_code = Remembered(_byte_code_of)


def _readable(
    folder: Path, name: str, path: Path, modules: Mapping[str, Path], faults: Faults
) -> bool:
    """Whether the module parses and imports only what the browser has; adds faults if not."""
    shown = _shown(folder, path)
    try:
        imported = _imports(path.read_bytes(), name, path)
    except SyntaxError as error:
        faults.add(
            shown, error.lineno or 0, "", f"{error.msg}", "Python that can be read",
            code="collection-syntax",
        )  # fmt: skip
        return False
    good = True
    for base, member, line in imported:
        if not _permitted(base, member, folder.name, modules):
            good = False
            faults.add(
                shown, line, "import", f"an import of {base}",
                "only the standard library, pint, witnessmark.calc and modules of "
                f"{folder.name}/: nothing else is there in the browser",
                nearest=nearest(base, modules) if base.startswith(folder.name) else "",
                code="collection-import",
            )  # fmt: skip
    return good


def _permitted(base: str, member: str, package: str, modules: Mapping[str, Path]) -> bool:
    top = base.split(".")[0]
    if top == package:
        return base in modules or f"{base}.{member}" in modules
    return top in sys.stdlib_module_names or any(
        each in (base, f"{base}.{member}") or base.startswith(f"{each}.") for each in PERMITTED
    )


Import = Sequence[Any]
"""Dotted name, name taken from it or "", line."""


def _imports(source: bytes, module: str, path: Path) -> Sequence[Import]:
    """What a module imports. Raises SyntaxError when ``source`` is not Python."""
    return _imports_of(source, module, path.name == "__init__.py")


def _all_imports(source: bytes, module: str, package: bool) -> Sequence[Import]:
    return list(_imported(ast.parse(source), module, package))


_imports_of = Remembered(_all_imports)


def _imported(tree: ast.Module, module: str, package: bool) -> Iterator[Import]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, "", node.lineno
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                up = node.level - package
                parts = module.split(".")
                base = ".".join([*parts[: len(parts) - up], *filter(None, [base])])
            for alias in node.names:
                yield base, alias.name, node.lineno


def _packages_above(name: str) -> list[str]:
    parts = name.split(".")
    return [".".join(parts[:end]) for end in range(1, len(parts))]


def _import(folder: Path, name: str, shown: str, faults: Faults) -> ModuleType | None:
    try:
        return importlib.import_module(name)
    except Exception as error:  # noqa: BLE001 - a calculator may raise anything while it loads
        frames = [
            frame
            for frame in traceback.extract_tb(error.__traceback__)
            if Path(frame.filename).is_relative_to(folder)
        ]
        where = _shown(folder, Path(frames[-1].filename)) if frames else shown
        faults.add(
            where, frames[-1].lineno or 0 if frames else 0, "",
            f"{type(error).__name__}: {error}", "a module that can be imported",
            code="collection-import-failed",
        )  # fmt: skip
        return None


def _line_of(path: Path, name: str) -> int:
    lines = path.read_text("utf-8").splitlines()
    return next((at for at, line in enumerate(lines, 1) if f'"{name}"' in line), 0)


def _shown(folder: Path, path: Path) -> str:
    return f"{folder.name}/{path.relative_to(folder).as_posix()}"
