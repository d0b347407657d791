"""A torque from an old table or a foreign manual, in the unit of the wrench at hand.

Purpose at the bench: convert once, from the figure as it is printed, to no more figures than it
deserves, never beyond a limit; and see which mark of the wrench that is.

X_to = X_from f_from/f_to with the exact factors lbf = 4.4482216152605 N, ft = 0.3048 m,
kgf = 9.80665 N. Rounded as in ``calculators.honest_rounding``.

On old tables "kg" and "m·kg" mean kgf·m: a torque is a force times a length, and the force was
counted in kilograms.

Sources: NIST SP 811 (2008), factors of appendix B.8 and rounding of B.7 from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any, NamedTuple

from calculators.honest_rounding import (
    Sense,
    exact,
    figures_kept,
    figures_of,
    to_figures,
    to_step,
    written,
)
from calculators.wrench_scale import COARSE, LEAST_SHARE
from witnessmark.calc import (
    Chart,
    CheckValue,
    Count,
    Finding,
    Formula,
    Number,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    Torque,
    as_entered,
    calculator,
    caution,
    choice,
    entry,
    note,
    number,
    result,
    text_result,
    with_unit,
)

SP_811 = Source(
    "nist-sp-811", "NIST Special Publication 811 (2008), Guide for the Use of the International "
    "System of Units", "B.8, exact factors", kind="standard",
)  # fmt: skip
SP_811_ROUNDING = Source(
    "nist-sp-811-rounding", "NIST Special Publication 811 (2008), B.7 Rules for rounding numbers "
    "and converted numerical values, quoted from memory", kind="from memory",
)  # fmt: skip

NEWTON_METRES = {
    "lbf·ft": 1.3558179483314004,
    "lbf·in": 0.1129848290276167,
    "ozf·in": 0.0070615518142260435,
    "kgf·m": 9.80665,
    "kgf·cm": 0.0980665,
    "N·m": 1.0,
}
"""Newton metres in each unit."""
FROM = {
    "lbf·ft": "lbf·ft (ft-lb, lb-ft)",
    "lbf·in": "lbf·in (in-lb)",
    "ozf·in": "ozf·in (in-oz)",
    "kgf·m": "kgf·m (kg, m·kg on old tables)",
    "kgf·cm": "kgf·cm (cm·kg on old tables)",
    "N·m": "N·m",
}
TO = {name: name for name in ("N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm")}
KINDS = {
    "nominal": "the value to tighten to", "maximum": "a maximum", "minimum": "a minimum",
    "range": "a range",
}  # fmt: skip
_SENSES: dict[str, tuple[Sense, ...]] = {
    "nominal": ("nearest",), "maximum": ("down",), "minimum": ("up",), "range": ("up", "down"),
}  # fmt: skip


class _Figure(NamedTuple):
    """A figure of the source, converted, rounded, and the way it may be rounded."""

    source: float
    converted: float
    rounded: Decimal
    sense: Sense


@dataclass(frozen=True)
class TorqueConversion:
    """The figure in the unit wanted, and the mark of the wrench."""

    converted: str = text_result("In the unit wanted", lead=True)
    mark: str | None = text_result("On the wrench")
    other: str | None = text_result(
        "The next best mark", help="How far each is from the converted figure stands behind it."
    )
    unrounded: Torque = result(
        "Before rounding", rounding=Rounding(figures=6, us_decimals=3), band=False, seldom=True
    )
    factor: Number = result(
        "Factor", rounding=Rounding(figures=7, us_decimals=7), band=False, seldom=True
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="torque-conversion",
    title="Torque in another unit",
    topic="torque",
    purpose="Converts a torque from a table or manual into the unit of the wrench, rounded as the "
    "source deserves and never beyond a limit, and finds the mark to set.",
    formulas=(
        Formula(r"X_\mathrm{to} = X_\mathrm{from}\,\frac{f_\mathrm{from}}{f_\mathrm{to}}",
                "Converted torque"),
    ),
    symbols=(
        Symbol("X", "the figure in a unit", ""),
        Symbol("f", "newton metres in that unit", "N·m"),
    ),
    assumptions=(
        "A figure has as many figures that count as it is written with: 90 has two, 4.5 has two.",
        "A maximum is rounded down, a minimum up, a range inward.",
    ),
    sources=(SP_811, SP_811_ROUNDING),
    check_values=(
        CheckValue(
            "287 lbf·ft", {"value": "287"},
            {"converted": "389\u202fN·m", "unrounded": "389.120 N·m"},
            source=SP_811_ROUNDING, remark="389.1197",
        ),
        CheckValue(
            "90 lbf·ft", {"value": "90"}, {"converted": "122\u202fN·m"}, source=SP_811_ROUNDING,
            remark="one figure more, because 1 is less than 9",
        ),
        CheckValue("25 lbf·ft", {"value": "25"}, {"converted": "34\u202fN·m"},
                   source=SP_811_ROUNDING),
        CheckValue("18 lbf·ft", {"value": "18"}, {"converted": "24\u202fN·m"},
                   source=SP_811_ROUNDING),
        CheckValue(
            "400 N·m in lbf·ft", {"value": "400", "source_unit": "N·m", "unit": "lbf·ft"},
            {"unrounded": "400 N·m", "factor": "0.7375621"}, source=SP_811,
            remark="295.025 lbf·ft",
        ),
        CheckValue(
            "40 kg on an old table", {"value": "40", "source_unit": "kgf·m"},
            {"unrounded": "392.266 N·m", "converted": "392\u202fN·m"}, source=SP_811,
            findings=("kilogram",), remark="40 kgf·m",
        ),
        CheckValue(
            "287 lbf·ft on a scale of 5 N·m", {"value": "287", "step": "5"},
            {"mark": "390\u202fN·m (+0.23\u202f%)", "other": "385\u202fN·m (\u22121.06\u202f%)"},
            source=SP_811, remark="by hand",
        ),
        CheckValue(
            "at most 287 lbf·ft", {"value": "287", "kind": "maximum", "step": "5"},
            {"converted": "at most 389\u202fN·m", "mark": "385\u202fN·m (\u22121.06\u202f%)"},
            source=SP_811_ROUNDING, remark="never rounded up",
        ),
        CheckValue(
            "35 to 40 lbf·ft", {"value": "35 … 40", "kind": "range"},
            {"converted": "48 to 54\u202fN·m"}, source=SP_811_ROUNDING,
            remark="47.454 and 54.233, inward",
        ),
    ),
)  # fmt: skip
def torque_conversion(
    *,
    value: Number = entry(
        "Figure as it is printed", "287", above=0, most=1e6,
        why="A torque has a size.", help="A range as 35 … 40.",
    ),
    source_unit: str = choice("Printed in", FROM, default="lbf·ft"),
    kind: str = choice("It is", KINDS, default="nominal"),
    unit: str = choice("Wanted in", TO, default="N·m"),
    figures: Count | None = entry(
        "Figures that count", "", least=1, most=8, optional=True, seldom=True,
        help="Empty: as many as the number is written with.",
    ),
    step: Number | None = entry(
        "One division of the wrench", "", above=0, most=1000, optional=True, seldom=True,
        help="In the unit wanted. Empty: not asked.",
    ),
    wrench_high: Number | None = entry(
        "Highest mark of the wrench", "", above=0, most=1e6, optional=True, seldom=True,
        help="In the unit wanted. Empty: not known.",
    ),
) -> TorqueConversion:  # fmt: skip
    """The figure in the unit wanted; see the module's docstring."""
    standing = as_entered("value", value)
    low, middle, high = (number(each) for each in (standing.low, standing.value, standing.high))
    if kind == "range" and low == high:
        raise RefusedError("value", "A range has two ends: write it as 35 … 40.")
    if kind != "range" and low < high:
        raise RefusedError("value", f"Two ends are a range, not {KINDS[kind]}. Choose that.")
    factor = NEWTON_METRES[source_unit] / NEWTON_METRES[unit]
    ends = (low, high) if kind == "range" else (middle,)
    counted = figures or max(figures_of(each) for each in ends)
    found = [
        _Figure(each, each * factor, _rounded(each, factor, counted, sense), sense)
        for each, sense in zip(ends, _SENSES[kind], strict=True)
    ]
    while found[0].rounded > found[-1].rounded:
        counted += 1
        found = [
            each._replace(rounded=_rounded(each.source, factor, counted, each.sense))
            for each in found
        ]
    marks = None if step is None else _marks(kind, found, exact(number(step)))
    top = None if wrench_high is None else number(wrench_high)
    return TorqueConversion(
        converted=_text(kind, [each.rounded for each in found], unit),
        mark=None if not marks else _mark_text(kind, marks[0], found, unit),
        other=None if not marks or len(marks) < 2 else _mark_text(kind, marks[1], found, unit),
        unrounded=Q(middle * NEWTON_METRES[source_unit], "N·m"),
        factor=Q(factor, ""),
        findings=(
            *_of_unit(source_unit, unit),
            *_of_marks(kind, marks, found),
            *_of_range(marks, found, top, unit),
        ),
    )


def _rounded(source: float, factor: float, figures: int, sense: Sense) -> Decimal:
    """A figure of the source converted and rounded."""
    converted = source * factor
    if factor == 1:
        return exact(source)
    return to_figures(converted, figures_kept(source, converted, figures), sense)


def _text(kind: str, numbers: list[Decimal], unit: str) -> str:
    """The figure in words: at most 389 N·m, 48 to 54 N·m."""
    if kind == "range":
        return with_unit(f"{written(numbers[0])} to {written(numbers[-1])}", unit)
    word = {"maximum": "at most ", "minimum": "at least "}.get(kind, "")
    return word + with_unit(written(numbers[0]), unit)


def _marks(kind: str, found: list[_Figure], step: Decimal) -> list[tuple[Decimal, ...]]:
    """Marks to set, the best first; none where no mark is inside the limits."""
    if kind == "range":
        first, last = (to_step(each.converted, step, each.sense) for each in found)
        return [(first, last)] if first <= last else []
    (only,) = found
    best = to_step(only.converted, step, only.sense)
    if best <= 0:
        return []
    if kind != "nominal":
        return [(best,)]
    off = exact(only.converted) - best
    second = best + (step if off > 0 else -step)
    return [(best,), (second,)] if off != 0 and second > 0 else [(best,)]


def _mark_text(kind: str, mark: tuple[Decimal, ...], found: list[_Figure], unit: str) -> str:
    """A mark and how far it is off: 390 N·m (+0.23 %); for a range the marks inside."""
    if kind == "range":
        if mark[0] == mark[1]:
            return with_unit(written(mark[0]), unit)
        return with_unit(f"{written(mark[0])} to {written(mark[1])}", unit)
    off = 100 * (float(mark[0]) / found[0].converted - 1)
    sign = "+" if off > 0 else "\u2212"
    share = to_step(abs(off), Decimal("0.01"), "nearest")
    return f"{with_unit(written(mark[0]), unit)} ({sign}{written(share)}\u202f%)"


def _of_unit(source_unit: str, unit: str) -> list[Finding]:
    """What the units are easily taken for."""
    found = []
    if source_unit.startswith("kgf"):
        found.append(
            caution(
                "kilogram",
                "Old tables write kg or m·kg and mean kgf·m; cm·kg is a hundredth of that. See "
                "which makes sense for the size of the thread before you tighten.",
                "source_unit",
            )
        )
    if {source_unit, unit} & {"lbf·ft", "lbf·in"}:
        found.append(
            note(
                "foot-or-inch",
                "1 lbf·ft are 12 lbf·in, and 1 kgf·m are 7.2 lbf·ft. The letters are easily "
                "mistaken in bad print.",
            )
        )
    found.append(
        note("never-joule", "The torque is in newton metres, never in joules; those are for work.")
    )
    return found


def _of_marks(
    kind: str, marks: list[tuple[Decimal, ...]] | None, found: list[_Figure]
) -> list[Finding]:
    """Whether the scale has a mark that will do."""
    if marks is None:
        return []
    if not marks:
        return [
            caution(
                "no-mark-inside",
                "No mark of this scale keeps within the limits. Take a wrench with a finer scale; "
                "do not round a limit outward.",
                "step",
            )
        ]
    if kind == "nominal" and abs(float(marks[0][0]) / found[0].converted - 1) > COARSE:
        return [
            caution(
                "scale-coarse",
                "The nearest mark is more than 1\u202f% off. Take a wrench with a finer scale.",
                "step",
            )
        ]
    return []


def _of_range(
    marks: list[tuple[Decimal, ...]] | None, found: list[_Figure], top: float | None, unit: str
) -> list[Finding]:
    """Whether the wrench is the right size; ``top`` is its highest mark."""
    if top is None:
        return []
    set_to = float(marks[0][0]) if marks else found[0].converted
    if set_to < LEAST_SHARE * top * (1 - 1e-9):
        return [
            caution(
                "wrench-too-large",
                f"That is below a fifth of the wrench's {with_unit(f'{top:g}', unit)}. Take a "
                "smaller one.",
                "wrench_high",
            )
        ]
    if set_to > top * (1 + 1e-9):
        return [
            caution("wrench-too-small", "The wrench ends below that. Take a larger one.",
                    "wrench_high")
        ]  # fmt: skip
    return []


@torque_conversion.drawing("From unit to unit")
def _(entries: Any, results: Any) -> Chart:
    """Both units along a straight line, the figure marked."""
    value = number(entries.value)
    factor = number(results.factor)
    chart = Chart(
        "From unit to unit",
        f"A straight line through nothing: {value:g} {entries.source_unit} are "
        f"{value * factor:.4g} {entries.unit}.",
        x=entries.source_unit, y=entries.unit,
    )  # fmt: skip
    chart.curve([(0, 0), (1.4 * value, 1.4 * value * factor)])
    chart.mark(value, value * factor, results.converted)
    return chart
