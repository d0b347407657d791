"""A ring shrunk on a disc: pressure, stress and what speed takes off, in mm, MPa, rad/s.

Both parts elastic, in plane stress (Lamé): the interference d is shared between a ring from
diameter D to D_o and a disc from D_i to D,
p = d / (D [((D_o^2 + D^2)/(D_o^2 - D^2) + nu_o)/E_o + ((D^2 + D_i^2)/(D^2 - D_i^2) - nu_i)/E_i]).
Turning, the bore of a ring from radius b to c grows by rho w^2 b ((3 + nu) c^2 + (1 - nu) b^2)
/(4 E), the rim of a disc from radius a to b by rho w^2 b ((1 - nu) b^2 + (3 + nu) a^2)/(4 E).

Sources: G. Lamé; S. Timoshenko, J. N. Goodier, Theory of Elasticity, rotating discs.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.metals import Metal


@dataclass(frozen=True)
class ShrunkRing:
    """Diameters in mm: hole of the disc (0 if solid), joint, outside of the ring; width."""

    hole: float
    joint: float
    outer: float
    width: float
    ring: Metal
    disc: Metal

    def pressure(self, tight: float) -> float:
        """Pressure in MPa for an interference on the diameter in mm; nil where it is loose."""
        d, out, inner = self.joint, self.outer, self.hole
        give = (
            ((out**2 + d**2) / (out**2 - d**2) + self.ring.poisson) / self.ring.modulus
            + ((d**2 + inner**2) / (d**2 - inner**2) - self.disc.poisson) / self.disc.modulus
        )  # fmt: skip
        return max(tight, 0.0) / (d * give)

    def hoop(self, pressure: float) -> float:
        """Hoop stress in MPa at the bore of the ring, where it is greatest."""
        d, out = self.joint, self.outer
        return pressure * (out**2 + d**2) / (out**2 - d**2)

    def growth(self, omega: float) -> float:
        """What speed takes off the interference, mm on the diameter."""
        a, b, c = self.hole / 2, self.joint / 2, self.outer / 2
        ring = _growth(self.ring, omega, b, c, b)
        disc = _growth(self.disc, omega, b, a, b)
        return 2 * (ring - disc)


def _growth(metal: Metal, omega: float, at: float, far: float, near: float) -> float:
    """Radial growth in mm at a free edge of radius ``at``; ``far`` is the other edge."""
    load = metal.density * 1e-9 * omega**2 / 4  # N/mm^4
    inside = (3 + metal.poisson) * far**2 + (1 - metal.poisson) * near**2
    return 1e-3 * load * at * inside / metal.modulus
