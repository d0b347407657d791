"""From millimetres of the real thing to paper units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.calc.drawing.plane import Point


@dataclass(frozen=True)
class View:
    """A scale; y is turned over, because it runs up on the part and down on paper."""

    scale: float

    def at(self, point: Point) -> Point:
        """Return a point of the model on paper."""
        return point[0] * self.scale, -point[1] * self.scale

    def all(self, points: Sequence[Point]) -> list[Point]:
        """Return points of the model on paper."""
        return [self.at(point) for point in points]
