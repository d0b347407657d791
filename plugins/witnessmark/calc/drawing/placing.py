"""Where the texts go: never over each other, off the lines where there is room.

Every text brings a list of places it could stand in, best first by its own measure (``lean``).
A place that touches a text already standing is refused. Of the rest the cheapest is taken:
its lean, the length of line it would cover, and how far it would push the sheet's edge out.
Costs are rounded before they are compared, so that the last bit of a float decides nothing.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from witnessmark.calc.drawing.places import Place, ranked
from witnessmark.calc.drawing.plane import TOUCH, Box, Point, Segment, crosses

GAP = 2.0
# Growing within the room left on the sheet is cheap; beyond it the sheet is spoilt.
_GROW_COST = 0.15
_OVERGROW_COST = 10.0
_LEADER_OVER_TEXT = 200.0
_LEADER_OVER_LEADER = 20.0
_LEADER_OVER_FORCE = 40.0
_LEADER_OVER_LINE = 3.0
_HEAVY = 0.8
_LEADER_WEIGHT = 4.0
_NO_ROOM = 500.0
_CELL = 32.0
# Costs are compared to three decimals; only what is dearer beyond doubt is given up early.
_SLACK = 0.01


_Line = tuple[Segment, Segment, float]
"""A line, its reach (left, top, right, bottom) and what covering a unit of it costs."""


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
        across, up = zip(*points, strict=True)
        left, right, top, bottom = min(across), max(across), min(up), max(up)
        if self.empty:
            self.left, self.right, self.top, self.bottom = left, right, top, bottom
            self.empty = False
            return
        if left < self.left:
            self.left = left
        if right > self.right:
            self.right = right
        if top < self.top:
            self.top = top
        if bottom > self.bottom:
            self.bottom = bottom

    @property
    def width(self) -> float:
        """The distance from left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """The distance from top to bottom."""
        return self.bottom - self.top

    def growth(self, box: Segment, room: tuple[float, float]) -> float:
        """Return the cost of growing to hold a box, on a sheet with ``room`` for the extent."""
        if self.empty or (
            box[0] >= self.left
            and box[2] <= self.right
            and box[1] >= self.top
            and box[3] <= self.bottom
        ):
            return 0.0
        cost = 0.0
        for low, high, first, last, space in (
            (self.left, self.right, box[0], box[2], room[0]),
            (self.top, self.bottom, box[1], box[3], room[1]),
        ):
            more = max(0.0, low - first) + max(0.0, last - high)
            over = min(more, max(0.0, high - low + more - space))
            cost += more * _GROW_COST + over * _OVERGROW_COST
        return cost


class TooDearError(Exception):
    """The texts have cost more than another sheet is known to cost: this one is out."""


@dataclass
class Ground:
    """What stands on the sheet when the next text looks for a place.

    Lines are kept by the cells of a coarse grid they pass near, because a sheet has hundreds of
    them and every text tries a hundred places.
    """

    extent: Extent = field(default_factory=Extent)
    limits: Segment | None = None
    room: tuple[float, float] = (1e9, 1e9)
    texts: list[Box] = field(default_factory=list)
    leaders: list[Segment] = field(default_factory=list)
    forces: list[Segment] = field(default_factory=list)
    spent: float = 0.0
    ceiling: float = math.inf
    _lines: list[_Line] = field(default_factory=list)
    _cells: defaultdict[tuple[int, int], list[int]] = field(
        default_factory=lambda: defaultdict(list)
    )
    # Lines by blocks of cells that were asked for; reaches of the texts.
    _blocks: dict[tuple[int, int, int, int], list[_Line]] = field(default_factory=dict)
    _reaches: list[Segment] = field(default_factory=list)

    def add_line(self, line: Segment, weight: float) -> None:
        """Lay a line on the ground; covering a unit of it costs a text ``weight``."""
        number = len(self._lines)
        reach = _reach(line)
        self._lines.append((line, reach, weight))
        left, top, right, bottom = _block(reach)
        if left == right and top == bottom:
            self._cells[left, top].append(number)
        else:
            for column in range(left, right + 1):
                for row in range(top, bottom + 1):
                    self._cells[column, row].append(number)
        if self._blocks:
            self._blocks.clear()

    def settle_all(self, wishes: Sequence[Sequence[Place]], *, trial: bool) -> list[Place]:
        """Choose a place for every text, in the order given or, on ``trial``, in the better order.

        The first come are served best, so a trial serves the last first and compares the cost.
        Raises TooDearError as soon as the texts cost more than the ``ceiling``.
        """
        orders = [range(len(wishes)), range(len(wishes) - 1, -1, -1)]
        trials: list[tuple[float, Ground, dict[int, Place]]] = []
        for order in orders if trial and len(wishes) > 1 else orders[:1]:
            ground = replace(
                self,
                extent=replace(self.extent),
                texts=list(self.texts),
                leaders=list(self.leaders),
                _reaches=list(self._reaches),
            )
            if trials:
                ground.ceiling = min(self.ceiling, trials[0][1].spent)
            try:
                chosen = {number: ground.settle(wishes[number]) for number in order}
            except TooDearError:
                if trials:
                    break
                raise
            trials.append((round(ground.spent - self.spent, 3), ground, chosen))
        _, ground, chosen = min(trials, key=lambda trial: trial[0])
        self.extent, self.texts, self.leaders = ground.extent, ground.texts, ground.leaders
        self._reaches = ground._reaches
        self.spent = ground.spent
        return [chosen[number] for number in range(len(wishes))]

    def settle(self, places: Sequence[Place]) -> Place:
        """Choose the cheapest free place, or make room below everything; it then stands."""
        if places[0].firm:
            self._stand(places[0])
            return places[0]
        best: Place | None = None
        lowest = math.inf
        leans, order = ranked(places)
        for number in order:
            if leans[number] >= lowest:
                break
            place = places[number]
            cost = self._cost(place, lowest)
            if cost < lowest:
                best, lowest = place, cost
        chosen = best or self._below(places[0])
        self.spent += lowest if best else _NO_ROOM
        if self.spent > self.ceiling + _SLACK:
            raise TooDearError
        self._stand(chosen)
        return chosen

    def _cost(self, place: Place, ceiling: float) -> float:
        """Return the cost of a place, without end when it is barred or above the ceiling."""
        reach = place.box.extent()
        if self.limits and not _within(reach, self.limits):
            return math.inf
        cost = place.lean + self.extent.growth(reach, self.room)
        if cost >= ceiling or self._meets_text(place.box):
            return math.inf
        cost += self._covered(place.box, ceiling - cost)
        for leader in place.leader:
            if cost >= ceiling:
                return math.inf
            cost += sum(
                _LEADER_OVER_TEXT for text in self.texts if text.length_inside(leader) > 1e-6
            )
            cost += sum(_LEADER_OVER_LEADER for other in self.leaders if crosses(leader, other))
            cost += sum(_LEADER_OVER_FORCE for force in self.forces if crosses(leader, force))
            cost += self._crossed(leader)
        return round(cost, 3)

    def _meets_text(self, box: Box) -> bool:
        """Return whether a box lies too near to a text that stands already."""
        left, top, right, bottom = box.extent(GAP)
        for text, (first, highest, last, lowest) in zip(self.texts, self._reaches, strict=True):
            if (
                right > first + TOUCH
                and left < last - TOUCH
                and bottom > highest + TOUCH
                and top < lowest - TOUCH
                and (not (box.angle or text.angle) or box.overlaps(text, GAP))
            ):
                return True
        return False

    def _near(self, reach: Segment) -> list[_Line]:
        """Return the lines that may touch a box, each once, in the order they were laid."""
        block = _block(reach)
        near = self._blocks.get(block)
        if near is None:
            left, top, right, bottom = block
            numbers: set[int] = set()
            for column in range(left, right + 1):
                for row in range(top, bottom + 1):
                    numbers.update(self._cells.get((column, row), ()))
            near = self._blocks[block] = [self._lines[number] for number in sorted(numbers)]
        return near

    def _covered(self, box: Box, ceiling: float) -> float:
        """Return the cost of the lines a box would cover, counted no further than the ceiling."""
        roomy = Box(box.x, box.y, box.width + GAP, box.height + GAP, box.angle)
        cost = 0.0
        for leader in self.leaders:
            covered = roomy.length_inside(leader)
            if covered > 1e-6:
                cost += (4.0 + covered) * _LEADER_WEIGHT
                if cost >= ceiling:
                    return cost
        reach = roomy.extent()
        left, top, right, bottom = reach
        level = not box.angle
        for line, (first, highest, last, lowest), weight in self._near(reach):
            if first > right or last < left or highest > bottom or lowest < top:
                continue
            if level and first >= left and last <= right and highest >= top and lowest <= bottom:
                covered = math.hypot(last - first, lowest - highest)  # the whole of it
            else:
                covered = roomy.length_inside(line)
            if covered > 1e-6:
                cost += (4.0 + covered) * weight
                if cost >= ceiling:
                    break
        return cost

    def _crossed(self, leader: Segment) -> float:
        """Return the cost of the lines a leader crosses."""
        reach = _reach(leader)
        left, top, right, bottom = reach
        cost = 0.0
        for line, (first, highest, last, lowest), weight in self._near(reach):
            if first > right or last < left or highest > bottom or lowest < top:
                continue
            if weight >= _HEAVY and crosses(leader, line):
                cost += _LEADER_OVER_LINE
        return cost

    def _below(self, place: Place) -> Place:
        """Move a place that found no room straight down, under everything else."""
        left, top, right, bottom = place.box.extent()
        floor = max([self.extent.bottom, *(text.extent()[3] for text in self.texts)])
        y = place.box.y + max(0.0, floor + 2 * GAP - top)
        x = place.box.x
        if self.limits:
            half = (right - left) / 2
            x = min(max(x, self.limits[0] + half), self.limits[2] - half)
        leader = tuple((s[0], s[1], x, y - (bottom - top) / 2) for s in place.leader[:1])
        return place._replace(box=place.box._replace(x=x, y=y), anchor="middle", leader=leader)

    def _stand(self, place: Place) -> None:
        self.texts.append(place.box)
        self._reaches.append(place.box.extent())
        self.extent.take(place.box.corners())
        for leader in place.leader:
            self.leaders.append(leader)
            self.extent.take([leader[:2], leader[2:]])


def _reach(line: Segment) -> Segment:
    x1, y1, x2, y2 = line
    if x1 > x2:
        x1, x2 = x2, x1
    return (x1, y1, x2, y2) if y1 <= y2 else (x1, y2, x2, y1)


def _block(reach: Segment) -> tuple[int, int, int, int]:
    """Return the cells under a box: first column and row, last column and row."""
    left, top, right, bottom = reach
    return (
        math.floor(left / _CELL), math.floor(top / _CELL),
        math.floor(right / _CELL), math.floor(bottom / _CELL),
    )  # fmt: skip


def _within(box: Segment, limits: Segment) -> bool:
    return (
        box[0] >= limits[0] - 1e-6
        and box[1] >= limits[1] - 1e-6
        and box[2] <= limits[2] + 1e-6
        and box[3] <= limits[3] + 1e-6
    )
