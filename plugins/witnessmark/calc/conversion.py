"""Conversions between units by a factor that is worked out once for each pair."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Convert = Callable[[float], float]


def convert_by_factor(quantity_class: Any) -> None:
    """Let quantities of ``quantity_class`` convert by a factor that is worked out once.

    A band calls a calculator dozens of times, and half of that time went into the registry
    finding the same factor again. Factors, and the scale and nought of a thermometer, are the
    registry's own; so is everything that has neither: contexts, unlike dimensions.
    """
    plainly = quantity_class.to
    known: dict[tuple[Any, Any], tuple[float | Convert, Any] | None] = {}

    def way_to(have: Any, wanted: Any) -> tuple[float | Convert, Any] | None:
        one = plainly(quantity_class(1.0, have), wanted)
        if plainly(quantity_class(0.0, have), wanted).magnitude == 0:
            return float(one.magnitude), one._units
        between = _between_scales(quantity_class, have, one._units)
        return between and (between, one._units)

    def found(have: Any, wanted: Any) -> tuple[float | Convert, Any] | None:
        try:
            return known[have, wanted]
        except KeyError:
            made = known[have, wanted] = way_to(have, wanted)
            return made
        except TypeError:  # a unit given as something that cannot be a key
            return None

    def converted(number: Any, by: float | Convert) -> Any:
        if by == 1.0:
            return number
        return by(number) if callable(by) else number * by

    def to(self: Any, other: Any = None, *contexts: Any, **more: Any) -> Any:
        by = None if contexts or more or other is None else found(self._units, other)
        if by is None:
            return plainly(self, other, *contexts, **more)
        return quantity_class(converted(self._magnitude, by[0]), by[1])

    def m_as(self: Any, units: Any) -> Any:
        by = found(self._units, units)
        if by is None:
            return plainly(self, units).magnitude
        return converted(self._magnitude, by[0])

    quantity_class.to, quantity_class.m_as = to, m_as


def _between_scales(quantity_class: Any, have: Any, wanted: Any) -> Convert | None:
    """From a thermometer's scale to the unit it is counted from, or back; None for others.

    The steps are the registry's, in its order, so that not even the last bit differs.
    """
    names = [*have, *wanted]
    if len(names) != 2 or any(units[name] != 1 for units in (have, wanted) for name in units):
        return None
    scales = [quantity_class._REGISTRY._units[name].converter for name in names]
    if scales[0].is_multiplicative and scales[0].scale == 1.0:
        return lambda number: float((number - scales[1].offset) / scales[1].scale)
    if scales[1].is_multiplicative and scales[1].scale == 1.0:
        return lambda number: float(number * scales[0].scale + scales[0].offset)
    return None
