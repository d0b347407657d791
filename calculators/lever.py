"""Torque of a bar on a nut, pulled by hand or loaded with a hanging mass.

Purpose at the bench: what a pull or a hanging mass puts on the nut; or how hard to pull, how
much to hang on or how long the bar must be for a torque; and whether that is a sane demand.

A pull F at the arm L, at the angle phi to the bar and out of the plane of turning by psi:
T = F L sin(phi) cos(psi). A mass m on a bar that points up or down by beta, the bar of mass m_b
balancing at L_b: T = (m L + m_b L_b) g cos(beta). The arm runs from the nut's axis to the line in
which the load acts: with a tube over the bar L = L_bar + L_tube - overlap - what is behind the
hand, never bar and tube added. A load at the height h in front of the nut also tilts the socket:
the part of r x F across the axis.

Symbols: T torque, F pull, L arm, m mass, g gravity, phi, psi and beta angles as above.

Assumptions: the bar is stiff; a hanging mass hangs still; the bar's own weight counts only with
a hanging mass, because a pull can be in any direction.

Sources: moment of a force (derivation); WGS 84 for local gravity; forces a person can give from
EN 1005-3 and ISO 11228-1 from memory; steps of the cautions: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.drive_square import ISO_1174, ISO_3315
from calculators.lever_drawing import Load, draw_lever
from calculators.lever_findings import (
    ALWAYS,
    EN_1005_3,
    ISO_11228,
    STANDING_PULL,
    findings_of_gravity,
    findings_of_hand,
    findings_of_mass,
    findings_of_overlap,
    findings_of_socket,
)
from calculators.lever_statics import bending_of, laid_arm, solve, sunk_torque, tube_for
from calculators.local_gravity import STANDARD, WGS_84, local_gravity
from calculators.rated_tools import (
    BAR_MOST,
    SOCKET_MOST,
    SOCKET_SQUARE,
    findings_of_bar_used,
    findings_of_socket_used,
)
from calculators.shop_tools import LEVER_BAR, SOCKET
from witnessmark.calc import (
    Acceleration,
    Angle,
    CheckValue,
    Count,
    Drawing,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Mass,
    Q,
    Rounding,
    Source,
    Symbol,
    Torque,
    as_entered,
    calculator,
    choice,
    entry,
    result,
    show,
)

STATICS = Source("lever-statics", "Moment of a force, worked by hand", kind="derivation")
ONE_METRE = Source(
    "mass-on-a-metre", "Common practice, no published source: 350 N·m on a bar of 1 m takes a "
    "hanging mass of at least 35 kg", kind="common practice",
)  # fmt: skip
PRACTICE = Source(
    "lever-practice", "Bench practice with long bars, no published source", kind="common practice"
)

FIND = {"load": "how hard to pull, or how much to hang on", "torque": "the torque",
        "arm": "how long the bar must be"}  # fmt: skip
STEADY = 250.0
"""Pull in N that the longer arm is worked out for: a firm pull of one person."""


@dataclass(frozen=True)
class Lever:
    """What was asked for, and what stands beside it. What does not apply is None."""

    pull: Force | None = result(
        "Pull", lead=True, rounding=Rounding(step="10 N", us_step="2 lbf", toward="up")
    )
    hung: Mass | None = result(
        "Hang on", lead=True, rounding=Rounding(step="0.5 kg", us_step="1 lb", toward="up")
    )
    torque: Torque | None = result("Torque at the nut", lead=True, rounding=Rounding(figures=3))
    reach: Length | None = result(
        "Nut's axis to the load", lead=True,
        rounding=Rounding(step="10 mm", us_step="1 in", toward="up"),
    )  # fmt: skip
    tube_needed: Length | None = result(
        "Length of the tube", rounding=Rounding(step="10 mm", us_step="1 in", toward="up")
    )
    used: Length | None = result(
        "Arm of that", rounding=Rounding(step="5 mm", us_decimals=1), band=False,
        help="From the nut's axis to the hand or hook, along the bar.",
    )  # fmt: skip
    longer: Length | None = result(
        "Arm at which 250 N is enough", rounding=Rounding(step="10 mm", us_step="1 in", toward="up")
    )
    from_bar: Torque | None = result(
        "Of that, the bar's own weight gives", rounding=Rounding(step="1 N·m", us_step="1 lbf·ft")
    )
    sunk: Torque | None = result(
        "Sunk by 20° it gives", rounding=Rounding(step="1 N·m", us_step="1 lbf·ft"), band=False
    )
    effort: Fraction | None = result(
        "Of a standing person's pull after EN 1005-3", unit="%", us_unit="%",
        rounding=Rounding(figures=2), band=False, seldom=True,
        help="145 N, times 0.8 for movement. Half of it is what the standard finds acceptable "
        "for work done often.",
    )  # fmt: skip
    bending: Torque | None = result(
        "Tilts the socket with", band=False, rounding=Rounding(figures=2), seldom=True
    )
    gravity_used: Acceleration | None = result(
        "Gravity", rounding=Rounding(decimals=5, us_decimals=5), band=False, seldom=True
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="lever",
    title="Bar on the nut",
    topic="torque",
    purpose="What a pull or a hanging mass on a bar puts on a nut; or how hard to pull, how much "
    "to hang on and how long the bar must be for a torque.",
    formulas=(
        Formula(r"T = F\,L\,\sin\varphi\,\cos\psi", "Torque of a pull"),
        Formula(r"T = (m\,L + m_b\,L_b)\,g\,\cos\beta", "Torque of a hanging mass and of the bar"),
        Formula(r"L = L_\mathrm{bar} + L_\mathrm{tube} - o - e", "Arm with a tube over the bar"),
        Formula(
            r"g = g_e\,\frac{1 + k\,s}{\sqrt{1 - e^2 s}}"
            r"\left(1 - \frac{2\,(1 + f + m - 2 f s)\,h}{a} + \frac{3\,h^2}{a^2}\right)",
            "Local gravity (WGS 84), s = sin² of the latitude",
        ),
    ),
    symbols=(
        Symbol("T", "torque about the nut's axis", "N·m"),
        Symbol("F", "pull", "N"),
        Symbol("L", "arm: nut's axis to the line in which the load acts", "m"),
        Symbol(r"\varphi", "angle between bar and pull", "°"),
        Symbol(r"\psi", "angle of the pull out of the plane of turning", "°"),
        Symbol(r"\beta", "slope of the bar", "°"),
        Symbol("m, m_b", "hanging mass, mass of the bar", "kg"),
        Symbol("L_b", "nut's axis to where the bar balances", "m"),
        Symbol("o, e", "overlap of the tube; end of the tube to the hand", "mm"),
        Symbol("h", "height above the sea", "m"),
    ),
    assumptions=(
        "The bar is stiff and the load at rest.",
        "A bar whose point of balance is not given balances at half the arm.",
        "The bar's own weight counts with a hanging mass only.",
    ),
    sources=(STATICS, ONE_METRE, WGS_84, EN_1005_3, ISO_11228, ISO_1174, ISO_3315, PRACTICE),
    tools=(LEVER_BAR, SOCKET),
    check_values=(
        CheckValue(
            "350 N·m on a bar of 1 m", {"find": "load", "load": "mass", "target": "350 N·m",
            "arm": "1 m"}, {"hung": "35.7 kg"}, source=ONE_METRE, remark="at least 35 kg",
        ),
        CheckValue(
            "20 kg on a level bar of 1 m",
            {"find": "torque", "load": "mass", "mass": "20 kg", "arm": "1 m"},
            {"torque": "196.133 N·m"}, source=STATICS, remark="20 × 9.80665",
        ),
        CheckValue(
            "the same bar 20° up", {"find": "torque", "load": "mass", "mass": "20 kg",
            "arm": "1 m", "slope": "20°"}, {"torque": "184.305 N·m"}, source=STATICS,
        ),
        CheckValue(
            "a bar of 2.5 kg balancing at 0.55 m, and 20 kg at 1 m",
            {"find": "torque", "load": "mass", "mass": "20 kg", "arm": "1 m", "bar_mass": "2.5 kg",
             "balance": "0.55 m"},
            {"torque": "209.617 N·m", "from_bar": "13.484 N·m"}, source=STATICS,
        ),
        CheckValue(
            "300 N at 0.75 m, 75° to the bar",
            {"find": "torque", "load": "hand", "force": "300 N", "arm": "0.75 m", "angle": "75°"},
            {"torque": "217.333 N·m"}, source=STATICS,
        ),
        CheckValue(
            "480 N·m with 250 N",
            {"find": "arm", "load": "hand", "target": "480 N·m", "force": "250 N"},
            {"reach": "1.92 m"}, source=STATICS,
        ),
        CheckValue(
            "480 N·m on 0.6 m", {"find": "load", "load": "hand", "target": "480 N·m",
            "arm": "0.6 m"}, {"pull": "800 N", "longer": "1.92 m"}, source=STATICS,
            findings=("pull-too-great",),
        ),
        CheckValue(
            "480 N·m with a mass at 1.5 m", {"find": "load", "load": "mass", "target": "480 N·m",
            "arm": "1.5 m"}, {"hung": "32.631 kg"}, source=STATICS, findings=("mass-heavy",),
        ),
        CheckValue(
            "tube of 700 mm over a bar of 600 mm, 200 mm over, hand 100 mm from its end",
            {"find": "torque", "load": "hand", "arm_by": "tube", "bar": "600 mm", "tube": "700 mm",
             "overlap": "200 mm", "behind": "100 mm", "force": "200 N"},
            {"used": "1000 mm", "torque": "200 N·m"}, source=STATICS,
        ),
        CheckValue(
            "gravity at 45° on the sea", {"find": "torque", "load": "mass", "gravity": "local",
            "latitude": "45°", "height": "0 m"}, {"gravity_used": "9.806198 m/s²"}, source=WGS_84,
        ),
        CheckValue(
            "gravity at 19.4°, 2240 m up", {"find": "torque", "load": "mass", "gravity": "local",
            "latitude": "19.4°", "height": "2240 m"}, {"gravity_used": "9.779113 m/s²"},
            source=WGS_84, remark="0.28 % below the standard value", findings=("gravity-local",),
        ),
    ),
)  # fmt: skip
def lever(
    *,
    load: str = choice(
        "The load is", {"hand": "a pull by hand", "mass": "a hanging mass"}, default="hand"
    ),
    find: str = choice("Wanted is", FIND, default="load"),
    target: Torque = entry(
        "Torque at the nut", "480 N·m", units=("N·m", "lbf·ft", "kgf·m"), least="1 N·m",
        most="5000 N·m", usual=("5 N·m", "2000 N·m"), when={"find": ("load", "arm")},
        why="Bars are used between 1 N·m and 5000 N·m.",
    ),
    force: Force = entry(
        "Pull", "250 N", units=("N", "kgf", "lbf"), above=0, most="1500 N",
        when={"load": "hand", "find": ("torque", "arm")},
        why="No crew pulls a bar with more than 1500 N.", help="All persons together.",
    ),
    mass: Mass = entry(
        "Hanging mass", "20 kg", units=("kg", "lb"), above=0, most="120 kg",
        when={"load": "mass", "find": ("torque", "arm")},
        why="Nothing heavier than 120 kg is hung on a bar.",
        help="Weighed, with its hook and strap.",
    ),
    arm_by: str = choice(
        "The bar is", {"measured": "one bar", "tube": "a bar with a tube over it"},
        default="measured", seldom=True,
    ),
    arm: Length = entry(
        "Nut's axis to the hand or hook", "1000 mm", units=("mm", "m", "in", "ft"),
        least="100 mm", most="3 m", when={"arm_by": "measured", "find": ("load", "torque")},
        why="Shorter is no bar; longer cannot be kept from springing.",
        help="To the middle of the hand or to the hook, not to the end of the bar.",
    ),
    bar: Length = entry(
        "Bar, from the nut's axis to its end", "600 mm", units=("mm", "m", "in"), least="100 mm",
        most="3 m", when={"arm_by": "tube"}, why="Bars are 0.1 m to 3 m long.",
    ),
    tube: Length = entry(
        "Tube", "900 mm", units=("mm", "m", "in"), least="100 mm", most="3 m",
        when={"arm_by": "tube", "find": ("load", "torque")}, why="Tubes are 0.1 m to 3 m long.",
    ),
    overlap: Length = entry(
        "Tube over the bar by", "250 mm", units=("mm", "in"), least="20 mm", most="2 m",
        when={"arm_by": "tube"}, why="A tube that overlaps less slips off.",
    ),
    behind: Length = entry(
        "End of the tube to the hand", "100 mm", units=("mm", "in"), least="0 mm", most="1 m",
        when={"arm_by": "tube"}, seldom=True, why="The hand is at the end of the tube.",
        help="From the end of the tube to the middle of the hand or to the hook.",
    ),
    bar_mass: Mass = entry(
        "Mass of the bar", "0 kg", units=("kg", "lb"), least="0 kg", most="40 kg",
        when={"load": "mass"}, why="A bar of more than 40 kg is no hand tool.",
        help="With tube and socket. 0 leaves it out.",
    ),
    balance: Length | None = entry(
        "Nut's axis to where the bar balances", "", units=("mm", "m", "in"), above=0, most="3 m",
        optional=True, seldom=True, when={"load": "mass"},
        help="Balanced over a finger. Left empty, half the arm is taken.",
    ),
    slope: Angle = entry(
        "Slope of the bar", "0°", units=("°",), least="-60°", most="60°",
        usual=("-20°", "20°"), when={"load": "mass"}, seldom=True,
        why="A bar that stands steeper gives less than half.",
        help="Against level; with a minus where the end of the bar is the lower one.",
    ),
    angle: Angle = entry(
        "Angle between bar and pull", "90°", units=("°",), least="10°", most="170°",
        usual=("70°", "110°"), when={"load": "hand"}, seldom=True,
        why="A pull along the bar turns nothing.", help="90° is square, and gives the most.",
    ),
    aside: Angle = entry(
        "Pull out of the plane of turning", "0°", units=("°",), least="-45°", most="45°",
        when={"load": "hand"}, seldom=True, why="That only pulls the socket off the nut.",
        help="Towards you or away from you along the nut's axis.",
    ),
    standing: Length = entry(
        "Nut to the bar, along the axis", "60 mm", units=("mm", "in"), least="0 mm", most="1 m",
        seldom=True, why="Take a shorter extension.", help="Length of socket and extension.",
    ),
    socket_square: str = SOCKET_SQUARE,
    socket_most: Torque | None = SOCKET_MOST,
    bar_most: Torque | None = BAR_MOST,
    people: Count = entry("Persons who pull", "1", least=1, most=3, when={"load": "hand"},
                          seldom=True),
    gravity: str = choice(
        "Gravity", {"standard": "standard, 9.80665 m/s²", "local": "from latitude and height"},
        default="standard", when={"load": "mass"}, seldom=True,
        help="The difference is 0.3\u202f% at most; for checking a tool it counts.",
    ),
    latitude: Angle = entry(
        "Latitude", "52°", units=("°",), least="-90°", most="90°", seldom=True,
        when={"load": "mass", "gravity": "local"}, why="Latitude goes from pole to pole.",
    ),
    height: Length = entry(
        "Height above the sea", "100 m", units=("m", "ft"), least="-400 m", most="5000 m",
        when={"load": "mass", "gravity": "local"}, seldom=True, why="No workshop stands there.",
    ),
) -> Lever:  # fmt: skip
    """What was asked for and its findings; see the module's docstring."""
    by_hand = load == "hand"
    g = STANDARD
    if gravity == "local" and not by_hand:
        g = local_gravity(latitude.m_as("radian"), height.m_as("meter"))
    lean = slope.m_as("radian")
    if by_hand:
        share = math.sin(angle.m_as("radian")) * math.cos(aside.m_as("radian"))
    else:
        share = math.cos(lean)
    laid = None
    if find != "arm":
        laid = arm.m_as("meter") if arm_by == "measured" else laid_arm(bar, tube, overlap, behind)
    centre = None if balance is None else balance.m_as("meter")
    solved = solve(
        find=find, share=share, g=g if not by_hand else None, arm=laid,
        load=force.m_as("newton") if by_hand else mass.m_as("kilogram"),
        torque=target.m_as("newton*meter"), bar=bar_mass.m_as("kilogram"), centre=centre,
    )  # fmt: skip
    weight = solved.load if by_hand else solved.load * g
    bending = bending_of(
        weight, solved.arm, standing.m_as("meter"),
        (angle.m_as("radian"), aside.m_as("radian")) if by_hand else (math.pi / 2 - lean, 0.0),
    )  # fmt: skip
    tubed = arm_by == "tube"
    most = solved.torque
    if find != "torque":
        most = max(most, as_entered("target", target).high.m_as("newton*meter"))
    return Lever(
        pull=Q(solved.load, "N") if by_hand and find == "load" else None,
        hung=Q(solved.load, "kg") if not by_hand and find == "load" else None,
        torque=Q(solved.torque, "N·m") if find == "torque" else None,
        reach=Q(solved.arm, "m") if find == "arm" else None,
        tube_needed=tube_for(solved.arm, bar, overlap, behind) if tubed and find == "arm" else None,
        used=Q(solved.arm, "m") if tubed and find != "arm" else None,
        longer=Q(solved.torque / (STEADY * share), "m") if by_hand and find == "load" else None,
        from_bar=Q(solved.own, "N·m") if solved.own > 0 else None,
        sunk=None if by_hand else Q(sunk_torque(solved.torque, lean), "N·m"),
        effort=Q(solved.load / people / STANDING_PULL, "") if by_hand else None,
        bending=Q(bending, "N·m"),
        gravity_used=None if by_hand else Q(g, "m/s²"),
        findings=(
            *(findings_of_hand(solved.load, people) if by_hand else findings_of_mass(solved.load)),
            *findings_of_socket(solved.torque, bending, share),
            *findings_of_socket_used(socket_square, socket_most, solved.torque, most),
            *findings_of_bar_used("bar", bar_most, solved.torque, most),
            *(findings_of_overlap(overlap.m_as("meter"), bar.m_as("meter")) if tubed else ()),
            *findings_of_gravity(g),
            *ALWAYS,
        ),
    )


@lever.drawing("The bar on the nut")
def _(entries: Any, results: Any) -> Drawing:
    by_hand = entries.load == "hand"
    if by_hand:
        pull = results.pull if results.pull is not None else entries.force
        load, way = show(pull, "N"), -entries.angle.m_as("degree")
    else:
        hung = results.hung if results.hung is not None else entries.mass
        load, way = show(hung, "kg"), -90.0
    arm = next(each for each in (results.reach, results.used, entries.arm) if each is not None)
    torque = results.torque if results.torque is not None else entries.target
    return draw_lever(
        Load(
            arm.m_as("millimeter"), 0.0 if by_hand else entries.slope.m_as("degree"), way, load,
            show(arm, "mm"), show(torque, "N·m"),
        )
    )  # fmt: skip
