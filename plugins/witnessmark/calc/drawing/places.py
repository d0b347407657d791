"""Places that a text could stand in, by their lean: what speaks against each by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple, overload

from witnessmark.calc.drawing.plane import Box, Point, Segment


class Place(NamedTuple):
    """One place a text could stand in: its box, its side, the thin line that leads to it.

    A ``firm`` place is taken whatever stands there: the numbers of a scale have no choice.
    """

    box: Box
    lean: float = 0.0
    anchor: str = "middle"
    leader: tuple[Segment, ...] = ()
    firm: bool = False


class PlacesAbout:
    """Places about nought, which serve any point that they are moved to, and their order."""

    def __init__(self, places: Sequence[Place]) -> None:
        self.places = tuple(places)
        self.leans = [round(place.lean, 3) for place in self.places]
        self.order = in_order(self.leans)


class Places(Sequence[Place]):
    """Places about a point, after those named ``first``. Each is made when it is looked at,
    because most never are."""

    def __init__(self, point: Point, about: PlacesAbout, first: Sequence[Place] = ()) -> None:
        self.point = point
        self.about = about
        self.first = first

    def after(self, first: Sequence[Place]) -> Places:
        """Return the same places behind others, which are tried before those of the same lean."""
        return Places(self.point, self.about, [*first, *self.first])

    def ranked(self) -> tuple[Sequence[float], Sequence[int]]:
        """Return the leans, rounded, and the numbers of the places from the least lean on."""
        if not self.first:
            return self.about.leans, self.about.order
        leans = [*(round(place.lean, 3) for place in self.first), *self.about.leans]
        return leans, in_order(leans)

    def __len__(self) -> int:
        return len(self.first) + len(self.about.places)

    def __iter__(self) -> Iterator[Place]:
        return (self[number] for number in range(len(self)))

    @overload
    def __getitem__(self, number: int) -> Place: ...
    @overload
    def __getitem__(self, number: slice) -> list[Place]: ...
    def __getitem__(self, number: int | slice) -> Place | list[Place]:
        if isinstance(number, slice):
            return list(self)[number]
        number = range(len(self))[number]
        if number < len(self.first):
            return self.first[number]
        x, y = self.point
        box, lean, anchor, leader, firm = self.about.places[number - len(self.first)]
        return Place(
            Box(x + box.x, y + box.y, box.width, box.height, box.angle),
            lean,
            anchor,
            tuple([(x + x1, y + y1, x + x2, y + y2) for x1, y1, x2, y2 in leader]),
            firm,
        )


def ranked(places: Sequence[Place]) -> tuple[Sequence[float], Sequence[int]]:
    """Return the leans of places, rounded, and their numbers from the least lean on."""
    if isinstance(places, Places):
        return places.ranked()
    leans = [round(place.lean, 3) for place in places]
    return leans, in_order(leans)


def in_order(leans: Sequence[float]) -> list[int]:
    """Return the numbers of the leans, the least first; those that are alike as they stand."""
    return sorted(range(len(leans)), key=leans.__getitem__)
