"""The theme's templates, translated once for all builds of a handbook.

MkDocs makes a new environment for every build, and with it translates every template anew.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from jinja2 import BytecodeCache, Environment
from jinja2.bccache import Bucket

from witnessmark.bundle.cache import keep_checked, read_checked
from witnessmark.mkdocs.libraries import versions

FILE = "templates.json"


class Translated(BytecodeCache):
    """Translations by template; each holds for the text of its template and no other.

    They are Python's byte code and, like Python's own files of it, run as they are found.
    """

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}
        self._asked: set[str] = set()
        self._basis = ""
        self._file: Path | None = None
        self._written: set[str] | None = None

    def use_in(self, environment: Environment, entry: Path) -> None:
        """Let an environment take its translations from here. It lives for one build, in which
        templates do not change. ``entry`` is the handbook's in the cache."""
        basis = basis_of(environment)
        if (basis, entry / FILE) != (self._basis, self._file):
            self._basis, self._file = basis, entry / FILE
            found = _read(self._file, basis)
            self._kept = found or {}
            self._written = None if found is None else set(found)
        self._asked = set()
        environment.bytecode_cache = self
        environment.auto_reload = False

    def load_bytecode(self, bucket: Bucket) -> None:
        """Put a known translation in; Jinja compares the digest of the template's text."""
        self._asked.add(bucket.key)
        if bucket.key in self._kept:
            bucket.bytecode_from_string(self._kept[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep a new translation."""
        self._kept[bucket.key] = bucket.bytecode_to_string()
        self._written = None

    def save(self) -> None:
        """Write the translations that this build asked for, if the file does not hold them."""
        if self._file is None or self._written == self._asked:
            return
        held = {key: self._kept[key] for key in sorted(self._asked & self._kept.keys())}
        texts = {key: made.decode("latin-1") for key, made in held.items()}
        if keep_checked(self._file, [self._basis, texts]):
            self._written = set(held)


def basis_of(environment: Environment) -> str:
    """What a translation comes from besides its template."""
    called = (environment.filters, environment.tests)
    return json.dumps([
        sorted(environment.extensions), repr(environment.autoescape), environment.optimized,
        environment.trim_blocks, environment.lstrip_blocks, environment.newline_sequence,
        environment.keep_trailing_newline, repr(environment.policies),
        [
            [name, getattr(each, "__module__", ""), getattr(each, "__qualname__", "")]
            for of in called
            for name, each in sorted(of.items())
        ],
        *versions(), sys.flags.optimize,
    ])  # fmt: skip


def _read(file: Path, basis: str) -> dict[str, bytes] | None:
    """Translations by key; None when there are none made under ``basis``, or they are spoiled."""
    try:
        found, kept = read_checked(file) or ("", {})
        if found == basis:
            return {key: made.encode("latin-1") for key, made in kept.items()}
    except (ValueError, TypeError, AttributeError):
        pass
    return None
