"""From tolerances of the entries to the band of every result, once for all calculators.

Worst case
    Each result is worked out at the corner of the tolerances where it should be least and
    greatest, chosen by the sign of its change along every entry. The middle of every edge
    is tried too; where one of these lies beyond the corners the extreme is inside, and a
    search along the entries takes over.
Root sum square
    The changes along the entries are combined as the root of the sum of their squares,
    upward and downward apart. It assumes that the entries vary independently; entries
    declared to vary together count as one.
What moves the result
    The share of every entry in that sum of squares.

Method: interval evaluation at corners and first-order propagation, JCGM 100 (GUM) 5.1.2.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

Point = tuple[float, ...]
"""A place in the box of tolerances: -1 at the low limit, 0 nominal, +1 at the high limit."""

Numbers = Mapping[str, float]
"""Result name to its number (in any fixed unit)."""

Solve = Callable[[Point], "Numbers | None"]

FEW = 16
"""Up to this many corners all are tried."""


@dataclass(frozen=True)
class Band:
    """Limits of one result and the share of each axis in them."""

    low: float
    high: float
    rss_low: float
    rss_high: float
    shares: tuple[float, ...]
    searched: bool = False


def bands(axes: int, solve: Solve) -> dict[str, Band] | None:
    """The band of every result over a box of ``axes`` tolerances.

    ``solve`` gives the results at a point, or None where the calculator refuses it. Returns
    None when the box cannot be worked out (a corner is refused).
    """
    cache: dict[Point, Numbers | None] = {}

    def at(point: Point) -> Numbers | None:
        if point not in cache:
            cache[point] = solve(point)
        return cache[point]

    nominal = at((0.0,) * axes)
    if nominal is None:
        return None
    edges = [(_along(axes, axis, -1.0), _along(axes, axis, 1.0)) for axis in range(axes)]
    ends = [(at(low), at(high)) for low, high in edges]
    if any(low is None or high is None for low, high in ends):
        return None
    known = [(low, high) for low, high in ends if low is not None and high is not None]
    for corner in _corners(axes, nominal, known):
        if at(corner) is None:
            return None
    tried = {point: numbers for point, numbers in cache.items() if numbers is not None}
    return {
        name: _band(name, axes, nominal, known, at, tried)
        for name in nominal
        if all(name in numbers for numbers in tried.values())
    }


def _along(axes: int, axis: int, end: float) -> Point:
    return tuple(end if index == axis else 0.0 for index in range(axes))


def _corners(axes: int, nominal: Numbers, ends: Sequence[tuple[Numbers, Numbers]]) -> list[Point]:
    """All corners when there are few, else the two that each result's slopes point to."""
    if 2**axes <= FEW:
        return [tuple(corner) for corner in itertools.product((-1.0, 1.0), repeat=axes)]
    corners: dict[Point, None] = {}
    for name in nominal:
        upward = tuple(
            1.0 if high.get(name, 0.0) >= low.get(name, 0.0) else -1.0 for low, high in ends
        )
        corners[upward] = None
        corners[tuple(-sign for sign in upward)] = None
    return list(corners)


def _band(
    name: str,
    axes: int,
    nominal: Numbers,
    ends: Sequence[tuple[Numbers, Numbers]],
    at: Solve,
    solved: Mapping[Point, Numbers],
) -> Band:
    middle = nominal[name]
    tried = {point: numbers[name] for point, numbers in solved.items()}
    corner_values = [value for point, value in tried.items() if all(abs(c) == 1 for c in point)]
    low, high = min(corner_values), max(corner_values)
    spread = max(high - low, abs(middle)) * 1e-9
    inside = [value for value in tried.values() if value < low - spread or value > high + spread]
    if inside:
        low = _search(name, axes, at, tried, -1)
        high = _search(name, axes, at, tried, +1)
    up = math.sqrt(sum(max(a[name] - middle, b[name] - middle, 0.0) ** 2 for a, b in ends))
    down = math.sqrt(sum(max(middle - a[name], middle - b[name], 0.0) ** 2 for a, b in ends))
    squares = [max(abs(a[name] - middle), abs(b[name] - middle)) ** 2 for a, b in ends]
    total = sum(squares)
    shares = tuple(square / total if total else 0.0 for square in squares)
    return Band(low, high, middle - down, middle + up, shares, bool(inside))


def _search(name: str, axes: int, at: Solve, tried: Mapping[Point, float], sign: int) -> float:
    """The extreme inside the box: from the best point tried, along one entry at a time."""
    best = max(tried, key=lambda point: sign * tried[point])
    value = tried[best]
    for _ in range(3):
        for axis in range(axes):
            low, high = -1.0, 1.0
            for _ in range(12):
                third = (high - low) / 3
                values = []
                for place in (low + third, high - third):
                    point = (*best[:axis], place, *best[axis + 1 :])
                    numbers = at(point)
                    values.append(numbers[name] if numbers is not None else -sign * math.inf)
                if sign * values[0] >= sign * values[1]:
                    high -= third
                else:
                    low += third
                reached = max(values, key=lambda number: sign * number)
                if sign * reached > sign * value:
                    value = reached
            best = (*best[:axis], (low + high) / 2, *best[axis + 1 :])
    return value
