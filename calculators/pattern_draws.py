"""Patterns of holes and dowels drawn by chance: offsets and clearances, a column a dowel.

What the generator throws depends on nothing that a fitter measures, so the throws are kept and
only stretched to the zones and sizes at hand. All drawings of one dowel stand in a column: one
step of arithmetic then goes through all of them.

The generator is ``random.Random(seed)`` of the standard library: the same numbers everywhere.
Lengths are mm; plain floats.

Source: JCGM 101:2008 (propagation by drawing); G. E. P. Box, M. E. Muller, Ann. Math. Statist.
29 (1958) 610 (normal numbers in pairs).
"""

from __future__ import annotations

import math
import operator
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from random import Random


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
class Dowel:
    """One dowel in all drawings: how far its hole and how far it lies itself from their true
    places (x + iy), and its clearance on the radius."""

    hole: Sequence[complex]
    own: Sequence[complex]
    clearance: Sequence[float]

    def offsets(self) -> list[complex]:
        """From the dowel to its hole."""
        return list(map(operator.sub, self.hole, self.own))


@dataclass(frozen=True)
class _Throws:
    """One dowel's throws: reach (as a share of the zone) and direction of hole and dowel, and
    where between its limits each size lies."""

    hole: tuple[list[float], list[complex]]
    dowel: tuple[list[float], list[complex]]
    hole_size: list[float]
    dowel_size: list[float]


def draw(case: Drawn, drawings: int, seed: int) -> list[Dowel]:
    """The dowels of ``drawings`` patterns; the same seed gives the same."""
    dowels = []
    for throws in _throws(case.count, drawings, case.even, seed):
        holes = _sizes(case.hole, throws.hole_size)
        pins = _sizes(case.dowel, throws.dowel_size)
        dowels.append(
            Dowel(
                _places(case.hole_zone / 2, case.even, *throws.hole),
                _places(case.dowel_zone / 2, case.even, *throws.dowel),
                [(hole - pin) / 2 for hole, pin in zip(holes, pins, strict=True)],
            )
        )
    return dowels


def _sizes(limits: tuple[float, float], shares: Sequence[float]) -> list[float]:
    least, width = limits[0], limits[1] - limits[0]
    return [least + width * share for share in shares]


def _places(
    radius: float, even: bool, shares: Sequence[float], directions: Sequence[complex]
) -> list[complex]:
    """Places in a zone of a radius."""
    scale = radius if even else radius / 3
    return [scale * share * way for share, way in zip(shares, directions, strict=True)]


@lru_cache(maxsize=1)
def _throws(count: int, drawings: int, even: bool, seed: int) -> tuple[_Throws, ...]:
    """The throws of every dowel, drawing by drawing in the generator's order."""
    roll = Random(seed).random
    columns = [_Throws(([], []), ([], []), [], []) for _ in range(count)]
    for _ in range(drawings):
        for column in columns:
            for shares, directions in (column.hole, column.dowel):
                # A pair of normal numbers by Box and Muller; the logarithm never meets nought.
                shares.append(math.sqrt(roll() if even else -2 * math.log(1 - roll())))
                turn = math.tau * roll()
                directions.append(complex(math.cos(turn), math.sin(turn)))
            column.hole_size.append(roll())
            column.dowel_size.append(roll())
    return tuple(columns)
