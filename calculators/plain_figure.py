"""An entry as plain numbers: as it is now, and as it was entered with its limits.

What is decided at the bench (a setting) is worked out from what was entered; what happens then
(the torque at the nut) from the entry as it is now, while its band is being worked out.
"""

from __future__ import annotations

from typing import NamedTuple

from witnessmark.calc import Quantity, as_entered


class Figure(NamedTuple):
    """An entry's number now, and its value as entered between its limits."""

    now: float
    low: float
    value: float
    high: float


def figure(name: str, quantity: Quantity, unit: str) -> Figure:
    """The entry ``name`` in ``unit``, spelled as the registry does."""
    standing = as_entered(name, quantity)
    value = standing.value.m_as(unit)
    now, low, high = (
        value if each is standing.value else each.m_as(unit)
        for each in (quantity, standing.low, standing.high)
    )
    return Figure(now, low, value, high)
