"""What was signed, kept beside the ledger: page texts, values, sources and default results.

Every object is a file named by the digest of its content, compressed; objects that several
pages share are kept once. A page's object names those of its calculators, a calculator's
those of its modules. What no entry of the ledger leads to is removed when a page is signed:
the version history of the handbook has it, where there is one.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from witnessmark.signoff.basis import CalculatorBasis, PageBasis
from witnessmark.signoff.digests import canonical, text_digest

ENDING = ".z"


@dataclass(frozen=True)
class Signed:
    """A page and its calculators as they were when the page was signed."""

    page: PageBasis
    calculators: dict[str, CalculatorBasis]


@dataclass(frozen=True)
class Archive:
    """The objects in one folder."""

    folder: Path

    def keep(self, page: PageBasis, calculators: Iterable[CalculatorBasis]) -> str:
        """Store a page and its calculators; returns the digest that finds them again."""
        kept = {each.name: self._keep_calculator(each) for each in calculators}
        return self._store(canonical({"page": page.as_json(), "calculators": kept}))

    def find(self, digest: str) -> Signed | None:
        """What ``keep`` stored, or None when a part of it is missing or damaged."""
        try:
            held = json.loads(self._load(digest))
            calculators = {name: self._calculator(at) for name, at in held["calculators"].items()}
            return Signed(PageBasis.from_json(held["page"]), calculators)
        except (OSError, ValueError, KeyError, zlib.error):
            return None

    def prune(self, kept: Iterable[str]) -> int:
        """Remove what none of the pages ``kept`` leads to; returns the number of files removed."""
        wanted: set[str] = set()
        for digest in kept:
            wanted |= self._reach(digest)
        files = list(self.folder.glob(f"*{ENDING}")) if self.folder.is_dir() else []
        gone = [path for path in files if path.stem not in wanted]
        for path in gone:
            path.unlink()
        return len(gone)

    def _keep_calculator(self, calculator: CalculatorBasis) -> str:
        modules = {name: self._store(source) for name, source in calculator.modules.items()}
        return self._store(canonical(replace(calculator, modules=modules).as_json()))

    def _calculator(self, digest: str) -> CalculatorBasis:
        held = CalculatorBasis.from_json(json.loads(self._load(digest)))
        return replace(held, modules={name: self._load(at) for name, at in held.modules.items()})

    def _reach(self, digest: str) -> set[str]:
        """A page's digest and those of all the objects under it."""
        found = {digest}
        try:
            for calculator in json.loads(self._load(digest))["calculators"].values():
                found.add(calculator)
                found |= set(json.loads(self._load(calculator))["modules"].values())
        except (OSError, ValueError, KeyError, zlib.error):
            pass  # a damaged page keeps what could still be reached
        return found

    def _path(self, digest: str) -> Path:
        return self.folder / f"{digest}{ENDING}"

    def _store(self, text: str) -> str:
        digest = text_digest(text)
        path = self._path(digest)
        if not self._is_sound(digest):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(zlib.compress(text.encode("utf-8", "surrogatepass"), 9))
        return digest

    def _is_sound(self, digest: str) -> bool:
        try:
            self._load(digest)
        except (OSError, ValueError, zlib.error):
            return False
        return True

    def _load(self, digest: str) -> str:
        text = zlib.decompress(self._path(digest).read_bytes()).decode("utf-8", "surrogatepass")
        if text_digest(text) != digest:
            raise ValueError(f"{digest}: damaged")
        return text
