"""Setting of a torque wrench inside limits, and the torque that then comes of it.

Purpose at the bench: which mark to set so that the true torque keeps within its limits, and
whether this wrench can do that at all.

A wrench deviates by a = (indicated - true)/true, from a1 to a2: the limits of its class, -p and
+p, or what its calibration sheet found, d - W and d + W. A setting S then gives a true torque
from S/(1 + a2) to S/(1 + a1), farther upward than downward. It keeps within lo to hi when
lo (1 + a2) <= S <= hi (1 + a1). Where nothing is left of that, the wrench is unsuitable: it
would take one with p <= (hi - lo)/(hi + lo). Marks stand at S0 + k D; taken is the mark inside
nearest to T (1 + d).

Symbols: T torque wanted, lo and hi its limits, S setting, a deviation, p limit of the class,
d and W mean deviation and expanded uncertainty (k = 2) of the calibration sheet, S0 lowest mark,
D division.

Assumptions: the wrench is used as it was calibrated, in its calibrated way round, pulled
smoothly at its grip. Expanded uncertainty: class limit as a rectangular distribution, a
division as another, root sum square, times two.

Sources: ISO 6789-1:2017 (from memory but for class II A), ISO 6789-2:2017 from memory for what
a calibration sheet gives, JCGM 100.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

from calculators.shop_tools import WRENCH_THAT_DEVIATES
from calculators.torque_wrench_use import (
    ALWAYS,
    Window,
    findings_of_calibration,
    findings_of_window,
)
from calculators.wrench_classes import CHOICES, CLASSES
from calculators.wrench_scale import (
    ISO_6789,
    findings_of_range,
    findings_of_rounding,
    lowest_used,
    nearest_mark,
)
from witnessmark.calc import (
    Chart,
    CheckValue,
    Count,
    Finding,
    Formula,
    Fraction,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    Torque,
    as_entered,
    calculator,
    choice,
    entry,
    number,
    result,
    show,
)

ISO_6789_2 = Source(
    "iso-6789-2-2017", "ISO 6789-2:2017 Assembly tools for screws and nuts - Hand torque tools - "
    "Requirements for calibration and determination of measurement uncertainty, quoted from "
    "memory", kind="from memory",
)  # fmt: skip
BY_HAND = Source(
    "deviation-by-hand", "Deviation counted from the true torque, by hand", kind="derivation"
)
GUM = Source(
    "jcgm-100-2008", "JCGM 100:2008 Guide to the expression of uncertainty in measurement",
    "4.3.7 and 5.1.2",
)  # fmt: skip
TORQUES = ("N·m", "lbf·ft", "lbf·in", "kgf·m")


@dataclass(frozen=True)
class TorqueWrench:
    """The setting, and between what the true torque then lies."""

    setting: Torque = result(
        "Set the wrench to", lead=True, rounding=Rounding(figures=3), band=False
    )
    least: Torque = result(
        "The fastener gets at least", rounding=Rounding(figures=3, toward="down"), band=False
    )
    greatest: Torque = result(
        "The fastener gets at most", rounding=Rounding(figures=3, toward="up"), band=False
    )
    needed: Fraction | None = result(
        "It takes a wrench within ±", unit="%", us_unit="%", band=False,
        rounding=Rounding(decimals=1, us_decimals=1, toward="down"),
    )  # fmt: skip
    window_low: Torque | None = result(
        "Settings that keep within the limits, from", rounding=Rounding(figures=4), band=False,
        seldom=True,
    )  # fmt: skip
    window_high: Torque | None = result(
        "up to", rounding=Rounding(figures=4), band=False, seldom=True
    )
    used_from: Torque = result(
        "This wrench is used from", rounding=Rounding(figures=3), band=False, seldom=True
    )
    expanded: Torque = result(
        "Expanded uncertainty of the torque", rounding=Rounding(figures=2), band=False,
        seldom=True, help="Twice the standard uncertainty: about 95\u202f% of settings.",
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


class _Deviation(NamedTuple):
    """Deviation of the wrench: least, middle, greatest; and its standard uncertainty."""

    low: float
    middle: float
    high: float
    standard: float


def _deviation(
    known_by: str, type_class: str, greatest: float, limit: Any, found: Any, uncertainty: Any
) -> _Deviation:
    if known_by == "sheet":
        d, w = number(found), number(uncertainty)
        return _Deviation(d - w, d, d + w, w / 2)
    p = number(limit) if known_by == "limit" else CLASSES[type_class].limit(greatest)
    return _Deviation(-p, 0.0, p, p / math.sqrt(3))


@calculator(
    name="torque-wrench",
    title="Setting of a torque wrench inside limits",
    topic="torque",
    purpose="Tells which mark of a torque wrench keeps the true torque within its limits, between "
    "what it then lies, and whether this wrench can do that at all.",
    formulas=(
        Formula(r"a = \frac{X_\mathrm{indicated} - X_\mathrm{true}}{X_\mathrm{true}}",
                "Deviation of a wrench"),
        Formula(r"\frac{S}{1 + a_2} \le T_\mathrm{true} \le \frac{S}{1 + a_1}", "True torque"),
        Formula(r"T_\mathrm{lo}\,(1 + a_2) \le S \le T_\mathrm{hi}\,(1 + a_1)",
                "Settings that keep within the limits"),
        Formula(r"p \le \frac{T_\mathrm{hi} - T_\mathrm{lo}}{T_\mathrm{hi} + T_\mathrm{lo}}",
                "Wrench that can"),
        Formula(r"U = 2\,S\sqrt{u_a^2 + \frac{\Delta^2}{12\,S^2}}", "Expanded uncertainty"),
    ),
    symbols=(
        Symbol(r"T_\mathrm{lo}, T_\mathrm{hi}", "limits of the torque", "N·m"),
        Symbol("S", "setting", "N·m"),
        Symbol("a_1, a_2", "least and greatest deviation of the wrench", "1"),
        Symbol("p", "limit of the deviation either way", "1"),
        Symbol("u_a", "p/√3 of a class limit, W/2 of a calibration sheet", "1"),
        Symbol(r"\Delta", "division of the scale", "N·m"),
    ),
    assumptions=(
        "The deviation counts from the true torque, as in ISO 6789.",
        "What a calibration sheet gives is mean deviation and expanded uncertainty with k = 2.",
        "A class limit holds while the wrench is within its calibration interval.",
    ),
    sources=(ISO_6789, ISO_6789_2, BY_HAND, GUM),
    tools=(WRENCH_THAT_DEVIATES,),
    check_values=(
        CheckValue(
            "100 N·m with ± 4 %", {"target": "100 N·m", "known_by": "limit", "limit": "4 %",
            "step": "1 N·m", "wrench_low": "40 N·m", "wrench_high": "200 N·m"},
            {"setting": "100 N·m", "least": "96.154 N·m", "greatest": "104.167 N·m"},
            source=BY_HAND,
        ),
        CheckValue(
            "340 to 360 N·m with ± 4 %",
            {"target": "340 … 360 N·m", "known_by": "limit", "limit": "4 %", "step": "5 N·m",
             "wrench_low": "80 N·m", "wrench_high": "400 N·m"},
            {"window_low": "353.6 N·m", "window_high": "345.6 N·m", "needed": "2.857 %"},
            source=BY_HAND, findings=("tool-unsuitable",), remark="nothing is left between them",
        ),
        CheckValue(
            "300 to 360 N·m with ± 4 %",
            {"target": "300 … 360 N·m", "known_by": "limit", "limit": "4 %", "step": "5 N·m",
             "wrench_low": "80 N·m", "wrench_high": "400 N·m"},
            {"window_low": "312.0 N·m", "window_high": "345.6 N·m", "setting": "330 N·m"},
            source=BY_HAND,
        ),
        CheckValue(
            "389 N·m on a scale of 5 N·m",
            {"target": "389 N·m", "step": "5 N·m", "wrench_low": "80 N·m",
             "wrench_high": "400 N·m"},
            {"setting": "390 N·m", "expanded": "18.243 N·m"}, source=GUM,
            remark="division 5/√12 = 1.443 N·m, class 390 × 0.04/√3 = 9.007 N·m, twice their root",
        ),
        CheckValue(
            "class II A up to 10 N·m", {"target": "8 N·m", "step": "0.1 N·m", "wrench_low": "2 N·m",
            "wrench_high": "10 N·m"}, {"least": "7.547 N·m", "greatest": "8.511 N·m"},
            source=ISO_6789, remark="± 6 %: 8/1.06 and 8/0.94",
        ),
        CheckValue(
            "a sheet that found + 2 % ± 1 %",
            {"target": "100 N·m", "known_by": "sheet", "found": "2 %", "uncertainty": "1 %",
             "step": "1 N·m", "wrench_low": "20 N·m", "wrench_high": "120 N·m"},
            {"setting": "102 N·m", "least": "99.029 N·m", "greatest": "100.990 N·m"},
            source=BY_HAND, remark="102/1.03 and 102/1.01",
        ),
        CheckValue(
            "a setting below a fifth of the scale",
            {"target": "39 N·m", "step": "1 N·m", "wrench_low": "", "wrench_high": "200 N·m"},
            source=ISO_6789, findings=("setting-low",), remark="used from 40 N·m upward",
        ),
    ),
)  # fmt: skip
def torque_wrench(
    *,
    target: Torque = entry(
        "Torque wanted, with its limits", "118 N·m ± 6 %", units=TORQUES, above=0,
        most="3000 N·m", why="Hand wrenches end at 3000 N·m.",
        help="118 N·m ± 6 %, or as a range: 110 … 126 N·m.",
    ),
    known_by: str = choice(
        "The wrench is known by",
        {"class": "type and class", "limit": "its greatest deviation",
         "sheet": "its calibration sheet"},
        default="class",
        help="The sheet's own figures are narrower than the limit of a class.",
    ),
    type_class: str = choice(
        "Type and class", CHOICES, default="II A", seldom=True, when={"known_by": "class"}
    ),
    limit: Fraction = entry(
        "Greatest deviation", "4 %", units=("%",), least="0 %", most="20 %",
        when={"known_by": "limit"}, why="A wrench that is farther off goes to be mended.",
        help="Either way, as a share of the true torque.",
    ),
    found: Fraction = entry(
        "Mean deviation found", "0 %", units=("%",), least="-20 %", most="20 %",
        when={"known_by": "sheet"}, why="A wrench that is farther off goes to be mended.",
        help="Plus where the wrench shows more than the true torque.",
    ),
    uncertainty: Fraction = entry(
        "Its expanded uncertainty", "1 %", units=("%",), least="0 %", most="20 %",
        when={"known_by": "sheet"}, why="Such a sheet says nothing.",
        help="W of the sheet, with k = 2.",
    ),
    step: Torque = entry(
        "One division of the scale", "1 N·m", units=TORQUES, least="0.001 N·m", most="50 N·m",
        seldom=True, why="No wrench is divided like that.",
    ),
    wrench_low: Torque | None = entry(
        "Lowest mark", "20 N·m", units=TORQUES, above=0, most="3000 N·m", optional=True,
        seldom=True, help="Left empty, the scale starts from 0.",
    ),
    wrench_high: Torque = entry(
        "Highest mark", "120 N·m", units=TORQUES, above=0, most="3000 N·m", seldom=True,
        why="Hand wrenches end at 3000 N·m.",
    ),
    since: Count | None = entry(
        "Months since its calibration", "", least=0, most=600, optional=True, seldom=True,
        help="Leave empty if not known.",
    ),
) -> TorqueWrench:  # fmt: skip
    """Setting and limits of the true torque; see the module's docstring."""
    top = wrench_high.m_as("newton*meter")
    bottom = None if wrench_low is None else wrench_low.m_as("newton*meter")
    if bottom is not None and bottom >= top:
        raise RefusedError("wrench_low", "The lowest mark is below the highest. Exchange them.")
    standing = as_entered("target", target)
    least, wanted, most = (
        each.m_as("newton*meter") for each in (standing.low, standing.value, standing.high)
    )
    off = _deviation(known_by, type_class, top, limit, found, uncertainty)
    exact, division = wanted * (1 + off.middle), step.m_as("newton*meter")
    window = None
    if least < most:
        window = Window(least, most, least * (1 + off.high), most * (1 + off.low))
    setting = _mark(exact, division, bottom or 0.0, window)
    spread = math.hypot(off.standard, division / math.sqrt(12) / setting)
    unsuitable = window is not None and window.empty
    return TorqueWrench(
        setting=Q(setting, "N·m"),
        least=Q(setting / (1 + off.high), "N·m"),
        greatest=Q(setting / (1 + off.low), "N·m"),
        needed=Q((most - least) / (most + least), "") if unsuitable else None,
        window_low=None if window is None else Q(window.low, "N·m"),
        window_high=None if window is None else Q(window.high, "N·m"),
        used_from=Q(lowest_used(bottom, top), "N·m"),
        expanded=Q(2 * setting * spread, "N·m"),
        findings=(
            *findings_of_range(setting, bottom, top, "Take a larger wrench or the multiplier."),
            *findings_of_window(setting, window),
            *(findings_of_rounding(setting, exact) if window is None else ()),
            *findings_of_calibration(known_by, since),
            *ALWAYS,
        ),
    )


def _mark(exact: float, step: float, start: float, window: Window | None) -> float:
    """The mark to set: nearest to ``exact`` among those in the window, if there are any."""
    nearest = nearest_mark(exact, step, start)
    if window is None or window.empty or window.holds(nearest):
        return nearest
    inside = [
        start + k * step
        for k in (
            math.ceil((window.low - start) / step - 1e-9),
            math.floor((window.high - start) / step + 1e-9),
        )
    ]
    kept = [mark for mark in inside if window.holds(mark)]
    return min(kept, key=lambda mark: abs(mark - exact)) if kept else nearest


@torque_wrench.drawing("What comes of a setting")
def _(entries: Any, results: Any) -> Chart:
    setting, least, most = (
        each.m_as("newton*meter") for each in (results.setting, results.least, results.greatest)
    )
    unit = show(results.setting, "N·m").split("\u202f")[-1]
    scale = 1 / Q(1, unit).m_as("newton*meter")
    setting, least, most = (scale * each for each in (setting, least, most))
    chart = Chart(
        "What comes of a setting",
        f"True torque against setting. Set to {show(results.setting, 'N·m')} the wrench gives "
        f"{show(results.least, 'N·m')} to {show(results.greatest, 'N·m')}.",
        x=f"Setting, {unit}", y=f"True torque, {unit}",
    )  # fmt: skip
    ends = (0.85 * setting, 1.15 * setting)
    chart.band([(x, x * least / setting) for x in ends], [(x, x * most / setting) for x in ends])
    if results.window_low is not None:
        wanted = as_entered("target", entries.target)
        for limit in (wanted.low, wanted.high):
            chart.limit(scale * limit.m_as("newton*meter"), "")
    chart.mark(setting, setting, "", x_text=show(results.setting, "N·m"))
    return chart
