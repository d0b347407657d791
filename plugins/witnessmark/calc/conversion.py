"""Conversions between units by a factor that is worked out once for each pair."""

from __future__ import annotations

from typing import Any


def convert_by_factor(quantity_class: Any) -> None:
    """Let quantities of ``quantity_class`` convert by a factor that is worked out once.

    A band calls a calculator dozens of times, and half of that time went into the registry
    finding the same factor again. The factor is the registry's own, and so is everything that
    has no factor: scales with another zero, contexts, unlike dimensions.
    """
    plainly = quantity_class.to
    known: dict[tuple[Any, Any], tuple[float, Any] | None] = {}

    def factor_to(have: Any, wanted: Any) -> tuple[float, Any] | None:
        if plainly(quantity_class(0.0, have), wanted).magnitude != 0:
            return None
        one = plainly(quantity_class(1.0, have), wanted)
        return float(one.magnitude), one._units

    def found(have: Any, wanted: Any) -> tuple[float, Any] | None:
        try:
            return known[have, wanted]
        except KeyError:
            made = known[have, wanted] = factor_to(have, wanted)
            return made
        except TypeError:  # a unit given as something that cannot be a key
            return None

    def to(self: Any, other: Any = None, *contexts: Any, **more: Any) -> Any:
        by = None if contexts or more or other is None else found(self._units, other)
        if by is None:
            return plainly(self, other, *contexts, **more)
        return quantity_class(self._magnitude * by[0] if by[0] != 1.0 else self._magnitude, by[1])

    def m_as(self: Any, units: Any) -> Any:
        by = found(self._units, units)
        if by is None:
            return plainly(self, units).magnitude
        return self._magnitude * by[0] if by[0] != 1.0 else self._magnitude

    quantity_class.to, quantity_class.m_as = to, m_as
