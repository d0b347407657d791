"""The form of a screw thread with flanks at 60 degrees: its diameters and its stress area.

H = sqrt(3)/2 P is the height of the sharp triangle, d the nominal diameter, P the pitch, all
in millimetres.

    d2 = d - 0.649519 P     pitch diameter, of bolt and nut alike (3/4 H off)
    D1 = d - 1.082532 P     crest of the nut (5/4 H off)
    d3 = d - 1.226869 P     root of the bolt (17/12 H off); D1 is not the bolt's root

Stress area, metric (ISO 898-1): (pi/4) ((d2 + d3)/2)^2 = (pi/4) (d - 0.938194 P)^2.
Stress area, unified (ASME B1.1): (pi/4) (d - 0.974279 P)^2; here the second diameter of the
mean is the sharp root d - 1.299038 P, so the two must not be exchanged: 1/2-13 would come
out 1.3 % too strong.

Sources: ISO 68-1, ISO 724, ISO 898-1, ASME B1.1.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

H = math.sqrt(3.0) / 2.0
"""Height of the sharp triangle, in pitches."""
INCH = 25.4


@dataclass(frozen=True)
class ThreadForm:
    """A thread: its name, nominal diameter and pitch in mm, and whether it is a unified one."""

    name: str
    d: float
    pitch: float
    unified: bool = False
    coarse: bool = False

    @property
    def label(self) -> str:
        """The designation as printed: M12×1.25, 1/2-13."""
        if self.unified:
            return f"{self.name} {'UNC' if self.coarse else 'UNF'}"
        return self.name.replace("x", "×")

    @property
    def per_inch(self) -> float:
        """Turns in an inch."""
        return INCH / self.pitch

    @property
    def d2(self) -> float:
        """Pitch diameter."""
        return self.d - 0.75 * H * self.pitch

    @property
    def d3(self) -> float:
        """Root diameter of the bolt."""
        return self.d - 17 / 12 * H * self.pitch

    @property
    def nut_bore(self) -> float:
        """D1, the crest diameter of the nut: what a drill leaves before tapping."""
        return self.d - 1.25 * H * self.pitch

    @property
    def stress_diameter(self) -> float:
        """Diameter of the stress area."""
        off = 9 / 8 if self.unified else 13 / 12
        return self.d - off * H * self.pitch

    @property
    def stress_area(self) -> float:
        """Stress area in mm²."""
        return math.pi / 4 * self.stress_diameter**2

    @property
    def lead_angle(self) -> float:
        """Angle of the helix at the pitch diameter, in radians."""
        return math.atan2(self.pitch, math.pi * self.d2)
