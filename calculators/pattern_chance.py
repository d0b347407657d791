"""How many of so many patterns go together: holes and dowels drawn by chance, one seed.

Each drawing gives every hole and dowel a place within its zone and a size within its limits
(``calculators.pattern_draws``). It is judged three ways: held where the drawing wants the parts
(no turning, no shifting), by least squares, and with the best place there is. The last is what
a fitter finds by hand.

Offsets are small, so turn and shift enter them as sums: e_i - dt - dphi J q_i. Weighted least
squares then has a closed answer, and it proves twice. Its largest |e_i|/c_i is what one place
leaves: not above 1, it goes together. With weights w_i/c_i^2 that sum to 1 its root mean square
|e_i|/c_i is below what any place leaves: above 1, nothing helps. Weights multiplied by |e_i|/c_i
from step to step bring the two together (Lawson). What is still open after that, or nearer than
sums can tell, is searched in full (``calculators.pattern_fit``).

Lengths are mm; plain floats.

Source: C. L. Lawson's iteration, as in J. R. Rice and K. H. Usow, Math. Comp. 22 (1968) 118.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calculators.pattern_draws import Column, Dowel, Drawn, draw
from calculators.pattern_fit import minimax
from calculators.pattern_interior import Point

_SURE = 1e-4
"""Rooms this near to nought (mm) are left to the search: the sums hold to first order."""
_STEPS = 24


@dataclass(frozen=True)
class Tally:
    """Of ``drawings`` patterns so many go together, by the three ways of judging."""

    drawings: int
    fixed: int
    squares: int
    best: int


def ring(count: int, radius: float) -> list[Point]:
    """Places evenly round a ring."""
    step = math.tau / count
    return [(radius * math.cos(i * step), radius * math.sin(i * step)) for i in range(count)]


def tally(case: Drawn, drawings: int, seed: int) -> Tally:
    """Draw and count; the same seed gives the same counts."""
    places = ring(case.count, case.radius)
    dowels = draw(case, drawings, seed)
    errors = [dowel.offset() for dowel in dowels]
    clearances = [dowel.clearance for dowel in dowels]
    squares = _rooms(_squared(places, errors), clearances)
    best = 0
    for row, (room, tightest, widest) in enumerate(
        zip(squares, map(min, *clearances), map(max, *clearances), strict=True)
    ):
        if tightest >= _SURE and room > widest * _SURE / tightest:
            best += 1  # the place by least squares is one that goes, and not by a hair
        else:
            best += _goes(places, dowels, row)
    return Tally(
        drawings,
        fixed=_counted(_rooms(errors, clearances)),
        squares=_counted(squares),
        best=best,
    )


def _counted(rooms: Sequence[float]) -> int:
    return sum(room >= 0 for room in rooms)


def _rooms(offsets: Sequence[tuple[Column, Column]], clearances: Sequence[Column]) -> list[float]:
    """The room of the tightest dowel, in every drawing."""
    each = [
        [c - reach for reach, c in zip(map(math.hypot, x, y), clearance, strict=True)]
        for (x, y), clearance in zip(offsets, clearances, strict=True)
    ]
    return list(map(min, *each))


def _squared(
    places: Sequence[Point], errors: Sequence[tuple[Column, Column]]
) -> list[tuple[Column, Column]]:
    """The offsets of all drawings, each shifted and turned by least squares."""
    share = 1.0 / len(places)
    # Sums from nought on, one dowel after the other, as ``_settled`` makes them.
    total = cx = cy = 0.0
    for x, y in places:
        total += share
        cx += share * x
        cy += share * y
    cx, cy = cx / total, cy / total
    inertia = 0.0
    for x, y in places:
        inertia += share * ((x - cx) * (x - cx) + (y - cy) * (y - cy))
    shift_x, shift_y = (
        _summed([[share * e for e in column] for column in way], total)
        for way in zip(*errors, strict=True)
    )
    moments = []
    for (x, y), (ex, ey) in zip(places, errors, strict=True):
        arm_x, arm_y = x - cx, y - cy
        moments.append(
            [
                share * (arm_x * (b - my) - arm_y * (a - mx))
                for a, b, mx, my in zip(ex, ey, shift_x, shift_y, strict=True)
            ]
        )
    turns = _summed(moments, inertia)
    return [
        (
            [e - m + turn * (y - cy) for e, m, turn in zip(ex, shift_x, turns, strict=True)],
            [e - m - turn * (x - cx) for e, m, turn in zip(ey, shift_y, turns, strict=True)],
        )
        for (x, y), (ex, ey) in zip(places, errors, strict=True)
    ]


def _summed(columns: Sequence[Column], over: float) -> list[float]:
    """Columns added up from the first to the last, and divided."""
    total: Column = [0.0] * len(columns[0])
    for column in columns:
        total = [done + more for done, more in zip(total, column, strict=True)]
    return [each / over for each in total]


def _goes(places: Sequence[Point], dowels: Sequence[Dowel], row: int) -> bool:
    """Whether there is a place in which one drawing goes together."""
    holes, pins, clearances = [], [], []
    for dowel in dowels:
        holes.append((dowel.hole_x[row], dowel.hole_y[row]))
        pins.append((dowel.own_x[row], dowel.own_y[row]))
        clearances.append(dowel.clearance[row])
    errors = [(hx - px, hy - py) for (hx, hy), (px, py) in zip(holes, pins, strict=True)]
    decided = _decided(places, errors, clearances)
    if decided is not None:
        return decided
    return minimax(_moved(places, pins), _moved(places, holes), clearances).excess <= 1e-9


def _moved(places: Sequence[Point], by: Sequence[Point]) -> list[Point]:
    return [(x + dx, y + dy) for (x, y), (dx, dy) in zip(places, by, strict=True)]


def _settled(
    places: Sequence[Point], errors: Sequence[Point], weights: Sequence[float]
) -> list[Point]:
    """The offsets once the pattern has been shifted and turned by weighted least squares."""
    together = list(zip(places, errors, weights, strict=True))
    total = mx = my = cx = cy = 0.0
    for (x, y), (ex, ey), w in together:
        total += w
        cx += w * x
        cy += w * y
        mx += w * ex
        my += w * ey
    cx, cy, mx, my = cx / total, cy / total, mx / total, my / total
    moment = inertia = 0.0
    for (x, y), (ex, ey), w in together:
        arm_x, arm_y = x - cx, y - cy
        moment += w * (arm_x * (ey - my) - arm_y * (ex - mx))
        inertia += w * (arm_x * arm_x + arm_y * arm_y)
    turn = moment / inertia if inertia > 0 else 0.0
    return [
        (ex - mx + turn * (y - cy), ey - my - turn * (x - cx)) for (x, y), (ex, ey), _ in together
    ]


def _decided(
    places: Sequence[Point], errors: Sequence[Point], clearances: Sequence[float]
) -> bool | None:
    """Whether a drawing goes together; None where the sums do not tell."""
    tightest = min(clearances)
    if tightest < _SURE:
        return False if tightest < 0 else None
    near = _SURE / tightest
    shares = [1.0 / len(places)] * len(places)
    for _ in range(_STEPS):
        weights = [s / (c * c) for s, c in zip(shares, clearances, strict=True)]
        left = _settled(places, errors, weights)
        ratios = [math.hypot(x, y) / c for (x, y), c in zip(left, clearances, strict=True)]
        if max(ratios) < 1 - near:
            return True
        if (
            sum(s * ratio * ratio for s, ratio in zip(shares, ratios, strict=True))
            > (1 + near) ** 2
        ):
            return False
        shares = [s * ratio for s, ratio in zip(shares, ratios, strict=True)]
        total = sum(shares)
        shares = [s / total for s in shares]
    return None
