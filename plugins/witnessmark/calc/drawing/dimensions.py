"""Dimension lines after ISO 129-1: arrows, extension lines, text along the line.

Texts stand above their line and read from below or from the right. Where the arrows do not
fit between the extension lines they stand outside and point inward; where the text does not
fit it moves outside along the line.
"""

from __future__ import annotations

import math

from witnessmark.calc.drawing.ink import Lettering
from witnessmark.calc.drawing.leaders import beside
from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.paper import Paper
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Box, Point, arc_points, polar

HEAD = (7.0, 2.6)
_PAST = 2.5
_OFF = 1.5
_TAIL = 12.0


def draw_linear(paper: Paper, a: Point, b: Point, foot_a: Point, foot_b: Point, text: str) -> None:
    """Dimension the feet on the dimension line; extension lines run to them from ``a``, ``b``."""
    for point, foot in ((a, foot_a), (b, foot_b)):
        _extension(paper, point, foot)
    if (round(foot_b[0] - foot_a[0], 6), -round(foot_b[1] - foot_a[1], 6)) < (0.0, 0.0):
        foot_a, foot_b = foot_b, foot_a
    span = math.dist(foot_a, foot_b)
    if span < 1e-6:
        raise ValueError(f"the dimension {text!r} measures no length: both ends are one point")
    ux, uy = (foot_b[0] - foot_a[0]) / span, (foot_b[1] - foot_a[1]) / span
    width, height = text_size(text)
    angle = round(math.degrees(math.atan2(uy, ux)), 3)
    if angle == 90.0:
        angle = -90.0
    outside = span < 2 * HEAD[0] + 4
    if outside:
        _line(paper, foot_a, (-ux, -uy), _TAIL)
        _line(paper, foot_b, (ux, uy), _TAIL)
        paper.stroke("dim", [foot_a, foot_b])
        paper.head("dim-head", foot_a, (ux, uy), *HEAD)
        paper.head("dim-head", foot_b, (-ux, -uy), *HEAD)
    else:
        paper.stroke("dim", [foot_a, foot_b])
        paper.head("dim-head", foot_a, (-ux, -uy), *HEAD)
        paper.head("dim-head", foot_b, (ux, uy), *HEAD)

    up = (uy, -ux)
    lift = height / 2 + 1.5
    places: list[Place] = []

    def stand(along: float, lean: float, leader: tuple[float, float] | None = None) -> None:
        x = foot_a[0] + ux * along + up[0] * lift
        y = foot_a[1] + uy * along + up[1] * lift
        line = () if leader is None else (_stretch(foot_a, ux, uy, *leader),)
        places.append(Place(Box(x, y, width, height, angle), lean, "middle", line))

    if width <= span - 2:
        room = (span - width) / 2
        for share in (0.0, 0.35, -0.35, 0.7, -0.7, 1.0, -1.0):
            stand(span / 2 + share * room, abs(share) * 6)
    tail = _TAIL if outside else 0.0
    for extra in (0.0, 14.0, 30.0, 50.0):
        reach = tail + extra
        end = span + reach + width + 3
        stand(span + reach + 2 + width / 2, 14 + extra, (span + tail, end))
        stand(-reach - 2 - width / 2, 15 + extra, (-tail, -reach - width - 3))
    paper.want(Lettering(text, places), first=True)


def _extension(paper: Paper, point: Point, foot: Point) -> None:
    reach = math.dist(point, foot)
    if reach < _OFF + 0.5:
        return
    ux, uy = (foot[0] - point[0]) / reach, (foot[1] - point[1]) / reach
    start = (point[0] + ux * _OFF, point[1] + uy * _OFF)
    paper.stroke("dim", [start, (foot[0] + ux * _PAST, foot[1] + uy * _PAST)])


def _line(paper: Paper, start: Point, way: Point, length: float) -> None:
    paper.stroke("dim", [start, (start[0] + way[0] * length, start[1] + way[1] * length)])


def _stretch(
    origin: Point, ux: float, uy: float, start: float, end: float
) -> tuple[float, float, float, float]:
    return (
        origin[0] + ux * start,
        origin[1] + uy * start,
        origin[0] + ux * end,
        origin[1] + uy * end,
    )


def draw_radius(
    paper: Paper, centre: Point, radius: float, angle: float, text: str, *, across: bool
) -> None:
    """Dimension a radius (or, ``across``, a diameter) along ``angle``, the text outside."""
    ux, uy = math.cos(math.radians(angle)), -math.sin(math.radians(angle))
    rim = (centre[0] + ux * radius, centre[1] + uy * radius)
    inward = radius * (2 if across else 1) >= 2 * HEAD[0]
    size = text_size(text)
    if inward:
        start = (centre[0] - ux * radius, centre[1] - uy * radius) if across else centre
        paper.stroke("dim", [start, rim])
        paper.head("dim-head", rim, (ux, uy), *HEAD)
        if across:
            paper.head("dim-head", start, (-ux, -uy), *HEAD)
    else:
        paper.head("dim-head", rim, (-ux, -uy), *HEAD)
    places: list[Place] = []
    for reach in (10.0, 16.0, 24.0, 34.0, 46.0, 60.0, 80.0):
        knee = (rim[0] + ux * reach, rim[1] + uy * reach)
        place = beside(knee, angle, size)
        places.append(Place(place.box, reach / 3, place.anchor, ((*rim, *knee),)))
    paper.want(Lettering(text, places), first=True)


def draw_angle(
    paper: Paper, centre: Point, radius: float, start: float, end: float, text: str
) -> None:
    """Dimension the angle from ``start`` to ``end`` on an arc about ``centre``."""
    points = [_seen(centre, p) for p in arc_points(centre, radius, start, end)]
    large = int(abs(end - start) > 180)
    sweep = int(end < start)
    outside = math.radians(abs(end - start)) * radius < 2 * HEAD[0] + 4
    shape = (
        f'<path d="M{fixed(points[0][0])} {fixed(points[0][1])}A{fixed(radius)} {fixed(radius)} '
        f'0 {large} {sweep} {fixed(points[-1][0])} {fixed(points[-1][1])}"/>'
    )
    paper.stroke("dim", points, shape=shape)
    way = 1.0 if end > start else -1.0
    for edge, out in ((start, -way), (end, way)):
        pointing = out if not outside else -out
        tip = _seen(centre, polar(centre, radius, edge))
        bite = math.degrees(HEAD[0] / radius)
        back = _seen(centre, polar(centre, radius, edge - pointing * bite))
        reach = math.dist(tip, back)
        paper.head("dim-head", tip, ((tip[0] - back[0]) / reach, (tip[1] - back[1]) / reach), *HEAD)
        if outside:
            tail = arc_points(centre, radius, edge, edge + out * math.degrees(_TAIL / radius))
            paper.stroke("dim", [_seen(centre, p) for p in tail])
    size = text_size(text)
    places: list[Place] = []
    for rank, share in enumerate((0.5, 0.3, 0.7)):
        angle = start + (end - start) * share
        for step in range(6):
            for side in (1, -1):
                spot = _seen(centre, polar(centre, max(1.0, radius + side * (2 + 5 * step)), angle))
                place = beside(spot, angle + (0 if side > 0 else 180), size)
                lean = rank + 2.0 * step + (2.0 if side < 0 else 0.0)
                places.append(Place(place.box, lean, place.anchor))
    paper.want(Lettering(text, places), first=True)


def _seen(centre: Point, point: Point) -> Point:
    return point[0], 2 * centre[1] - point[1]
