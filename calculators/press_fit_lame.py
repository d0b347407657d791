"""Pressure of a thin ring pressed into a housing, both elastic (Lamé), in MPa and mm."""

from __future__ import annotations

from calculators.metals import ALUMINIUM, GREY_IRON, STEEL, Metal

HOUSINGS = {"iron": GREY_IRON, "aluminium": ALUMINIUM}


def pressure(
    excess: float, fit: float, wall: float, outer: float, housing: Metal, ring: Metal = STEEL
) -> float:
    """Pressure in MPa between a ring of thickness ``wall`` and its housing.

    ``excess`` is the interference on the diameter, ``fit`` the diameter of the joint and
    ``outer`` the outside diameter of the housing, all in mm; nil where nothing interferes.
    """
    inner = fit - 2 * wall
    give = (
        ((outer**2 + fit**2) / (outer**2 - fit**2) + housing.poisson) / housing.modulus
        + ((fit**2 + inner**2) / (fit**2 - inner**2) - ring.poisson) / ring.modulus
    )  # fmt: skip
    return max(excess, 0.0) / (fit * give)


def hoop_stress(load: float, fit: float, wall: float) -> float:
    """Greatest hoop stress (compression, MPa) in the ring under an outer pressure ``load``.

    It stands at the ring's inner surface: 2 p D^2 / (D^2 - D_i^2).
    """
    inner = fit - 2 * wall
    return 2 * load * fit**2 / (fit**2 - inner**2)
