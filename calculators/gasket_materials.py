"""Gasket factors m and seating stresses y of flat gaskets, and the width that counts.

The table is that of ASME VIII-1 appendix 2 in its inch units; y is turned to MPa. y is what a
design needs at least to seat the material; it is no setting and no limit. The limits of what a
sheet stands are its maker's.

Lengths are mm, stresses MPa, forces N; plain floats.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from witnessmark.calc import Source

ASME = Source(
    "asme-viii-1-appendix-2",
    "ASME Boiler and Pressure Vessel Code, section VIII division 1, mandatory appendix 2",
    "2-5 and table 2-5.1",
)
ASME_MEMORY = Source(
    "asme-viii-1-binder",
    "ASME Boiler and Pressure Vessel Code, section VIII division 1, table 2-5.1: sheet with "
    "binder, 1/16 in thick; from memory",
    kind="from memory",
)
PSI = 0.006894757293168
"""A pound-force per square inch in MPa (NIST SP 811)."""
NARROW = 6.35
"""Up to this basic width (a quarter inch) the whole of it counts, mm."""


@dataclass(frozen=True)
class Facing:
    """A gasket material: its name, gasket factor m and seating stress y in psi."""

    text: str
    m: float
    y_psi: float

    @property
    def y(self) -> float:
        """The seating stress in MPa."""
        return self.y_psi * PSI


FACINGS = {
    "fibre": Facing("vegetable fibre sheet, oiled paper", 1.75, 1100),
    "soft_rubber": Facing("rubber sheet below 75 Shore A", 0.5, 0),
    "hard_rubber": Facing("rubber sheet of 75 Shore A and more", 1.0, 200),
    "binder": Facing("jointing sheet with binder, 1.6 mm", 2.75, 3700),
    "aluminium": Facing("soft aluminium, flat", 4.0, 8800),
    "copper": Facing("soft copper or brass, flat", 4.75, 13_000),
}


def effective(outer: float, inner: float) -> tuple[float, float]:
    """Effective width b and the diameter G on which the gasket's force acts, mm.

    The basic width b0 of a flat gasket is half its contact width. Up to 6.35 mm b = b0 and G is
    the mean diameter; above it b = 2.52 sqrt(b0) (mm) and G = outer diameter less 2 b.
    """
    basic = (outer - inner) / 4
    if basic <= NARROW:
        return basic, (outer + inner) / 2
    b = 2.52 * math.sqrt(basic)
    return b, outer - 2 * b


def seating_force(b: float, g: float, y: float) -> float:
    """Force that seats the gasket, W_m2 = pi b G y."""
    return math.pi * b * g * y


def working_force(b: float, g: float, m: float, pressure: float) -> float:
    """Force that holds against a pressure, W_m1 = (pi/4) G^2 p + 2 pi b G m p."""
    return math.pi / 4 * g**2 * pressure + 2 * math.pi * b * g * m * pressure
