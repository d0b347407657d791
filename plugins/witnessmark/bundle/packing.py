"""Packed wheels: each one made once from its sources and kept in the cache.

Two forms of a wheel are kept. The one with Python source is what the lock file is made
from; the one that travels has byte code instead, which the browser need not compile.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from witnessmark.bundle.archives import digest, read_archive, write_archive, write_wheel
from witnessmark.bundle.cache import place, scratch
from witnessmark.bundle.wheels import WheelSource

# Changed whenever other bytes are made from the same sources.
RECIPE = "1"


@dataclass(frozen=True)
class Packed:
    """A wheel with source and the wheel that travels (the same when nothing is compiled)."""

    source: Path
    travels: Path


def pack(source: WheelSource, compiled: bool, cache: Path) -> Packed:
    """The wheel of ``source`` from the cache, made first when it is not there.

    ``compiled`` puts the byte code of this Python in place of the source.
    """
    entry = cache / f"wheel-{source.name}-{_key(source, compiled)}"
    if not _is_whole(entry):
        with scratch(cache) as at:
            made = at / entry.name
            (made / "source").mkdir(parents=True)
            wheel = write_wheel(
                made / "source", source.name, source.version, "py3-none-any",
                source.metadata, source.contents,
            )  # fmt: skip
            travelling = made / wheel.name
            travelling.write_bytes(wheel.read_bytes())
            if compiled:
                travelling = _compile(travelling)
            sums = [f"{digest(each.read_bytes())} {each.name}" for each in (wheel, travelling)]
            (made / "digests").write_text("\n".join(sums), "utf-8")
            place(made, entry, _is_whole)
    return _read(entry)


def _read(entry: Path) -> Packed:
    source, travels = ((line.split()[1]) for line in (entry / "digests").read_text().splitlines())
    return Packed(entry / "source" / source, entry / travels)


def _is_whole(entry: Path) -> bool:
    try:
        packed = _read(entry)
        sums = [line.split()[0] for line in (entry / "digests").read_text("utf-8").splitlines()]
        return sums == [digest(each.read_bytes()) for each in (packed.source, packed.travels)]
    except (OSError, ValueError, IndexError):
        return False


def _key(source: WheelSource, compiled: bool) -> str:
    tool = f"pyodide-build {importlib.metadata.version('pyodide-build')}, {sys.version}"
    total = hashlib.sha256(f"{RECIPE} {tool if compiled else ''} {source.version}\n".encode())
    total.update(source.metadata)
    for name, data in sorted(source.contents.items()):
        total.update(f"\n{name} {digest(data)}".encode())
    return total.hexdigest()[:24]


def _compile(path: Path) -> Path:
    """Byte code in place of source, with the same bytes every time; returns the new path."""
    from pyodide_build._py_compile import _py_compile_archive

    with _byte_code_without_times():
        made: Path | None = _py_compile_archive(path, keep=False, verbose=False)
    if made is None:
        raise RuntimeError(f"{path.name} could not be byte-compiled")
    write_archive(made, read_archive(made))
    return made


@contextmanager
def _byte_code_without_times() -> Iterator[None]:
    """Byte code marked by the hash of its source instead of the time of a file.

    ``py_compile`` does so when SOURCE_DATE_EPOCH is set, whatever its value.
    """
    name = "SOURCE_DATE_EPOCH"
    before = os.environ.get(name)
    os.environ[name] = before or "315532800"
    try:
        yield
    finally:
        if before is None:
            del os.environ[name]
