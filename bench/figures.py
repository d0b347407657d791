"""Medians, spreads and shares of what was measured."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from typing import Any


def share(values: Sequence[float], part: float) -> float:
    """The value that ``part`` of all do not exceed (nearest rank)."""
    ordered = sorted(values)
    return round(ordered[max(0, math.ceil(part * len(ordered)) - 1)], 2)


def summary(values: Sequence[float], digits: int = 1) -> dict[str, Any]:
    """Median, least, greatest and number."""
    return {
        "median": round(statistics.median(values), digits),
        "least": round(min(values), digits),
        "most": round(max(values), digits),
        "repeats": len(values),
    }


def ratio(ours: Sequence[float], theirs: Sequence[float]) -> dict[str, Any]:
    """How many times as long theirs takes, from pairs that were measured one after the other."""
    return summary([their / our for our, their in zip(ours, theirs, strict=True)], 2)
