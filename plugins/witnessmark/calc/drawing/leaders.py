"""Places for a text about a point: beside it, or at the end of a leader."""

from __future__ import annotations

import math
from functools import lru_cache

from witnessmark.calc.drawing.places import Place, Places, PlacesAbout
from witnessmark.calc.drawing.placing import GAP
from witnessmark.calc.drawing.plane import Box, Point

_COMPASS = {"e": 0, "ne": 45, "n": 90, "nw": 135, "w": 180, "sw": 225, "s": 270, "se": 315}
# Diagonals first: leaders run slanting by rule, so that they are not taken for part lines.
_TURNS = (45, 135, 315, 225, 30, 150, 330, 210, 60, 120, 300, 240, 0, 180, 90, 270)
_LEADER_LENGTHS = (16.0, 24.0, 34.0, 46.0, 60.0, 78.0, 100.0, 130.0, 170.0)


def bearing(toward: str | float | None) -> float | None:
    """Return degrees for a compass word (n, ne, e …) or a number of degrees."""
    if toward is None or isinstance(toward, (int, float)):
        return toward
    try:
        return float(_COMPASS[toward])
    except KeyError:
        raise ValueError(
            f"a direction is one of {', '.join(_COMPASS)} or degrees, found {toward!r}"
        ) from None


def beside(point: Point, angle: float, size: tuple[float, float], gap: float = 3.0) -> Place:
    """Return the place of a text whose near edge stands at ``point``, seen along ``angle``.

    ``angle`` is anticlockwise on paper as the reader sees it.
    """
    c = round(math.cos(math.radians(angle)), 6)
    s = round(math.sin(math.radians(angle)), 6)
    width, height = size
    if abs(c) < 0.3:
        y = point[1] - math.copysign(height / 2 + gap, s)
        return Place(Box(point[0] + c * width / 2, y, width, height))
    x = point[0] + math.copysign(width / 2 + gap, c)
    return Place(Box(x, point[1], width, height), anchor="start" if c > 0 else "end")


def _turned(a: float, b: float) -> float:
    """Return the angle between two bearings, 0 to 180."""
    return abs((a - b + 180.0) % 360.0 - 180.0)


def leader_places(
    point: Point,
    size: tuple[float, float],
    toward: float | None,
    *,
    start: float = 0.0,
    dearer: float = 0.0,
) -> Places:
    """Return places at the ends of leaders from ``point``, the short and slanting ones first."""
    return Places(point, _leaders(size, toward, start, dearer))


def near_places(
    point: Point, size: tuple[float, float], toward: float | None, *, clear: float = 3.0
) -> Places:
    """Return places close to ``point`` without a leader, and with one where it must go far."""
    return Places(point, _near(size, toward, clear))


def over_places(point: Point, size: tuple[float, float], *, clear: float) -> Places:
    """Return places centred on a point, nudged a little way off it, or near it."""
    return Places(point, _over(size, clear))


@lru_cache(maxsize=256)
def _leaders(
    size: tuple[float, float], toward: float | None, start: float, dearer: float
) -> PlacesAbout:
    places: list[Place] = []
    for rank, turn in enumerate(_TURNS):
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        for length in _LEADER_LENGTHS:
            knee = (c * length, -s * length)
            text = beside(knee, turn, size)
            lean = (length - _LEADER_LENGTHS[0]) * 0.5 + rank * 0.4 + (0 if turn % 90 else 30.0)
            if toward is not None:
                lean += _turned(turn, toward) * 0.25
            leader = ((c * start, -s * start, *knee),)
            places.append(Place(text.box, lean + dearer, text.anchor, leader))
    return PlacesAbout(places)


@lru_cache(maxsize=256)
def _near(size: tuple[float, float], toward: float | None, clear: float) -> PlacesAbout:
    places: list[Place] = []
    for rank, turn in enumerate((0, 180, 90, 270, 45, 135, 315, 225)):
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        for step in range(4):
            reach = clear + step * 4.0
            text = beside((c * reach, -s * reach), turn, size, gap=GAP)
            lean = step * 2.0 + rank * 0.5
            if toward is not None:
                lean += _turned(turn, toward) * 0.25
            places.append(Place(text.box, lean, text.anchor))
    return PlacesAbout([*places, *_leaders(size, toward, clear, 14.0).places])


@lru_cache(maxsize=256)
def _over(size: tuple[float, float], clear: float) -> PlacesAbout:
    places: list[Place] = []
    for ring in range(7):
        for turn in range(0, 360, 45) if ring else (0,):
            dx = ring * 6.0 * math.cos(math.radians(turn))
            dy = ring * 4.0 * math.sin(math.radians(turn))
            places.append(Place(Box(dx, -dy, *size), lean=ring * 3.0))
    return PlacesAbout([*places, *_near(size, None, clear).places])
