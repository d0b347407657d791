"""Where the texts go: never over each other, off the lines where there is room.

Every text brings a list of places it could stand in, best first by its own measure (``lean``).
A place that touches a text already standing is refused. Of the rest the cheapest is taken:
its lean, the length of line it would cover, and how far it would push the sheet's edge out.
Costs are rounded before they are compared, so that the last bit of a float decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from witnessmark.calc.drawing.plane import Box, Point, Segment

GAP = 2.0
_COVER_COST = 1.0
_GROW_COST = (0.35, 0.25)
_LEADER_OVER_TEXT = 200.0


@dataclass(frozen=True)
class Place:
    """One place a text could stand in: its box, its side, the thin line that leads to it."""

    box: Box
    lean: float = 0.0
    anchor: str = "middle"
    leader: tuple[Segment, ...] = ()


@dataclass
class Extent:
    """The edge of everything drawn so far."""

    left: float = 0.0
    top: float = 0.0
    right: float = 0.0
    bottom: float = 0.0
    empty: bool = True

    def take(self, points: Iterable[Point]) -> None:
        """Grow to hold the points."""
        for x, y in points:
            if self.empty:
                self.left = self.right = x
                self.top = self.bottom = y
                self.empty = False
            else:
                self.left, self.right = min(self.left, x), max(self.right, x)
                self.top, self.bottom = min(self.top, y), max(self.bottom, y)

    def growth(self, box: Segment) -> float:
        """Return the cost of growing to hold a box."""
        if self.empty:
            return 0.0
        across = max(0.0, self.left - box[0]) + max(0.0, box[2] - self.right)
        down = max(0.0, self.top - box[1]) + max(0.0, box[3] - self.bottom)
        return across * _GROW_COST[0] + down * _GROW_COST[1]


@dataclass
class Ground:
    """What stands on the sheet when the next text looks for a place."""

    extent: Extent = field(default_factory=Extent)
    limits: Segment | None = None
    lines: list[tuple[Segment, float]] = field(default_factory=list)
    texts: list[Box] = field(default_factory=list)

    def settle(self, places: list[Place]) -> Place:
        """Choose the cheapest free place, or make room below everything; it then stands."""
        best: tuple[float, Place] | None = None
        for place in sorted(places, key=lambda place: round(place.lean, 3)):
            if best is not None and round(place.lean, 3) >= best[0]:
                break
            cost = self._cost(place, best[0] if best else None)
            if cost is not None and (best is None or cost < best[0]):
                best = (cost, place)
        chosen = best[1] if best else self._below(places[0])
        self._stand(chosen)
        return chosen

    def _cost(self, place: Place, ceiling: float | None) -> float | None:
        reach = place.box.extent()
        if self.limits and not _within(reach, self.limits):
            return None
        if any(place.box.overlaps(text, GAP) for text in self.texts):
            return None
        cost = place.lean + self.extent.growth(reach)
        for leader in place.leader:
            cost += sum(_LEADER_OVER_TEXT for text in self.texts if text.length_inside(leader) > 0)
        if ceiling is None or cost < ceiling:
            roomy = Box(
                place.box.x,
                place.box.y,
                place.box.width + GAP,
                place.box.height + GAP,
                place.box.angle,
            )
            for line, weight in self.lines:
                covered = roomy.length_inside(line)
                if covered > 0:
                    cost += (4.0 + covered * _COVER_COST) * weight
        return round(cost, 3)

    def _below(self, place: Place) -> Place:
        """Move a place that found no room straight down, under everything else."""
        left, top, right, bottom = place.box.extent()
        floor = max([self.extent.bottom, *(text.extent()[3] for text in self.texts)])
        y = place.box.y + max(0.0, floor + 2 * GAP - top)
        x = place.box.x
        if self.limits:
            x = min(
                max(x, self.limits[0] + (right - left) / 2), self.limits[2] - (right - left) / 2
            )
        leader = tuple((s[0], s[1], x, y - (bottom - top) / 2) for s in place.leader[:1])
        return replace(place, box=replace(place.box, x=x, y=y), anchor="middle", leader=leader)

    def _stand(self, place: Place) -> None:
        self.texts.append(place.box)
        self.extent.take(place.box.corners())
        for leader in place.leader:
            self.lines.append((leader, 1.5))
            self.extent.take([leader[:2], leader[2:]])


def _within(box: Segment, limits: Segment) -> bool:
    return (
        box[0] >= limits[0] - 1e-6
        and box[1] >= limits[1] - 1e-6
        and box[2] <= limits[2] + 1e-6
        and box[3] <= limits[3] + 1e-6
    )
