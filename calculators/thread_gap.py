"""The gap between a metric bolt thread 6g and a nut thread 6H, and the volume of it.

Basic profile (ISO 68-1, ISO 724), P the pitch, d the nominal diameter, all in millimetres:
d2 = D2 = d - 0.649519 P, D1 = d - 1.082532 P, d3 = d - 1.226869 P.

Tolerances (ISO 965-1): the table below, in micrometres. The standard derives it from

    es(g)  = -(15 + 11 P)             allowance of the bolt
    Td(6)  = 180 P^(2/3) - 3.15 / P^(1/2)
    TD1(6) = 230 P^0.7                for P of 1 mm and more
    Td2(6) = 90 P^0.4 dm^0.1          dm the geometric mean of the range of diameters
    TD2(6) = 1.32 Td2(6)

and rounds to preferred numbers, in places not to the nearest one: the table rules. Its
cells for the nut (TD1, TD2) and for the bolt (Td, Td2) agree with the limits printed in
ASME B1.13M and with the differences of the limits in ISO 965-4.

Void per length of engagement: both flanks stand at 60 degrees; r_e(x) is the bolt's profile
over one pitch, r_i(x) the nut's, each straight-flanked between the flats at its crest and
its root. Then V/L = (pi/P) times the integral of (r_i^2 - r_e^2) over a pitch. On a flank
dr = -sqrt(3) dx, so every piece of the integral is exact: r^2 times its length on a flat,
(r_1^3 - r_2^3) / (3 sqrt(3)) on a flank.

Where a pitch diameter leaves its basic size, the thread's root leaves by as much (the tool
goes deeper with all of its form); the crest has the tolerance of its own diameter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

ROOT3 = math.sqrt(3.0)
_D2, _D1, _D3 = 0.649519, 1.082532, 1.226869

BOLT_AND_CREST = {
    1.0: (26, 180, 236),
    1.25: (28, 212, 265),
    1.5: (32, 236, 300),
    1.75: (34, 265, 335),
    2.0: (38, 280, 375),
    2.5: (42, 335, 450),
    3.0: (48, 375, 500),
    3.5: (53, 425, 560),
    4.0: (60, 475, 600),
    4.5: (63, 500, 670),
}
"""ISO 965-1: pitch in mm to allowance -es(g), Td(6) and TD1(6) in µm."""

RANGES = (5.6, 11.2, 22.4, 45.0)
"""Limits of the ranges of nominal diameter in mm; a range is over its low limit, up to its high."""

PITCH_DIAMETER = {
    (1.0, 0): (112, 150), (1.0, 1): (118, 160), (1.0, 2): (125, 170),
    (1.25, 0): (118, 160), (1.25, 1): (132, 180),
    (1.5, 0): (132, 180), (1.5, 1): (140, 190), (1.5, 2): (150, 200),
    (1.75, 1): (150, 200),
    (2.0, 1): (160, 212), (2.0, 2): (170, 224),
    (2.5, 1): (170, 224),
    (3.0, 2): (200, 265),
    (3.5, 2): (212, 280),
    (4.0, 2): (224, 300),
    (4.5, 2): (236, 315),
}  # fmt: skip
"""ISO 965-1: pitch and range of diameter to Td2(6) and TD2(6) in µm."""

SIZES = (
    "M6x1", "M8x1.25", "M8x1", "M10x1.5", "M10x1.25", "M10x1", "M12x1.75", "M12x1.5",
    "M12x1.25", "M14x2", "M14x1.5", "M16x2", "M16x1.5", "M18x2.5", "M18x1.5", "M20x2.5",
    "M20x1.5", "M22x2.5", "M22x1.5", "M24x3", "M24x2", "M24x1.5", "M27x3", "M27x2",
    "M30x3.5", "M30x2", "M30x1.5", "M33x3.5", "M33x2", "M36x4", "M36x3", "M36x1.5",
    "M39x4", "M42x4.5", "M42x3", "M45x4.5",
)  # fmt: skip


@dataclass(frozen=True)
class Profile:
    """A thread's profile: crest, pitch and root diameter in mm (for a nut the crest is D1)."""

    crest: float
    pitch: float
    root: float


@dataclass(frozen=True)
class Thread:
    """A metric thread with its 6g/6H tolerances in mm."""

    name: str
    d: float
    pitch: float
    allowance: float
    t_d: float
    t_d1: float
    t_d2: float
    t_nut_d2: float

    @property
    def label(self) -> str:
        """The designation as printed: M12×1.25."""
        return self.name.replace("x", "×")

    @cached_property
    def d2(self) -> float:
        """Basic pitch diameter of bolt and nut."""
        return self.d - _D2 * self.pitch

    def bolt(self, place: float, d2: float | None = None, coat: float = 0.0) -> Profile:
        """The bolt at a place in its tolerances (0 largest, 1 smallest).

        ``d2`` replaces the pitch diameter by a measured one. ``coat`` is the thickness of
        plating: on a flank at 60 degrees it adds four times itself to the pitch diameter.
        """
        pitch = self.d2 - self.allowance - place * self.t_d2 if d2 is None else d2
        crest = self.d - self.allowance - place * self.t_d
        root = self.d - _D3 * self.pitch + (pitch - self.d2)
        return Profile(crest + 2 * coat, pitch + 4 * coat, root + 2 * coat)

    def nut(self, place: float, d2: float | None = None) -> Profile:
        """The nut at a place in its tolerances (0 smallest, 1 largest)."""
        pitch = self.d2 + place * self.t_nut_d2 if d2 is None else d2
        crest = self.d - _D1 * self.pitch + place * self.t_d1
        return Profile(crest, pitch, self.d + (pitch - self.d2))

    @property
    def clearances(self) -> tuple[float, float]:
        """Least and greatest clearance between the pitch diameters."""
        return self.allowance, self.allowance + self.t_d2 + self.t_nut_d2


def thread(name: str) -> Thread:
    """The thread called ``name`` (M30x2); KeyError when the table does not hold it."""
    diameter, _, pitch_text = name.removeprefix("M").partition("x")
    d, pitch = float(diameter), float(pitch_text)
    step = next(k for k in range(3) if RANGES[k] < d <= RANGES[k + 1])
    micrometres = (*BOLT_AND_CREST[pitch], *PITCH_DIAMETER[pitch, step])
    return Thread(name, d, pitch, *(1e-3 * value for value in micrometres))


THREADS = {name: thread(name) for name in SIZES}


def _integral(profile: Profile, pitch: float) -> float:
    """The integral of r^2 over half a pitch, from the middle of the bolt's crest on, in mm³."""
    high, low = sorted((profile.crest / 2, profile.root / 2), reverse=True)
    middle = profile.pitch / 2
    flat_high = pitch / 4 - (high - middle) / ROOT3
    flat_low = pitch / 4 - (middle - low) / ROOT3
    return high**2 * flat_high + (high**3 - low**3) / (3 * ROOT3) + low**2 * flat_low


def void_area(bolt: Profile, nut: Profile, pitch: float) -> float:
    """Volume between bolt and nut for each millimetre of engagement, in mm²."""
    return math.tau / pitch * (_integral(nut, pitch) - _integral(bolt, pitch))
