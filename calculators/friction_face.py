"""Radius at which a clamped face holds a torque by friction.

Ring from r_i to r_o, even pressure: r = (2/3)(r_o^3 - r_i^3)/(r_o^2 - r_i^2); worn in, the mean
radius. Under a central nut the clamp spreads as a cone of about 30 degrees, so the face counts
only up to the nut's washer and what the hub's thickness adds. Round bolts the pressure is near
their circle, whose radius then counts.

Sources: derivations; half angle of the cone: common practice.
"""

from __future__ import annotations

import math

CONE = math.tan(math.radians(30))
"""Tangent of the half angle in which a clamp spreads."""


def reach_of_nut(washer: float, hub: float, outer: float) -> float:
    """Outer radius in mm of the face that a nut presses: washer's diameter, hub's thickness."""
    return min(outer, washer / 2 + hub * CONE)


def friction_radius(outer: float, inner: float, worn_in: bool = False) -> float:
    """Radius in mm at which a ring of these radii in mm holds."""
    if worn_in:
        return (outer + inner) / 2
    return 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)
