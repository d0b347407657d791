"""Coordinates as text, the same text wherever they are computed.

The last bit of a float may differ between machines, because sine and cosine come from
different C libraries. A coordinate is therefore snapped to six decimals first and only then
rounded to two, half away from zero, so that the same drawing gives the same characters
under every runtime.
"""

from __future__ import annotations

import math


def fixed(value: float) -> str:
    """Return ``value`` with at most two decimals, trailing zeros dropped, never ``-0``.

    Raises ``ValueError`` for infinities and not-a-number: they have no place on paper.
    """
    if not math.isfinite(value):
        raise ValueError(f"a coordinate must be a finite number, found {value!r}")
    hundredths = int(abs(round(value, 6)) * 100 + 0.5 + 1e-7)
    whole, rest = divmod(hundredths, 100)
    sign = "-" if value < 0 and hundredths else ""
    decimals = f".{rest:02d}".rstrip("0") if rest else ""
    return f"{sign}{whole}{decimals}"


def plain(value: float, decimals: int) -> str:
    """Return ``value`` for a scale of a chart: fixed decimals, true minus sign."""
    scale = 10**decimals
    steps = int(abs(round(value, decimals + 4)) * scale + 0.5 + 1e-7)
    whole, rest = divmod(steps, scale)
    sign = "\u2212" if value < 0 and steps else ""
    return f"{sign}{whole}" + (f".{rest:0{decimals}d}" if decimals else "")
