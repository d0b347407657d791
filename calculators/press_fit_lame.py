"""Pressure of a thin ring pressed into a housing, both elastic (Lamé), in MPa and mm."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Material:
    """Young's modulus in MPa, Poisson's ratio, linear expansion in 1/K; common values."""

    text: str
    modulus: float
    poisson: float
    expansion: float


STEEL = Material("steel", 206_000, 0.30, 11.5e-6)
HOUSINGS = {
    "iron": Material("grey iron", 110_000, 0.26, 10.5e-6),
    "aluminium": Material("aluminium casting", 70_000, 0.33, 23e-6),
}


def pressure(
    excess: float, fit: float, wall: float, outer: float, housing: Material, ring: Material = STEEL
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
