"""The files of a folder by their content."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from pathlib import Path


def as_it_is(data: bytes) -> bytes:
    """The bytes themselves."""
    return data


def file_digests(folder: Path, seen: Callable[[bytes], bytes] = as_it_is) -> dict[str, str]:
    """SHA-256 of every file below a folder, by path with slashes, sorted.

    ``seen`` may undo what was done to a page after it was released.
    """
    found = {}
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            data = path.read_bytes()
            if path.suffix == ".html":
                data = seen(data)
            found[path.relative_to(folder).as_posix()] = hashlib.sha256(data).hexdigest()
    return found


def differing(one: Mapping[str, str], other: Mapping[str, str]) -> list[str]:
    """Paths whose content differs, or that only one of the two has."""
    return [path for path in sorted({**one, **other}) if one.get(path) != other.get(path)]
