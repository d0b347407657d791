"""Regions bounded by loops: what of a line lies in them, and their hatching.

A region follows the even-odd rule: loops in loops are holes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from witnessmark.calc.drawing.plane import Point, Segment, segments


class Region:
    """Loops made ready to cut many lines: their edges, and what they reach."""

    def __init__(self, loops: Iterable[Sequence[Point]]) -> None:
        self.edges: list[Segment] = []
        across: list[float] = []
        up: list[float] = []
        for loop in loops:
            self.edges += segments(loop, closed=True)
            across += [point[0] for point in loop]
            up += [point[1] for point in loop]
        self.left, self.right = min(across, default=0.0), max(across, default=0.0)
        self.top, self.bottom = min(up, default=0.0), max(up, default=0.0)

    def clear_of(self, segment: Segment) -> bool:
        """Return whether a segment lies beside the region, seen from above or the side."""
        x1, y1, x2, y2 = segment
        return (
            (x1 < self.left and x2 < self.left)
            or (x1 > self.right and x2 > self.right)
            or (y1 < self.top and y2 < self.top)
            or (y1 > self.bottom and y2 > self.bottom)
        )

    def holds(self, x: float, y: float) -> bool:
        """Return whether a point lies in the region."""
        within = False
        for x1, y1, x2, y2 in self.edges:
            if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
                within = not within
        return within

    def cut(self, segment: Segment, *, keep_inside: bool) -> list[Segment]:
        """Return the pieces of a segment inside (or outside) the region."""
        x1, y1, x2, y2 = segment
        dx, dy = x2 - x1, y2 - y1
        if math.hypot(dx, dy) < 1e-9:
            return []
        pieces: list[Segment] = []
        for low, high in pairwise(self._crossings(segment)):
            middle = (low + high) / 2
            if high - low < 1e-9:
                continue
            if self.holds(x1 + middle * dx, y1 + middle * dy) == keep_inside:
                start = (x1 + low * dx, y1 + low * dy)
                if pieces and math.dist(pieces[-1][2:], start) < 1e-9:
                    start = pieces.pop()[:2]
                pieces.append((*start, x1 + high * dx, y1 + high * dy))
        return pieces

    def outside(self, lines: Iterable[Segment]) -> list[Segment]:
        """Return what of the lines lies outside the region; those beside it as they are."""
        left: list[Segment] = []
        for line in lines:
            if self.clear_of(line):
                left.append(line)
            else:
                left += self.cut(line, keep_inside=False)
        return left

    def _crossings(self, segment: Segment) -> list[float]:
        """Return where along ``segment`` (0 to 1) the edges cross it, in order, with both ends."""
        x1, y1, x2, y2 = segment
        dx, dy = x2 - x1, y2 - y1
        found = [0.0, 1.0]
        for ax, ay, bx, by in self.edges:
            side_a = dx * (ay - y1) - dy * (ax - x1)
            side_b = dx * (by - y1) - dy * (bx - x1)
            if (side_a > 0) == (side_b > 0):
                continue
            share = side_a / (side_a - side_b)
            px, py = ax + share * (bx - ax), ay + share * (by - ay)
            along = ((px - x1) * dx + (py - y1) * dy) / (dx * dx + dy * dy)
            if 0.0 < along < 1.0:
                found.append(along)
        return sorted(found)


def hatch_lines(loops: Sequence[Sequence[Point]], spacing: float, *, rising: bool) -> list[Segment]:
    """Return 45-degree lines filling the loops (even-odd), ``spacing`` apart.

    The lines lie on one grid for the whole sheet, so that two sections of the same part hatch
    alike. ``rising`` lines climb to the right on paper (y down).
    """
    region = Region(loops)
    if not region.edges:
        return []
    left, right = region.left, region.right
    lean = -1.0 if rising else 1.0
    step = spacing * math.sqrt(2.0)
    levels = [y - lean * x for x in (left, right) for y in (region.top, region.bottom)]
    # Off the corners of round figures, where a line through a corner could fall either way.
    phase = 0.1937 * step
    first = math.ceil((min(levels) - phase) / step)
    last = math.floor((max(levels) - phase) / step)
    lines: list[Segment] = []
    for number in range(first, last + 1):
        level = number * step + phase
        lines += region.cut(
            (left - 1, level + lean * (left - 1), right + 1, level + lean * (right + 1)),
            keep_inside=True,
        )
    return [line for line in lines if math.dist(line[:2], line[2:]) > 0.3]
