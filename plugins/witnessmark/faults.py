"""Faults an author can mend: where they are, what was found, what would be right.

A build collects every fault it meets and raises them once, sorted by file and line, so
that an author mends a page in one round instead of one fault a build.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field


class WitnessMarkError(Exception):
    """Base of every error this package raises on purpose."""


@dataclass(frozen=True, order=True)
class Fault:
    """One thing that is wrong in a source file.

    ``file`` is the path as the author knows it (relative to the project), ``line`` counts
    from 1 and is 0 when the whole file is meant, ``field`` names the entry, key or block.
    ``found`` and ``expected`` are phrases that complete "found …" and "expected …".
    """

    file: str
    line: int
    field: str
    found: str
    expected: str
    nearest: str = ""
    code: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        hint = f"; did you mean '{self.nearest}'?" if self.nearest else ""
        subject = f" {self.field}:" if self.field else ""
        return f"{place}:{subject} found {self.found}; expected {self.expected}{hint}"


class FaultsFound(WitnessMarkError):
    """Raised once at the end of a step with every fault that was collected in it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        count = len(self.faults)
        head = "1 fault" if count == 1 else f"{count} faults"
        super().__init__("\n".join([f"{head} in the handbook:", *map(str, self.faults)]))


@dataclass
class Faults:
    """A collector. Services add to it; the caller decides when to raise."""

    found: list[Fault] = field(default_factory=list)

    def add(
        self,
        file: str,
        line: int,
        field: str,
        found: str,
        expected: str,
        *,
        nearest: str = "",
        code: str = "",
    ) -> None:
        """Note one fault and go on."""
        self.found.append(Fault(file, line, field, found, expected, nearest, code))

    def extend(self, faults: Iterable[Fault]) -> None:
        """Take over faults that another collector found."""
        self.found.extend(faults)

    def raise_if_any(self) -> None:
        """Raise ``FaultsFound`` when at least one fault was noted."""
        if self.found:
            raise FaultsFound(self.found)

    def __iter__(self) -> Iterator[Fault]:
        return iter(sorted(set(self.found)))

    def __len__(self) -> int:
        return len(self.found)


def nearest(name: str, names: Iterable[str]) -> str:
    """The candidate most like ``name``, or an empty string when none is close."""
    candidates = list(names)
    folded = {candidate.casefold(): candidate for candidate in candidates}
    if name.casefold() in folded:
        return folded[name.casefold()]
    close = difflib.get_close_matches(name, candidates, n=1, cutoff=0.6)
    return close[0] if close else ""
