"""Where a pattern of holes sits best on a pattern of dowels: least squares and tightest place.

Both fits turn the dowels by theta and shift them by t, so that R(theta) p_i + t comes to the
holes h_i. A reflection is not among them: nobody turns a flywheel inside out.

Least squares makes the sum of squares of the offsets e_i = h_i - R p_i - t least. In the plane
it is closed: about the centroids theta = atan2(sum of cross products, sum of dot products).

Minimax makes the worst dowel best: z = max(|e_i| - c_i) is made least, c_i being the radial
clearance of dowel i. At z <= 0 everything goes together and -z is the room left. It starts at
the least squares place (``calculators.pattern_interior`` holds the method) and ends with
weights w_i >= 0 with sum 1, which prove that no place near by is better and tell how z answers
to each offset and each clearance. Where one dowel is so much tighter than the others that it
alone sets the room, it is centred (e = 0) and the turn about it is free; then the turn that
leaves the others most is taken.

Lengths are mm, angles rad; plain floats throughout.

Sources: S. Umeyama, IEEE Trans. PAMI 13 (1991) 376 (least squares); S. Boyd, L. Vandenberghe,
Convex Optimization, 2004, section 5.5.3 (weights as proof of the optimum).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calculators.pattern_interior import Point, least_excess

_NOTHING = 1e-9
"""Offsets below this many mm are nought."""
_SAME = 1e-10
"""Excesses that differ by less than this many mm are one."""


@dataclass(frozen=True)
class Place:
    """A turn about the origin (rad, anticlockwise) followed by a shift (mm)."""

    turn: float
    shift: Point

    def of(self, point: Point) -> Point:
        """Where a point of the dowels' pattern comes to among the holes."""
        cosine, sine = math.cos(self.turn), math.sin(self.turn)
        return (
            cosine * point[0] - sine * point[1] + self.shift[0],
            sine * point[0] + cosine * point[1] + self.shift[1],
        )

    def offsets(self, dowels: Sequence[Point], holes: Sequence[Point]) -> list[Point]:
        """From each dowel to its hole, in the holes' axes."""
        moved = map(self.of, dowels)
        return [(h[0] - m[0], h[1] - m[1]) for h, m in zip(holes, moved, strict=True)]

    def in_dowel_axes(self, offset: Point) -> Point:
        """An offset from the holes' axes turned back into the dowels' axes."""
        cosine, sine = math.cos(self.turn), math.sin(self.turn)
        return cosine * offset[0] + sine * offset[1], cosine * offset[1] - sine * offset[0]


@dataclass(frozen=True)
class BestPlace:
    """The minimax place, its ``excess`` z (mm; room left is -z) and the dowels' weights."""

    place: Place
    excess: float
    weights: tuple[float, ...]


def centroid(points: Sequence[Point]) -> Point:
    """The mean of the points."""
    count = len(points)
    return math.fsum(p[0] for p in points) / count, math.fsum(p[1] for p in points) / count


def least_squares(dowels: Sequence[Point], holes: Sequence[Point]) -> Place:
    """The place with the least sum of squares of the offsets; rows are paired in order."""
    (ax, ay), (bx, by) = centroid(dowels), centroid(holes)
    cross = dot = 0.0
    for (px, py), (hx, hy) in zip(dowels, holes, strict=True):
        cross += (px - ax) * (hy - by) - (py - ay) * (hx - bx)
        dot += (px - ax) * (hx - bx) + (py - ay) * (hy - by)
    turn = math.atan2(cross, dot)
    cosine, sine = math.cos(turn), math.sin(turn)
    return Place(turn, (bx - cosine * ax + sine * ay, by - sine * ax - cosine * ay))


def rms(offsets: Sequence[Point]) -> float:
    """Root of the mean square of the offsets' lengths."""
    return math.sqrt(math.fsum(x * x + y * y for x, y in offsets) / len(offsets))


def minimax(
    dowels: Sequence[Point], holes: Sequence[Point], clearances: Sequence[float]
) -> BestPlace:
    """The place where the largest of |e_i| - c_i is least; rows are paired in order."""
    start = least_squares(dowels, holes)
    lengths = [math.hypot(*offset) for offset in start.offsets(dowels, holes)]
    tightest = min(range(len(clearances)), key=lambda i: clearances[i])
    if max(lengths) < _NOTHING:
        excess = max(r - c for r, c in zip(lengths, clearances, strict=True))
        weights = tuple(float(i == tightest) for i in range(len(lengths)))
        return BestPlace(start, excess, weights)
    return _about(tightest, start, dowels, holes, clearances) or _free(
        start, dowels, holes, clearances
    )


def _free(
    start: Place, dowels: Sequence[Point], holes: Sequence[Point], clearances: Sequence[float]
) -> BestPlace:
    """The best place where no dowel alone sets the room."""
    (ax, ay), (bx, by) = centroid(dowels), centroid(holes)
    about = Place(start.turn, (0.0, 0.0))
    arms = [about.of((x - ax, y - ay)) for x, y in dowels]
    targets = [(x - bx, y - by) for x, y in holes]
    more, (dx, dy), excess, weights = least_excess(arms, targets, clearances)
    turn = start.turn + more
    cosine, sine = math.cos(turn), math.sin(turn)
    shift = (bx + dx - cosine * ax + sine * ay, by + dy - sine * ax - cosine * ay)
    return BestPlace(Place(turn, shift), excess, weights)


def _about(
    pivot: int,
    start: Place,
    dowels: Sequence[Point],
    holes: Sequence[Point],
    clearances: Sequence[float],
) -> BestPlace | None:
    """The best turn about a centred tightest dowel; None where it is not the one that counts."""
    (px, py), (hx, hy) = dowels[pivot], holes[pivot]
    arms = []
    for i, (p, h) in enumerate(zip(dowels, holes, strict=True)):
        if i == pivot:
            continue
        a, b = (p[0] - px, p[1] - py), (h[0] - hx, h[1] - hy)
        if abs(math.hypot(*a) - math.hypot(*b)) > clearances[i] - clearances[pivot]:
            return None
        own = math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
        own = start.turn + math.remainder(own - start.turn, math.tau)
        arms.append((own, math.hypot(*a), math.hypot(*b), clearances[i]))

    def worst(turn: float) -> tuple[float, float]:
        """The largest excess of the others at a turn, and the turn that this dowel wants."""
        return max(
            (math.hypot(a - b, 2 * math.sqrt(a * b) * math.sin((turn - own) / 2)) - c, own)
            for own, a, b, c in arms
        )

    low, high = min(arm[0] for arm in arms), max(arm[0] for arm in arms)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if worst(middle)[1] > middle else (low, middle)
    turn = (low + high) / 2
    if worst(turn)[0] > -clearances[pivot] + _SAME:
        return None
    cosine, sine = math.cos(turn), math.sin(turn)
    place = Place(turn, (hx - cosine * px + sine * py, hy - sine * px - cosine * py))
    weights = tuple(float(i == pivot) for i in range(len(dowels)))
    return BestPlace(place, -clearances[pivot], weights)
