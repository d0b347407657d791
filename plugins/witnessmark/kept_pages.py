"""Converted pages kept between builds, so that a build converts only what is new.

The name of a kept page is the digest of what its HTML comes from: its text, all addresses, data
book and calculators as files, the program, the libraries and their settings. Pages it names and
the day, where they count, stand in it and are compared by the handbook. A page is therefore never
stale; it is found or it is not. Each stands in a file
of its own, which begins with its digest and is renamed into place, so that builds at the same
time do not disturb each other and a damaged file is made anew.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from witnessmark.answers import program_digest
from witnessmark.bundle.cache import handbook_entry, keep_checked, read_checked, remove_old

PART = "part-"


class KeptPages:
    """The converted pages of one handbook, and the finished parts that stand on them."""

    def __init__(self, cache: Path | None = None) -> None:
        self._cache = cache
        self._folder: Path | None = None
        self._basis = ""
        self._asked: set[str] = set()
        self._parts: dict[str, str] = {}

    def begin(self, calculators: Path, rests_on: Iterable[str]) -> None:
        """A build begins. ``rests_on`` are digests of what every page comes from."""
        self._folder = handbook_entry(calculators, self._cache, "pages")
        # Short, as it goes into the name of every page.
        self._basis = _digest([program_digest(), *rests_on])
        self._asked, self._parts = set(), {}

    def name(self, *texts: str) -> str:
        """The name of a page by everything else it comes from."""
        return _digest([self._basis, *texts])[:32]

    def get(self, name: str) -> tuple[dict[str, Any], dict[str, str]] | None:
        """A kept page and its parts by their digests; None unless all of it is there."""
        page = self._read(name)
        if not isinstance(page, dict):
            return None
        parts: dict[str, str] = {}
        for digest in page.get("parts", ()):
            part = self._part(digest)
            if part is None:
                return None
            parts[digest] = part
        return page, parts

    def put(self, name: str, page: Mapping[str, Any], parts: Mapping[str, str]) -> None:
        """Keep a page, plain data, and its parts."""
        for digest, part in parts.items():
            if self._part(digest) != part:
                self._write(PART + digest, part)
                self._parts[digest] = part
        self._write(name, {**page, "parts": sorted(parts)})

    def tidy(self) -> None:
        """Remove what has not been asked for in a long time."""
        if self._folder is not None:
            remove_old(self._folder, self._asked)

    def _part(self, digest: str) -> str | None:
        """A part, read once a build, on however many pages it stands."""
        if digest not in self._parts:
            part = self._read(PART + digest)
            if not isinstance(part, str):
                return None
            self._parts[digest] = part
        return self._parts[digest]

    def _read(self, name: str) -> Any:
        assert self._folder is not None
        self._asked.add(name)
        return read_checked(self._folder / name)

    def _write(self, name: str, content: Any) -> None:
        assert self._folder is not None
        self._asked.add(name)
        keep_checked(self._folder / name, content)


def _digest(texts: list[str]) -> str:
    return hashlib.sha256(json.dumps(texts).encode()).hexdigest()
