"""How much a sheet is compressed at a pressure, from the points of its data sheet.

Straight lines join the points, the first being no pressure and no compression. Beyond the last
point nothing is known; the last figure is held and the caller says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

Curve = tuple[tuple[float, float], ...]
"""Pressure in MPa and compression as a share, rising in both, from (0, 0)."""


def curve_of(points: Sequence[tuple[float, float]]) -> Curve:
    """The curve through points in any order. Raises ValueError with a sentence when it falls."""
    curve = ((0.0, 0.0), *sorted(points))
    for (p1, c1), (p2, c2) in pairwise(curve):
        if p2 - p1 < 1e-9:
            raise ValueError("Two points have one pressure. Leave one of them out.")
        if c2 < c1 - 1e-12:
            raise ValueError(
                "The compression falls while the pressure grows. Check the points: no sheet grows "
                "thicker under load."
            )
    return curve


def compression(curve: Curve, pressure: float) -> float:
    """The share a sheet is compressed by at a pressure in MPa."""
    for (p1, c1), (p2, c2) in pairwise(curve):
        if pressure <= p2:
            return c1 + (c2 - c1) * (max(pressure, 0.0) - p1) / (p2 - p1)
    return curve[-1][1]
