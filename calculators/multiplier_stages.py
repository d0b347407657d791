"""Wrench setting through a torque multiplier of several stages, each one known by itself.

Purpose at the bench: the same as for a plain multiplier, where two or three stages of different
gears follow one another, or two multipliers are put together; and how far the handle travels
before the nut has turned, free play and wind-up counted.

Stages multiply: i = i1 i2 …, k = k1 k2 …, whatever their order. A stage is known by ratio and
calibrated factor, or by its teeth as in ``calculators.planetary_gear``. The handle travels
i times the nut's turn, and once more the free play b and the wind-up c T, c being the turn of
the handle per torque at the output with the output held.

Symbols: T torque at the nut, S setting, i ratio, k factor, w share of its setting that the wrench
gives, a arm, F press, T_R torque on the housing, b free play, c wind-up per torque.

Assumptions: all housings are coupled and held by one arm, so T_R = T_out - T_in for the whole
train; the wind-up is even; otherwise as in ``calculators.torque_multiplier``.

Sources: Willis equation, power balance and moments about one axis (derivations); ISO 6789-1,
ISO 1174-1, ISO 3315 from memory; the rest is bench practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.drive_square import ISO_1174, ISO_3315
from calculators.multiplier_drawing import draw
from calculators.multiplier_entries import (
    ARM,
    INPUT_SQUARE,
    OUTPUT_SQUARE,
    POWER,
    PRACTICE,
    TEETH,
    TURN,
    WILLIS,
    greatest,
    meshes,
    wanted,
)
from calculators.multiplier_train import torques_behind, train_of
from calculators.plain_figure import figure
from calculators.rated_tools import REACTION_BAR_MOST
from calculators.shop_tools import REACTION_BAR, TORQUE_WRENCH
from calculators.torque_multiplier_use import (
    Pull,
    findings_at_the_bench,
    findings_of_band,
    findings_of_bar,
    findings_of_setting,
    findings_of_tool,
)
from calculators.wrench_entries import WRENCH, division, marks, newton_metres
from calculators.wrench_scale import ISO_6789, nearest_mark
from witnessmark.calc import (
    Angle,
    CheckValue,
    Count,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Number,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Symbol,
    Torque,
    calculator,
    choice,
    column,
    entry,
    later,
    note,
    result,
    table,
    table_result,
)

NINE_TO_ONE = Source(
    "nine-to-one", "Common practice, no published source: 350 N·m through 9:1 needs just under "
    "39 N·m at the handle", kind="common practice",
)  # fmt: skip
_TARGET, _GREATEST = wanted(10000, 5000), greatest(20000)
_STEP, (_LOWEST, _HIGHEST) = division("1 N·m"), marks("3000 N·m")
_MESH = meshes("Of a stage's two meshes together, as if the carrier stood still.", seldom=True)

LOST = 0.25
"""Free play and wind-up, in turns of the handle, from which they are told."""


@dataclass(frozen=True)
class StagedMultiplier:
    """What to set, what comes of it, and how far the handle travels."""

    setting: Torque = result(
        "Set the wrench to", lead=True, rounding=Rounding(figures=3), band=False,
        help="The mark of the wrench's scale that comes nearest.",
    )  # fmt: skip
    torque: Torque = result(
        "The nut then gets", rounding=Rounding(step="1 N·m", us_step="1 lbf·ft")
    )
    press: Force = result("The arm presses with", unit="kN", us_unit="lbf")
    travel: Number = result(
        "Turns of the handle, all told", rounding=Rounding(decimals=1, us_decimals=1), band=False
    )
    lost: Angle = result(
        "Of that, free play and wind-up", rounding=Rounding(step="5 °", us_step="5 °"), band=False
    )
    reaction: Torque = result("Torque that the arm holds", band=False, seldom=True)
    exact: Torque = result(
        "Setting before rounding to the scale", rounding=Rounding(figures=4), band=False,
        seldom=True,
    )  # fmt: skip
    gear_ratio: Number = result("Ratio", rounding=Rounding(figures=4), band=False, seldom=True)
    gear_factor: Number = result("Factor", rounding=Rounding(figures=4), band=False, seldom=True)
    gear_efficiency: Fraction = result("Efficiency", band=False, seldom=True)
    behind: tuple[tuple[object, ...], ...] = table_result(
        "Stage by stage",
        columns=(
            column("Stage"),
            column("Ratio", Number, rounding=Rounding(figures=4)),
            column("Efficiency", Number, rounding=Rounding(figures=3)),
            column("Torque behind it", Torque, rounding=Rounding(figures=3)),
        ),
        seldom=True,
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="multiplier-of-stages",
    title="Wrench setting through several stages",
    topic="torque",
    purpose="Tells what to set the torque wrench to when it drives a multiplier of several stages "
    "or multipliers put together, what the nut then gets, how hard the arm presses, and how far "
    "the handle travels.",
    formulas=(
        Formula(r"S = \frac{T}{w \prod k_j}", "Setting, then rounded to the wrench's scale"),
        Formula(r"i_j = 1 + \frac{Z_r}{Z_s},\quad k_j = i_j\,\frac{1 + i_0\,\eta_0}{1 + i_0}",
                "Ratio and factor of a stage from its teeth, i₀ = Z_r/Z_s"),
        Formula(r"F = \frac{T_\mathrm{out} - T_\mathrm{in}}{a}", "Press of the arm on its stop"),
        Formula(r"N = \prod i_j \cdot n + b + c\,T_\mathrm{out}", "Turns of the handle"),
    ),
    symbols=(
        Symbol("T", "torque wanted at the nut", "N·m"),
        Symbol("S", "setting of the wrench", "N·m"),
        Symbol("w", "share of its setting that the wrench gives", "1"),
        Symbol("i_j, k_j", "ratio and torque factor of a stage", "1"),
        Symbol("a", "arm, from the nut's centre to where it bears", "mm"),
        Symbol("n", "turn of the nut", "turn"),
        Symbol("b", "free play of the handle", "turn"),
        Symbol("c", "wind-up of the handle per torque at the output", "turn/(N·m)"),
    ),
    assumptions=(
        "Stages follow one another on one axis; their housings are coupled and held by one arm.",
        "Annulus held, sun driven, carrier drives what follows.",
        "The wind-up grows evenly with the torque.",
    ),
    sources=(WILLIS, POWER, NINE_TO_ONE, ISO_6789, ISO_1174, ISO_3315, PRACTICE),
    tools=(TORQUE_WRENCH, REACTION_BAR),
    check_values=(
        CheckValue(
            "350 N·m through 9:1, no loss",
            {"target": "350 N·m", "stages": (("3", "3"), ("3", "3")), "step": "0.01 N·m"},
            {"setting": "38.89 N·m", "gear_ratio": "9"}, source=NINE_TO_ONE,
            remark="just under 39 N·m",
        ),
        CheckValue(
            "two stages of 4 with efficiency 0.9 in all, 1000 N·m, 60° at the nut",
            {"target": "1000 N·m", "stages": (("4", "4"), ("4", "3.6")), "step": "0.001 N·m",
             "arm": "250 mm", "turn": "60°", "slack": "0 turn", "wind_up": "0°"},
            {"setting": "69.444 N·m", "reaction": "930.56 N·m", "press": "3722 N",
             "travel": "2.6667"},
            source=POWER, rel=1e-4, remark="the handle turns through 960°",
        ),
        CheckValue(
            "stages 15/45 and 12/48 with mesh 0.97",
            {"known_by": "teeth", "teeth": (("15", "15", "45", "3"), ("12", "18", "48", "3")),
             "mesh": "0.97"},
            {"gear_ratio": "20", "gear_efficiency": "0.95404"}, source=WILLIS,
            remark="4 × 5 and 0.9775 × 0.976",
        ),
        CheckValue(
            "the same the other way round",
            {"known_by": "teeth", "teeth": (("12", "18", "48", "3"), ("15", "15", "45", "3")),
             "mesh": "0.97"},
            {"gear_ratio": "20", "gear_efficiency": "0.95404"}, source=WILLIS,
        ),
        CheckValue(
            "free play of 90° and a wind-up of 12° for 100 N·m, 480 N·m",
            {"target": "480 N·m", "stages": (("3", "3"), ("3", "3")), "turn": "60°",
             "slack": "90°", "wind_up": "12°", "step": "0.001 N·m"},
            {"lost": "147.6°", "travel": "1.91"}, source=POWER,
            remark="90 + 4.8 × 12; 9 × 60 + 147.6 = 687.6°",
        ),
        CheckValue(
            "sun 13, annulus 62 in the second stage",
            {"known_by": "teeth", "teeth": (("15", "15", "45", "3"), ("13", "0", "62", "3"))},
            source=TEETH, refused=("teeth",),
        ),
    ),
)  # fmt: skip
def multiplier_of_stages(
    *,
    target: Torque = _TARGET,
    known_by: str = choice(
        "The stages are known by",
        {"factor": "ratio and calibrated factor", "teeth": "their teeth, counted"},
        default="factor", seldom=True,
    ),
    stages: Rows = table(
        "Stages",
        {
            "ratio": column("Ratio", Number, least=1, most=30),
            "factor": column("Factor", Number, least=1, most=30),
        },
        default=(("3", "2.82"), ("3", "2.82")), least_rows=1, most_rows=4,
        when={"known_by": "factor"},
        help="From the handle to the nut. Factor: torque out over torque in, from the "
        "calibration sheet.",
    ),
    teeth: Rows = table(
        "Stages",
        {
            "sun": column("Sun", Count, least=6, most=200),
            "planet": column("Planet", Count, least=0, most=200),
            "ring": column("Annulus", Count, least=18, most=600),
            "planets": column("Planets", Count, least=2, most=8),
        },
        default=(("15", "15", "45", "3"), ("15", "15", "45", "3")), least_rows=1, most_rows=4,
        when={"known_by": "teeth"}, help="Teeth; 0 for a planet that was not counted.",
    ),
    mesh: Fraction = _MESH,
    gives: Fraction = entry(
        "It gives, of its calibrated factor", "100 %", units=("%",), least="70 %", most="110 %",
        tolerance="3 %", when={"known_by": "factor"}, seldom=True,
        why="A tool that is farther off goes to be calibrated.",
        help="100 % with the limits of the calibration for the whole tool.",
    ),
    wrench: Fraction = WRENCH,
    step: Torque = _STEP,
    wrench_low: Torque | None = _LOWEST,
    wrench_high: Torque | None = _HIGHEST,
    arm: Length = ARM,
    turn: Angle = TURN,
    slack: Angle = entry(
        "Free play of the handle", "0.25 turn", units=("°", "turn"), least="0°", most="1080°",
        why="A tool with more play than three turns is worn out.", seldom=True,
        help="From one stop to the other with the output held.",
    ),
    wind_up: Angle = entry(
        "Wind-up of the handle for 100 N·m at the nut", "10°", units=("°", "turn"), least="0°",
        most="360°", why="A tool that soft is no tool.", seldom=True,
        help="Measured once with the output held.",
    ),
    input_square: str = INPUT_SQUARE,
    output_square: str = OUTPUT_SQUARE,
    tool_most: Torque | None = _GREATEST,
    bar_most: Torque | None = REACTION_BAR_MOST,
) -> StagedMultiplier:  # fmt: skip
    """Setting, torque, press and travel; see the module's docstring."""
    target_torque = figure("target", target, "newton*meter")
    share = figure("wrench", wrench, "dimensionless")
    loss = figure("mesh" if known_by == "teeth" else "gives",
                  mesh if known_by == "teeth" else gives, "dimensionless")  # fmt: skip
    train = train_of(known_by, stages, teeth, loss.value)
    ratio = math.prod(stage.ratio for stage in train)

    def factor(loss: float) -> float:
        if known_by == "teeth":
            return math.prod(stage.factor for stage in train_of(known_by, stages, teeth, loss))
        return loss * math.prod(stage.factor for stage in train)

    now, low, chosen, high = (factor(each) for each in loss)
    if chosen < 1:
        raise RefusedError(
            "gives", "The tool would give less torque than it takes. Check ratio and factor."
        )
    exact = target_torque.value / (chosen * share.value)
    setting = nearest_mark(exact, figure("step", step, "newton*meter").value)
    t_in = setting * share.now
    t_out = now * t_in
    a = arm.m_as("meter")
    lost = slack.m_as("turn") + wind_up.m_as("turn") * setting * share.value * chosen / 100
    pull = Pull(
        target=target_torque[1:], exact=exact, setting=setting, tool=(low, chosen, high),
        wrench=share[1:], press=setting * share.value * (chosen - 1) / a,
        known_by=known_by, efficiency=chosen / ratio,
    )  # fmt: skip
    low_mark, high_mark, most = map(newton_metres, (wrench_low, wrench_high, tool_most))
    return StagedMultiplier(
        setting=Q(setting, "N·m"),
        torque=Q(t_out, "N·m"),
        press=Q((t_out - t_in) / a, "N"),
        travel=Q(ratio * turn.m_as("turn") + lost, ""),
        lost=Q(lost, "turn"),
        reaction=Q(t_out - t_in, "N·m"),
        exact=Q(exact, "N·m"),
        gear_ratio=Q(ratio, ""),
        gear_factor=Q(chosen, ""),
        gear_efficiency=Q(chosen / ratio, ""),
        behind=torques_behind(train, setting * share.value),
        findings=later(
            lambda: (
                *findings_of_setting(pull, low_mark, high_mark),
                *findings_of_tool(pull, (input_square, output_square), most),
                *_of_travel(lost),
                *findings_of_bar(pull, bar_most),
                *findings_at_the_bench(pull),
                *findings_of_band(pull),
            )
        ),
    )


def _of_travel(lost: float) -> list[Finding]:
    """What free play and wind-up mean for the angle at the nut; ``lost`` in turns."""
    if lost < LOST:
        return []
    return [
        note(
            "handle-travels",
            f"The handle travels {360 * lost:.0f}° before and beside the nut. Count the nut's "
            "angle at the nut, never at the handle.",
        )
    ]


multiplier_of_stages.drawing("The arm on its stop")(draw)
