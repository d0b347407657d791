"""Outlines of parts in millimetres, y up: straight runs and arcs, nuts, toothed rings."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.plane import Loop, Point, arc_points, polar


@dataclass
class Outline:
    """An outline drawn piece by piece, each call returning the outline itself.

    >>> lip = Outline(0, 0).to(10, 0).arc_to(10, 4, radius=2).to(0, 4)

    ``arc_to`` takes the shorter way round, anticlockwise unless ``clockwise`` is set.
    """

    x: float
    y: float
    _pieces: list[tuple[Point, float, bool]] = field(default_factory=list)

    def to(self, x: float, y: float) -> Outline:
        """Run straight to a point."""
        self._pieces.append(((x, y), 0.0, False))
        return self

    def arc_to(self, x: float, y: float, *, radius: float, clockwise: bool = False) -> Outline:
        """Run along the shorter arc to a point; a radius too small for it becomes a half circle."""
        self._pieces.append(((x, y), radius, clockwise))
        return self

    def points(self) -> Loop:
        """Return the outline as points, arcs as short chords."""
        here: Point = (self.x, self.y)
        found = [here]
        for end, radius, clockwise in self._pieces:
            found += _arc_between(here, end, radius, clockwise)[1:] if radius else [end]
            here = end
        return found

    def data(self, at: Callable[[Point], Point], scale: float) -> str:
        """Return SVG path data through the view ``at`` (which turns y over)."""
        here: Point = (self.x, self.y)
        parts = ["M" + _pair(at(here))]
        for end, radius, clockwise in self._pieces:
            if radius:
                reach = max(radius, math.dist(here, end) / 2) * scale
                parts.append(
                    f"A{fixed(reach)} {fixed(reach)} 0 0 {int(clockwise)} {_pair(at(end))}"
                )
            else:
                parts.append("L" + _pair(at(end)))
            here = end
        return "".join(parts)


def _pair(point: Point) -> str:
    return f"{fixed(point[0])} {fixed(point[1])}"


def _arc_between(start: Point, end: Point, radius: float, clockwise: bool) -> list[Point]:
    chord = math.dist(start, end)
    if chord < 1e-9:
        return [start, end]
    radius = max(radius, chord / 2)
    sag = math.sqrt(max(0.0, radius**2 - (chord / 2) ** 2))
    side = -1.0 if clockwise else 1.0
    # The centre lies left of the way for an anticlockwise arc.
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    centre = (
        (start[0] + end[0]) / 2 - side * uy * sag,
        (start[1] + end[1]) / 2 + side * ux * sag,
    )
    first = math.degrees(math.atan2(start[1] - centre[1], start[0] - centre[0]))
    half = math.degrees(math.asin(min(1.0, chord / 2 / radius)))
    points = arc_points(centre, radius, first, first + side * 2 * half)
    return [start, *points[1:-1], end]


def hexagon_points(centre: Point, across_flats: float, turn: float = 0.0) -> Loop:
    """Return the corners of a nut or bolt head; ``turn`` 0 has two flats upright left and right."""
    radius = across_flats / math.sqrt(3.0)
    return [polar(centre, radius, turn + 30 + 60 * k) for k in range(6)]


def square_points(centre: Point, across_flats: float, turn: float = 0.0) -> Loop:
    """Return the corners of a square drive; ``turn`` 0 has its flats level and upright."""
    radius = across_flats / math.sqrt(2.0)
    return [polar(centre, radius, turn + 45 + 90 * k) for k in range(4)]


def toothed_points(
    centre: Point,
    teeth: int,
    pitch_radius: float,
    *,
    turn: float = 0.0,
    internal: bool = False,
    start: float = 0.0,
    end: float = 360.0,
) -> Loop:
    """Return a toothed ring with straight 20-degree flanks, tips 1 and roots 1.25 modules away.

    The flanks are straight: good for a picture, not for a gauge. The first tooth stands at
    ``turn`` degrees. ``start`` and ``end`` limit the drawing to a stretch of the ring.
    """
    module = 2.0 * pitch_radius / teeth
    sign = -1.0 if internal else 1.0
    tip, root = pitch_radius + sign * module, pitch_radius - sign * 1.25 * module
    lean = math.tan(math.radians(20.0))
    tip_half = math.degrees((math.pi * module / 4 - lean * module) / tip)
    root_half = math.degrees((math.pi * module / 4 + lean * 1.25 * module) / root)
    points: Loop = []
    for k in range(teeth):
        middle = turn + 360.0 * k / teeth
        if not start - 1e-9 <= (middle - start) % 360.0 + start <= end + 1e-9:
            continue
        points += [
            polar(centre, root, middle - root_half),
            polar(centre, tip, middle - tip_half),
            polar(centre, tip, middle + tip_half),
            polar(centre, root, middle + root_half),
        ]
    return points
