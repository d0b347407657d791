"""What functions with a memory answered at the last build, kept on disk.

They hold for the program as it is: its sources, the libraries that functions name, and Python.
"""

from __future__ import annotations

import hashlib
import json
import platform
import sys
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

import witnessmark
from witnessmark.bundle.cache import handbook_entry, keep_checked, read_checked
from witnessmark.remembered import Remembered

FILE = "answers.json"
LIBRARIES = ("latex2mathml", "pint", "segno")
"""Libraries that answers rest on besides the program."""


@lru_cache(maxsize=1)
def program_digest() -> str:
    """SHA-256 over what answers: the program as it was when this process first asked, and what
    it runs on."""
    folder = Path(witnessmark.__file__).parent
    total = hashlib.sha256()
    for path in sorted(folder.rglob("*.py")):
        name = path.relative_to(folder).as_posix()
        total.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    below = [*map(version, LIBRARIES), sys.implementation.name, sys.version, platform.machine()]
    total.update(json.dumps([*below, sys.platform]).encode())
    return total.hexdigest()


class KeptAnswers:
    """The answers of one handbook, read when a build begins and written when it is done."""

    def __init__(self, cache: Path | None = None) -> None:
        self._cache = cache
        self._file: Path | None = None
        self._written: dict[str, frozenset[str]] = {}

    def begin(self, calculators: Path) -> None:
        """A build of the handbook with the calculators in this folder begins."""
        file = handbook_entry(calculators, self._cache) / FILE
        if file == self._file:
            for function in Remembered.all.values():
                function.begin()
            return
        known = _read(file)
        for name, function in Remembered.all.items():
            function.begin(known.get(name, {}))
        self._file = file
        self._written = {name: frozenset(answers) for name, answers in known.items()}

    def save(self) -> None:
        """Write what was asked in this build, if that is not what the file holds."""
        answers = {name: function.answers() for name, function in Remembered.all.items()}
        held = {name: frozenset(given) for name, given in answers.items()}
        if self._file is None or held == self._written:
            return
        if keep_checked(self._file, [program_digest(), answers]):
            self._written = held


def _read(file: Path) -> dict[str, dict[str, Any]]:
    """Answers by function; empty when the file is of another program, or spoiled."""
    try:
        program, answers = read_checked(file) or ("", {})
        if program != program_digest():
            return {}
        return {name: dict(given) for name, given in answers.items()}
    except (ValueError, TypeError, AttributeError):
        return {}
