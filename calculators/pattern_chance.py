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

Lengths are mm; plain floats, and x + iy for places and offsets.

Source: C. L. Lawson's iteration, as in J. R. Rice and K. H. Usow, Math. Comp. 22 (1968) 118.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Sequence
from dataclasses import dataclass

from calculators.pattern_draws import Dowel, Drawn, draw
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


def ring(count: int, radius: float) -> list[complex]:
    """Places evenly round a ring."""
    step = math.tau / count
    return [complex(radius * math.cos(i * step), radius * math.sin(i * step)) for i in range(count)]


def tally(case: Drawn, drawings: int, seed: int) -> Tally:
    """Draw and count; the same seed gives the same counts."""
    places = ring(case.count, case.radius)
    dowels = draw(case, drawings, seed)
    errors = [dowel.offsets() for dowel in dowels]
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


def _rooms(
    offsets: Sequence[Sequence[complex]], clearances: Sequence[Sequence[float]]
) -> list[float]:
    """The room of the tightest dowel, in every drawing."""
    each = [
        list(map(operator.sub, clearance, map(abs, column)))
        for column, clearance in zip(offsets, clearances, strict=True)
    ]
    return list(map(min, *each))


def _squared(places: Sequence[complex], errors: Sequence[Sequence[complex]]) -> list[list[complex]]:
    """The offsets of all drawings, each shifted and turned by least squares; a ring's centre is
    that of its dowels."""
    share = 1.0 / len(places)
    inertia = share * sum(abs(place) ** 2 for place in places)
    shifts = _added([[share * e for e in column] for column in errors])
    turns = _added(
        [
            [(arm * (e - shift)).imag for e, shift in zip(column, shifts, strict=True)]
            for arm, column in zip(
                (share * place.conjugate() / inertia for place in places), errors, strict=True
            )
        ]
    )
    return [
        [e - shift - turn * across for e, shift, turn in zip(column, shifts, turns, strict=True)]
        for across, column in zip((1j * place for place in places), errors, strict=True)
    ]


def _added[Number: (float, complex)](columns: Sequence[list[Number]]) -> list[Number]:
    """Columns added up from the first to the last."""
    total = columns[0]
    for column in columns[1:]:
        total = list(map(operator.add, total, column))
    return total


def _goes(places: Sequence[complex], dowels: Sequence[Dowel], row: int) -> bool:
    """Whether there is a place in which one drawing goes together."""
    holes = [dowel.hole[row] for dowel in dowels]
    pins = [dowel.own[row] for dowel in dowels]
    clearances = [dowel.clearance[row] for dowel in dowels]
    decided = _decided(places, list(map(operator.sub, holes, pins)), clearances)
    if decided is not None:
        return decided
    return minimax(_moved(places, pins), _moved(places, holes), clearances).excess <= 1e-9


def _moved(places: Sequence[complex], by: Sequence[complex]) -> list[Point]:
    return [(p.real, p.imag) for p in map(operator.add, places, by)]


def _decided(
    places: Sequence[complex], errors: Sequence[complex], clearances: Sequence[float]
) -> bool | None:
    """Whether a drawing goes together; None where the sums do not tell."""
    tightest = min(clearances)
    if tightest < _SURE:
        return False if tightest < 0 else None
    near = _SURE / tightest
    sure, vain = 1 - near, (1 + near) ** 2
    shares = [1.0 / len(places)] * len(places)
    for _ in range(_STEPS):
        # Shifted and turned by least squares with weights w: what is left of every offset.
        total, centre, shift, inertia = 0.0, 0j, 0j, 0.0
        moment = 0.0
        dowels = []
        for place, error, clearance, part in zip(places, errors, clearances, shares, strict=True):
            w = part / (clearance * clearance)
            dowels.append((place, error, clearance, part, w))
            total += w
            centre += w * place
            shift += w * error
        centre /= total
        shift /= total
        for place, error, _c, _p, w in dowels:
            arm = place - centre
            moment += w * (arm.conjugate() * (error - shift)).imag
            inertia += w * (arm.real * arm.real + arm.imag * arm.imag)
        turn = 1j * (moment / inertia if inertia > 0 else 0.0)
        worst = square = grown = 0.0
        shares = []
        for place, error, clearance, part, _w in dowels:
            ratio = abs(error - shift - turn * (place - centre)) / clearance
            if ratio > worst:
                worst = ratio
            share = part * ratio
            square += share * ratio
            grown += share
            shares.append(share)
        if worst < sure:
            return True
        if square > vain:
            return False
        shares = [share / grown for share in shares]
    return None
