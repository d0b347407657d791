"""How many of so many patterns go together: holes and dowels drawn by chance, one seed.

Each drawing gives every hole and dowel a place within its zone and a size within its limits.
It is judged three ways: held where the drawing wants the parts (no turning, no shifting), by
least squares, and with the best place there is. The last is what a fitter finds by hand.

Offsets are small, so turn and shift enter them as sums: e_i - dt - dphi J q_i. Weighted least
squares then has a closed answer, and it proves twice. Its largest |e_i|/c_i is what one place
leaves: not above 1, it goes together. With weights w_i/c_i^2 that sum to 1 its root mean square
|e_i|/c_i is below what any place leaves: above 1, nothing helps. Weights multiplied by |e_i|/c_i
from step to step bring the two together (Lawson). What is still open after that, or nearer than
sums can tell, is searched in full (``calculators.pattern_fit``).

The generator is ``random.Random(seed)`` of the standard library: the same numbers everywhere.
Lengths are mm; plain floats.

Sources: JCGM 101:2008 (propagation by drawing); C. L. Lawson's iteration, as in J. R. Rice and
K. H. Usow, Math. Comp. 22 (1968) 118.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from calculators.pattern_fit import minimax
from calculators.pattern_interior import Point

_SURE = 1e-4
"""Rooms this near to nought (mm) are left to the search: the sums hold to first order."""
_STEPS = 24


@dataclass(frozen=True)
class Drawn:
    """Zones (diameters) and limits of sizes of holes and dowels on a ring, mm."""

    count: int
    radius: float
    hole_zone: float
    dowel_zone: float
    hole: tuple[float, float]
    dowel: tuple[float, float]
    even: bool
    """Places spread evenly over the zone; else normally, three sigma reaching its edge."""


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
    dice = Random(seed)
    places = ring(case.count, case.radius)
    alike = [1.0 / case.count] * case.count
    fixed = squares = best = 0
    for _ in range(drawings):
        errors, clearances, moved = _drawn(case, places, dice)
        fixed += _room(errors, clearances) >= 0
        squares += _room(_settled(places, errors, alike), clearances) >= 0
        goes = _decided(places, errors, clearances)
        if goes is None:
            dowels, holes = moved
            goes = minimax(dowels, holes, clearances).excess <= 1e-9
        best += goes
    return Tally(drawings, fixed, squares, best)


def _drawn(
    case: Drawn, places: Sequence[Point], dice: Random
) -> tuple[list[Point], list[float], tuple[list[Point], list[Point]]]:
    """Offsets of the holes from their dowels, radial clearances, places of dowels and holes."""
    errors, clearances, dowels, holes = [], [], [], []
    for x, y in places:
        hx, hy = _off(case.hole_zone / 2, case.even, dice)
        px, py = _off(case.dowel_zone / 2, case.even, dice)
        errors.append((hx - px, hy - py))
        dowels.append((x + px, y + py))
        holes.append((x + hx, y + hy))
        hole = case.hole[0] + (case.hole[1] - case.hole[0]) * dice.random()
        dowel = case.dowel[0] + (case.dowel[1] - case.dowel[0]) * dice.random()
        clearances.append((hole - dowel) / 2)
    return errors, clearances, (dowels, holes)


def _off(radius: float, even: bool, dice: Random) -> Point:
    """A place in a zone of a radius."""
    if even:
        reach, turn = radius * math.sqrt(dice.random()), math.tau * dice.random()
        return reach * math.cos(turn), reach * math.sin(turn)
    # One pair of normal numbers by Box and Muller; nought is kept out of the logarithm.
    reach = radius / 3 * math.sqrt(-2 * math.log(1 - dice.random()))
    turn = math.tau * dice.random()
    return reach * math.cos(turn), reach * math.sin(turn)


def _room(errors: Sequence[Point], clearances: Sequence[float]) -> float:
    return min(c - math.hypot(x, y) for (x, y), c in zip(errors, clearances, strict=True))


def _settled(
    places: Sequence[Point], errors: Sequence[Point], weights: Sequence[float]
) -> list[Point]:
    """The offsets once the pattern has been shifted and turned by weighted least squares."""
    total = mx = my = cx = cy = 0.0
    for (x, y), (ex, ey), w in zip(places, errors, weights, strict=True):
        total += w
        cx += w * x
        cy += w * y
        mx += w * ex
        my += w * ey
    cx, cy, mx, my = cx / total, cy / total, mx / total, my / total
    moment = inertia = 0.0
    for (x, y), (ex, ey), w in zip(places, errors, weights, strict=True):
        moment += w * ((x - cx) * (ey - my) - (y - cy) * (ex - mx))
        inertia += w * ((x - cx) ** 2 + (y - cy) ** 2)
    turn = moment / inertia if inertia > 0 else 0.0
    return [
        (ex - mx + turn * (y - cy), ey - my - turn * (x - cx))
        for (x, y), (ex, ey) in zip(places, errors, strict=True)
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
