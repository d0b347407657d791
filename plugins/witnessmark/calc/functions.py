"""Elementary functions on quantities, so that a calculator reads like its formula."""

from __future__ import annotations

import math
from typing import Any

from witnessmark.calc.units import REGISTRY, UNITS, Quantity, as_quantity

pi = math.pi


def Q(value: float | str, unit: str | None = None) -> Quantity:
    """A quantity: ``Q(400, "N·m")`` or ``Q("400 N·m")``, in the shop's spelling of units."""
    if isinstance(value, str):
        number, _, rest = value.strip().partition(" ")
        return as_quantity(float(number), rest.strip() if unit is None else unit)
    spelled = unit or ""
    if spelled not in UNITS:
        raise ValueError(
            f"unknown unit {spelled!r}; write one of: {', '.join(filter(None, UNITS))}"
        )
    return as_quantity(value, spelled)


def number(quantity: Any) -> float:
    """The plain number of a dimensionless quantity; raises for anything with a unit."""
    if isinstance(quantity, REGISTRY.Quantity):
        return float(quantity.to("dimensionless").magnitude)
    return float(quantity)


def _radians(angle: Any) -> float:
    if isinstance(angle, REGISTRY.Quantity):
        return float(angle.to("radian").magnitude)
    return float(angle)


def sin(angle: Any) -> float:
    """Sine of an angle (a quantity, or a number in radians)."""
    return math.sin(_radians(angle))


def cos(angle: Any) -> float:
    """Cosine of an angle (a quantity, or a number in radians)."""
    return math.cos(_radians(angle))


def tan(angle: Any) -> float:
    """Tangent of an angle (a quantity, or a number in radians)."""
    return math.tan(_radians(angle))


def atan2(y: Any, x: Any) -> Quantity:
    """Angle of the direction (x, y), two quantities of one dimension."""
    ratio_y, ratio_x = y, x
    if isinstance(y, REGISTRY.Quantity):
        ratio_y = y.magnitude
        ratio_x = x.to(y.units).magnitude
    return as_quantity(math.atan2(ratio_y, ratio_x), "rad")


def exp(exponent: Any) -> float:
    """E to a dimensionless power."""
    return math.exp(number(exponent))


def log(ratio: Any) -> float:
    """Natural logarithm of a dimensionless ratio."""
    return math.log(number(ratio))


def sqrt(square: Any) -> Any:
    """Square root; a quantity keeps its units, halved in power."""
    if isinstance(square, REGISTRY.Quantity):
        return square**0.5
    return math.sqrt(square)
