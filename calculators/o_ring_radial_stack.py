"""The arithmetic of a ring in a radial groove, and where its limits are worst.

Lengths are mm, shares plain numbers; plain floats.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

from calculators.o_ring_limits import end
from calculators.o_ring_section import groove_area, height_loss, section_of_volume, stretch


@dataclass(frozen=True)
class Radial:
    """A ring, the bottom of its groove and what it seals against."""

    seat: str
    thinning: str
    bore: float
    section: float
    groove: float
    mate: float

    @property
    def height(self) -> float:
        """Height of the groove with the parts centred."""
        return (self.mate - self.groove if self.seat == "shaft" else self.groove - self.mate) / 2

    @property
    def stretch(self) -> float:
        """Stretch of the diameter that the groove holds: inside on a shaft, outside in a bore."""
        if self.seat == "shaft":
            return stretch(self.bore, self.groove)
        return stretch(self.bore + 2 * self.section, self.groove)

    @property
    def girth(self) -> float:
        """Inside diameter of the ring in its groove."""
        return self.bore * (1 + self.stretch)

    def section_height(self, times: float = 1.0) -> float:
        """Height of the section before it is squeezed, its volume grown ``times``."""
        if self.thinning == "iso":
            height = self.section * (1 - height_loss(self.stretch))
        else:
            height = section_of_volume(self.bore, self.section, self.girth)
        return height * math.sqrt(times)

    def squeeze(self, apart: float, times: float = 1.0) -> float:
        """Squeeze where the groove is ``apart`` higher than its middle height."""
        height = self.section_height(times)
        return (height - self.height - apart) / height

    def fill(self, width: float, corner: float, times: float = 1.0) -> float:
        """Share of the groove that the ring fills, its volume grown ``times``."""
        round_section = section_of_volume(self.bore, self.section, self.girth)
        area = math.pi / 4 * round_section**2 * times
        return area / groove_area(width, self.height, corner)

    def stretches(self) -> tuple[float, float]:
        """Least and greatest stretch within the limits that were entered."""
        low, high = (
            dataclasses.replace(
                self, bore=end("bore", self.bore, -way), groove=end("groove", self.groove, way),
                section=end("section", self.section, -way),
            ).stretch
            for way in (-1, 1)
        )  # fmt: skip
        return low, high

    @staticmethod
    def least_width(width: float) -> float:
        """The narrowest the groove may be."""
        return end("width", width, -1)


def at_limits(ring: Radial) -> tuple[Radial, Radial]:
    """The ring with the least and with the greatest squeeze within the limits entered.

    Squeeze grows with section and inside diameter of the ring and falls with the height of the
    groove. A larger groove in a shaft also stretches the ring, but that counts far less.
    """
    least, most = (
        dataclasses.replace(
            ring,
            bore=end("bore", ring.bore, way),
            section=end("section", ring.section, way),
            groove=end("groove", ring.groove, way if ring.seat == "shaft" else -way),
            mate=end("mate", ring.mate, -way if ring.seat == "shaft" else way),
        )
        for way in (-1, 1)
    )
    return least, most
