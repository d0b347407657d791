"""Torque through a pinion on the ring gear or on the turning rack.

Purpose at the bench: what the handle of a geared turning tool takes for a torque about the
crankshaft, how far the handle turns, what its bracket bears, how much of that reaches the
stand, and what a single tooth carries. The turning rack round the rim of a flywheel is a
toothed ring like any other.

External mesh: i = Z/z, and T_in = T_out/(i eta). Ring and pinion turn opposite ways, so about
the crankshaft the bracket holds T_out + T_in (in a planetary multiplier it is the
difference). A bracket on the same engine closes that circle inside the engine, and only T_in
comes out of it; a bracket on the stand or the floor brings all of it there. At the mesh
F_t = 2 T_out/d with d = m Z, and the flanks push apart with F_r = F_t tan alpha.

Symbols: z and Z teeth of pinion and ring, i ratio, eta efficiency, T_in torque at the handle,
T_out torque about the crankshaft, m module, d pitch diameter of the ring, alpha pressure
angle, F_t force along the pitch circle, F_r force apart.

Assumptions: one pair of teeth carries all (true for part of every mesh); teeth without profile
shift; the handle turns the pinion directly.

Sources: moments about one axis (derivation); involute gearing (any handbook); efficiency of
an open greased mesh: common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from witnessmark.calc import (
    Angle,
    CheckValue,
    Count,
    Drawing,
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
    Symbol,
    Torque,
    calculator,
    caution,
    choice,
    cos,
    entry,
    note,
    number,
    result,
    show,
    stop,
    tan,
)

BY_HAND = Source(
    "external-mesh", "Moments about one axis and force on a pitch circle, by hand",
    kind="derivation",
)  # fmt: skip
NINE_TO_ONE = Source(
    "nine-to-one", "Common practice, no published source: 350 N·m through 9:1 needs just under "
    "39 N·m at the handle", kind="common practice",
)  # fmt: skip
PRACTICE = Source(
    "turning-practice", "Bench practice with geared turning tools, no published source",
    kind="common practice",
)  # fmt: skip


@dataclass(frozen=True)
class PinionTool:
    """What the handle takes and what bracket, stand and teeth bear."""

    wrench: Torque = result(
        "Torque at the handle", lead=True, rounding=Rounding(step="1 N·m", us_step="1 lbf·ft")
    )
    turns: Number = result("Turns of the handle")
    bracket: Torque = result(
        "The bracket holds", rounding=Rounding(step="1 N·m", us_step="1 lbf·ft"),
        help="About the crankshaft.",
    )  # fmt: skip
    stand: Torque = result(
        "Of that, reaches the stand or floor",
        rounding=Rounding(step="1 N·m", us_step="1 lbf·ft"),
    )
    tooth_force: Force = result("Force on one tooth", unit="kN", us_unit="lbf")
    separating: Force = result(
        "Pushes pinion and ring apart", unit="kN", us_unit="lbf", band=False, seldom=True
    )
    bearing: Force = result(
        "The pinion's bearing carries", unit="kN", us_unit="lbf", band=False, seldom=True
    )
    ratio: Number = result("Ratio", band=False, seldom=True)
    centres: Length = result(
        "Crankshaft to pinion", rounding=Rounding(figures=4), band=False, seldom=True
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="pinion-turning-tool",
    title="Torque through a pinion on the ring gear",
    topic="torque",
    purpose="Tells what the handle of a geared turning tool takes for a torque about the "
    "crankshaft, and what bracket, stand and teeth then bear. For the ring gear and for the "
    "turning rack.",
    formulas=(
        Formula(r"T_\mathrm{in} = \frac{T_\mathrm{out}}{i\,\eta},\quad i = \frac{Z}{z}",
                "Torque at the handle"),
        Formula(r"M = T_\mathrm{out} + T_\mathrm{in}", "Moment that the bracket holds"),
        Formula(r"F_t = \frac{2\,T_\mathrm{out}}{m\,Z}", "Force on one tooth"),
        Formula(r"F_r = F_t \tan\alpha", "Force that pushes pinion and ring apart"),
        Formula(r"F = \frac{F_t}{\cos\alpha}", "Force on the pinion's bearing"),
    ),
    symbols=(
        Symbol(r"T_\mathrm{in}, T_\mathrm{out}", "torque at the handle, about the crankshaft",
               "N·m"),
        Symbol("z, Z", "teeth of pinion and ring", "1"),
        Symbol(r"\eta", "efficiency of the tool and its mesh", "1"),
        Symbol("m", "module", "mm"),
        Symbol(r"\alpha", "pressure angle", "°"),
    ),
    assumptions=(
        "One pair of teeth carries the whole force.",
        "The handle sits on the pinion's shaft.",
        "The crankshaft is turned against something inside the engine. A bar that holds its nut "
        "from outside brings its own moment to the stand.",
    ),
    sources=(BY_HAND, NINE_TO_ONE, PRACTICE),
    check_values=(
        CheckValue(
            "pinion 11, ring 121, 400 N·m, efficiency 0.95",
            {"target": "400 N·m", "pinion": "11", "ring": "121", "efficiency": "0.95",
             "module": "2.5 mm", "turn": "60°"},
            {"wrench": "38.278 N·m", "bracket": "438.28 N·m", "tooth_force": "2644.6 N",
             "separating": "962.6 N", "ratio": "11", "turns": "1.8333"},
            source=BY_HAND,
        ),
        CheckValue(
            "350 N·m through 9:1, no loss",
            {"target": "350 N·m", "pinion": "11", "ring": "99", "efficiency": "1"},
            {"wrench": "38.89 N·m"}, source=NINE_TO_ONE, remark="just under 39 N·m",
        ),
        CheckValue(
            "rack of 96 teeth, pinion 12, bracket on the engine",
            {"target": "480 N·m", "pinion": "12", "ring": "96", "efficiency": "1",
             "module": "3.75 mm", "held_by": "engine"},
            {"ratio": "8", "wrench": "60 N·m", "bracket": "540 N·m", "stand": "60 N·m",
             "tooth_force": "2666.7 N", "centres": "202.5 mm"},
            source=BY_HAND, remark="96 × 3.75 mm = 360 mm; 480/0.18",
        ),
        CheckValue(
            "the same with the bracket on the floor",
            {"target": "480 N·m", "pinion": "12", "ring": "96", "efficiency": "1",
             "module": "3.75 mm", "held_by": "stand"},
            {"stand": "540 N·m"}, source=BY_HAND, findings=("stand-bears-all",),
        ),
        CheckValue(
            "a tooth over the maker's limit",
            {"target": "400 N·m", "ring": "121", "module": "2.5 mm", "tooth_most": "2.5 kN"},
            {"tooth_force": "2644.6 N"}, source=BY_HAND, findings=("tooth-over",),
        ),
        CheckValue(
            "a pinion larger than the ring", {"pinion": "60", "ring": "40"}, source=BY_HAND,
            refused=("pinion",),
        ),
    ),
)  # fmt: skip
def pinion_turning_tool(
    *,
    target: Torque = entry(
        "Torque wanted about the crankshaft", "480 N·m", units=("N·m", "lbf·ft", "kgf·m"),
        least="1 N·m", most="5000 N·m", usual=("20 N·m", "3000 N·m"),
        why="Hand turning tools work between 1 N·m and 5000 N·m.",
        help="Where a nut on the crankshaft is held fast, the torque at that nut.",
    ),
    pinion: Count = entry("Teeth on the pinion", "11", least=6, most=80, seldom=True),
    ring: Count = entry(
        "Teeth on the ring gear or rack", "121", least=20, most=400,
        help="All round. The turning rack is counted all round too.", seldom=True,
    ),
    efficiency: Fraction = entry(
        "Efficiency", "0.95", units=("", "%"), least=0.5, most=1, usual=("0.85", "0.98"),
        tolerance="0.03", why="No gear gives more than it takes, and one below 0.5 is jammed.",
        usual_why="An open greased mesh reaches about 0.95, a dry or dirty one less.",
        help="0.03 either way is taken unless a tolerance is written.", seldom=True,
    ),
    module: Length = entry(
        "Module of the teeth", "3 mm", units=("mm", "in"), least="0.5 mm", most="12 mm",
        usual=("1.5 mm", "6 mm"), why="Ring gears have modules between 0.5 mm and 12 mm.",
        help="Outside diameter of the ring over its number of teeth and two more.", seldom=True,
    ),
    turn: Angle = entry(
        "Turn wanted of the flywheel", "90°", units=("°", "turn"), least="0°", most="3600°",
        why="Beyond ten turns use the starter or the handle.",
    ),
    held_by: str = choice(
        "The tool's bracket is on",
        {"engine": "the same engine", "stand": "the stand or the floor"},
        default="engine",
    ),
    pressure_angle: Angle = entry(
        "Pressure angle", "20°", units=("°",), least="14°", most="30°", seldom=True,
        why="Involute teeth have 14.5° to 30°.", help="20° unless a drawing says otherwise.",
    ),
    tooth_most: Force | None = entry(
        "Greatest force allowed on a tooth", "", units=("N", "kN", "lbf"), above=0, most="200 kN",
        optional=True, seldom=True, help="If the maker gives one. Leave empty if not known.",
    ),
) -> PinionTool:  # fmt: skip
    """Torque at the handle and what bears it; see the module's docstring."""
    if pinion >= ring:
        raise RefusedError(
            "pinion", f"The pinion has fewer teeth than the ring's {ring}. Count both again."
        )
    i, eta = ring / pinion, number(efficiency)
    t_out = target.m_as("newton*meter")
    t_in = t_out / (i * eta)
    m = module.m_as("millimeter")
    f_t = 2000 * t_out / (m * ring)
    moment = t_out + t_in
    stand = t_in if held_by == "engine" else moment
    return PinionTool(
        wrench=Q(t_in, "N·m"),
        turns=Q(i * turn.m_as("turn"), ""),
        bracket=Q(moment, "N·m"),
        stand=Q(stand, "N·m"),
        tooth_force=Q(f_t, "N"),
        separating=Q(f_t * tan(pressure_angle), "N"),
        bearing=Q(f_t / cos(pressure_angle), "N"),
        ratio=Q(i, ""),
        centres=Q(m * (ring + pinion) / 2, "mm"),
        findings=(*_of_teeth(f_t, tooth_most), *_of_bracket(held_by, moment), *_ALWAYS),
    )


def _of_teeth(f_t: float, most: Any) -> list[Finding]:
    """What one tooth carries, against what it may."""
    force = show(Q(f_t, "N"), "kN")
    if most is not None and f_t > most.m_as("newton") * (1 + 1e-9):
        return [
            stop(
                "tooth-over",
                f"One tooth would carry {force}; {show(most, 'kN')} is allowed. Turn with a bar on "
                "the nut or on the pulley instead.",
                "tooth_most",
            )
        ]
    return [
        caution(
            "tooth-load",
            f"One hardened tooth carries {force}. Look for chipped or cracked teeth where the tool "
            "sits, engage the pinion over the full width, and do not lock the flywheel with a "
            "wedge on one tooth.",
        )
    ]


def _of_bracket(held_by: str, moment: float) -> list[Finding]:
    """Where the bracket's moment goes."""
    held = show(Q(moment, "N·m"), "N·m")
    if held_by == "stand":
        return [
            caution(
                "stand-bears-all",
                f"The bracket brings {held} about the crankshaft into stand or floor, and the "
                "engine must be held against its own part of it or it tips. A bracket on the "
                "engine itself keeps the force of the teeth inside.",
                "held_by",
            )
        ]
    return [
        note(
            "engine-bears",
            f"The {held} on the bracket stay inside the engine; only the torque at the handle "
            "reaches the stand. Bolt the bracket with at least two bolts.",
        )
    ]


_ALWAYS = (
    caution(
        "starter-off",
        "Disconnect the battery before the pinion goes in, and take the tool out before anything "
        "else can turn the engine.",
    ),
    caution(
        "drives-back",
        "Compression, a spring or a tight spot can drive the handle back. Keep hold of it, stand "
        "out of its swing, and ease off slowly.",
    ),
    note(
        "turns-opposite",
        "The flywheel turns the opposite way to the handle. Try it without load before you pull.",
    ),
    note(
        "not-for-final",
        "The efficiency is a usual figure, not a calibration. Use this for turning and breaking "
        "loose; the final torque is measured on the fastener.",
    ),
)


@pinion_turning_tool.drawing("The pinion on the ring")
def _(entries: Any, results: Any) -> Drawing:
    m = entries.module.m_as("millimeter")
    ring, pinion = entries.ring * m / 2, entries.pinion * m / 2
    centres = ring + pinion
    on_engine = entries.held_by == "engine"
    holder = "engine" if on_engine else "stand"
    sheet = Drawing(
        "The pinion on the ring",
        f"A pinion of {entries.pinion} teeth drives a ring of {entries.ring} teeth from the right. "
        f"The handle turns anticlockwise, the ring clockwise. The tooth of the ring is pushed "
        f"downward with {show(results.tooth_force, 'kN')}. The bracket is on the {holder}.",
    )
    sheet.gear((0, 0), entries.ring, ring)
    sheet.gear((centres, 0), entries.pinion, pinion, turn=180 + 180 / entries.pinion)
    sheet.centre_lines((0, 0), 0.25 * ring)
    sheet.circle((centres, 0), 0.3 * pinion)
    sheet.moment(
        (0, 0), 0.62 * ring, 150, 40, f"{show(entries.target, 'N·m')}\nabout the crankshaft"
    )
    sheet.moment(
        (centres, 0), pinion + 0.16 * ring, -70, 70, f"handle\n{show(results.wrench, 'N·m')}"
    )
    sheet.force((0.93 * ring, 0), "s", f"{show(results.tooth_force, 'kN')} on the tooth")
    sheet.dimension((0, 0), (centres, 0), show(results.centres, "mm", 4), "below")
    return sheet
