"""Common values of the metals of an engine: stiffness, expansion, density.

All are common values of a family, not of a melt; the data sheet of the metal in hand wins.
"""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import Source

METAL_VALUES = Source(
    "metal-values",
    "Common values of metals: modulus, Poisson's ratio, expansion, density; no published source",
    kind="common practice",
)


@dataclass(frozen=True)
class Metal:
    """Young's modulus in MPa, Poisson's ratio, linear expansion in 1/K, density in kg/m³."""

    text: str
    modulus: float
    poisson: float
    expansion: float
    density: float


STEEL = Metal("steel", 206_000, 0.30, 11.5e-6, 7850)
GREY_IRON = Metal("grey iron", 110_000, 0.26, 10.5e-6, 7200)
NODULAR_IRON = Metal("nodular iron", 170_000, 0.28, 11.0e-6, 7100)
ALUMINIUM = Metal("aluminium casting", 70_000, 0.33, 23e-6, 2700)
MAGNESIUM = Metal("magnesium casting", 45_000, 0.35, 26e-6, 1800)

METALS = {
    "steel": STEEL,
    "iron": GREY_IRON,
    "nodular": NODULAR_IRON,
    "aluminium": ALUMINIUM,
    "magnesium": MAGNESIUM,
}
CHOICES = {name: metal.text for name, metal in METALS.items()}
"""The metals as options of a choice entry."""
