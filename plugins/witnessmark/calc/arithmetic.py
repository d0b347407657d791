"""Arithmetic on quantities with the units of what comes out worked out once for each pair.

A band calls a calculator dozens of times, and most of that time went into finding out again
that a force times a length is in N·mm. Only the plain case is taken here: two quantities, or
a quantity and a number, whose units are proportional to one another. Everything else, and
every first time, is the registry's own: scales with another zero, unlike dimensions, powers
of anything but a number, and all that it refuses.
"""

from __future__ import annotations

import operator
from collections.abc import Callable
from functools import cache
from typing import Any

_NUMBERS = (float, int)


def calculate_by_units(quantity_class: Any) -> None:
    """Let quantities of ``quantity_class`` calculate with units that are worked out once.

    What comes out is what the registry gives, to the last bit; ``conversion`` stands already.
    """
    _make_plainly(quantity_class)
    for name in ("mul", "truediv"):
        _multiply_plainly(quantity_class, name)
    for name in ("add", "sub"):
        _add_plainly(quantity_class, name)
    quantity_class.__rmul__ = quantity_class.__mul__
    quantity_class.__radd__ = quantity_class.__add__
    _invert_plainly(quantity_class)
    _raise_plainly(quantity_class)
    for name in ("lt", "le", "gt", "ge"):
        _compare_plainly(quantity_class, name)


def _make_plainly(quantity_class: Any) -> None:
    """A number with units that are known needs no second look."""
    unit_class = quantity_class._REGISTRY.Unit
    container = type(unit_class("")._units)
    make, create = object.__new__, quantity_class.__new__

    def new(cls: Any, value: Any, units: Any = None) -> Any:
        if type(value) not in _NUMBERS or type(units) not in (container, unit_class):
            return create(cls, value, units)
        made = make(cls)
        made._magnitude = value
        made._units = units if type(units) is container else units._units
        return made

    quantity_class.__new__ = new


def _proportional(quantity_class: Any, *units: Any) -> bool:
    """Whether none of the units is of a scale with another zero, nor a difference on one."""
    return all(
        quantity_class(1.0, each)._is_multiplicative and not any("delta_" in name for name in each)
        for each in units
    )


def _multiply_plainly(quantity_class: Any, name: str) -> None:
    plainly = getattr(quantity_class, f"__{name}__")
    operation: Callable[[Any, Any], Any] = getattr(operator, name)

    @cache
    def units_of(have: Any, other: Any) -> Any:
        if not _proportional(quantity_class, have, *([] if other is None else [other])):
            return None
        by = 1.0 if other is None else quantity_class(1.0, other)
        return plainly(quantity_class(1.0, have), by)._units

    def multiply(self: Any, other: Any) -> Any:
        if type(other) is quantity_class:
            number, units = other._magnitude, other._units
        elif type(other) in _NUMBERS:
            number, units = other, None
        else:
            return plainly(self, other)
        made = units_of(self._units, units)
        if made is None:
            return plainly(self, other)
        return quantity_class(operation(self._magnitude, number), made)

    setattr(quantity_class, f"__{name}__", multiply)
    setattr(quantity_class, f"__i{name}__", multiply)


def _add_plainly(quantity_class: Any, name: str) -> None:
    plainly = getattr(quantity_class, f"__{name}__")
    operation: Callable[[Any, Any], Any] = getattr(operator, name)

    @cache
    def factor_of(have: Any, other: Any) -> float | None:
        if not _proportional(quantity_class, have, other):
            return None
        one = quantity_class(1.0, other)
        if not one.is_compatible_with(quantity_class(1.0, have)):
            return None
        return float(one.m_as(have))

    def add(self: Any, other: Any) -> Any:
        units = self._units
        if type(other) is not quantity_class:
            # Nought has any unit; other numbers only go with plain numbers.
            if type(other) in _NUMBERS and (not units or other == 0):
                return quantity_class(operation(self._magnitude, other), units)
            return plainly(self, other)
        factor = factor_of(units, other._units)
        if factor is None:
            return plainly(self, other)
        number = other._magnitude if factor == 1.0 else other._magnitude * factor
        return quantity_class(operation(self._magnitude, number), units)

    setattr(quantity_class, f"__{name}__", add)
    setattr(quantity_class, f"__i{name}__", add)


def _invert_plainly(quantity_class: Any) -> None:
    plainly = quantity_class.__rtruediv__

    @cache
    def units_of(have: Any) -> Any:
        if not _proportional(quantity_class, have):
            return None
        return plainly(quantity_class(1.0, have), 1.0)._units

    def invert(self: Any, number: Any) -> Any:
        if type(number) not in _NUMBERS:
            return plainly(self, number)
        made = units_of(self._units)
        if made is None:
            return plainly(self, number)
        return quantity_class(number / self._magnitude, made)

    quantity_class.__rtruediv__ = invert


def _raise_plainly(quantity_class: Any) -> None:
    plainly = quantity_class.__pow__

    @cache
    def units_of(have: Any, exponent: float) -> Any:
        if not _proportional(quantity_class, have):
            return None
        return plainly(quantity_class(1.0, have), exponent)._units

    def power(self: Any, exponent: Any) -> Any:
        if type(exponent) not in _NUMBERS:
            return plainly(self, exponent)
        made = units_of(self._units, exponent)
        if made is None:
            return plainly(self, exponent)
        return quantity_class(self._magnitude**exponent, made)

    quantity_class.__pow__ = power


def _compare_plainly(quantity_class: Any, name: str) -> None:
    plainly = getattr(quantity_class, f"__{name}__")
    operation: Callable[[Any, Any], bool] = getattr(operator, name)

    @cache
    def factors_of(have: Any, other: Any) -> tuple[float, float] | None:
        if not _proportional(quantity_class, have, other):
            return None
        ones = quantity_class(1.0, have), quantity_class(1.0, other)
        if have == other:
            return 1.0, 1.0
        if not ones[0].is_compatible_with(ones[1]):
            return None
        first, second = (float(one.to_root_units().magnitude) for one in ones)
        return first, second

    def compare(self: Any, other: Any) -> Any:
        units = self._units
        if type(other) is not quantity_class:
            if type(other) in _NUMBERS and not units:
                return operation(self._magnitude, other)
            return plainly(self, other)
        factors = factors_of(units, other._units)
        if factors is None:
            return plainly(self, other)
        return operation(self._magnitude * factors[0], other._magnitude * factors[1])

    setattr(quantity_class, f"__{name}__", compare)
