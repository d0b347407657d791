"""Plane geometry the drawings need: points, arcs, loops, boxes.

Angles are in degrees, counted anticlockwise from the x axis of the plane given. A loop is a
closed polygon as a list of points without the first one repeated.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

Point = tuple[float, float]
Segment = tuple[float, float, float, float]
Loop = list[Point]

# Nearer than this is touching, so that the last bit of a float does not tell hit from miss.
TOUCH = 1e-6


def polar(centre: Point, radius: float, angle: float) -> Point:
    """Return the point at ``radius`` and ``angle`` (degrees) about ``centre``."""
    turn = math.radians(angle)
    return centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)


def arc_points(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    """Return points along an arc from ``start`` to ``end``; it runs backwards if end < start."""
    steps = max(2, math.ceil(abs(round(end - start, 6)) / 7.5))
    return [polar(centre, radius, start + (end - start) * k / steps) for k in range(steps + 1)]


def circle_loop(centre: Point, radius: float) -> Loop:
    """Return a circle as a loop of 12 to 48 points, by its size on paper."""
    count = min(48, max(12, 4 * math.ceil(round(0.525 * radius, 6))))
    return [polar(centre, radius, 360.0 * k / count) for k in range(count)]


def segments(points: Sequence[Point], *, closed: bool = False) -> list[Segment]:
    """Return the straight pieces between neighbouring points."""
    ends = [*points[1:], *points[:1]] if closed else points[1:]
    return [(*a, *b) for a, b in zip(points, ends, strict=False)]


def crosses(a: Segment, b: Segment) -> bool:
    """Return whether two segments cross."""

    ax, ay, ax2, ay2 = a
    bx, by, bx2, by2 = b
    dx, dy = ax2 - ax, ay2 - ay
    if (dx * (by - ay) - dy * (bx - ax) > TOUCH) == (dx * (by2 - ay) - dy * (bx2 - ax) > TOUCH):
        return False
    dx, dy = bx2 - bx, by2 - by
    return (dx * (ay - by) - dy * (ax - bx) > TOUCH) != (dx * (ay2 - by) - dy * (ax2 - bx) > TOUCH)


class Box(NamedTuple):
    """A rectangle about a centre, turned by ``angle`` degrees (clockwise on paper)."""

    x: float
    y: float
    width: float
    height: float
    angle: float = 0.0

    def corners(self, pad: float = 0.0) -> Loop:
        """Return the four corners, ``pad`` outside the edge."""
        w, h = self.width / 2 + pad, self.height / 2 + pad
        offsets = ((-w, -h), (w, -h), (w, h), (-w, h))
        if not self.angle:
            return [(self.x + dx, self.y + dy) for dx, dy in offsets]
        c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
        return [(self.x + dx * c - dy * s, self.y + dx * s + dy * c) for dx, dy in offsets]

    def extent(self, pad: float = 0.0) -> Segment:
        """Return left, top, right, bottom of the box as it lies."""
        if not self.angle:
            w, h = self.width / 2 + pad, self.height / 2 + pad
            return self.x - w, self.y - h, self.x + w, self.y + h
        corners = self.corners(pad)
        return (
            min(p[0] for p in corners),
            min(p[1] for p in corners),
            max(p[0] for p in corners),
            max(p[1] for p in corners),
        )

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Return whether two boxes lie less than ``gap`` apart (or over each other)."""
        mine, theirs = self.extent(gap), other.extent()
        if (
            mine[2] <= theirs[0] + TOUCH
            or theirs[2] <= mine[0] + TOUCH
            or mine[3] <= theirs[1] + TOUCH
            or theirs[3] <= mine[1] + TOUCH
        ):
            return False
        if not self.angle and not other.angle:
            return True
        # Two rectangles are apart if an edge direction of either separates their shadows.
        a, b = self.corners(gap), other.corners()
        for angle in (self.angle, self.angle + 90, other.angle, other.angle + 90):
            c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            shadow_a = [x * c + y * s for x, y in a]
            shadow_b = [x * c + y * s for x, y in b]
            apart = max(min(shadow_b) - max(shadow_a), min(shadow_a) - max(shadow_b))
            if apart >= -TOUCH:
                return False
        return True

    def length_inside(self, segment: Segment) -> float:
        """Return how much of a segment's length lies in the box."""
        x1, y1, x2, y2 = segment
        if self.angle:
            c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
            x1, y1 = self._level(x1, y1, c, s)
            x2, y2 = self._level(x2, y2, c, s)
        part = self._level_part(x1, y1, x2, y2)
        return (part[1] - part[0]) * math.hypot(x2 - x1, y2 - y1) if part else 0.0

    def inner_part(self, segment: Segment) -> Segment | None:
        """Return the part of a segment inside a level box, or None."""
        x1, y1, x2, y2 = segment
        part = self._level_part(x1, y1, x2, y2)
        if part is None:
            return None
        dx, dy = x2 - x1, y2 - y1
        low, high = part
        start = (x1, y1) if low == 0.0 else (x1 + low * dx, y1 + low * dy)
        end = (x2, y2) if high == 1.0 else (x1 + high * dx, y1 + high * dy)
        return (*start, *end)

    def _level_part(self, x1: float, y1: float, x2: float, y2: float) -> tuple[float, float] | None:
        """Return the shares of a segment between which it is inside (Liang and Barsky)."""
        left, right = self.x - self.width / 2, self.x + self.width / 2
        top, bottom = self.y - self.height / 2, self.y + self.height / 2
        if (
            (x1 < left and x2 < left)
            or (x1 > right and x2 > right)
            or (y1 < top and y2 < top)
            or (y1 > bottom and y2 > bottom)
        ):
            return None
        low, high = 0.0, 1.0
        dx, dy = x2 - x1, y2 - y1
        for slope, room in ((-dx, x1 - left), (dx, right - x1), (-dy, y1 - top), (dy, bottom - y1)):
            if abs(slope) < 1e-12:
                if room < TOUCH:
                    return None
            elif slope < 0:
                low = max(low, room / slope)
            else:
                high = min(high, room / slope)
        return (low, high) if high - low > 1e-9 else None

    def _level(self, x: float, y: float, c: float, s: float) -> Point:
        dx, dy = x - self.x, y - self.y
        return self.x + dx * c + dy * s, self.y - dx * s + dy * c
