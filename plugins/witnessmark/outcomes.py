"""Outcomes kept between builds, so that a build evaluates only what is new.

An outcome is taken from the cache only while everything it comes from is the same: the source
of the calculator's module and of all it imports of the handbook, ``witnessmark.calc``, pint,
Python and the machine, and the request. One file holds the outcomes of one folder of
calculators; every build leaves in it what it asked for, nothing older.
"""

from __future__ import annotations

import hashlib
import json
import platform
import sys
from contextlib import suppress
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

import witnessmark.calc
from witnessmark.bundle.cache import handbook_entry, keep_checked, read_checked
from witnessmark.calc import Outcome
from witnessmark.collection import Collection

FILE = "outcomes.json"


@lru_cache(maxsize=1)
def engine_digest() -> str:
    """SHA-256 over what evaluates: ``witnessmark.calc`` as it was when this process first asked,
    and the versions of pint, Python and the machine below it."""
    folder = Path(witnessmark.calc.__file__).parent
    total = hashlib.sha256()
    for path in sorted(folder.rglob("*.py")):
        name = path.relative_to(folder).as_posix()
        total.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    below = (version("pint"), sys.implementation.name, sys.version, platform.machine())
    total.update(json.dumps([*below, sys.platform]).encode())
    return total.hexdigest()


class KeptOutcomes:
    """The outcomes of one handbook, by calculator and request, read from and written to disk."""

    def __init__(self, cache: Path | None = None) -> None:
        self._cache = cache
        self._entry: Path | None = None
        self._bases: dict[str, str] = {}
        self._texts: dict[str, dict[str, str]] = {}
        self._asked: set[tuple[str, str]] = set()
        self._written: set[tuple[str, str, str]] = set()

    def keep_for(self, collection: Collection, *, steady: bool = True) -> None:
        """Let go what no longer holds for the calculators of ``collection``.

        ``steady`` tells that no module changed while it was imported; otherwise it is not known
        which text was, and nothing is kept of this load.
        """
        entry = handbook_entry(collection.folder, self._cache)
        bases = _bases(collection) if steady else {}
        if entry != self._entry:
            self._entry, self._asked = entry, set()
            known = _read(entry / FILE)
            self._written = {(*at, each) for at, of in known.items() for each in of}
        else:
            known = {(name, self._bases[name]): of for name, of in self._texts.items()}
        self._bases = bases
        self._texts = {name: known.get((name, basis), {}) for name, basis in bases.items()}

    def still_wanted(self, calculator: str, request: str) -> None:
        """Keep on keeping an outcome that nobody has to look at in this build."""
        self._asked.add((calculator, request))

    def get(self, calculator: str, request: str) -> Outcome | None:
        """The outcome of a request (any text that says all of it), or None when none is kept."""
        self._asked.add((calculator, request))
        text = self._texts.get(calculator, {}).get(request)
        return None if text is None else json.loads(text)

    def put(self, calculator: str, request: str, outcome: Outcome) -> Outcome:
        """Keep an outcome; it is given back as it will be read again."""
        text = json.dumps(outcome, ensure_ascii=False)
        if calculator in self._bases:
            self._texts[calculator][request] = text
        same: Outcome = json.loads(text)
        return same

    def save(self) -> None:
        """Write what was asked for."""
        wanted = {
            (name, self._bases[name]): {
                each: text for each, text in of.items() if (name, each) in self._asked
            }
            for name, of in self._texts.items()
        }
        held = {(*at, each) for at, of in wanted.items() for each in of}
        if self._entry is None or not wanted or held == self._written:
            return
        if keep_checked(self._entry / FILE, [[*at, of] for at, of in wanted.items()]):
            self._written = held


def _bases(collection: Collection) -> dict[str, str]:
    """For each calculator what its outcomes rest on, as one text."""
    found = {}
    for name in collection.calculators:
        with suppress(OSError, SyntaxError):  # a module that is not to be read is told elsewhere
            code = collection.digest([collection.module_of(name)])
            found[name] = f"{engine_digest()} {code}"
    return found


def _read(path: Path) -> dict[tuple[str, str], dict[str, str]]:
    """Outcomes by calculator and basis; empty when the file is not as ``save`` wrote it."""
    try:
        return {(name, basis): dict(of) for name, basis, of in read_checked(path) or ()}
    except (ValueError, TypeError):
        return {}
