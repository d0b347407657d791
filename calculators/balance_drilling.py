"""How much unbalance a flywheel may keep, and how deep to drill for what it has.

Purpose at the bench: a grade and the highest service speed give the unbalance that may stay;
what is found beyond it is drilled away at the heavy spot. The depth follows from the mass of
the chips, the point of the drill counted in.

e_per = G/omega, U_per = m e_per = 9549.3 G m/n in g mm with m in kg and n in r/min.
Axial hole at radius r: m = rho (pi/4) d^2 (L + h/3), point h = (d/2)/tan 59°.
Radial hole from the rim R: U = rho (pi/4) d^2 [R L - L^2/2 + (h/3)(R - L - h/4)].
Several holes side by side, at angles beta apart, work as n sin(n beta/2)/(n sin(beta/2)).

Symbols: G grade, omega angular speed, m mass, U unbalance, d drill, L depth at full diameter,
rho density.

Assumptions: a rotor like a disc, one plane; the unbalance lies in the plane of the holes.

Sources: ISO 21940-11 (grades), solid geometry. The maker's figure wins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.balance_vectors import BY_HAND, ISO_21940, PRACTICE
from calculators.metals import CHOICES, METAL_VALUES, METALS
from witnessmark.calc import (
    CheckValue,
    Count,
    Drawing,
    Finding,
    Formula,
    Length,
    Mass,
    Q,
    RefusedError,
    RotationalSpeed,
    Rounding,
    Source,
    Symbol,
    Unbalance,
    as_entered,
    calculator,
    caution,
    choice,
    entry,
    note,
    result,
    show,
    stop,
)

GEOMETRY = Source(
    "drilled-volume",
    "Volumes and moments of cylinder and cone, by hand",
    kind="derivation",
)
GRADES = {
    "2.5": "G 2.5, finer than engines need",
    "6.3": "G 6.3, flywheels and machinery",
    "16": "G 16, rigid crank drives",
    "40": "G 40, elastic crank drives",
}
_POINT = math.tan(math.radians(59))
_SPACING = 1.5
"""Holes side by side stand so many diameters apart."""
_MOST_HOLES = 8
_UNBALANCE = ("g·mm", "oz·in")


@dataclass(frozen=True)
class BalanceDrilling:
    """What may stay, what is taken off, and the holes for it."""

    allowed: Unbalance = result(
        "Unbalance that may stay", lead=True, rounding=Rounding(figures=3, toward="down")
    )
    depth: Length = result(
        "Drill from the touch of the tip", rounding=Rounding(decimals=1, us_decimals=2),
        help="Feed of the drill, point and all.",
    )  # fmt: skip
    holes: Count = result("Holes side by side")
    mass: Mass = result(
        "Metal to take off in all", unit="g", us_unit="oz", rounding=Rounding(figures=2)
    )
    full_depth: Length = result(
        "Depth at full diameter", rounding=Rounding(decimals=2, us_decimals=3), seldom=True
    )
    eccentricity: Length = result(
        "Centre of mass may be off by", unit="µm", us_unit="thou", rounding=Rounding(figures=3),
        seldom=True,
    )  # fmt: skip
    residue: Mass = result(
        "What may stay, as a mass at the holes", unit="g", us_unit="oz",
        rounding=Rounding(figures=2, toward="down"), seldom=True,
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


@calculator(
    name="balance-drilling",
    title="What unbalance may stay, and how deep to drill",
    topic="runout and balance",
    purpose="Permissible unbalance of a flywheel from its grade and speed, and the holes that take "
    "a found unbalance away.",
    formulas=(
        Formula(r"U_{per} = \frac{G\,m}{\omega}", "Unbalance that may stay"),
        Formula(
            r"m = \rho\,\frac{\pi}{4}\,d^2 \left(L + \frac{h}{3}\right)", "Metal of an axial hole"
        ),
        Formula(
            r"U = \rho\,\frac{\pi}{4}\,d^2 \left[R L - \frac{L^2}{2} + \frac{h}{3}"
            r"\left(R - L - \frac{h}{4}\right)\right]",
            "Unbalance of a radial hole from the rim",
        ),
        Formula(r"h = \frac{d}{2 \tan 59°}", "Point of a drill"),
    ),
    symbols=(
        Symbol("G", "grade, speed of the centre of mass", "mm/s"),
        Symbol(r"m,\ \omega", "mass, highest angular speed in service", "kg, rad/s"),
        Symbol(r"d,\ L", "diameter of the drill, depth at full diameter", "mm"),
        Symbol("R", "radius of the rim", "mm"),
        Symbol(r"\rho", "density", "kg/m³"),
    ),
    assumptions=(
        "A rotor like a disc, narrower than a third of its diameter: one plane will do.",
        "Holes side by side stand one and a half diameters apart, even about the heavy spot.",
    ),
    sources=(ISO_21940, GEOMETRY, METAL_VALUES, PRACTICE),
    check_values=(
        CheckValue(
            "8.5 kg, G 6.3, 6000 r/min: 85.23 g·mm",
            {"mass": "8.5 kg", "speed": "6000 r/min", "radius": "120 mm"},
            {"allowed": "85.227 g·mm", "eccentricity": "10.027 µm", "residue": "0.710 g"},
            source=ISO_21940, remark="10.027 µm: the diagram of the standard shows 10 µm.",
        ),
        CheckValue(
            "3.75 g with a 10 mm drill in steel: 5.081 mm at full diameter",
            {"found": "375 g·mm", "radius": "100 mm", "drill": "10 mm", "metal": "steel"},
            {"full_depth": "5.081 mm", "depth": "8.085 mm", "mass": "3.750 g", "holes": "1"},
            source=GEOMETRY, remark="6.082 mm if the point were ignored; point 3.0043 mm.",
        ),
        CheckValue(
            "radial, 525 g·mm at a rim of 140 mm, flat cutter of 10 mm: 6.2206 mm",
            {"found": "525 g·mm", "radius": "140 mm", "drill": "10 mm", "metal": "steel",
             "way": "radial", "tool": "flat"},
            {"full_depth": "6.2206 mm", "mass": "3.8352 g"}, source=GEOMETRY,
            remark="6.08 mm if all the metal were taken at the rim.",
        ),
        CheckValue(
            "two holes where one would be too deep",
            {"found": "750 g·mm", "radius": "100 mm", "drill": "10 mm", "metal": "steel",
             "deepest": "10 mm"},
            {"holes": "2", "full_depth": "5.098 mm"}, source=BY_HAND,
            remark="Each 375/cos 4.3° = 376.06 g·mm at 100 mm: 3.7606 g.",
        ),
        CheckValue(
            "nothing found to take off", {"found": "0 g·mm"}, {"depth": "0.0 mm", "mass": "0 g"},
            source=BY_HAND,
        ),
        CheckValue(
            "deeper than the metal", {"found": "20000 g·mm", "deepest": "3 mm"}, source=PRACTICE,
            findings=("too-much",),
        ),
    ),
)  # fmt: skip
def balance_drilling(
    *,
    mass: Mass = entry(
        "Mass of the flywheel", "31 kg", units=("kg", "lb"), above=0, most="500 kg",
        why="That is no part for a hand drill.",
    ),
    speed: RotationalSpeed = entry(
        "Highest speed in service", "2400 r/min", least="100 r/min", most="20000 r/min",
        why="No engine runs there.", help="Not the idle speed.",
    ),
    found: Unbalance = entry(
        "Unbalance found", "1500 g·mm", units=_UNBALANCE, least=0, most="1000000 g·mm",
        why="That flywheel is broken.", help="At the heavy spot, from the runs or the knife edges.",
    ),
    radius: Length = entry(
        "Holes at radius", "175 mm", units=("mm", "in"), least="10 mm", most="600 mm",
        why="Measured from the axis.", help="Of the rim itself, for holes from the rim.",
    ),
    drill: Length = entry(
        "Drill", "10 mm", units=("mm", "in"), least="2 mm", most="40 mm",
        why="Take one you can hold.",
    ),
    deepest: Length = entry(
        "No deeper than", "15 mm", units=("mm", "in"), above=0, most="200 mm",
        why="The metal ends there.", help="To the tip; leave half the wall standing.",
    ),
    grade: str = choice("Grade", GRADES, default="6.3", seldom=True),
    way: str = choice(
        "Holes", {"axial": "along the axis, into the face", "radial": "from the rim inward"},
        default="axial", seldom=True,
    ),
    tool: str = choice(
        "Tool", {"drill": "drill with a point of 118°", "flat": "flat cutter"}, default="drill",
        seldom=True,
    ),
    metal: str = choice("Metal", CHOICES, default="iron", seldom=True),
) -> BalanceDrilling:  # fmt: skip
    """Unbalance and holes; see the module's docstring."""
    omega, kilograms = speed.m_as("radian/second"), mass.m_as("kg")
    eccentricity = 1000 * float(grade) / omega  # µm, which times kg is g mm
    allowed = eccentricity * kilograms
    amount, r, d = found.m_as("gram*millimeter"), radius.m_as("mm"), drill.m_as("mm")
    bore = _Bore(
        r, d, METALS[metal].density * 1e-6, d / 2 / _POINT if tool == "drill" else 0.0,
        way == "radial",
    )  # fmt: skip
    limit = deepest.m_as("mm")
    decided = as_entered("found", found).value.m_as("gram*millimeter")
    number = _holes(bore, decided, limit)
    each = amount / bore.together(number)
    full = bore.full_depth(each)
    if math.isinf(full):
        raise RefusedError(
            "found", "No hole from the rim takes so much away, be it as deep as the radius."
        )
    tip = bore.tip(full, each)
    return BalanceDrilling(
        allowed=Q(allowed, "g·mm"),
        depth=Q(tip, "mm"),
        holes=number,
        mass=Q(number * bore.mass(full, each), "g"),
        full_depth=Q(max(full, 0.0), "mm"),
        eccentricity=Q(eccentricity, "µm"),
        residue=Q(allowed / r, "g"),
        findings=tuple(_findings(amount, allowed, tip, limit, number, bore)),
    )


@dataclass(frozen=True)
class _Bore:
    """A hole: radius and drill in mm, density in g/mm³, point in mm, from the rim or not."""

    radius: float
    drill: float
    density: float
    point: float
    radial: bool

    @property
    def section(self) -> float:
        """Metal in g per mm of depth."""
        return self.density * math.pi / 4 * self.drill**2

    def together(self, number: int) -> float:
        """What so many holes side by side count for, as one."""
        beta = _SPACING * self.drill / self.radius
        return math.sin(number * beta / 2) / math.sin(beta / 2)

    def full_depth(self, unbalance: float) -> float:
        """Depth in mm at full diameter; negative where the point alone is too much."""
        wanted, third = unbalance / self.section, self.point / 3
        if not self.radial:
            return wanted / self.radius - third
        # L²/2 - L (R - h/3) + q - (h/3)(R - h/4) = 0
        b = self.radius - third
        rest = wanted - third * (self.radius - self.point / 4)
        under = b**2 - 2 * rest
        return b - math.sqrt(under) if under >= 0 else math.inf

    def tip(self, full: float, unbalance: float) -> float:
        """Depth of the tip in mm; of a part of the point where that is enough."""
        if full >= 0:
            return full + self.point
        cone = self.section / (3 * self.point**2)  # g per mm³ of depth of a part of the point
        return float((unbalance / self.radius / cone) ** (1 / 3))

    def mass(self, full: float, unbalance: float) -> float:
        """Metal taken off in g."""
        if full >= 0:
            return self.section * (full + self.point / 3)
        return unbalance / self.radius


def _holes(bore: _Bore, unbalance: float, deepest: float) -> int:
    """The fewest holes side by side that stay within the depth; the most where none do."""
    for number in range(1, _MOST_HOLES + 1):
        if number * _SPACING * bore.drill > math.pi / 2 * bore.radius:
            return max(number - 1, 1)
        each = unbalance / bore.together(number)
        if bore.tip(bore.full_depth(each), each) <= deepest + 1e-9:
            return number
    return _MOST_HOLES


def _findings(
    amount: float, allowed: float, tip: float, deepest: float, number: int, bore: _Bore
) -> Iterator[Finding]:
    if amount <= allowed:
        yield note(
            "within",
            f"{_gmm(amount)} is within what may stay, {_gmm(allowed)}: nothing has to be drilled.",
            "found",
        )
    if tip > deepest + 1e-6:
        yield stop(
            "too-much",
            f"Even {number} holes would have to be {show(Q(tip, 'mm'), 'mm', 2)} deep. Do not "
            "drill: look for the cause, a wrong flywheel, a lost weight, a bent flange; take a "
            "thicker drill only where the metal allows it.",
            "deepest",
        )
    if number > 1 and tip <= deepest + 1e-6:
        beta = math.degrees(_SPACING * bore.drill / bore.radius)
        yield note(
            "side-by-side",
            f"{number} holes, {show(Q(beta, '°'), '°', 2)} apart, even about the heavy spot.",
        )
    yield caution(
        "where-not-to-drill",
        "Never through the friction face, never near the roots of the ring gear, never into a "
        "rib. Mark flywheel and clutch cover before they are parted: they were balanced together.",
    )
    yield note(
        "check-after",
        "Drill to two thirds first, weigh the chips, run again, then finish.",
    )


def _gmm(unbalance: float) -> str:
    text = show(Q(unbalance, "g·mm"), "g·mm", 3)
    inches = show(Q(1, "mm"), "mm").endswith("in")
    return show(Q(unbalance, "g·mm"), "oz·in", 2) if inches else text


@balance_drilling.drawing("The hole")
def _draw(entries: Any, results: BalanceDrilling) -> Drawing:
    radial = entries.way == "radial"
    d = entries.drill.m_as("mm")
    tip, full = results.depth.m_as("mm"), results.full_depth.m_as("mm")
    wall = max(entries.deepest.m_as("mm"), tip) * 1.25
    side = 1.6 * d
    where = "rim" if radial else "face"
    sheet = Drawing(
        "The hole",
        f"Section of a hole drilled {show(results.depth, 'mm', 2)} deep from the {where}, to the "
        "tip.",
        max_height=250,
    )
    point = [(d / 2, -full), (0.0, -tip), (-d / 2, -full)] if tip > full else [
        (d / 2, -full), (-d / 2, -full)]  # fmt: skip
    if tip < 1e-6:
        point = []
    sheet.polygon(
        [(-side, 0), (-d / 2, 0), *reversed(point), (d / 2, 0), (side, 0), (side, -wall),
         (-side, -wall)], cut="/",
    )  # fmt: skip
    sheet.line((0, 0.15 * wall), (0, -max(tip, 0.3 * wall) - 0.1 * wall), "centre")
    if tip > 0:
        sheet.dimension((side, 0), (0, -tip), show(results.depth, "mm", 2), side="right")
        sheet.dimension((-d / 2, 0), (d / 2, 0), f"Ø {show(entries.drill, 'mm', 2)}", side="above")
    sheet.text((-1.05 * d, 0), where, "n")
    return sheet
