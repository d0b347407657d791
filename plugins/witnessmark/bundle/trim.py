"""The runtime's module and its script, less what a start from a heap image does not need.

- The module carries the memory that Python starts with. The image brings all of that memory,
  in its later state, so the module travels without.
- It exports every function and address that a library linked later might ask for, and the
  script copies each into a variable. Nothing is linked later; what the script and the start
  themselves use stays.

The image has to be made with the module and the script that are trimmed in the same way,
because the numbers of functions depend on what is exported.
"""

from __future__ import annotations

import gzip
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from witnessmark.bundle.archives import digest
from witnessmark.bundle.cache import place, scratch
from witnessmark.bundle.runtime import Runtime

MODULE = "python.wasm.gz"
SCRIPT = "python.js"
WITH_DATA = "python-with-data.wasm"

# Changed whenever other bytes are made from the same runtime.
RECIPE = "1"

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

MAGIC = b"\0asm\1\0\0\0"
EXPORTS, DATA = 7, 11
CONSTANT, GLOBAL, END = 0x41, 0x23, 0x0B

_FUNCTION = re.compile(r'var (_\w+)=Module\["\1"\]=wasmExports\["(\w+)"\];')
_ADDRESS = re.compile(r'var (_\w+)=Module\["\1"\]=[0-9e]+;')
_LIBRARY = re.compile(r'Module\["(_\w+)"\]=\1;')
_ALL_FUNCTIONS = 'for(const name in wasmExports)Module["_"+name]=wasmExports[name];'


@dataclass(frozen=True)
class Trimmed:
    """Module (compressed, without data) and script for browsers; the module to make images."""

    module: Path
    script: Path
    with_data: Path


def trimmed(runtime: Runtime, cache: Path) -> Trimmed:
    """The trimmed module and script of a runtime, from the cache when they are there."""
    wasm = (runtime.folder / "pyodide.asm.wasm").read_bytes()
    script = (runtime.folder / "pyodide.asm.js").read_text("utf-8")
    key = digest("\n".join([RECIPE, *sorted(CALLED), digest(wasm), script]).encode())
    entry = cache / f"start-{key[:24]}"
    if not _is_whole(entry):
        with scratch(cache) as at:
            made = at / entry.name
            made.mkdir()
            module = with_exports(wasm, used_names(script) | CALLED)
            (made / WITH_DATA).write_bytes(module)
            (made / MODULE).write_bytes(gzip.compress(without_data(module), 9, mtime=0))
            (made / SCRIPT).write_text(without_copies(script), "utf-8")
            sums = [f"{digest((made / name).read_bytes())} {name}" for name in _FILES]
            (made / "digests").write_text("\n".join(sums), "utf-8")
            place(made, entry, _is_whole)
    return Trimmed(*(entry / name for name in _FILES))


_FILES = (MODULE, SCRIPT, WITH_DATA)


def _is_whole(entry: Path) -> bool:
    try:
        sums = [f"{digest((entry / name).read_bytes())} {name}" for name in _FILES]
        return (entry / "digests").read_text("utf-8").splitlines() == sums
    except OSError:
        return False


def without_data(module: bytes) -> bytes:
    """A WebAssembly module whose data segments are as many as before and empty.

    Raises ``ValueError`` for bytes that are no module or have segments of an unknown kind.
    """
    return _rewritten(module, DATA, _emptied)


def with_exports(module: bytes, names: frozenset[str]) -> bytes:
    """A WebAssembly module that exports only what is among ``names``.

    Raises ``ValueError`` for bytes that are no module.
    """

    def chosen(section: bytes) -> bytes:
        count, at = _number(section, 0)
        kept = []
        for _ in range(count):
            start = at
            length, at = _number(section, at)
            name = section[at : at + length].decode()
            at = _number(section, at + length + 1)[1]
            if name in names:
                kept.append(section[start:at])
        return _written(len(kept)) + b"".join(kept)

    return _rewritten(module, EXPORTS, chosen)


def _rewritten(module: bytes, wanted: int, change: Callable[[bytes], bytes]) -> bytes:
    parts = [MAGIC]
    for kind, content in sections(module):
        now = change(content) if kind == wanted else content
        parts.append(bytes([kind]) + _written(len(now)) + now)
    return b"".join(parts)


def sections(module: bytes) -> Iterator[tuple[int, bytes]]:
    """Kind and content of every section of a WebAssembly module."""
    if not module.startswith(MAGIC):
        raise ValueError("not a WebAssembly module of version 1")
    at = len(MAGIC)
    while at < len(module):
        size, body = _number(module, at + 1)
        yield module[at], module[body : body + size]
        at = body + size


def _emptied(section: bytes) -> bytes:
    count, at = _number(section, 0)
    parts = [_written(count)]
    for _ in range(count):
        start = at
        flags, at = _number(section, at)
        if flags == 0:
            at = _after_place(section, at)
        elif flags != 1:
            raise ValueError(f"a data segment of the unknown kind {flags}")
        parts.append(section[start:at] + _written(0))
        size, at = _number(section, at)
        at += size
    return b"".join(parts)


def _after_place(section: bytes, at: int) -> int:
    """Where the expression for the place of a segment ends: a number or a global."""
    if section[at] in (CONSTANT, GLOBAL):
        at = _number(section, at + 1)[1]
        if section[at] == END:
            return at + 1
    raise ValueError("a data segment whose place is neither a number nor a global")


def _number(data: bytes, at: int) -> tuple[int, int]:
    """An LEB128 number and where the next byte stands (no sign is looked for)."""
    value = shift = 0
    while True:
        byte = data[at]
        at += 1
        value |= (byte & 0x7F) << shift
        shift += 7
        if byte < 0x80:
            return value, at


def _written(value: int) -> bytes:
    parts = bytearray()
    while value >= 0x80:
        parts.append(value & 0x7F | 0x80)
        value >>= 7
    return bytes([*parts, value])


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
