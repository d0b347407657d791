"""How many of so many patterns go together: holes and dowels drawn by chance, one seed.

Each drawing gives every hole and dowel a place within its zone and a size within its limits
(``calculators.pattern_draws``). It is judged three ways: held where the drawing wants the parts
(no turning, no shifting), by least squares, and with the best place there is. The last is what
a fitter finds by hand.

The place by least squares is closed and exact. From there offsets are small, so a further turn
and shift enter them as sums: e_i - dt - dphi J q_i, and what sums leave out is bounded. Weighted
least squares then has a closed answer, and it proves twice. Its largest |e_i|/c_i is what one
place leaves: not above 1, it goes together. With weights w_i/c_i^2 that sum to 1 its root mean
square |e_i|/c_i is below what any place leaves: above 1, nothing helps. Weights multiplied by
|e_i|/c_i from step to step bring the two together (Lawson). What is still open after that, or
nearer than sums can tell, is searched in full (``calculators.pattern_fit``).

Lengths are mm; plain floats, and x + iy for places and offsets.

Source: C. L. Lawson's iteration, as in J. R. Rice and K. H. Usow, Math. Comp. 22 (1968) 118.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calculators.pattern_draws import Dowel, Drawn, draw
from calculators.pattern_fit import minimax
from calculators.pattern_interior import Point

_STEPS = 24
_ROUNDING = 1e-9
"""What is lacking by no more than this many mm is not lacking."""


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
    clearances = [dowel.clearance for dowel in dowels]
    arms, errors = _squared(places, dowels)
    lengths = [list(map(abs, column)) for column in errors]
    squares = _rooms(lengths, clearances)
    rows = [zip(*each, strict=True) for each in (arms, errors, lengths, clearances)]
    return Tally(
        drawings,
        fixed=_counted(_rooms([list(map(abs, each.offsets())) for each in dowels], clearances)),
        squares=_counted(squares),
        best=sum(
            _is_enough(room) or _goes(*row) for room, *row in zip(squares, *rows, strict=True)
        ),
    )


def _is_enough(room: float) -> bool:
    return room >= -_ROUNDING


def _counted(rooms: Sequence[float]) -> int:
    return sum(map(_is_enough, rooms))


def _rooms(
    lengths: Sequence[Sequence[float]], clearances: Sequence[Sequence[float]]
) -> list[float]:
    """The room of the tightest dowel, in every drawing."""
    each = [
        list(map(operator.sub, clearance, column))
        for column, clearance in zip(lengths, clearances, strict=True)
    ]
    return list(map(min, *each))


def _squared(
    places: Sequence[complex], dowels: Sequence[Dowel]
) -> tuple[list[list[complex]], list[list[complex]]]:
    """Arms and offsets of every dowel in all drawings, each turned and shifted by least squares;
    both about the centre of the dowels."""
    arms = _centred(
        [[at + own for own in each.own] for at, each in zip(places, dowels, strict=True)]
    )
    holes = _centred(
        [[at + to for to in each.hole] for at, each in zip(places, dowels, strict=True)]
    )
    turns = [
        total / abs(total)
        for total in _added(
            [
                [arm.conjugate() * hole for arm, hole in zip(*columns, strict=True)]
                for columns in zip(arms, holes, strict=True)
            ]
        )
    ]
    turned = [list(map(operator.mul, turns, column)) for column in arms]
    return turned, [
        list(map(operator.sub, column, arm)) for column, arm in zip(holes, turned, strict=True)
    ]


def _centred(columns: Sequence[Sequence[complex]]) -> list[list[complex]]:
    """The same places about their centre, in every drawing."""
    share = 1.0 / len(columns)
    centres = [share * total for total in _added(columns)]
    return [list(map(operator.sub, column, centres)) for column in columns]


def _added(columns: Sequence[Sequence[complex]]) -> list[complex]:
    """Columns added up from the first to the last."""
    total = list(columns[0])
    for column in columns[1:]:
        total = list(map(operator.add, total, column))
    return total


def _goes(
    arms: Sequence[complex],
    errors: Sequence[complex],
    lengths: Sequence[float],
    clearances: Sequence[float],
) -> bool:
    """Whether there is a place in which one drawing goes together; ``lengths`` are |e_i|."""
    decided = _decided(arms, errors, lengths, clearances)
    if decided is not None:
        return decided
    holes = map(operator.add, arms, errors)
    return minimax(_points(arms), _points(holes), clearances).excess <= _ROUNDING


def _points(places: Iterable[complex]) -> list[Point]:
    return [(place.real, place.imag) for place in places]


def _left_out(
    arms: Sequence[complex], lengths: Sequence[float], clearances: Sequence[float]
) -> float:
    """How far (mm) sums may be wrong about an offset in any place that goes.

    A turn phi moves the arm q by |q| phi^2/2 along itself, and no dowel lets it be turned farther
    than its offset and its clearance: |phi| sum of |q|^2 is at most sum of |q| (|e| + c).
    """
    reach = list(map(abs, arms))
    freedom = map(operator.mul, reach, map(operator.add, lengths, clearances))
    turn: float = sum(freedom) / sum(map(operator.mul, reach, reach))
    return 0.505 * max(reach) * turn * turn  # terms of third order are less than a hundredth


def _decided(
    arms: Sequence[complex],
    errors: Sequence[complex],
    lengths: Sequence[float],
    clearances: Sequence[float],
) -> bool | None:
    """Whether a drawing goes together; None where the sums do not tell."""
    tightest = min(clearances)
    if tightest < 0:
        return False
    near = _left_out(arms, lengths, clearances)
    if tightest <= near:
        return None
    sure, vain = 1 - near / tightest, (1 + near / tightest) ** 2
    dowels = [
        (arm, error, arm.conjugate() * error, abs(arm) ** 2, clearance)
        for arm, error, clearance in zip(arms, errors, clearances, strict=True)
    ]
    # The weights that follow on those of plain least squares.
    weights = list(map(operator.truediv, lengths, clearances))
    for _ in range(_STEPS):
        # Shifted and turned by least squares with weights w: what is left of every offset.
        total = inertia = 0.0
        centre = shift = swing = 0j
        for (arm, error, moment, square, _c), w in zip(dowels, weights, strict=True):
            total += w
            centre += w * arm
            shift += w * error
            swing += w * moment
            inertia += w * square
        inertia -= abs(centre) ** 2 / total
        turn = (swing - centre.conjugate() * shift / total).imag / inertia if inertia > 0 else 0.0
        across = 1j * turn
        moved = (shift - across * centre) / total
        worst = left = allowed = 0.0
        before, weights = weights, []
        for (arm, error, _m, _s, clearance), w in zip(dowels, before, strict=True):
            length = abs(error - moved - across * arm)
            ratio = length / clearance
            if ratio > worst:
                worst = ratio
            left += w * length * length
            allowed += w * clearance * clearance
            weights.append(w * ratio)
        if worst < sure:
            return True
        if left > vain * allowed:
            return False
    return None
