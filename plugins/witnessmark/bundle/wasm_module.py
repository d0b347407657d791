"""The binary form of a WebAssembly module, as far as the start of a page changes it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

MAGIC = b"\0asm\1\0\0\0"
IMPORTS, EXPORTS, DATA = 2, 7, 11
CONSTANT, GLOBAL, END = 0x41, 0x23, 0x0B

# Kinds of imports.
_FUNCTION, _TABLE, _MEMORY, _GLOBAL = range(4)


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
        count, at = number_at(section, 0)
        kept = []
        for _ in range(count):
            start = at
            length, at = number_at(section, at)
            name = section[at : at + length].decode()
            at = number_at(section, at + length + 1)[1]
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
        size, body = number_at(module, at + 1)
        yield module[at], module[body : body + size]
        at = body + size


def imports(module: bytes) -> Iterator[tuple[str, str]]:
    """Where from and under which name a module is given something.

    Raises ``ValueError`` for bytes that are no module.
    """
    section = dict(sections(module))[IMPORTS]
    count, at = number_at(section, 0)
    for _ in range(count):
        words = []
        for _ in range(2):
            length, at = number_at(section, at)
            words.append(section[at : at + length].decode())
            at += length
        yield words[0], words[1]
        at = _after_description(section, at)


def _after_description(section: bytes, at: int) -> int:
    """Where the description of an import ends."""
    kind, at = section[at], at + 1
    if kind == _GLOBAL:
        return at + 2  # its type, and whether it may change
    if kind in (_TABLE, _MEMORY):
        at += kind == _TABLE  # the type of what is in a table
        bounded = section[at] & 1
        at = number_at(section, at + 1)[1]
        return number_at(section, at)[1] if bounded else at
    return number_at(section, at if kind == _FUNCTION else at + 1)[1]  # a type; of a tag the second


def _emptied(section: bytes) -> bytes:
    count, at = number_at(section, 0)
    parts = [_written(count)]
    for _ in range(count):
        start = at
        flags, at = number_at(section, at)
        if flags == 0:
            at = _after_place(section, at)
        elif flags != 1:
            raise ValueError(f"a data segment of the unknown kind {flags}")
        parts.append(section[start:at] + _written(0))
        size, at = number_at(section, at)
        at += size
    return b"".join(parts)


def _after_place(section: bytes, at: int) -> int:
    """Where the expression for the place of a segment ends: a number or a global."""
    if section[at] in (CONSTANT, GLOBAL):
        at = number_at(section, at + 1)[1]
        if section[at] == END:
            return at + 1
    raise ValueError("a data segment whose place is neither a number nor a global")


def number_at(data: bytes, at: int) -> tuple[int, int]:
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
