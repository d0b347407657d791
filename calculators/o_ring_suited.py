"""The standard rings that suit a groove, each with its stretch and squeeze."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from calculators.o_ring_sizes import Ring, of_section
from witnessmark.calc import Fraction, Length, Q, Rounding, column

SUITED = (
    column("Size code"),
    column("Inside Ø", Length, rounding=Rounding(decimals=2, us_decimals=3)),
    column("Stretch", Fraction, unit="%", rounding=Rounding(decimals=1)),
    column("Squeeze", Fraction, unit="%", rounding=Rounding(decimals=1)),
)
"""Columns of the table of rings."""


def rings_that_suit(
    section: float, wanted: tuple[float, float], fitted: Callable[[Ring], tuple[float, float]]
) -> tuple[tuple[Any, ...], ...]:
    """Rows for the standard rings of a section (mm) whose stretch is within ``wanted``.

    ``fitted`` gives stretch and squeeze of a ring in the groove, as plain shares.
    """
    rows = []
    for ring in of_section(section):
        stretch, squeeze = fitted(ring)
        if wanted[0] - 1e-9 <= stretch <= wanted[1] + 1e-9:
            rows.append((ring.code, Q(ring.bore, "mm"), Q(stretch, ""), Q(squeeze, "")))
    return tuple(rows)
