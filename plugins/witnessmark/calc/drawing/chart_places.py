"""Places of the texts on a chart: at a mark, at the foot of its lines, along a curve."""

from __future__ import annotations

from collections.abc import Sequence

from witnessmark.calc.drawing.leaders import leader_places
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Box, Point


def kept_inside(place: Place, frame: Box) -> Place:
    """Return the place, made dear when it lies across the frame of the axes."""
    box, edge = place.box.extent(), frame.extent()
    beyond = max(edge[0] - box[0], edge[1] - box[1], box[2] - edge[2], box[3] - edge[3])
    return place._replace(lean=place.lean + 30.0 + beyond) if beyond > 0 else place


def round_point(x: float, y: float, size: tuple[float, float]) -> list[Place]:
    """Return places round a point of the chart, near ones first."""
    places: list[Place] = []
    for step, (dx, dy) in enumerate((d, d * 0.6) for d in (6.0, 12.0, 20.0, 32.0, 46.0)):
        for rank, (sx, sy) in enumerate(((-1, -1), (1, -1), (1, 1), (-1, 1), (0, -1), (0, 1))):
            box = Box(x + sx * (dx + size[0] / 2), y + sy * (dy + size[1] / 2), *size)
            places.append(Place(box, step * 3.0 + rank * 0.6))
    return places


def at_foot(spot: Point, size: tuple[float, float], frame: Box) -> list[Place]:
    """Return places at the foot of a dropped line, inside the axes."""
    left, _, _, bottom = frame.extent()
    places: list[Place] = []
    for step in range(8):
        for side in (1, -1):
            x = max(spot[0] + side * (4 + size[0] / 2), left + 4 + size[0] / 2)
            y = min(spot[1] + step * 6 * side, bottom - 8)
            places.append(Place(Box(x, y, *size), step * 4 + (0.5 if side < 0 else 0.0)))
    return places


def led_from(points: Sequence[Point], size: tuple[float, float]) -> list[Place]:
    """Return places at leaders from points of a line, for texts that find no room beside it."""
    return [
        place
        for rank, point in enumerate(points)
        for place in leader_places(point, size, None, dearer=12.0 + rank)
    ]


def _on(run: list[Point], share: float) -> Point:
    """Return the point of a run at a share of its count of pieces."""
    number = min(len(run) - 2, int(share * (len(run) - 1)))
    rest = share * (len(run) - 1) - number
    (x1, y1), (x2, y2) = run[number], run[number + 1]
    return x1 + rest * (x2 - x1), y1 + rest * (y2 - y1)


def along_curve(run: list[Point], size: tuple[float, float]) -> list[Place]:
    """Return places beside a curve, from its end backwards."""
    places = led_from([_on(run, share) for share in (0.9, 0.6, 0.3)], size)
    for step in range(10):
        x, y = _on(run, 1 - step / 10)
        for gap in (3.0, 9.0):
            for sx, sy in ((-1, -1), (-1, 1), (1, -1), (1, 1)):
                box = Box(x + sx * (4 + size[0] / 2), y + sy * (gap + size[1] / 2), *size)
                places.append(Place(box, step * 1.0 + gap / 6 + (0.5 if sy > 0 else 0.0)))
    return places
