"""Will the engine tip or slide on its stand when the nut is pulled.

Purpose at the bench: the largest pull a body can give on the bar, at the place of the hand,
against the weight on its feet. The engine tips when the centre of pressure leaves the hull of
the feet, and slides when friction cannot hold what pushes and turns in the plane of the floor.

The force of the hand at its own point holds the whole torque already: the torque is not added
a second time. A holder or reaction bar braced on the same engine is a pair of forces within
it and tips nothing; what bears on the floor comes from outside and counts.
Strap about the tipping side: T = (M_tip - M_rest)/(h cos g + a sin g), taken twice.

Axes: x to the right and y away from the reader who faces the flywheel, z up from the floor.
Symbols: h height of the strap, a its distance inward of the tipping side, g its slope down.

Assumptions: engine and stand one stiff body, floor level and even, feet alike.

Sources: statics (``calculators.support``); friction and margins: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.bench_advice import Stand, findings_of, verdict_of
from calculators.bench_pictures import draw_path, draw_plan
from calculators.support import (
    Point,
    Push,
    Vector,
    edges,
    foot_loads,
    grip,
    half_width,
    hull,
    inward,
    tipping_factor,
    total,
)
from witnessmark.calc import (
    Angle,
    CheckValue,
    Drawing,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Mass,
    Number,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Symbol,
    calculator,
    choice,
    column,
    entry,
    result,
    table,
    table_result,
    text_result,
)

STATICS = Source(
    "centre-of-pressure",
    "Moments about the base plane by hand; foot forces by linear programming",
    kind="derivation",
)
BOUND = Source(
    "upper-bound-of-sliding",
    "Least work of friction over all motions in the plane, by a general optimiser",
    kind="derivation",
)
PRACTICE = Source(
    "bench-practice", "Workshop practice: floors oily 0.1 to 0.2, dry 0.3 to 0.4; a fifth of the "
    "half width kept; strap for twice its load; no published source", kind="common practice",
)  # fmt: skip
GRAVITY = 9.80665
WAYS = {"down": "down", "up": "up", "right": "to the right", "left": "to the left"}
_UNIT: dict[str, Vector] = {
    "down": (0, 0, -1),
    "up": (0, 0, 1),
    "right": (1, 0, 0),
    "left": (-1, 0, 0),
}
_LENGTHS = ("mm", "m", "in")
_PLACE: Any = {
    "units": _LENGTHS,
    "least": "-5000 mm",
    "most": "5000 mm",
    "why": "That is not here.",
}


@dataclass(frozen=True)
class BenchStability:
    """Whether it stands, and how much is left before it does not."""

    verdict: str = text_result("The engine", lead=True)
    tips_at: Force | None = result(
        "It tips at a pull of", rounding=Rounding(figures=2, toward="down")
    )
    margin: Length | None = result(
        "Centre of pressure inside by", rounding=Rounding(step="1 mm", us_step="0.1 in"),
        help="From the nearest side of the feet; below zero it tips.",
    )  # fmt: skip
    used: Fraction | None = result(
        "Grip of the feet used", unit="%", us_unit="%",
        rounding=Rounding(decimals=0, toward="up"), help="Sliding and turning together.",
    )  # fmt: skip
    strap: Force | None = result(
        "Strap for at least", rounding=Rounding(figures=2, toward="up"),
        help="Twice what holds it at that pull.",
    )  # fmt: skip
    loads: tuple[tuple[Any, ...], ...] = table_result(
        "Load of each foot",
        columns=(column("Foot"), column("Load", Force, rounding=Rounding(figures=2))), seldom=True,
    )  # fmt: skip
    pressure_x: Length | None = result(
        "Centre of pressure, x", rounding=Rounding(step="1 mm", us_step="0.1 in"), seldom=True
    )
    pressure_y: Length | None = result(
        "Centre of pressure, y", rounding=Rounding(step="1 mm", us_step="0.1 in"), seldom=True
    )
    level: Fraction | None = result(
        "Friction wanted", rounding=Rounding(decimals=2, toward="up"), seldom=True,
        help="Level force over weight.",
    )  # fmt: skip
    strap_load: Force | None = result(
        "Strap itself holds", rounding=Rounding(figures=3), seldom=True
    )
    findings: tuple[Finding, ...] = ()
    corners: tuple[Point, ...] = ()


_SQUARE = (("-200 mm", "-250 mm"), ("200 mm", "-250 mm"), ("200 mm", "250 mm"),
           ("-200 mm", "250 mm"))  # fmt: skip
_NOTED = {
    "mass": "90 kg", "mass_x": "0 mm", "mass_y": "0 mm", "mass_z": "300 mm", "feet": _SQUARE,
    "force": "583.33 N", "hand_x": "600 mm", "hand_y": "-300 mm", "hand_z": "300 mm",
    "friction": "0.4",
}  # fmt: skip


@calculator(
    name="bench-stability",
    title="Will the engine tip or slide when you pull",
    topic="handling",
    purpose="Tipping and sliding of an engine on its stand under the pull of a hand on a bar, and "
    "the strap that holds it.",
    formulas=(
        Formula(r"x = \frac{M_y}{N},\quad y = -\frac{M_x}{N}", "Centre of pressure"),
        Formula(
            r"\lambda = \min_{v,\,\omega} \frac{\mu \sum N_i\,|v + \omega \times r_i|}"
            r"{H \cdot v + M_z\,\omega}",
            "Times the force may grow before the feet slide or turn",
        ),
        Formula(
            r"T = \frac{M_{tip} - M_{rest}}{h \cos\gamma + a \sin\gamma}", "Load of the strap"
        ),
    ),
    symbols=(
        Symbol("N, H", "force down on the floor, along it", "N"),
        Symbol("M_x, M_y, M_z", "moments of all forces about the origin", "N·m"),
        Symbol("N_i, r_i", "load and place of a foot", "N, mm"),
        Symbol(r"v, \omega", "a sliding and turning motion", "mm/s, rad/s"),
        Symbol(r"h, a, \gamma", "strap: height, inward of the tipping side, slope", "mm, °"),
    ),
    assumptions=(
        "You face the flywheel: x to the right, y away from you, z up; origin where you like on "
        "the floor.",
        "Engine and stand are one stiff body on a level floor, feet alike.",
        "What bears on the engine itself tips nothing; what bears on the floor counts.",
        "A stuck nut takes all that you can give: enter that, not the torque wanted.",
    ),
    sources=(STATICS, BOUND, PRACTICE),
    check_values=(
        CheckValue(
            "90 kg on feet ±200 by ±250, 583 N down at 600 mm: tips",
            _NOTED,
            {"pressure_x": "238.8 mm", "pressure_y": "-119.4 mm", "tips_at": "441.3 N",
             "margin": "-38.8 mm"},
            source=STATICS, findings=("tips",),
        ),
        CheckValue(
            "the same pull level, at 900 mm height",
            _NOTED | {"way": "right", "hand_z": "900 mm"},
            {"pressure_x": "594.8 mm", "tips_at": "196.1 N", "level": "0.661",
             "strap_load": "580.8 N"},
            source=STATICS, findings=("tips",),
        ),
        CheckValue(
            "strap 45° down from the far side",
            _NOTED | {"way": "right", "hand_z": "900 mm", "strap_angle": "45°",
                      "strap_in": "400 mm"},
            {"strap_load": "492.8 N", "strap": "985.6 N"}, source=STATICS,
            findings=("tips",),
        ),
        CheckValue(
            "no pull: the centre of pressure is under the weight",
            _NOTED | {"force": "0 N", "mass_x": "30 mm", "mass_y": "-40 mm"},
            {"pressure_x": "30.0 mm", "pressure_y": "-40.0 mm", "margin": "170.0 mm"},
            source=STATICS,
        ),
        CheckValue(
            "level pull through the middle: 100 N of 353 N",
            _NOTED | {"force": "100 N", "way": "right", "hand_x": "0 mm", "hand_y": "0 mm",
                      "hand_z": "0 mm"},
            {"used": "28.33 %"}, source=STATICS, remark="100/(0.4 × 90 × 9.80665).",
        ),
        CheckValue(
            "a prop on the floor takes its share of the weight",
            _NOTED | {"reaction": "floor", "force": "0 N", "prop": "200 N", "prop_x": "-200 mm",
                      "prop_y": "0 mm"},
            {"pressure_x": "58.60 mm"}, source=STATICS, remark="200 × 200/(882.6 - 200).",
        ),
        CheckValue(
            "feet in a line", {"feet": [["0 mm", "0 mm"], ["100 mm", "0 mm"], ["300 mm", "0 mm"]]},
            source=PRACTICE, refused=("feet",),
        ),
    ),
)  # fmt: skip
def bench_stability(
    *,
    mass: Mass = entry(
        "Engine with its stand", "268 kg", units=("kg", "lb"), above=0, most="5000 kg",
        why="That is no engine for a stand.",
    ),
    force: Force = entry(
        "Largest pull", "450 N", units=("N", "lbf", "kgf"), least=0, most="3000 N",
        usual=("50 N", "1200 N"), why="No one pulls so hard.",
        usual_why="A strong pull with the body is 400 N to 700 N.",
        help="What you give when the nut will not move.",
    ),
    way: str = choice("You pull", WAYS, default="down"),
    hand_x: Length = entry("Hand at x", "900 mm", help="To the right, facing the flywheel.",
                           **_PLACE),
    hand_z: Length = entry("Hand at height", "780 mm", units=_LENGTHS, least=0, most="4000 mm",
                           why="Above the floor."),
    feet: Rows = table(
        "Feet",
        {"x": column("x", Length, units=_LENGTHS, least="-5000 mm", most="5000 mm"),
         "y": column("y", Length, units=_LENGTHS, least="-5000 mm", most="5000 mm")},
        default=(("-280", "60"), ("280", "60"), ("280", "640"), ("-280", "640")),
        least_rows=3, most_rows=8, help="Where they touch the floor.",
    ),
    friction: Number = entry(
        "Friction of the feet", "0.3", above=0, most=1.0, usual=("0.1", "0.4"),
        why="Feet do not cling.", usual_why="Oily floor 0.1 to 0.2, dry concrete 0.3 to 0.4.",
    ),
    hand_y: Length = entry("Hand at y", "-80 mm", seldom=True, help="Away from you.", **_PLACE),
    mass_x: Length = entry("Weight acts at x", "0 mm", seldom=True, **_PLACE),
    mass_y: Length = entry("Weight acts at y", "340 mm", seldom=True, **_PLACE),
    mass_z: Length = entry("Weight acts at height", "650 mm", seldom=True, units=_LENGTHS, least=0,
                           most="4000 mm", why="Above the floor."),
    reaction: str = choice(
        "Reaction of the tool bears on",
        {"engine": "the engine itself", "floor": "the floor or the bench"}, default="engine",
        seldom=True,
    ),
    prop: Force = entry(
        "Floor presses the arm up with", "500 N", units=("N", "kN", "lbf"), least=0,
        most="20000 N", when={"reaction": "floor"}, seldom=True, why="The floor lifts no engine.",
        help="Press of the arm, from the torque and its length.",
    ),
    prop_x: Length = entry("Arm on the floor at x", "-400 mm", when={"reaction": "floor"},
                           seldom=True, **_PLACE),
    prop_y: Length = entry("Arm on the floor at y", "-80 mm", when={"reaction": "floor"},
                           seldom=True, **_PLACE),
    strap_height: Length = entry("Strap at height", "600 mm", units=_LENGTHS, above=0,
                                 most="4000 mm", seldom=True, why="Above the floor."),
    strap_in: Length = entry(
        "Strap inward of the tipping side", "0 mm", units=_LENGTHS, least=0, most="4000 mm",
        seldom=True, why="Measured inward.",
    ),
    strap_angle: Angle = entry(
        "Strap slopes down by", "0°", units=("°",), least=0, most="80°", seldom=True,
        why="A strap straight down pulls on nothing here.",
    ),
) -> BenchStability:  # fmt: skip
    """Tipping, sliding, strap; see the module's docstring."""
    places = [(foot.x.m_as("mm"), foot.y.m_as("mm")) for foot in feet]
    corners = hull(places)
    if not corners:
        raise RefusedError("feet", "Feet in one line carry nothing: give three that span a base.")
    weight = mass.m_as("kg") * GRAVITY
    rest = [Push((0, 0, -weight), (mass_x.m_as("mm"), mass_y.m_as("mm"), mass_z.m_as("mm")))]
    if reaction == "floor":
        rest.append(Push((0, 0, prop.m_as("N")), (prop_x.m_as("mm"), prop_y.m_as("mm"), 0)))
    pull, hand = force.m_as("N"), (hand_x.m_as("mm"), hand_y.m_as("mm"), hand_z.m_as("mm"))
    one = Push(_UNIT[way], hand)
    push, back = one.times(pull), one.times(-pull)
    base = total([*rest, push])
    standing = base.down > 1e-6 * weight
    margins = [(inward(edge, base.centre), edge) for edge in edges(corners)] if standing else []
    margin = min((m for m, _ in margins), default=-math.inf)
    tips = tipping_factor(rest, one, corners)
    holds = grips = None
    loads: list[float] = []
    if margin >= 0:
        loads = foot_loads(base, places)
        grips = grip(base, places, loads, friction.m_as(""))
    else:
        slope = strap_angle.m_as("rad")
        lever = strap_height.m_as("mm") * math.cos(slope) + strap_in.m_as("mm") * math.sin(slope)
        over = max((-m * base.down for m, _ in margins), default=0.0)
        holds = over / lever if over else None
    stand = Stand(
        weight, pull, base.down, margin, half_width(corners), tips, grips, loads,
        tipping_factor(rest, back, corners), reaction == "floor",
        min(inward(edge, total(rest).centre) for edge in edges(corners)),
    )  # fmt: skip
    return BenchStability(
        verdict=verdict_of(stand),
        tips_at=Q(max(tips, 0.0), "N") if tips < 1e5 else None,
        margin=Q(round(margin, 7), "mm") if standing else None,
        used=Q(round(1 / grips, 9), "") if grips is not None else None,
        strap=Q(2 * holds, "N") if holds is not None else None,
        loads=tuple((str(i + 1), Q(load, "N")) for i, load in enumerate(loads)),
        pressure_x=Q(round(base.centre[0], 7), "mm") if standing else None,
        pressure_y=Q(round(base.centre[1], 7), "mm") if standing else None,
        level=Q(math.hypot(*base.across) / base.down, "") if standing else None,
        strap_load=Q(holds, "N") if holds is not None else None,
        findings=tuple(findings_of(stand)),
        corners=tuple(corners),
    )


@bench_stability.drawing("Feet and centre of pressure, from above")
def _plan(entries: Any, results: BenchStability) -> Drawing:
    return draw_plan(entries, results)


@bench_stability.drawing("The forces and their way to the floor")
def _path(entries: Any, results: BenchStability) -> Drawing:
    return draw_path(entries, results)
