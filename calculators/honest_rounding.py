"""Rounding a converted figure no finer than its source, and limits never outward.

Figures that count: those of the source, and one more where the first figure of the converted
number is smaller than that of the source (90 becomes 122, not 120). A maximum is rounded down, a
minimum up, a range inward at both ends; only a nominal value goes to the nearest, halves away
from zero. Everything is done in decimal, from numbers cut to twelve figures.

Source: NIST SP 811 (2008), B.7.1 and B.7.2, from memory.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from typing import Literal

Sense = Literal["nearest", "up", "down"]
MODES = {"nearest": ROUND_HALF_UP, "up": ROUND_CEILING, "down": ROUND_FLOOR}


def exact(number: float) -> Decimal:
    """A number cut to twelve figures, as a decimal."""
    return Decimal(format(number, ".12g"))


def figures_of(number: float) -> int:
    """Figures with which a number is written, zeros before the point counted: 90 has two."""
    digits = exact(number).normalize()
    exponent = digits.as_tuple().exponent
    assert isinstance(exponent, int)
    return len(digits.as_tuple().digits) + max(exponent, 0)


def first_figure(number: float) -> int:
    """The first figure of a number that is not 0."""
    return exact(number).as_tuple().digits[0]


def figures_kept(source: float, converted: float, figures: int) -> int:
    """Figures that the converted number is given with."""
    return figures + (first_figure(converted) < first_figure(source))


def to_figures(number: float, figures: int, sense: Sense) -> Decimal:
    """A positive number rounded to so many figures."""
    value = exact(number)
    return to_step(number, Decimal(1).scaleb(value.adjusted() - figures + 1), sense)


def to_step(number: float, step: Decimal, sense: Sense) -> Decimal:
    """A number rounded to a multiple of ``step``."""
    return (exact(number) / step).to_integral_value(MODES[sense]) * step


def written(number: Decimal) -> str:
    """A rounded number as text, without an exponent."""
    return format(number, "f")
