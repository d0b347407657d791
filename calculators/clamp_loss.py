"""What is left of a clamp after the faces have settled and the engine is warm; turn to reach it.

Purpose at the bench: how far the nut turns from snug, how much of the clamp goes as roughness
flattens, and what warmth does where screw and parts are of different metals.

Screw and parts are two springs, compliances d_S and d_P in mm/N (``calculators.joint_stiffness``).
Turning by an angle a stretches them by P a/360: F = F_snug + P a / (360 (d_S + d_P)).
Settling by f loses f/(d_S + d_P). Warming everything by dT changes the clamp by
l (alpha_P - alpha_S) dT/(d_S + d_P): parts that grow more than the screw clamp harder.

Settling, micrometres, by the roughness Rz of the faces: 3 in the thread, then under head or nut
and between parts 2.5 and 1.5 (smooth, Rz below 10 µm), 3 and 2 (usual), 4 and 3 (rough, above
40 µm).

Assumptions: elastic, no yield; one metal in the clamped parts; the same warmth everywhere; the
twist of the shank is not in the turn.

Sources: VDI 2230-1, from memory; moduli and expansions: common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from calculators.chosen_thread import DIAMETER, PITCH, SYSTEM, chosen_thread, thread_choice
from calculators.clamp_friction import face_of
from calculators.clamp_loss_advice import findings_of_loss
from calculators.clamp_loss_drawing import draw
from calculators.joint_stiffness import Clamped, screw_compliance
from witnessmark.calc import (
    Angle,
    CheckValue,
    Count,
    Expansion,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Number,
    Q,
    RefusedError,
    Rounding,
    Source,
    Stiffness,
    Stress,
    Symbol,
    TemperatureDifference,
    calculator,
    choice,
    entry,
    later,
    result,
)

VDI_2230 = Source(
    "vdi-2230-1-stiffness", "VDI 2230-1 Systematic calculation of highly stressed bolted joints, "
    "compliances and settling, quoted from memory", kind="from memory",
)  # fmt: skip
RP_1228 = Source("nasa-rp-1228", "NASA RP-1228 Fastener Design Manual", "washers", "handbook")
QUADRATURE = Source(
    "cone-by-quadrature", "Slices of the pressure cone summed by adaptive quadrature; springs in a "
    "row by hand", kind="derivation",
)  # fmt: skip
PRACTICE = Source(
    "joint-practice", "Bench practice with clamped joints and usual figures of metals, no "
    "published source", kind="common practice",
)  # fmt: skip


class Metal(NamedTuple):
    """A metal of clamped parts: what it is called, modulus in MPa, expansion in 1/K."""

    label: str
    modulus: float
    expansion: float


METALS = {
    "steel": Metal("steel", 205e3, 11.5e-6),
    "iron": Metal("grey iron", 115e3, 10.5e-6),
    "nodular": Metal("nodular iron", 170e3, 11.0e-6),
    "aluminium": Metal("aluminium casting", 72e3, 22.5e-6),
    "magnesium": Metal("magnesium casting", 44.5e3, 26.0e-6),
}
FINISH = {"smooth": ("smooth, ground", 2.5, 1.5), "usual": ("usual, turned or milled", 3.0, 2.0),
          "rough": ("rough", 4.0, 3.0)}  # fmt: skip
THREAD_SETTLES = 3.0


@dataclass(frozen=True)
class ClampLoss:
    """What is left, what has gone where, and the turn that made it."""

    left: Force = result(
        "Clamp left, settled and warm", lead=True, unit="kN", us_unit="lbf",
        help="What holds the parts in service.",
    )  # fmt: skip
    settled: Force = result("Lost as the faces settle", unit="kN", us_unit="lbf")
    warm: Force = result("Change by warmth", unit="kN", us_unit="lbf", rounding=Rounding(figures=2))
    lost: Fraction = result("Settling takes of the clamp", unit="%", us_unit="%",
                            rounding=Rounding(figures=2), band=False, seldom=True)  # fmt: skip
    turn: Angle = result(
        "Turn from snug", rounding=Rounding(step="1 °", us_step="1 °"),
        help="Stretch and squeeze only. The mark moves a little more: faces bed in, the shank "
        "twists.",
    )  # fmt: skip
    each_degree: Force = result(
        "Clamp for one degree", unit="kN", us_unit="lbf", band=False, seldom=True
    )
    stretch: Length = result("The screw is longer by", unit="mm", us_unit="thou",
                             rounding=Rounding(decimals=3, us_decimals=1), band=False,
                             seldom=True)  # fmt: skip
    screw: Stiffness = result("Stiffness of the screw", unit="kN/mm", band=False, seldom=True)
    parts: Stiffness = result("Stiffness of the parts", unit="kN/mm", band=False, seldom=True)
    settling: Length = result("Settling in all", unit="µm", us_unit="thou", band=False, seldom=True,
                              rounding=Rounding(decimals=1, us_decimals=2))  # fmt: skip
    cone: Number = result("Tangent of the pressure cone", band=False, seldom=True)
    findings: tuple[Finding, ...] = ()


M10 = {
    "thread": "M10x1.5", "clamp": "27.557 kN", "grip": "30 mm", "shank": "20 mm",
    "face_outer": "14.63 mm", "face_inner": "11 mm", "outside": "40 mm", "metal": "steel",
    "joint": "nut", "settle_by": "own", "settles": "8 µm", "rise": "0 K",
}  # fmt: skip


@calculator(
    name="clamp-loss",
    title="Turn to clamp, settling and warmth",
    topic="threads",
    purpose="Tells how far a screw turns from snug to its clamp, and how much of that clamp is "
    "left when the faces have settled and the engine is warm.",
    formulas=(
        Formula(r"\theta = \frac{360^\circ}{P}\,(F - F_0)\,(\delta_S + \delta_P)",
                "Turn from snug"),
        Formula(r"\Delta F = \frac{f}{\delta_S + \delta_P}", "Lost by settling"),
        Formula(r"\Delta F = \frac{l\,(\alpha_P - \alpha_S)\,\Delta T}{\delta_S + \delta_P}",
                "Change by warmth"),
        Formula(
            r"\delta_P = \frac{2}{w\,E\,\pi\,d_h\tan\varphi}\ln\frac{(d_w + d_h)"
            r"(d_w + w\,l\tan\varphi - d_h)}{(d_w - d_h)(d_w + w\,l\tan\varphi + d_h)}",
            "Compliance of the parts, while the cone stays inside them",
        ),
    ),
    symbols=(
        Symbol("F, F_0", "clamp, clamp when snug", "N"),
        Symbol(r"\delta_S, \delta_P", "compliance of screw and parts", "mm/N"),
        Symbol("l", "grip: thickness of all that is clamped", "mm"),
        Symbol("f", "settling", "mm"),
        Symbol(r"\alpha_S, \alpha_P", "expansion of screw and parts", "1/K"),
        Symbol("w", "1 with a nut, 2 in a tapped hole", "1"),
        Symbol(r"\varphi", "angle of the pressure cone", "°"),
    ),
    assumptions=(
        "Everything stays elastic. Past yield the angle is the maker's alone.",
        "The clamped parts are of one metal and as warm as the screw.",
        "The load is in the middle of the joint and nothing bends.",
    ),
    sources=(VDI_2230, RP_1228, QUADRATURE, PRACTICE),
    check_values=(
        CheckValue(
            "M10×1.5, grip 30 mm, settling 8 µm", M10,
            {"settled": "2.08 kN", "cone": "0.517", "parts": "1539.2 kN/mm",
             "screw": "312.46 kN/mm"},
            source=QUADRATURE,
        ),
        CheckValue(
            "steel screw in aluminium of the same stiffness, 80 K",
            M10 | {"rise": "80 K", "parts_by": "own", "parts_modulus": "205 GPa",
                   "parts_expansion": "23 µm/(m·K)"},
            {"warm": "7.17 kN"}, source=QUADRATURE,
        ),
        CheckValue(
            "M10×1.5, one degree", M10, {"each_degree": "1.0823 kN"}, source=QUADRATURE, rel=1e-3,
            remark="1.5 mm/360 over 3.8501e-6 mm/N",
        ),
        CheckValue(
            "M10×1.5, turn from 0 to 27.557 kN", M10 | {"snug": "0 kN"}, {"turn": "25 °"},
            source=QUADRATURE, abs_="0.6 °", remark="27.557 over 1.0823 kN for a degree: 25.5°",
        ),
        CheckValue("short grip", M10 | {"grip": "12 mm", "shank": "0 mm"}, source=PRACTICE,
                   findings=("grip-short",)),
        CheckValue("more shank than grip", M10 | {"shank": "31 mm"}, source=PRACTICE,
                   refused=("shank",)),
    ),
)  # fmt: skip
def clamp_loss(
    *,
    thread: str = thread_choice("M12x1.25"),
    diameter: Length = DIAMETER,
    pitch: Length = PITCH,
    system: str = SYSTEM,
    clamp: Force = entry(
        "Clamp force, just tightened", "50 kN", units=("kN", "N", "lbf"), above=0, most="2000 kN",
        help="From the torque and clamp calculator, with its band.",
    ),
    snug: Force = entry(
        "Clamp when snug", "5 kN", units=("kN", "N", "lbf"), least="0 kN", most="500 kN",
        seldom=True, help="Where the angle is counted from: faces together, slack gone.",
    ),
    grip: Length = entry(
        "Grip", "24 mm", units=("mm", "in"), above=0, most="500 mm",
        help="Thickness of everything between head and nut or tapped hole, washers too.",
    ),
    shank: Length = entry(
        "Plain shank in the grip", "12 mm", units=("mm", "in"), least="0 mm", most="500 mm",
        help="0 where the thread runs up to the head.",
    ),
    waist: Length | None = entry(
        "Diameter of the shank", "", units=("mm", "in"), above=0, most="80 mm", optional=True,
        seldom=True, help="Empty: the nominal diameter. Stretch bolts are thinner.",
    ),
    joint: str = choice(
        "Held by", {"nut": "a nut, screw right through", "tapped": "a tapped hole"},
        default="tapped",
    ),
    parts_by: str = choice(
        "Clamped parts", {"metal": "a usual metal", "own": "figures of their own"},
        default="metal", seldom=True,
    ),
    metal: str = choice(
        "Metal of the parts", {name: each.label for name, each in METALS.items()}, default="iron",
        when={"parts_by": "metal"},
    ),
    parts_modulus: Stress = entry(
        "Modulus of the parts", "115 GPa", units=("GPa", "MPa"), least="1 GPa", most="400 GPa",
        when={"parts_by": "own"},
    ),
    parts_expansion: Expansion = entry(
        "Expansion of the parts", "10.5 µm/(m·K)", least="0 µm/(m·K)", most="60 µm/(m·K)",
        when={"parts_by": "own"},
    ),
    outside: Length = entry(
        "Outside of the parts", "60 mm", units=("mm", "in"), above=0, most="1000 mm", seldom=True,
        help="Diameter of the metal round the screw: to the nearest edge or the next hole, twice.",
    ),
    face_outer: Length | None = entry(
        "Face, outside", "", units=("mm", "in"), above=0, most="200 mm", optional=True,
        seldom=True, help="Empty: the washer face of a hexagon.",
    ),
    face_inner: Length | None = entry(
        "Face, hole", "", units=("mm", "in"), above=0, most="150 mm", optional=True, seldom=True,
        help="Empty: a usual clearance hole.",
    ),
    settle_by: str = choice(
        "Settling from", {"faces": "the finish of the faces", "own": "a figure of its own"},
        default="faces", seldom=True,
    ),
    finish: str = choice(
        "Finish of the faces", {name: each[0] for name, each in FINISH.items()}, default="usual",
        when={"settle_by": "faces"}, seldom=True,
    ),
    between: Count = entry("Faces between parts", "1", least=0, most=20, seldom=True,
                           when={"settle_by": "faces"}, help="Each joint counts once; a washer "
                           "adds one."),
    settles: Length = entry(
        "Settling", "8 µm", units=("µm", "mm", "thou"), least="0 µm", most="500 µm",
        when={"settle_by": "own"}, help="In all, thread and faces.",
    ),
    rise: TemperatureDifference = entry(
        "Warmer by", "60 K", units=("K", "°C", "°F"), least="-80 K", most="300 K",
        help="Engine warm against bench.",
    ),
    screw_expansion: Expansion = entry(
        "Expansion of the screw", "11.5 µm/(m·K)", least="5 µm/(m·K)", most="25 µm/(m·K)",
        seldom=True,
    ),
    screw_modulus: Stress = entry(
        "Modulus of the screw", "205 GPa", units=("GPa", "MPa"), least="50 GPa", most="250 GPa",
        seldom=True,
    ),
) -> ClampLoss:  # fmt: skip
    """Clamp left, turn and stiffness; see the module's docstring."""
    form = chosen_thread(thread, diameter, pitch, system)
    length, plain = grip.m_as("millimeter"), shank.m_as("millimeter")
    if plain > length * (1 + 1e-9):
        raise RefusedError("shank", "The plain shank inside the grip cannot be longer than it.")
    thick = form.d if waist is None else waist.m_as("millimeter")
    if thick > 1.1 * form.d:
        raise RefusedError("waist", "A shank is hardly ever thicker than its thread. Measure it.")
    d_w, d_h = face_of(form, face_outer, face_inner)
    across = outside.m_as("millimeter")
    if across < 1.05 * d_h:
        raise RefusedError(
            "outside", f"The parts must be wider than the hole of {d_h:.4g} mm. Measure both."
        )
    part = METALS[metal]
    modulus, expansion = part.modulus, part.expansion
    if parts_by == "own":
        modulus, expansion = parts_modulus.m_as("megapascal"), parts_expansion.m_as("1/kelvin")
    tapped = joint == "tapped"
    clamped = Clamped(length, d_w, d_h, across, modulus, tapped)
    own = screw_modulus.m_as("megapascal")
    d_s = screw_compliance(form, length, plain, thick, own, tapped, modulus)
    d_p = clamped.compliance
    both = d_s + d_p

    force, start = clamp.m_as("newton"), snug.m_as("newton")
    if start >= force:
        raise RefusedError("snug", "Snug is less than the clamp. Check both.")
    if settle_by == "own":
        micrometres = settles.m_as("micrometer")
    else:
        _, under, joints = FINISH[finish]
        micrometres = THREAD_SETTLES + under * (1 if tapped else 2) + joints * between
    gone = 1e-3 * micrometres / both
    grow = expansion - screw_expansion.m_as("1/kelvin")
    warmed = length * grow * rise.m_as("kelvin") / both
    left = force - gone + warmed
    return ClampLoss(
        left=Q(max(left, 0.0), "N"),
        settled=Q(gone, "N"),
        warm=Q(warmed, "N"),
        lost=Q(gone / force, ""),
        turn=Q(360 * (force - start) * both / form.pitch, "°"),
        each_degree=Q(form.pitch / 360 / both, "N"),
        stretch=Q(force * d_s, "mm"),
        screw=Q(1 / d_s, "N/mm"),
        parts=Q(1 / d_p, "N/mm"),
        settling=Q(micrometres, "µm"),
        cone=Q(clamped.spread, ""),
        findings=later(lambda: findings_of_loss(force, gone, warmed, length / form.d, settle_by)),
    )


def _picture(entries: Any, results: Any) -> Any:
    form = chosen_thread(entries.thread, entries.diameter, entries.pitch, entries.system)
    d_w, d_h = face_of(form, entries.face_outer, entries.face_inner)
    grip = entries.grip.m_as("millimeter")
    across = entries.outside.m_as("millimeter")
    clamped = Clamped(grip, d_w, d_h, across, 1.0, entries.joint == "tapped")
    return draw(form, clamped, results)


clamp_loss.drawing("The clamped joint")(_picture)
