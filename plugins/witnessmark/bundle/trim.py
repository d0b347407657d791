"""The runtime's module and its script, less what a start from a heap image does not need.

- The module carries the memory that Python starts with. The image brings all of that memory,
  in its later state, so the module travels without.
- It exports every function and address that a library linked later might ask for, and the
  script copies each into a variable. Nothing is linked later; what the script and the start
  themselves use stays.
- ``glue.py`` cuts what the module does not ask the script for, and the rest is shortened.

The image has to be made with the module and the script that are trimmed in the same way,
because the numbers of functions depend on what is exported.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path

from witnessmark.bundle.archives import digest
from witnessmark.bundle.cache import place, scratch
from witnessmark.bundle.glue import CHANGES, cut
from witnessmark.bundle.minified import minified
from witnessmark.bundle.pinned import MINIFIER
from witnessmark.bundle.runtime import Runtime
from witnessmark.bundle.squeeze import RECIPE as SQUEEZED
from witnessmark.bundle.squeeze import squeezed
from witnessmark.bundle.wasm_module import with_exports, without_data

MODULE = "python.wasm.zst"
# Not "python.wasm": hosts take a name with an ending of compression for a form of the other.
TRANSLATABLE = "python-plain.wasm"
SCRIPT = "python.js"
WITH_DATA = "python-with-data.wasm"

# Changed whenever other bytes are made from the same runtime.
RECIPE = "8"

# What the start from an image and the making of one call by name.
CALLED = frozenset(
    {
        "PyErr_Clear", "PyMem_RawFree", "PyMem_RawMalloc", "PyObject_CallNoArgs",
        "PyObject_CallOneArg", "PyRun_SimpleString", "PyUnicode_AsUTF8", "PyUnicode_FromString",
        "Py_DecRef", "emscripten_stack_get_current", "emscripten_stack_get_end",
        "sbrk", "__main_argc_argv", "main", "_PyImport_FrozenBootstrap", "_PyImport_FrozenStdlib",
        "_PyImport_FrozenTest",
    }
)  # fmt: skip

_FUNCTION = re.compile(r'var (_\w+)=Module\["\1"\]=wasmExports\["(\w+)"\];')
_ADDRESS = re.compile(r'var (_\w+)=Module\["\1"\]=[0-9e]+;')
_LIBRARY = re.compile(r'Module\["(_\w+)"\]=\1;')
_ALL_FUNCTIONS = 'for(const name in wasmExports)Module["_"+name]=wasmExports[name];'


@dataclass(frozen=True)
class Trimmed:
    """Module (without data, compressed and as it is) and script for browsers; the module to
    make images."""

    module: Path
    translatable: Path
    script: Path
    with_data: Path


def trimmed(runtime: Runtime, cache: Path) -> Trimmed:
    """The trimmed module and script of a runtime, from the cache when they are there."""
    wasm = (runtime.folder / "pyodide.asm.wasm").read_bytes()
    script = (runtime.folder / "pyodide.asm.js").read_text("utf-8")
    parts = [RECIPE, *sorted(CALLED), repr(CHANGES), runtime.version_of(MINIFIER), SQUEEZED]
    parts += [digest(wasm), script]
    key = digest("\n".join(parts).encode())
    entry = cache / f"start-{key[:24]}"
    if not _is_whole(entry):
        with scratch(cache) as at:
            made = at / entry.name
            made.mkdir()
            script = cut(script, wasm)
            module = with_exports(wasm, used_names(script) | CALLED)
            (made / WITH_DATA).write_bytes(module)
            (made / TRANSLATABLE).write_bytes(without_data(module))
            (made / MODULE).write_bytes(squeezed(without_data(module)))
            (at / SCRIPT).write_text(without_copies(script), "utf-8")
            short = minified(runtime, {SCRIPT: at / SCRIPT}, cache, modules=False)
            shutil.copyfile(short[SCRIPT], made / SCRIPT)
            sums = [f"{digest((made / name).read_bytes())} {name}" for name in _FILES]
            (made / "digests").write_text("\n".join(sums), "utf-8")
            place(made, entry, _is_whole)
    return Trimmed(*(entry / name for name in _FILES))


_FILES = (MODULE, TRANSLATABLE, SCRIPT, WITH_DATA)


def _is_whole(entry: Path) -> bool:
    try:
        sums = [f"{digest((entry / name).read_bytes())} {name}" for name in _FILES]
        return (entry / "digests").read_text("utf-8").splitlines() == sums
    except OSError:
        return False


def used_names(script: str) -> frozenset[str]:
    """Names of the module that the script speaks of, apart from the copies it makes."""
    words = _words_beside_copies(script)
    return frozenset(words | {word[1:] for word in words if word.startswith("_")})


def without_copies(script: str) -> str:
    """The script with only those copies of functions and addresses that it uses itself."""
    first = _FUNCTION.search(script)
    if first is None:
        return script
    used = _words_beside_copies(script)

    def kept(found: re.Match[str]) -> str:
        return found[0] if found[1] in used else ""

    script = script[: first.start()] + _ALL_FUNCTIONS + script[first.start() :]
    return _LIBRARY.sub("", _ADDRESS.sub(kept, _FUNCTION.sub(kept, script)))


def _words_beside_copies(script: str) -> set[str]:
    return set(re.findall(r"\w+", _LIBRARY.sub("", _ADDRESS.sub("", _FUNCTION.sub("", script)))))
