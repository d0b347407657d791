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
from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from random import Random

Column = Sequence[float]


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
    """One dowel in all drawings: where its hole lies, where it lies itself, from their true
    places; and its clearance on the radius."""

    hole_x: Column
    hole_y: Column
    own_x: Column
    own_y: Column
    clearance: Column

    def offset(self) -> tuple[Column, Column]:
        """From the dowel to its hole."""
        return (
            [hole - own for hole, own in zip(self.hole_x, self.own_x, strict=True)],
            [hole - own for hole, own in zip(self.hole_y, self.own_y, strict=True)],
        )


@dataclass(frozen=True)
class _Throws:
    """One dowel's throws: reach (as a share of the zone) and direction of hole and dowel, and
    where between its limits each size lies."""

    hole: tuple[Column, Column, Column]
    dowel: tuple[Column, Column, Column]
    hole_size: Column
    dowel_size: Column


def draw(case: Drawn, drawings: int, seed: int) -> list[Dowel]:
    """The dowels of ``drawings`` patterns; the same seed gives the same."""
    dowels = []
    for throws in _throws(case.count, drawings, case.even, seed):
        holes = _sizes(case.hole, throws.hole_size)
        pins = _sizes(case.dowel, throws.dowel_size)
        dowels.append(
            Dowel(
                *_places(case.hole_zone / 2, case.even, throws.hole),
                *_places(case.dowel_zone / 2, case.even, throws.dowel),
                [(hole - pin) / 2 for hole, pin in zip(holes, pins, strict=True)],
            )
        )
    return dowels


def _sizes(limits: tuple[float, float], shares: Column) -> list[float]:
    least, width = limits[0], limits[1] - limits[0]
    return [least + width * share for share in shares]


def _places(
    radius: float, even: bool, throws: tuple[Column, Column, Column]
) -> tuple[Column, Column]:
    """Places in a zone of a radius."""
    scale = radius if even else radius / 3
    reaches = [scale * share for share in throws[0]]
    return (
        [reach * cosine for reach, cosine in zip(reaches, throws[1], strict=True)],
        [reach * sine for reach, sine in zip(reaches, throws[2], strict=True)],
    )


@lru_cache(maxsize=1)
def _throws(count: int, drawings: int, even: bool, seed: int) -> tuple[_Throws, ...]:
    """The throws of every dowel, drawing by drawing in the generator's order."""
    roll = Random(seed).random
    columns = [[array("d") for _ in range(8)] for _ in range(count)]
    for _ in range(drawings):
        for column in columns:
            for first in (0, 3):
                # A pair of normal numbers by Box and Muller; the logarithm never meets nought.
                share = math.sqrt(roll()) if even else math.sqrt(-2 * math.log(1 - roll()))
                turn = math.tau * roll()
                column[first].append(share)
                column[first + 1].append(math.cos(turn))
                column[first + 2].append(math.sin(turn))
            column[6].append(roll())
            column[7].append(roll())
    return tuple(_Throws((c[0], c[1], c[2]), (c[3], c[4], c[5]), c[6], c[7]) for c in columns)
