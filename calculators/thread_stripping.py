"""Shear of engaged threads: areas at worst limit sizes and what weakens them.

Lengths in mm, areas in mm², forces in N, stresses in MPa. The bolt's thread shears at the nut's
crest D1 (greatest), the nut's at the bolt's crest d (least):

    A_G = pi D1 (m/P) [P/2 + (d2 - D1) tan 30]    d2 least, D1 greatest
    A_M = pi d (m/P) [P/2 + (d - D2) tan 30]      d least, D2 greatest

C1 allows for a nut that spreads (s across flats), C2 and C3 for threads that bend; Rs is the
strength of the nut's thread over that of the bolt's:

    C1 = 3.8 s/d - (s/d)^2 - 2.61                                  1.4 <= s/d < 1.9, then 1
    C2 = 5.594 - 13.682 Rs + 14.107 Rs^2 - 6.057 Rs^3 + 0.9353 Rs^4   1 < Rs < 2.2
    C3 = 0.728 + 1.769 Rs - 2.896 Rs^2 + 1.296 Rs^3                   0.4 < Rs < 1

Below 1 C2 is 0.897 and above 1 C3 is; beyond the other ends both are held.

Sources: areas as in FED-STD-H28/2 and VDI 2230-1; C1 to C3 from VDI 2230-1, from memory (they
meet where they should).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.thread_gap import Thread

TAN30 = math.tan(math.radians(30))
THIN, THICK = 1.4, 1.9
"""Width across flats in diameters: below ``THIN`` nothing is known, from ``THICK`` C1 is 1."""


def bolt_area_per_length(size: Thread) -> float:
    """Shear area of the bolt's thread for each millimetre of engagement, in mm."""
    bore, pitch = size.nut(1.0).crest, size.bolt(1.0).pitch
    return math.pi * bore / size.pitch * (size.pitch / 2 + (pitch - bore) * TAN30)


def nut_area_per_length(size: Thread) -> float:
    """Shear area of the nut's thread for each millimetre of engagement, in mm."""
    crest, pitch = size.bolt(1.0).crest, size.nut(1.0).pitch
    return math.pi * crest / size.pitch * (size.pitch / 2 + (crest - pitch) * TAN30)


def c1(width: float) -> float:
    """Weakening by a nut that spreads; ``width`` is its width across flats in diameters."""
    if width >= THICK:
        return 1.0
    return 3.8 * width - width**2 - 2.61


def c2(rs: float) -> float:
    """Weakening of the bolt's thread where the nut's is the stronger one."""
    r = min(max(rs, 1.0), 2.2)
    return 5.594 - 13.682 * r + 14.107 * r**2 - 6.057 * r**3 + 0.9353 * r**4


def c3(rs: float) -> float:
    """Weakening of the nut's thread where the bolt's is the stronger one."""
    r = min(max(rs, 0.4), 1.0)
    return 0.728 + 1.769 * r - 2.896 * r**2 + 1.296 * r**3


@dataclass(frozen=True)
class Engaged:
    """An engaged pair: thread, shear strengths of bolt and nut in MPa, width in diameters."""

    size: Thread
    bolt: float
    nut: float
    width: float

    @property
    def ratio(self) -> float:
        """Rs: strength of the nut's thread over that of the bolt's."""
        return self.nut * nut_area_per_length(self.size) / (
            self.bolt * bolt_area_per_length(self.size)
        )  # fmt: skip

    @property
    def bolt_strips(self) -> float:
        """Load in N for each millimetre of engagement at which the bolt's thread strips."""
        return self.bolt * bolt_area_per_length(self.size) * c1(self.width) * c2(self.ratio)

    @property
    def nut_strips(self) -> float:
        """Load in N for each millimetre of engagement at which the nut's thread strips."""
        return self.nut * nut_area_per_length(self.size) * c1(self.width) * c3(self.ratio)
