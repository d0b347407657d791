"""An entry as it was entered, also while a band is worked out.

Some figures are decided on, others happen. A wrench is set once, from the figures as they
were entered; what the tools then truly give does not move the setting any more. While the
band of a result is worked out, the calculator is called with entries moved within their
limits, and a setting worked out from those would move along and hide the band. What is
decided is therefore worked out from ``as_entered``, what happens from the entry itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class AsEntered:
    """An entry's value and the limits of its tolerance (equal to it when it has none)."""

    low: Any
    value: Any
    high: Any


_STANDING: list[Mapping[str, AsEntered]] = [{}]


def as_entered(name: str, value: Any) -> AsEntered:
    """The entry ``name`` as it was entered; ``value`` is what the calculator was called with.

    Inside ``evaluate`` it is the same for every call; where a calculator is called directly,
    ``value`` stands for itself and has no tolerance.
    """
    return _STANDING[-1].get(name) or AsEntered(value, value, value)


@contextmanager
def entered(standing: Mapping[str, AsEntered]) -> Iterator[None]:
    """Let ``as_entered`` answer from ``standing`` while a block runs."""
    _STANDING.append(standing)
    try:
        yield
    finally:
        _STANDING.pop()
