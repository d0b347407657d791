"""The arithmetic of a ring in a groove in a face, and where its limits are worst.

Pressure drives the ring against a wall, and it must lie there from the start: against the outer
wall when the pressure comes from inside, against the inner wall when it comes from outside.
Lengths are mm, shares plain numbers; plain floats.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

from calculators.o_ring_limits import end
from calculators.o_ring_section import groove_area, height_loss, section_of_volume, stretch


@dataclass(frozen=True)
class Face:
    """A ring, the walls and the depth of its groove, and what the faces stand apart."""

    pressure_from: str
    bore: float
    section: float
    inner: float
    outer: float
    depth: float
    gap: float

    @property
    def width(self) -> float:
        """Width of the groove."""
        return (self.outer - self.inner) / 2

    @property
    def height(self) -> float:
        """Room for the ring between the bottom of the groove and the other face."""
        return self.depth + self.gap

    @property
    def stretch(self) -> float:
        """Change of the diameter that lies against its wall; negative: pressed smaller."""
        if self.pressure_from == "outside":
            return stretch(self.bore, self.inner)
        return stretch(self.bore + 2 * self.section, self.outer)

    @property
    def girth(self) -> float:
        """Inside diameter of the ring in the groove; a ring that hangs loose keeps its own."""
        change = self.stretch
        if self.pressure_from == "outside":
            return self.bore * (1 + max(change, 0.0))
        return self.bore * (1 + min(change, 0.0))

    def section_height(self, times: float = 1.0) -> float:
        """Height of the section before it is squeezed, its volume grown ``times``."""
        change = self.stretch if self.pressure_from == "outside" else 0.0
        return self.section * (1 - height_loss(change)) * math.sqrt(times)

    def squeeze(self, times: float = 1.0) -> float:
        """Share the section is flattened by, its volume grown ``times``."""
        height = self.section_height(times)
        return (height - self.height) / height

    def fill(self, width: float, corner: float, times: float = 1.0) -> float:
        """Share of the groove that the ring fills, its volume grown ``times``."""
        area = math.pi / 4 * section_of_volume(self.bore, self.section, self.girth) ** 2 * times
        return area / groove_area(width, self.height, corner)

    def stretches(self) -> tuple[float, float]:
        """Least and greatest change of girth within the limits that were entered."""
        low, high = (
            dataclasses.replace(
                self, bore=end("bore", self.bore, -way), section=end("section", self.section, -way),
                inner=end("inner", self.inner, way), outer=end("outer", self.outer, way),
            ).stretch
            for way in (-1, 1)
        )  # fmt: skip
        return low, high

    def least_width(self) -> float:
        """The narrowest the groove may be."""
        return (end("outer", self.outer, -1) - end("inner", self.inner, 1)) / 2


def at_limits(ring: Face) -> tuple[Face, Face]:
    """The ring with the least and with the greatest squeeze within the limits entered.

    Squeeze grows with the section, falls with depth, gap and stretch.
    """
    least, most = (
        dataclasses.replace(
            ring,
            bore=end("bore", ring.bore, way),
            section=end("section", ring.section, way),
            inner=end("inner", ring.inner, -way),
            depth=end("depth", ring.depth, -way),
            gap=end("gap", ring.gap, -way),
        )
        for way in (-1, 1)
    )
    return least, most
