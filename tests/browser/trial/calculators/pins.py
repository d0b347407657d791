"""The pins behind the lever: what each carries and the shear in it (statics)."""

import math
from dataclasses import dataclass

from witnessmark.calc import (
    CheckValue,
    Count,
    Finding,
    Force,
    Length,
    Q,
    Rounding,
    Source,
    Stress,
    calculator,
    caution,
    entry,
    result,
)

STATICS = Source("statics", "Force over area", kind="derivation")


@dataclass(frozen=True)
class Share:
    """What comes out."""

    share: Force = result("Force on the pin", lead=True, unit="kN", rounding=Rounding(figures=3))


@calculator(
    name="pin-share",
    title="Share of a pin",
    topic="torque",
    purpose="Divides a force among pins.",
    sources=(STATICS,),
    check_values=(
        CheckValue("two pins", {"force": "2 kN", "pins": "2"}, {"share": "1.00 kN"}, STATICS),
    ),
)
def pin_share(
    *,
    force: Force = entry("Force on all pins", "2 kN", most="4 kN", least=0),
    pins: Count = entry("Pins", "2", least=1, most=12),
) -> Share:
    """Force over count."""
    return Share(force / pins)


@dataclass(frozen=True)
class Shear:
    """What comes out."""

    shear: Stress = result("Shear in the pin", lead=True, rounding=Rounding(figures=3))
    findings: tuple[Finding, ...] = ()


@calculator(
    name="pin-shear",
    title="Shear in a pin",
    topic="torque",
    purpose="Shear stress in a round pin.",
    sources=(STATICS,),
    check_values=(
        CheckValue("8 mm", {"load": "1 kN", "diameter": "8 mm"}, {"shear": "19.9 MPa"}, STATICS),
    ),
)
def pin_shear(
    *,
    load: Force = entry("Load of the pin", "500 N", least=0, units=("N", "lbf", "kN")),
    diameter: Length = entry("Diameter", "8 mm", above=0),
) -> Shear:
    """Force over area."""
    area = math.pi / 4 * diameter.m_as("mm") ** 2
    stress = load.m_as("newton") / area
    findings = (caution("high", "More than 30 MPa."),) if stress > 30 else ()
    return Shear(Q(stress, "MPa"), findings)
