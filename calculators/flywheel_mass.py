"""What a flywheel weighs, how it swings, and who may lift it.

Purpose at the bench: before it comes off, know what will hang in the hands or on the hoist.
The section is cut into rings: rim, web, hub. Holes are taken out.

m = rho (pi/4)(D_o^2 - D_i^2) t, I = m (D_o^2 + D_i^2)/8, z_c = sum of m z over sum of m;
n holes of d on radius r: n rho (pi/4) d^2 t, and each m (r^2 + d^2/8) off the inertia.
Energy at speed: I omega^2/2.

Symbols: D_o, D_i diameters, t thickness, z middle of it along the axis, rho density, m mass,
I moment of inertia about the axis.

Assumptions: rings do not overlap: the rim's inside is the web's outside.

Sources: solid geometry; masses one may lift: common practice after ISO 11228-1 from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from calculators.metals import CHOICES, METAL_VALUES, METALS
from witnessmark.calc import (
    CheckValue,
    Count,
    Drawing,
    Energy,
    Finding,
    Force,
    Formula,
    Inertia,
    Length,
    Mass,
    Q,
    RefusedError,
    RotationalSpeed,
    Rounding,
    Rows,
    Source,
    Symbol,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    show,
    stop,
    table,
    text_result,
)

GEOMETRY = Source(
    "solids-of-revolution", "Mass and inertia of cylinders by hand, and by random points in the "
    "section", kind="derivation",
)  # fmt: skip
LIFTING = Source(
    "iso-11228-1", "ISO 11228-1:2021 Manual handling - Lifting, lowering and carrying; reference "
    "mass of 25 kg, from memory", kind="from memory",
)  # fmt: skip
ALONE, REFERENCE, TWO = 15.0, 25.0, 40.0
"""Masses in kg: one person close to the body; the reference mass; two persons."""


@dataclass(frozen=True)
class FlywheelMass:
    """Mass, inertia, centre of mass and who lifts it."""

    mass: Mass = result("Mass", lead=True, rounding=Rounding(figures=3))
    lift: str = text_result("Lift it")
    pull: Force = result("Pull on the hoist", rounding=Rounding(figures=3), seldom=True)
    centre: Length = result(
        "Centre of mass along the axis", rounding=Rounding(decimals=1, us_decimals=2),
        help="From where z is counted.",
    )  # fmt: skip
    inertia: Inertia = result("Moment of inertia", rounding=Rounding(figures=3), seldom=True)
    energy: Energy = result(
        "Energy at that speed", unit="kJ", us_unit="kJ", rounding=Rounding(figures=3), seldom=True
    )
    holes: Mass = result("Of it taken out by holes", unit="g", us_unit="oz",
                         rounding=Rounding(figures=2), seldom=True)  # fmt: skip
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class _Ring:
    """Outside and inside diameter, thickness, middle; mm."""

    outer: float
    inner: float
    thick: float
    z: float

    @property
    def volume(self) -> float:
        return math.pi / 4 * (self.outer**2 - self.inner**2) * self.thick

    def meets(self, other: _Ring) -> bool:
        """Whether the two overlap by more than a rounding."""
        across = min(self.outer, other.outer) - max(self.inner, other.inner)
        along = min(self.z + self.thick / 2, other.z + other.thick / 2) - max(
            self.z - self.thick / 2, other.z - other.thick / 2
        )
        return across > 1e-6 and along > 1e-6


_RINGS = {
    "outer": column("Outside", Length, units=("mm", "in"), least="1 mm", most="2000 mm"),
    "inner": column("Inside", Length, units=("mm", "in"), least="0 mm", most="2000 mm"),
    "thick": column("Thick", Length, units=("mm", "in"), least="0.1 mm", most="1000 mm"),
    "z": column("at z", Length, units=("mm", "in"), least="-1000 mm", most="1000 mm"),
}
_HOLES = {
    "number": column("How many", Count, least=1, most=200),
    "size": column("Diameter", Length, units=("mm", "in"), least="0.5 mm", most="500 mm"),
    "radius": column("On radius", Length, units=("mm", "in"), least="0 mm", most="1000 mm"),
    "deep": column("Deep", Length, units=("mm", "in"), least="0.1 mm", most="1000 mm"),
    "z": column("at z", Length, units=("mm", "in"), least="-1000 mm", most="1000 mm"),
}
_NOTED = (("280", "220", "30", "15"), ("220", "90", "12", "6"), ("90", "35", "40", "20"))


@calculator(
    name="flywheel-mass",
    title="What the flywheel weighs",
    topic="handling",
    purpose="Mass, centre of mass and inertia of a flywheel from the rings of its section, and who "
    "may lift it.",
    formulas=(
        Formula(r"m = \rho\,\frac{\pi}{4}\left(D_o^2 - D_i^2\right) t", "Mass of a ring"),
        Formula(r"I = \frac{m}{8}\left(D_o^2 + D_i^2\right)", "Its moment of inertia"),
        Formula(r"z_c = \frac{\sum m_i z_i}{\sum m_i}", "Centre of mass"),
        Formula(r"W = \frac{1}{2}\,I\,\omega^2", "Energy"),
    ),
    symbols=(
        Symbol("D_o, D_i, t", "outside, inside, thickness of a ring", "mm"),
        Symbol("z_i", "middle of a ring along the axis", "mm"),
        Symbol(r"\rho", "density", "kg/m³"),
        Symbol(r"\omega", "angular speed", "rad/s"),
    ),
    assumptions=(
        "Rings do not overlap; teeth count to their middle.",
        "One person close to the body 15 kg, with good grip 25 kg; two persons 40 kg.",
    ),
    sources=(GEOMETRY, METAL_VALUES, LIFTING),
    check_values=(
        CheckValue(
            "rim, web and hub of grey iron", {"rings": _NOTED, "holes": [], "speed": "3000 r/min"},
            {"mass": "9.3792 kg", "inertia": "0.101793 kg·m²", "centre": "13.205 mm",
             "energy": "5.023 kJ"},
            source=GEOMETRY, remark="5.0894 + 2.7347 + 1.5551 kg.",
        ),
        CheckValue(
            "a steel disc 100 by 10", {"rings": [["100", "0", "10", "0"]], "holes": [],
                                       "metal": "steel"},
            {"mass": "0.61654 kg", "inertia": "0.00077067 kg·m²", "centre": "0.0 mm"},
            source=GEOMETRY, remark="7850 π 0.05² 0.01 and m r²/2.",
        ),
        CheckValue(
            "four holes of 10 in it", {"rings": [["100", "0", "10", "0"]],
                                       "holes": [["4", "10", "30", "10", "0"]], "metal": "steel"},
            {"mass": "0.59188 kg", "holes": "24.66 g"}, source=GEOMETRY,
            remark="4 × 7850 π 0.005² 0.01 = 24.66 g.",
        ),
        CheckValue(
            "too heavy for hands",
            {"rings": [["420", "300", "80", "40"], ["300", "60", "25", "12"]], "holes": []},
            {"lift": "with the hoist"}, source=LIFTING, findings=("hoist",),
        ),
        CheckValue(
            "a hub counted twice",
            {"rings": [["280", "220", "30", "15"], ["220", "35", "12", "6"],
                       ["90", "35", "40", "20"]]},
            source=GEOMETRY, refused=("rings",), remark="It would weigh 9.685 kg.",
        ),
    ),
)  # fmt: skip
def flywheel_mass(
    *,
    rings: Rows = table(
        "Rings of the section", _RINGS,
        default=(("382", "312", "67", "33.5"), ("312", "120", "20", "10"),
                 ("120", "45", "45", "22.5")),
        most_rows=10, help="z along the axis, from any face.",
    ),
    holes: Rows = table(
        "Holes", _HOLES, default=(("4", "8", "31", "20", "10"),), least_rows=0, most_rows=8,
        seldom=True,
    ),
    metal: str = choice("Metal", CHOICES, default="iron"),
    speed: RotationalSpeed = entry(
        "Speed", "2400 r/min", least=0, most="20000 r/min", seldom=True,
        why="No engine runs there.",
    ),
) -> FlywheelMass:  # fmt: skip
    """Mass and inertia; see the module's docstring."""
    parts = [
        _Ring(*(row.__dict__[name].m_as("mm") for name in ("outer", "inner", "thick", "z")))
        for row in rings
    ]
    _refuse(parts)
    dense = METALS[metal].density * 1e-9  # kg/mm³
    solid = [(dense * part.volume, part) for part in parts]
    drilled = [(dense * math.pi / 4 * row.size.m_as("mm") ** 2 * row.deep.m_as("mm"), row)
               for row in holes]  # fmt: skip
    out = sum(row.number * m for m, row in drilled)
    mass = sum(m for m, _ in solid) - out
    if mass <= 0:
        raise RefusedError("holes", "The holes weigh more than the flywheel. Check the figures.")
    inertia = sum(m * (part.outer**2 + part.inner**2) / 8 for m, part in solid) - sum(
        row.number * m * (row.radius.m_as("mm") ** 2 + row.size.m_as("mm") ** 2 / 8)
        for m, row in drilled
    )
    moment = sum(m * part.z for m, part in solid) - sum(
        row.number * m * row.z.m_as("mm") for m, row in drilled
    )
    omega = speed.m_as("radian/second")
    return FlywheelMass(
        mass=Q(mass, "kg"),
        lift=_lift(mass),
        pull=Q(mass * 9.80665, "N"),
        centre=Q(round(moment / mass, 7), "mm"),
        inertia=Q(inertia * 1e-6, "kg·m²"),
        energy=Q(inertia * 1e-6 * omega**2 / 2, "J"),
        holes=Q(out, "kg"),
        findings=tuple(_findings(mass)),
    )


def _refuse(parts: Sequence[_Ring]) -> None:
    for i, part in enumerate(parts, 1):
        if part.inner >= part.outer:
            raise RefusedError("rings", f"Row {i}: the inside must be smaller than the outside.")
    for (i, first), (j, second) in combinations(enumerate(parts, 1), 2):
        if first.meets(second):
            raise RefusedError(
                "rings",
                f"Rows {i} and {j} overlap: that metal would be counted twice. The inside of the "
                "one is the outside of the other.",
            )


def _lift(mass: float) -> str:
    if mass > TWO:
        return "with the hoist"
    if mass > REFERENCE:
        return "with the hoist, or two persons"
    return "two persons, or one with good grip" if mass > ALONE else "one person, close to the body"


def _findings(mass: float) -> Iterator[Finding]:
    said = show(Q(mass, "kg"), "kg", 3)
    if mass > TWO:
        yield stop("hoist", f"{said} is lifted with the hoist only: eye, strap through it, guide "
                            "studs. No hands.")  # fmt: skip
    elif mass > REFERENCE:
        yield caution(
            "two-or-hoist",
            f"{said} is beyond the 25 kg for one person: hoist, or two who have agreed on the "
            "word. It comes off its seat all at once.",
        )
    elif mass > ALONE:
        yield caution(
            "heavy", f"{said}: close to the body, both feet firm, or call a second person."
        )
    yield note(
        "edges",
        "No fingers under the rim or in the teeth. Lay it on wood, face up: on its edge it rolls.",
    )


@flywheel_mass.drawing("The section")
def _draw(entries: Any, results: FlywheelMass) -> Drawing:
    sheet = Drawing(
        "The section",
        f"Upper half of the section through the axis, {len(entries.rings)} rings. Mass "
        f"{show(results.mass, 'kg', 3)}, cross at the centre of mass.",
        max_height=250,
    )
    widest = 0.0
    low, high = math.inf, -math.inf
    for row in entries.rings:
        outer, inner, thick, z = (
            row.__dict__[name].m_as("mm") for name in ("outer", "inner", "thick", "z")
        )
        sheet.rect(z - thick / 2, inner / 2, thick, (outer - inner) / 2, cut="/")
        widest, low, high = max(widest, outer), min(low, z - thick / 2), max(high, z + thick / 2)
    sheet.line((low - 8, 0), (high + 8, 0), "centre")
    sheet.mark((results.centre.m_as("mm"), 0), "centre of mass", "s", strong=True)
    sheet.dimension((high, 0), (high, widest / 2),
                    f"R {show(Q(widest / 2, 'mm'), 'mm', 3)}", side="right")  # fmt: skip
    return sheet
