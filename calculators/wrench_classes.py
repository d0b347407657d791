"""Types and classes of torque wrenches, and how far each may deviate.

The deviation is (indicated - true)/true, so with a limit p the true torque of a setting S lies
between S/(1 + p) and S/(1 - p). A calibration sheet stands above this table; who works to
another edition replaces the figures here.

Source: ISO 6789-1:2017, tables of types, classes and greatest permissible deviation (type II
class A read, the others from memory). A column is chosen by the wrench's greatest torque.
"""

from __future__ import annotations

from typing import NamedTuple

SMALL = 10.0
"""Greatest torque in N·m of the wrenches in the first column."""


class WrenchClass(NamedTuple):
    """A class: what it is called, and its limits for small wrenches and for the others."""

    label: str
    small: float
    large: float

    def limit(self, greatest: float) -> float:
        """Greatest permissible deviation of a wrench whose scale ends at ``greatest`` N·m."""
        return self.small if greatest <= SMALL else self.large


CLASSES = {
    "II A": WrenchClass("II A: click wrench with a scale", 0.06, 0.04),
    "II B": WrenchClass("II B: click wrench, one fixed torque", 0.06, 0.04),
    "II C": WrenchClass("II C: click wrench without a scale", 0.06, 0.04),
    "II D": WrenchClass("II D: screwdriver with a scale, lets go", 0.06, 0.06),
    "II E": WrenchClass("II E: screwdriver, one fixed torque", 0.06, 0.06),
    "II F": WrenchClass("II F: screwdriver without a scale, lets go", 0.06, 0.06),
    "II G": WrenchClass("II G: bending bar with a scale, lets go", 0.06, 0.06),
    "I A": WrenchClass("I A: bending or torsion bar with a pointer", 0.06, 0.06),
    "I B": WrenchClass("I B: stiff body with a dial", 0.06, 0.04),
    "I C": WrenchClass("I C: electronic display", 0.06, 0.04),
    "I D": WrenchClass("I D: screwdriver with a dial", 0.06, 0.06),
    "I E": WrenchClass("I E: screwdriver with a display", 0.06, 0.04),
}
CHOICES = {name: of.label for name, of in CLASSES.items()}
