"""Every position in which a ring of holes can be put on a ring of dowels, and what each leaves.

Both patterns are put in order of their angles about their centroids; putting the first dowel in
the first, second, third … hole gives as many positions as there are dowels. Each is fitted by
least squares and, unless that fit alone shows that it is hopeless, by minimax.

Lengths are mm, angles rad; plain floats.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from calculators.pattern_fit import BestPlace, Place, centroid, least_squares, minimax, rms
from calculators.pattern_interior import Point

HOPELESS = 0.25
"""A position that surely lacks more than this many mm is not worked out any closer."""

type Feature = tuple[Point, float]
"""Place and diameter of a dowel or a hole, mm."""


class Pair(NamedTuple):
    """A dowel and the hole it meets: places and the radial clearance, mm."""

    dowel: Point
    hole: Point
    clearance: float


class Position(NamedTuple):
    """One way of turning the flywheel: the pairs, and what they leave."""

    pairs: tuple[Pair, ...]
    squares: Place
    best: BestPlace | None
    """None where not even the root mean square of the offsets fits the widest clearance."""

    @property
    def turn(self) -> float:
        """Angle from the measured axes, degrees (see ``degrees``)."""
        return degrees(self.best.place.turn if self.best else self.squares.turn)

    @property
    def margin(self) -> float | None:
        """Room left at the tightest dowel, mm; negative where it does not go on."""
        return -self.best.excess if self.best else None

    @property
    def goes(self) -> bool:
        """Whether it goes on, be it ever so tightly."""
        return self.best is not None and self.best.excess <= 1e-9

    @property
    def plain(self) -> list[Point]:
        """What least squares leaves: from each dowel to its hole, mm."""
        return self.squares.offsets([p.dowel for p in self.pairs], [p.hole for p in self.pairs])

    @property
    def reach(self) -> float:
        """Root mean square distance of the dowels from their middle, mm."""
        x, y = centroid([pair.dowel for pair in self.pairs])
        return rms([(pair.dowel[0] - x, pair.dowel[1] - y) for pair in self.pairs])


class Laid(NamedTuple):
    """A position in its best place: for each dowel, in the dowels' axes, offset and room (mm)."""

    position: Position
    best: BestPlace
    offsets: tuple[Point, ...]
    rooms: tuple[float, ...]

    @property
    def margin(self) -> float:
        """Room left at the tightest dowel, mm."""
        return -self.best.excess

    @property
    def tightest(self) -> tuple[int, ...]:
        """Indices of the dowels that have no more room than the tightest."""
        return tuple(i for i, room in enumerate(self.rooms) if room <= self.margin + 2e-4)

    def uncertainty(self, sigma: float) -> float:
        """Standard uncertainty of the margin, to first order.

        The margin answers to the offset of dowel i with its weight; each offset is the
        difference of two measured places, ``sigma`` (mm) being that of one coordinate.
        """
        return sigma * math.sqrt(2 * math.fsum(w * w for w in self.best.weights))


def degrees(turn: float) -> float:
    """A turn (rad) in degrees; a half turn is near 180, never near -180."""
    angle = math.degrees(math.remainder(turn, math.tau))
    return angle + 360 if angle < -179.95 else angle


def positions(dowels: Sequence[Feature], holes: Sequence[Feature]) -> list[Position]:
    """Every cyclic way of pairing dowels and holes, the least turned one first.

    Pairs keep the order of the dowels as they were entered.
    """
    dowel_order, hole_order = _by_angle(dowels), _by_angle(holes)
    count = len(dowels)
    found = []
    for step in range(count):
        partner = {dowel_order[i]: hole_order[(i + step) % count] for i in range(count)}
        pairs = tuple(
            Pair(place, holes[partner[i]][0], (holes[partner[i]][1] - diameter) / 2)
            for i, (place, diameter) in enumerate(dowels)
        )
        found.append(_fitted(pairs))
    # Of +90 and -90 the first is the left turn, whatever the order of the rows.
    return sorted(found, key=lambda each: (round(abs(each.turn), 6), each.turn < 0))


def _by_angle(points: Sequence[Feature]) -> list[int]:
    """Indices in the order of the angle about the centre of the pattern."""
    cx, cy = centroid([place for place, _ in points])
    return sorted(
        range(len(points)),
        key=lambda i: round(math.atan2(points[i][0][1] - cy, points[i][0][0] - cx), 9),
    )


def _fitted(pairs: tuple[Pair, ...]) -> Position:
    """Both fits of one pairing.

    The largest offset is never below the root mean square of the least squares fit; where
    that alone exceeds the widest clearance by far, minimax need not be asked.
    """
    points, targets, clearances = zip(*pairs, strict=True)
    position = Position(pairs, least_squares(points, targets), None)
    if rms(position.plain) > max(clearances) + HOPELESS:
        return position
    return position._replace(best=minimax(points, targets, clearances))


def laid(position: Position) -> Laid:
    """The position in its best place, hopeless as it may be."""
    points, targets, clearances = zip(*position.pairs, strict=True)
    best = position.best or minimax(points, targets, clearances)
    offsets = tuple(
        best.place.in_dowel_axes(offset) for offset in best.place.offsets(points, targets)
    )
    rooms = tuple(c - math.hypot(*e) for c, e in zip(clearances, offsets, strict=True))
    return Laid(position._replace(best=best), best, offsets, rooms)


def mirrored(dowels: Sequence[Feature], holes: Sequence[Feature]) -> float:
    """The least root mean square misfit (mm) if the holes were seen from the other side."""
    turned = [((-x, y), diameter) for (x, y), diameter in holes]
    return min(rms(each.plain) for each in positions(dowels, turned))


def left_out(position: Position) -> tuple[int, float]:
    """The dowel without which the others agree best, and their root mean square misfit (mm)."""
    misfits = []
    for i in range(len(position.pairs)):
        rest = position.pairs[:i] + position.pairs[i + 1 :]
        points, targets = [pair.dowel for pair in rest], [pair.hole for pair in rest]
        misfits.append(rms(least_squares(points, targets).offsets(points, targets)))
    odd = min(range(len(misfits)), key=lambda i: misfits[i])
    return odd, misfits[odd]
