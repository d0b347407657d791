"""How much a screw and the parts it clamps give under load.

Compliances in mm/N from lengths in mm and moduli in MPa.

Screw: sum of l/(E A) over head 0.5 d, shank, free thread at its root d3, engaged thread 0.5 d at
d3, and nut 0.4 d or tapped part 0.33 d.

Parts: the pressure spreads from the face (diameter d_w) as a cone, from both sides through a
joint with a nut (w = 1), from one side over a tapped hole (w = 2), until it meets the outside
D_A of the parts; a sleeve carries on from there. With beta = l/d_w and y = D_A/d_w

    tan phi = 0.362 + 0.032 ln(beta/2) + 0.153 ln y    with a nut
    tan phi = 0.348 + 0.013 ln beta + 0.193 ln y       in a tapped hole

and the cone is integrated in closed form.

Sources: VDI 2230-1 (lengths that stand for head and thread, cone), quoted from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.thread_form import ThreadForm


@dataclass(frozen=True)
class Clamped:
    """The clamped parts: grip, face and hole of the screw, outside, modulus, kind of joint."""

    grip: float
    face: float
    hole: float
    outside: float
    modulus: float
    tapped: bool

    @property
    def sides(self) -> int:
        """W: 1 where the cone runs in from both sides, 2 where from one."""
        return 2 if self.tapped else 1

    @property
    def spread(self) -> float:
        """Tangent of the cone's angle; the outside is counted at least as wide as the face."""
        beta, y = self.grip / self.face, max(self.outside / self.face, 1.0)
        if self.tapped:
            tangent = 0.348 + 0.013 * math.log(beta) + 0.193 * math.log(y)
        else:
            tangent = 0.362 + 0.032 * math.log(beta / 2) + 0.153 * math.log(y)
        return max(tangent, 0.1)

    @property
    def widest(self) -> float:
        """Greatest diameter that the pressure spreads to, in mm."""
        return min(self.face + self.sides * self.grip * self.spread, max(self.outside, self.face))

    @property
    def compliance(self) -> float:
        """Compliance of the clamped parts in mm/N."""
        w, t, h, wide = self.sides, self.spread, self.hole, self.widest
        start = min(self.face, self.outside)
        cone = math.log((start + h) * (wide - h) / ((start - h) * (wide + h))) if (
            wide > start
        ) else 0.0  # fmt: skip
        run = (wide - start) / (w * t) if wide > start else 0.0
        sleeve = 4 / (wide**2 - h**2) * max(0.0, self.grip - run)
        return (2 / (w * h * t) * cone + sleeve) / (math.pi * self.modulus)


def screw_compliance(
    form: ThreadForm, grip: float, shank: float, shank_diameter: float, modulus: float,
    tapped: bool, tapped_modulus: float,
) -> float:  # fmt: skip
    """Compliance in mm/N of a screw with ``shank`` mm of plain shank inside the grip."""
    nominal, root = math.pi / 4 * form.d**2, math.pi / 4 * form.d3**2
    plain = math.pi / 4 * shank_diameter**2
    inside = 0.5 * form.d / nominal + shank / plain + (grip - shank + 0.5 * form.d) / root
    outside = 0.33 * form.d / tapped_modulus if tapped else 0.4 * form.d / modulus
    return inside / modulus + outside / nominal
