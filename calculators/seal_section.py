"""The section of a lip seal for drawings: case, rubber, lip and spring, cut as in a workshop.

In its own frame a seal lies with its air side at x = 0, its oil side at x = width, the
shaft's surface at y = 0 and the bore at y = height. ``Place`` puts it anywhere, upside down
for the far side of the shaft or tilted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from witnessmark.calc import Drawing

Point = tuple[float, float]

_RUBBER = (
    (0.0, 0.40), (0.0, 0.26), (0.12, 0.24), (0.40, 0.16), (0.56, 0.0), (0.80, 0.24),
    (0.82, 0.42), (0.66, 0.44), (0.56, 0.32), (0.30, 0.36), (0.16, 0.40),
)  # fmt: skip
_SPRING = (0.71, 0.52, 0.07)
LIP = 0.56
"""Where the lip touches the shaft, as a share of the width from the air side."""


@dataclass(frozen=True)
class Place:
    """Where a seal stands: its corner at air side and shaft, the way it faces, its tilt.

    ``up`` is 1 above the shaft and -1 below it. ``tilt`` in radians turns the seal about
    ``about`` (anticlockwise).
    """

    x: float = 0.0
    y: float = 0.0
    up: int = 1
    tilt: float = 0.0
    about: Point = (0.0, 0.0)

    def at(self, x: float, y: float) -> Point:
        """A point of the seal's own frame on the drawing."""
        px, py = self.x + x, self.y + self.up * y
        dx, dy = px - self.about[0], py - self.about[1]
        c, s = math.cos(self.tilt), math.sin(self.tilt)
        return self.about[0] + c * dx - s * dy, self.about[1] + s * dx + c * dy


def draw_seal(
    sheet: Drawing, place: Place, width: float, height: float, wall: float, *, covered: bool = False
) -> None:
    """Draw one cut half of a seal; ``covered`` adds the rubber outside the case."""
    outer = height
    if covered:
        skin = 0.07 * height
        outer = height - skin
        coat = [(0.0, outer), (width, outer), (width, height), (0.0, height)]
        sheet.polygon([place.at(*point) for point in coat], cut="\\")
    flange = 0.40 * height
    case = [
        (0.0, outer), (width, outer), (width, outer - wall), (wall, outer - wall),
        (wall, flange), (0.0, flange),
    ]  # fmt: skip
    sheet.polygon([place.at(*point) for point in case], cut="/")
    rubber = [place.at(u * width, v * height) for u, v in _RUBBER]
    sheet.polygon(rubber, cut="\\")
    u, v, r = _SPRING
    sheet.circle(place.at(u * width, v * height), r * height)


def outline_of(place: Place, width: float, height: float) -> list[Point]:
    """The four corners of a seal, for one that is only hinted at."""
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return [place.at(*corner) for corner in corners]


def round_factor(wanted: float) -> int:
    """The exaggeration 1, 2, 5, 10, 20 … next below ``wanted``, at least 1."""
    if wanted < 2:
        return 1
    power = 10 ** math.floor(math.log10(wanted) + 1e-9)
    lead = next(step for step in (5, 2, 1) if step * power <= wanted * (1 + 1e-9))
    return int(lead * power)
