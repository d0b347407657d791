"""How hot a ring gear must be to drop on its flywheel, and what holds it there afterwards.

Purpose at the bench: the ring is a few tenths of a millimetre smaller than its seat. Warm
enough it drops on with room to spare; too hot its teeth lose their hardness. The temperature
is worked out from the widest seat and the narrowest bore, the hold from the opposite.

T = T_0 + (d_max + s)/(alpha D), with s the room to drop it on. Where that is beyond the
ceiling, the rest is taken off the seat by cooling it, with the smaller expansion of cold
metal. Roughness flattens: d_w = d - 0.8 (Rz_o + Rz_i). Pressure and hoop stress after Lamé
(``calculators.shrink_ring``); slip torque mu p pi D^2 b/2, axial hold mu p pi D b, both with
the least interference less roughness and what speed takes off.

Symbols: d interference on the diameter, D joint, s room, alpha expansion, T_0 temperature of
the parts, p pressure, b width, mu friction, Rz roughness.

Assumptions: elastic, plane stress, the ring as thick as to the roots of its teeth; ring and
seat each of one temperature all round.

Sources: Lamé; DIN 7190-1 (roughness, cold expansion) from memory; temper colours and ceiling:
common practice. The maker's instruction wins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.metals import CHOICES, METAL_VALUES, METALS
from calculators.ring_gear_advice import Fitted, colour_of, draw_heating, findings_of
from calculators.shrink_ring import ShrunkRing
from witnessmark.calc import (
    Chart,
    CheckValue,
    Finding,
    Force,
    Formula,
    Length,
    Number,
    Pressure,
    Q,
    RefusedError,
    RotationalSpeed,
    Rounding,
    Source,
    Stress,
    Symbol,
    Temperature,
    Torque,
    as_entered,
    calculator,
    choice,
    entry,
    later,
    result,
    text_result,
)

LAME = Source(
    "lame-two-rings",
    "Displacements of ring and disc from their boundary conditions, solved as a linear system",
    kind="derivation",
)
EXPANSION = Source(
    "expansion-by-hand", "Interference and room over expansion and diameter, by hand",
    kind="derivation",
)  # fmt: skip
DISCS = Source(
    "timoshenko-goodier", "S. Timoshenko, J. N. Goodier, Theory of Elasticity (1951)",
    "rotating discs", kind="handbook",
)  # fmt: skip
DIN_7190 = Source(
    "din-7190-1-2017", "DIN 7190-1:2017 Interference fits - Calculation and design rules for "
    "cylindrical self-locking pressfits, from memory", kind="from memory",
)  # fmt: skip
PRACTICE = Source(
    "ring-gear-practice", "Workshop practice with ring gears: ceiling 200 °C to 220 °C, temper "
    "colours; no published source", kind="common practice",
)  # fmt: skip
_FINE = Rounding(decimals=2, us_decimals=4)
_COLD_SHARE = 0.74
"""Expansion averaged down to -190 °C over that at room temperature: steel 8.5 to 11.5."""
_SMOOTH = {"ring_rz": "0 µm", "seat_rz": "0 µm", "speed": "1 r/min"}
_NOTED = _SMOOTH | {
    "bore": "260 mm", "seat": "260.40 mm", "outer": "290 mm", "hole": "0 mm", "width": "12 mm",
    "seat_metal": "steel", "friction": "0.12",
}  # fmt: skip


@dataclass(frozen=True)
class RingGear:
    """Temperature to heat to, room it gives, and the hold of the fitted ring."""

    heat_to: Temperature = result(
        "Heat the ring to", lead=True, unit="°C",
        rounding=Rounding(step="1 °C", us_step="1 °F", toward="up"),
    )  # fmt: skip
    interference: Length = result("Seat larger than bore by", rounding=_FINE)
    room: Length = result(
        "Room to drop it at the ceiling", rounding=Rounding(decimals=2, us_decimals=4,
                                                            toward="down"),
        help="With the widest seat and the narrowest bore; below zero it does not go on.",
    )  # fmt: skip
    slip_torque: Torque = result(
        "Holds a torque of", rounding=Rounding(figures=3, toward="down"),
        help="With the least interference, at the speed entered.",
    )  # fmt: skip
    cool_to: Temperature | None = result(
        "and cool the flywheel to", unit="°C",
        rounding=Rounding(step="1 °C", us_step="1 °F", toward="down"),
    )  # fmt: skip
    colour: str = text_result("Colour of bright steel at that heat", seldom=True)
    pressure: Pressure = result("Pressure in the joint", unit="MPa", us_unit="psi",
                                rounding=Rounding(figures=3), seldom=True)  # fmt: skip
    hoop: Stress = result("Hoop stress in the ring", rounding=Rounding(figures=3), seldom=True)
    mises: Stress = result(
        "Equivalent stress", rounding=Rounding(figures=3), seldom=True, help="After von Mises."
    )
    axial: Force = result(
        "Holds an axial force of", unit="kN", rounding=Rounding(figures=3, toward="down"),
        seldom=True,
    )  # fmt: skip
    lost: Length = result(
        "Speed takes off the interference", rounding=Rounding(decimals=4, us_decimals=5),
        seldom=True,
    )  # fmt: skip
    loose_at: RotationalSpeed = result(
        "Loose at a speed of", rounding=Rounding(figures=2, toward="down"), seldom=True
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="ring-gear-heat",
    title="How hot the ring gear must be",
    topic="fits",
    purpose="Temperature at which a ring gear drops on its flywheel, judged against what its "
    "teeth stand, and how firmly it sits when cold.",
    formulas=(
        Formula(r"T = T_0 + \frac{\delta_{max} + s}{\alpha\,D}", "Temperature of the ring"),
        Formula(
            r"p = \frac{\delta_w}{D \left[\frac{1}{E_o}\left(\frac{D_o^2 + D^2}{D_o^2 - D^2}"
            r" + \nu_o\right) + \frac{1}{E_i}\left(\frac{D^2 + D_i^2}{D^2 - D_i^2} - \nu_i"
            r"\right)\right]}",
            "Pressure",
        ),
        Formula(r"\delta_w = \delta - 0.8\,(Rz_o + Rz_i) - \delta_n", "Interference that holds"),
        Formula(r"T_s = \mu\,p\,\pi\,\frac{D^2 b}{2}", "Torque at which it slips"),
    ),
    symbols=(
        Symbol(r"\delta", "seat less bore", "mm"),
        Symbol(r"\delta_n", "taken off by speed", "mm"),
        Symbol("s", "room to drop the ring on", "mm"),
        Symbol("D, D_o, D_i", "diameter of joint, ring outside, hole in the seat", "mm"),
        Symbol("b", "width of the joint", "mm"),
        Symbol(r"\alpha", "expansion of the ring", "1/K"),
        Symbol(r"E, \nu", "modulus and Poisson's ratio", "MPa, 1"),
        Symbol(r"\mu", "friction", "1"),
    ),
    assumptions=(
        "Elastic; the ring counts as thick as to the roots of its teeth.",
        "A range of bore or seat gives heat by its worst pair, hold by the opposite one.",
        "Cold metal expands 0.74 times as much as warm (down to -190 °C).",
    ),
    sources=(LAME, DISCS, DIN_7190, METAL_VALUES, PRACTICE),
    check_values=(
        CheckValue(
            "ring 260/290 on a solid disc of steel, 0.40 mm", _NOTED,
            {"pressure": "31.09 MPa", "hoop": "285.8 MPa", "mises": "302.6 MPa",
             "slip_torque": "4754 N·m", "axial": "36.57 kN"},
            source=LAME,
        ),
        CheckValue(
            "0.40 mm and 0.10 mm of room on 260 mm: 187.2 °C",
            _NOTED | {"clearance": "0.10 mm"}, {"heat_to": "187.2 °C"}, source=EXPANSION,
        ),
        CheckValue(
            "0.45 mm and 0.15 mm of room: 220.7 °C is beyond the ceiling",
            _NOTED | {"seat": "260.45 mm", "clearance": "0.15 mm"}, {"heat_to": "220.7 °C"},
            source=EXPANSION, findings=("above-ceiling",),
        ),
        CheckValue(
            "limits of both parts: the widest seat in the narrowest bore decides",
            _NOTED | {"bore": "260.00 ± 0.02 mm", "seat": "260.38 ± 0.03 mm",
                      "clearance": "0.12 mm"},
            {"heat_to": "203.96 °C"}, source=EXPANSION, remark="0.43 + 0.12 on 259.98 mm.",
        ),
        CheckValue(
            "6000 r/min take 0.0678 mm off", _NOTED | {"speed": "6000 r/min"},
            {"lost": "0.0678 mm"}, source=DISCS, remark="Ring 0.0794 mm, disc 0.0116 mm.",
        ),
        CheckValue(
            "rough surfaces, Rz 6.3 µm each: 10.1 µm less",
            _NOTED | {"ring_rz": "6.3 µm", "seat_rz": "6.3 µm"}, {"pressure": "30.31 MPa"},
            source=DIN_7190, remark="31.089 × (400 - 10.08)/400.",
        ),
        CheckValue(
            "0.60 mm under a ceiling of 200 °C: the flywheel is cooled",
            _NOTED | {"seat": "260.60 mm", "clearance": "0.10 mm"},
            {"cool_to": "-53.2 °C"}, source=EXPANSION, findings=("above-ceiling",), abs_="0.6 K",
            remark="0.70 - 0.5382 mm are left for 260 mm × 8.51·10⁻⁶ /K.",
        ),
        CheckValue(
            "a bore wider than the seat", {"seat": "339.9 mm"}, source=PRACTICE,
            refused=("seat",),
        ),
    ),
)  # fmt: skip
def ring_gear_heat(
    *,
    seat: Length = entry(
        "Seat on the flywheel", "340.38 ± 0.02 mm", units=("mm", "in"), least="50 mm",
        most="800 mm", why="Rings are fitted so from 50 mm to 800 mm.",
        help="Measured cold, three places.",
    ),
    bore: Length = entry(
        "Bore of the ring", "340.00 ± 0.02 mm", units=("mm", "in"), least="50 mm", most="800 mm",
        why="Rings are fitted so from 50 mm to 800 mm.",
    ),
    start: Temperature = entry(
        "Parts and shop at", "20 °C", least="-30 °C", most="60 °C",
        why="Measure and fit at the temperature of the shop.",
    ),
    clearance: Length = entry(
        "Room to drop it on", "0.20 mm", units=("mm", "µm", "in", "thou"), least=0, most="2 mm",
        usual=("0.1 mm", "0.5 mm"), why="More is not needed.",
        usual_why="With less it catches and grips half way.",
    ),
    ceiling: Temperature = entry(
        "Not hotter than", "200 °C", least="80 °C", most="350 °C", usual=("120 °C", "220 °C"),
        why="Hardened teeth are spoilt long before.",
        usual_why="Above 220 °C hardened teeth soften.",
    ),
    torque: Torque | None = entry(
        "Torque the ring must hold", "", above=0, most="50 kN·m", optional=True, seldom=True,
        why="No starter gives that.", help="Of the starter or the turning tool, at the ring.",
    ),
    width: Length = entry(
        "Width of the joint", "16 mm", units=("mm", "in"), above=0, most="200 mm", seldom=True,
        why="No ring gear is so wide.",
    ),
    outer: Length = entry(
        "Ring, diameter at the roots", "355.5 mm", units=("mm", "in"), least="51 mm",
        most="900 mm", seldom=True, why="The ring has a wall.",
    ),
    hole: Length = entry(
        "Hole in the flywheel", "0 mm", units=("mm", "in"), least=0, most="700 mm", seldom=True,
        why="The flywheel has a rim.", help="0 for a web without a large hole.",
    ),
    ring_metal: str = choice("Ring of", CHOICES, default="steel", seldom=True),
    seat_metal: str = choice("Flywheel of", CHOICES, default="iron", seldom=True),
    speed: RotationalSpeed = entry(
        "Greatest speed", "2400 r/min", least=0, most="12000 r/min", seldom=True,
        why="A flywheel bursts.",
    ),
    friction: Number = entry(
        "Friction", "0.12", above=0, most=0.6, usual=("0.1", "0.2"), seldom=True,
        why="Dry steel on iron does not go beyond that.",
    ),
    ring_rz: Length = entry(
        "Roughness Rz of the bore", "10 µm", units=("µm", "thou"), least=0, most="200 µm",
        seldom=True, why="Turn it first.",
    ),
    seat_rz: Length = entry(
        "Roughness Rz of the seat", "10 µm", units=("µm", "thou"), least=0, most="200 µm",
        seldom=True, why="Turn it first.",
    ),
    strength: Stress = entry(
        "Yield strength of the ring", "400 MPa", units=("MPa", "N/mm²", "ksi"), above=0,
        most="2000 MPa", seldom=True, why="No steel is so strong.",
    ),
) -> RingGear:  # fmt: skip
    """Heat, room and hold; see the module's docstring."""
    seats, bores = as_entered("seat", seat), as_entered("bore", bore)
    widest = seats.high.m_as("mm") - bores.low.m_as("mm")
    narrowest = seats.low.m_as("mm") - bores.high.m_as("mm")
    d, tight = bore.m_as("mm"), seat.m_as("mm") - bore.m_as("mm")
    if widest <= 0:
        raise RefusedError(
            "seat", "The ring is not smaller than its seat: it would fall off. Measure both again."
        )
    body = ShrunkRing(
        hole.m_as("mm"), d, outer.m_as("mm"), width.m_as("mm"), METALS[ring_metal],
        METALS[seat_metal],
    )  # fmt: skip
    if body.outer <= d:
        raise RefusedError("outer", "The ring must be larger outside than inside.")
    if body.hole >= d:
        raise RefusedError("hole", "The hole in the flywheel must be smaller than the seat.")
    smallest, room = bores.low.m_as("mm"), clearance.m_as("mm")
    cold = start.m_as("K") - 273.15
    per_degree = body.ring.expansion * smallest
    heat = cold + (widest + room) / per_degree
    most = ceiling.m_as("K") - 273.15
    at_ceiling = per_degree * (most - cold) - widest
    cool = None
    if heat > most + 1e-9:
        cool = cold - (room - at_ceiling) / (_COLD_SHARE * body.disc.expansion * smallest)
    rough = 0.8 * (ring_rz.m_as("mm") + seat_rz.m_as("mm"))
    lost = body.growth(speed.m_as("radian/second"))
    at_rest = body.pressure(tight - rough)
    holding = body.pressure(tight - rough - lost)
    hoop = body.hoop(at_rest)
    grip = friction.m_as("") * holding * math.pi * d * body.width
    least = body.pressure(narrowest - rough - lost)
    fitted = Fitted(
        cold, heat, most, widest, narrowest - rough - lost, room, at_ceiling, per_degree,
        body.hoop(body.pressure(widest)) / strength.m_as("MPa"),
        friction.m_as("") * least * math.pi * d**2 * body.width / 2000,
        torque.m_as("newton*meter") if torque is not None else None, cool,
    )  # fmt: skip
    return RingGear(
        heat_to=_degrees(heat),
        interference=Q(round(tight, 9), "mm"),
        room=Q(round(at_ceiling, 9), "mm"),
        slip_torque=Q(grip * d / 2000, "N·m"),
        cool_to=_degrees(cool) if cool is not None and cool > -200 else None,
        colour=later(lambda: colour_of(heat)),
        pressure=Q(at_rest, "MPa"),
        hoop=Q(hoop, "MPa"),
        mises=Q(math.sqrt(hoop**2 + at_rest**2 + hoop * at_rest), "MPa"),
        axial=Q(grip, "N"),
        lost=Q(lost, "mm"),
        loose_at=Q(_loose_at(body, narrowest - rough), "rad/s"),
        findings=later(lambda: tuple(findings_of(fitted))),
    )


def _degrees(celsius: float) -> Any:
    """A temperature in kelvin, as temperatures are kept."""
    return Q(round(celsius, 9) + 273.15, "K")


def _loose_at(body: ShrunkRing, tight: float) -> float:
    """Speed in rad/s at which nothing is left of the interference."""
    return math.sqrt(max(tight, 0.0) / body.growth(1.0))


@ring_gear_heat.drawing("Room against temperature of the ring")
def _draw(entries: Any, results: RingGear) -> Chart:
    return draw_heating(entries, results)
