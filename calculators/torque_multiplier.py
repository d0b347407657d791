"""Wrench setting through a planetary torque multiplier.

Purpose at the bench: what to set the torque wrench to so that the nut gets its torque, how
hard the tool's arm then presses on its stop, and whether wrench, multiplier and squares
stand it.

The multiplier makes T_out = k T_in of the torque at its handle; its factor k = i eta is less
than its ratio i. The wrench truly gives w of its setting (1 for a true one), so it is set to
S = T/(k w), on the nearest mark of its scale. The nut then gets k w S. With a wrench that
deviates by p in the sense of ISO 6789 and a factor from k1 to k2 that is between
k1 S/(1 + p) and k2 S/(1 - p): the setting is chosen once and does not move with the band.

Handle and output turn the same way about one axis, so the housing is left with
T_R = T_out - T_in, the other way round; on an arm of length a that is a press of F = T_R/a.
The handle turns i times as far as the nut, once more the slack and the wind-up.

Symbols: T torque wanted, S setting, k factor, i ratio, eta efficiency, w share of its setting
that the wrench gives, a arm, F press, T_R torque on the housing; Zs and Zr as in
``calculators.planetary_gear``.

Assumptions: housing held by the stop alone, wrench square on the handle, no push along the
axis; friction in the multiplier as at its calibration.

Sources: Willis equation and moment about one axis (derivations); ISO 6789-1, ISO 1174-1,
ISO 3315 from memory; efficiencies: common practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calculators.drive_square import ISO_1174, ISO_3315, SQUARES
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
from calculators.plain_figure import figure
from calculators.planetary_gear import check_teeth, efficiency_of_stage, ratio_of_stage
from calculators.rated_tools import REACTION_BAR_MOST
from calculators.shop_tools import MULTIPLIER, REACTION_BAR, TORQUE_WRENCH
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
    Source,
    Symbol,
    Torque,
    calculator,
    choice,
    entry,
    later,
    result,
)

_TARGET, _GREATEST = wanted(6000, 3000), greatest(10000)
_STEP, (_LOWEST, _HIGHEST) = division("2 N·m"), marks("3000 N·m")
_MESH = meshes("Sun to planet and planet to annulus together, as if the carrier stood still.")


@dataclass(frozen=True)
class PlanetaryMultiplier:
    """What to set, what comes of it, and what the tool and its stop bear."""

    setting: Torque = result(
        "Set the wrench to", lead=True, rounding=Rounding(figures=3), band=False,
        help="The mark of the wrench's scale that comes nearest.",
    )  # fmt: skip
    torque: Torque = result(
        "The nut then gets", rounding=Rounding(step="1 N·m", us_step="1 lbf·ft")
    )
    press: Force = result("The arm presses with", unit="kN", us_unit="lbf")
    turns: Number = result("Turns of the handle", help="Slack and wind-up come once on top.")
    input_use: Fraction = result(
        "Square at the wrench, share of its working limit", unit="%", us_unit="%",
        rounding=Rounding(figures=2), band=False, seldom=True,
    )  # fmt: skip
    output_use: Fraction = result(
        "Square at the nut, share of its working limit", unit="%", us_unit="%",
        rounding=Rounding(figures=2), band=False, seldom=True,
    )  # fmt: skip
    reaction: Torque = result("Torque that the arm holds", band=False, seldom=True)
    exact: Torque = result(
        "Setting before rounding to the scale", rounding=Rounding(figures=4), band=False,
        seldom=True,
    )  # fmt: skip
    gear_ratio: Number = result("Ratio", band=False, seldom=True)
    gear_efficiency: Fraction = result("Efficiency", band=False, seldom=True)
    findings: tuple[Finding, ...] = ()


_KNOWN_BY = {"factor": ("ratio", "factor"), "ratio": ("ratio", "efficiency"), "teeth": ("mesh",)}
"""The figures that count, by what is known of the multiplier."""


def _gear(
    known_by: str, sun: int, ring: int, stages: int, known: Mapping[str, float]
) -> tuple[float, float]:
    """Ratio and torque factor of the multiplier."""
    if known_by == "factor":
        return known["ratio"], known["factor"]
    if known_by == "ratio":
        return known["ratio"], known["ratio"] * known["efficiency"]
    ratio = ratio_of_stage(sun, ring) ** stages
    return ratio, ratio * efficiency_of_stage(sun, ring, known["mesh"]) ** stages


@calculator(
    name="planetary-multiplier",
    title="Wrench setting through a planetary multiplier",
    topic="torque",
    purpose="Tells what to set the torque wrench to when it drives a planetary multiplier, what "
    "the nut then gets, and how hard the multiplier's arm presses on its stop.",
    formulas=(
        Formula(r"S = \frac{T}{k\,w}", "Setting, then rounded to the wrench's scale"),
        Formula(
            r"\frac{k_1\,S}{1 + p} \le T_\mathrm{nut} \le \frac{k_2\,S}{1 - p}",
            "Torque that the nut gets",
        ),
        Formula(r"F = \frac{T_\mathrm{out} - T_\mathrm{in}}{a}", "Press of the arm on its stop"),
        Formula(r"i = 1 + \frac{Z_r}{Z_s}", "Ratio of a stage, annulus held"),
        Formula(
            r"\eta = \frac{1 + i_0\,\eta_0}{1 + i_0},\quad i_0 = \frac{Z_r}{Z_s}",
            "Efficiency of a stage",
        ),
        Formula(r"k = i\,\eta", "Factor from ratio and efficiency"),
    ),
    symbols=(
        Symbol("T", "torque wanted at the nut", "N·m"),
        Symbol("S", "setting of the wrench", "N·m"),
        Symbol("k", "torque factor of the multiplier, from k₁ to k₂", "1"),
        Symbol("w", "share of its setting that the wrench gives", "1"),
        Symbol("p", "deviation of the wrench, as a share of the true torque", "1"),
        Symbol(r"T_\mathrm{in}, T_\mathrm{out}", "torque at the handle, at the nut", "N·m"),
        Symbol("a", "arm, from the nut's centre to where it bears", "mm"),
        Symbol("Z_s, Z_r", "teeth of sun and annulus", "1"),
        Symbol(r"\eta_0", "efficiency of the two meshes, carrier held", "1"),
    ),
    assumptions=(
        "Annulus held, sun driven, carrier drives the nut; all stages alike.",
        "The arm bears at one place, square to the line from the nut's centre.",
        "A square is used up to 0.6 of its test torque.",
        "The deviation of the wrench counts from the true torque (ISO 6789), so the band is wider "
        "upward than downward.",
    ),
    sources=(WILLIS, POWER, ISO_6789, ISO_1174, ISO_3315, PRACTICE),
    tools=(MULTIPLIER, TORQUE_WRENCH, REACTION_BAR),
    check_values=(
        CheckValue(
            "480 N·m with a factor of 4.62 on a scale of 2 N·m",
            {"target": "480 N·m", "factor": "4.62", "step": "2 N·m"},
            {"setting": "104 N·m", "exact": "103.90 N·m", "torque": "480.48 N·m"},
            source=Source("by-division", "480/4.62 and 4.62 × 104 by hand", kind="derivation"),
        ),
        CheckValue(
            "ratio 16, efficiency 0.9, 1000 N·m, 60° at the nut",
            {"known_by": "ratio", "ratio": "16", "efficiency": "0.9", "target": "1000 N·m",
             "step": "0.001 N·m", "arm": "250 mm", "turn": "60°"},
            {"setting": "69.444 N·m", "reaction": "930.56 N·m", "press": "3722 N",
             "turns": "2.6667"},
            source=POWER, rel=1e-4, remark="the handle turns through 960°",
        ),
        CheckValue(
            "sun 15, annulus 45, mesh 0.97",
            {"known_by": "teeth", "sun": "15", "planet": "15", "ring": "45", "mesh": "0.97"},
            {"gear_ratio": "4", "gear_efficiency": "0.9775"},
            source=WILLIS, rel=1e-12,
        ),
        CheckValue(
            "sun 15, annulus 45, mesh 0.95",
            {"known_by": "teeth", "sun": "15", "planet": "15", "ring": "45", "mesh": "0.95"},
            {"gear_ratio": "4", "gear_efficiency": "0.9625"},
            source=WILLIS, rel=1e-12,
        ),
        CheckValue(
            "two such stages",
            {"known_by": "teeth", "sun": "15", "planet": "15", "ring": "45", "mesh": "0.97",
             "stages": "2"},
            {"gear_ratio": "16", "gear_efficiency": "0.95550625"},
            source=WILLIS, rel=1e-12, remark="4 × 4 and 0.9775²",
        ),
        CheckValue(
            "sun 13, annulus 62: no planet fits",
            {"known_by": "teeth", "sun": "13", "planet": "", "ring": "62"},
            source=TEETH, refused=("ring",),
        ),
        CheckValue(
            "sun 16, annulus 48: three planets cannot stand equally",
            {"known_by": "teeth", "sun": "16", "planet": "", "ring": "48", "planets": "3"},
            source=TEETH, refused=("planets",),
        ),
        CheckValue(
            "320 N·m on a 12.5 mm square, test torque 512 N·m",
            {"target": "1600 N·m", "factor": "5", "input_square": "12.5", "step": "1 N·m"},
            {"input_use": "104.17 %"}, source=ISO_3315, findings=("wrench-square-over",),
            remark="320/(0.6 × 512)",
        ),
        CheckValue(
            "a wrench of 600 N·m set to 104 N·m", {"wrench_high": "600 N·m"}, source=ISO_6789,
            findings=("setting-low",), remark="used from 20 % of its scale upward",
        ),
    ),
)  # fmt: skip
def planetary_multiplier(
    *,
    target: Torque = _TARGET,
    known_by: str = choice(
        "The multiplier is known by",
        {"factor": "its calibrated factor", "ratio": "ratio and efficiency",
         "teeth": "its teeth, counted"},
        default="factor", seldom=True,
    ),
    factor: Number = entry(
        "Torque factor", "4.62 ± 0.12", least=1, most=150, when={"known_by": "factor"},
        why="A multiplier gives more torque than it takes, and no hand tool more than 150 times.",
        help="Torque out over torque in, from the tool's calibration sheet, with its limits.",
    ),
    ratio: Number = entry(
        "Ratio", "5", least=1, most=200, when={"known_by": ("factor", "ratio")},
        why="Write how many turns of the handle make one turn of the nut.",
        help="Turns of the handle for one turn of the output; it stands on the tool's plate.",
        seldom=True,
    ),
    efficiency: Fraction = entry(
        "Efficiency", "0.90", units=("", "%"), least=0.5, most=1, usual=("0.85", "0.95"),
        tolerance="0.04", when={"known_by": "ratio"},
        why="No gear gives more than it takes, and a tool below 0.5 is jammed.",
        usual_why="Complete hand multipliers reach 0.85 to 0.95.",
        help="Of the whole tool. 0.04 either way is taken unless a tolerance is written.",
    ),
    sun: Count = entry(
        "Teeth on the sun", "12", least=6, most=200, when={"known_by": "teeth"},
        help="The small gear in the middle, driven by the handle.",
    ),
    planet: Count | None = entry(
        "Teeth on a planet", "18", least=6, most=200, optional=True, when={"known_by": "teeth"},
        help="Checks the count; leave empty if not counted.",
    ),
    ring: Count = entry(
        "Teeth in the annulus", "48", least=18, most=600, when={"known_by": "teeth"},
        help="The toothed ring inside the housing.",
    ),
    planets: Count = entry("Planets", "3", least=2, most=8, when={"known_by": "teeth"}),
    stages: Count = entry(
        "Stages, all alike", "1", least=1, most=3, when={"known_by": "teeth"},
    ),
    mesh: Fraction = _MESH,
    wrench: Fraction = WRENCH,
    step: Torque = _STEP,
    wrench_low: Torque | None = _LOWEST,
    wrench_high: Torque | None = _HIGHEST,
    arm: Length = ARM,
    turn: Angle = TURN,
    input_square: str = INPUT_SQUARE,
    output_square: str = OUTPUT_SQUARE,
    tool_most: Torque | None = _GREATEST,
    bar_most: Torque | None = REACTION_BAR_MOST,
) -> PlanetaryMultiplier:  # fmt: skip
    """Setting, torque, press and use of the squares; see the module's docstring."""
    if known_by == "teeth":
        check_teeth(sun, planet, ring, planets)
    target_torque = figure("target", target, "newton*meter")
    gives = figure("wrench", wrench, "dimensionless")
    known = {"factor": factor, "ratio": ratio, "efficiency": efficiency, "mesh": mesh}
    names = _KNOWN_BY[known_by]
    now, low, chosen, high = (
        _gear(known_by, sun, ring, stages, dict(zip(names, place, strict=True)))
        for place in zip(*(figure(name, known[name], "dimensionless") for name in names),
                         strict=True)
    )  # fmt: skip
    if chosen[1] > chosen[0]:
        raise RefusedError(
            "ratio",
            f"The factor {chosen[1]:.4g} cannot be more than the ratio, which is {chosen[0]:.4g}: "
            "no gear gives more work than it takes. Check both.",
        )
    if chosen[1] < 1:
        raise RefusedError(
            "efficiency",
            f"With a ratio of {chosen[0]:.4g} and this efficiency the tool would give less torque "
            "than it takes. Check both.",
        )
    exact = target_torque.value / (chosen[1] * gives.value)
    setting = nearest_mark(exact, figure("step", step, "newton*meter").value)

    i, k = now
    t_in = setting * gives.now
    t_out = k * t_in
    a = arm.m_as("meter")
    pull = Pull(
        target=target_torque[1:],
        exact=exact,
        setting=setting,
        tool=(low[1], chosen[1], high[1]),
        wrench=gives[1:],
        press=setting * gives.value * (chosen[1] - 1) / a,
        known_by=known_by,
        efficiency=chosen[1] / chosen[0],
    )
    return PlanetaryMultiplier(
        setting=Q(setting, "N·m"),
        torque=Q(t_out, "N·m"),
        press=Q((t_out - t_in) / a, "N"),
        turns=Q(i * turn.m_as("turn"), ""),
        input_use=Q(t_in / SQUARES[input_square].limit, ""),
        output_use=Q(t_out / SQUARES[output_square].limit, ""),
        reaction=Q(t_out - t_in, "N·m"),
        exact=Q(exact, "N·m"),
        gear_ratio=Q(i, ""),
        gear_efficiency=Q(k / i, ""),
        findings=later(
            lambda: (
                *findings_of_setting(pull, newton_metres(wrench_low), newton_metres(wrench_high)),
                *findings_of_tool(pull, (input_square, output_square), newton_metres(tool_most)),
                *findings_of_bar(pull, bar_most),
                *findings_at_the_bench(pull),
                *findings_of_band(pull),
            )
        ),
    )


planetary_multiplier.drawing("The arm on its stop")(draw)
