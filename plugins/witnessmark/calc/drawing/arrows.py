"""Forces and moments: thick arrows with a full head, and their texts."""

from __future__ import annotations

import math

from witnessmark.calc.drawing.ink import Lettering
from witnessmark.calc.drawing.leaders import beside, leader_places
from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.paper import Paper
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Box, Point, arc_points, polar

_HEAD = (9.0, 7.0)
_SHAFT_INTO_HEAD = 2.0


def draw_force(
    paper: Paper, tip: Point, angle: float, text: str, *, length: float, strong: bool
) -> None:
    """Draw a force that ends at ``tip`` and acts along ``angle`` (anticlockwise as seen)."""
    ux, uy = math.cos(math.radians(angle)), -math.sin(math.radians(angle))
    tail = (tip[0] - ux * length, tip[1] - uy * length)
    neck = length - _HEAD[0] + _SHAFT_INTO_HEAD
    paper.stroke("force", [tail, (tail[0] + ux * neck, tail[1] + uy * neck)])
    paper.head("arrow", tip, (ux, uy), *_HEAD)
    if not text:
        return
    size = text_size(text, strong=strong)
    places = [beside(tail, angle + 180, size)]
    for lean, share in ((1.0, 0.8), (2.0, 0.5), (4.0, 1.0), (5.0, 0.25)):
        spot = (tip[0] - ux * length * share, tip[1] - uy * length * share)
        for side in (90, -90):
            place = beside(spot, angle + side, size, gap=7.0)
            places.append(Place(place.box, lean + (0.3 if side < 0 else 0.0), place.anchor))
    led = leader_places(tail, size, None, dearer=20.0)
    paper.want(Lettering(text, led.after(places), strong), first=True)


def draw_moment(
    paper: Paper,
    centre: Point,
    radius: float,
    start: float,
    end: float,
    text: str,
    *,
    strong: bool,
) -> None:
    """Draw a moment as an arc with a head at ``end``; angles as seen, anticlockwise."""
    way = 1.0 if end > start else -1.0
    bite = math.degrees(_HEAD[0] / radius)
    neck = end - way * math.degrees((_HEAD[0] - _SHAFT_INTO_HEAD) / radius)
    turned = [_flip(centre, p) for p in arc_points(centre, radius, start, neck)]
    large = int(abs(neck - start) > 180)
    shape = (
        f'<path d="M{fixed(turned[0][0])} {fixed(turned[0][1])}A{fixed(radius)} {fixed(radius)} '
        f'0 {large} {int(way < 0)} {fixed(turned[-1][0])} {fixed(turned[-1][1])}"/>'
    )
    paper.stroke("force", turned, shape=shape)
    tip = _flip(centre, polar(centre, radius, end))
    # The head lies along the chord it bridges, else it would seem to fly off the arc.
    back = _flip(centre, polar(centre, radius, end - way * bite))
    reach = math.dist(tip, back)
    paper.head("arrow", tip, ((tip[0] - back[0]) / reach, (tip[1] - back[1]) / reach), *_HEAD)
    if not text:
        return
    size = text_size(text, strong=strong)
    places: list[Place] = []
    for rank, share in enumerate((0.5, 0.35, 0.65, 0.2, 0.8, 0.0, 1.0)):
        angle = start + (end - start) * share
        for step in range(4):
            spot = _flip(centre, polar(centre, radius + 4 + 6 * step, angle))
            place = beside(spot, angle, size)
            places.append(Place(_clear(place.box, spot, angle), rank + 3.0 * step, place.anchor))
        if radius > 28:
            spot = _flip(centre, polar(centre, radius - 4, angle))
            place = beside(spot, angle + 180, size)
            places.append(Place(place.box, rank + 2.5, place.anchor))
    led = leader_places(turned[0], size, None, start=3.0, dearer=20.0)
    paper.want(Lettering(text, led.after(places), strong), first=True)


def _flip(centre: Point, point: Point) -> Point:
    """Turn y over about the centre: angles count as the reader sees them."""
    return point[0], 2 * centre[1] - point[1]


def _clear(box: Box, spot: Point, angle: float) -> Box:
    """Slide a box up or down so that its near corner, not its middle, stands at the spot."""
    lift = math.sin(math.radians(angle)) * box.height / 2
    return Box(box.x, spot[1] - lift, box.width, box.height) if box.y == spot[1] else box
