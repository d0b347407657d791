"""Checking a torque wrench: its deviation at every reading, against the limit of its class.

Purpose at the bench: readings of a torque wrench against a test device, or against a mass hung
on a measured arm, and whether the wrench may be used on.

Each reading has the deviation a = (X_set - X_true)/X_true; in the sense of ISO 6789 it counts
from the true torque, so a wrench set to 100 N·m that gives 104.1 N·m is 3.94 % off, not 4.1 %.
The wrench passes when every single reading is within the limit p of its class; where the
reference is uncertain by W, a reading within p by less than W is in doubt.

Symbols: X_set setting or indication, X_true torque that the test device shows, a deviation,
p limit, W expanded uncertainty of the test device (k = 2).

Assumptions: the wrench was loaded five times to its greatest torque first, is warm through at
18 to 28 °C, and stands as it is used; readings at a fifth, three fifths and all of its scale,
five at each.

Sources: ISO 6789-1:2017 from memory.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from calculators.wrench_classes import CHOICES, CLASSES
from calculators.wrench_scale import ISO_6789, LEAST_SHARE
from witnessmark.calc import (
    Chart,
    CheckValue,
    Finding,
    Formula,
    Fraction,
    Q,
    Rounding,
    Rows,
    Source,
    Symbol,
    Torque,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    number,
    result,
    show,
    stop,
    table,
    table_result,
    text_result,
)

BY_HAND = Source(
    "deviation-by-hand", "Deviation counted from the true torque, by hand", kind="derivation"
)

ENOUGH = 5
"""Readings at each setting."""
PLACES = 3
"""Settings at which a wrench is checked."""
QUARTER = 0.25
"""Greatest uncertainty of a test device, as a share of the wrench's limit."""
_PERCENT = Rounding(decimals=2, us_decimals=2)


@dataclass(frozen=True)
class WrenchCheck:
    """The verdict, and what it rests on."""

    verdict: str = text_result("The wrench", lead=True)
    farthest: Fraction = result(
        "Farthest off", unit="%", us_unit="%", rounding=_PERCENT, band=False,
        help="Plus where the wrench shows more than it gives.",
    )  # fmt: skip
    mean: Fraction = result("Mean deviation", unit="%", us_unit="%", rounding=_PERCENT, band=False)
    limit: Fraction = result(
        "Limit of its class, ±", unit="%", us_unit="%", rounding=Rounding(figures=2), band=False
    )
    repeats: Fraction = result(
        "Widest spread at one setting", unit="%", us_unit="%", rounding=_PERCENT, band=False,
        seldom=True,
    )  # fmt: skip
    places: tuple[tuple[Any, ...], ...] = table_result(
        "At each setting",
        columns=(
            column("Setting", Torque, rounding=Rounding(figures=4)),
            column("Readings"),
            column("Mean deviation", Fraction, unit="%", rounding=_PERCENT),
            column("Farthest", Fraction, unit="%", rounding=_PERCENT),
        ),
        seldom=True,
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="torque-wrench-check",
    title="Checking a torque wrench",
    topic="torque",
    purpose="Deviations of a torque wrench from readings on a test device, or with a mass on a "
    "measured arm, and whether it may be used on.",
    formulas=(
        Formula(r"a = \frac{X_\mathrm{set} - X_\mathrm{true}}{X_\mathrm{true}}",
                "Deviation of a reading"),
        Formula(r"|a| \le p \text{ for every reading}", "The wrench passes"),
    ),
    symbols=(
        Symbol(r"X_\mathrm{set}", "what the wrench was set to, or showed", "N·m"),
        Symbol(r"X_\mathrm{true}", "what the test device showed", "N·m"),
        Symbol("p", "limit of the class", "1"),
    ),
    assumptions=(
        "Loaded five times to its greatest torque before the first reading, in the direction that "
        "is checked.",
        "Wrench and test device at one temperature between 18 °C and 28 °C.",
        "Readings at a fifth, three fifths and all of the scale, five at each.",
    ),
    sources=(ISO_6789, BY_HAND),
    check_values=(
        CheckValue(
            "set to 100, true 104.2", {"readings": (("100", "104.2"),)},
            {"farthest": "-4.03 %", "limit": "4 %", "verdict": "is out: do not use it"},
            source=BY_HAND, findings=("out",),
        ),
        CheckValue(
            "set to 100, true 104.1", {"readings": (("100", "104.1"),)},
            {"farthest": "-3.94 %", "verdict": "is within its limit"}, source=BY_HAND,
            remark="4.1 % over the setting, and in",
        ),
        CheckValue(
            "a small wrench", {"readings": (("8", "8.4"),), "wrench_high": "10 N·m"},
            {"farthest": "-4.76 %", "limit": "6 %", "verdict": "is within its limit"},
            source=ISO_6789,
        ),
        CheckValue(
            "three readings at one setting",
            {"readings": (("50", "50"), ("50", "49"), ("50", "51"))},
            {"mean": "0.027 %", "farthest": "2.04 %", "repeats": "4.0 %"}, source=BY_HAND,
            remark="0, + 2.0408 % and − 1.9608 %",
        ),
        CheckValue(
            "a test device of 2 % for a limit of 4 %", {"reference": "2 %"}, source=ISO_6789,
            findings=("reference-poor",), remark="a quarter of the limit is allowed",
        ),
    ),
)  # fmt: skip
def torque_wrench_check(
    *,
    readings: Rows = table(
        "Readings",
        {
            "set": column("Wrench set to", Torque, units=("N·m", "lbf·ft", "lbf·in", "kgf·m"),
                          least=0.01, most=3000),
            "true": column("Test device", Torque, units=("N·m", "lbf·ft", "lbf·in", "kgf·m"),
                           least=0.01, most=3000),
        },
        default=(("24", "24.3"), ("24", "24.2"), ("24", "24.4"), ("72", "72.8"), ("72", "72.5"),
                 ("72", "72.9"), ("120", "121.0"), ("120", "121.3"), ("120", "120.8")),
        least_rows=1, most_rows=30,
        help="One row a pull. A bare number is in N·m.",
    ),
    type_class: str = choice("Type and class", CHOICES, default="II A", seldom=True),
    wrench_high: Torque = entry(
        "Highest mark of the wrench", "120 N·m", units=("N·m", "lbf·ft", "lbf·in", "kgf·m"),
        above=0, most="3000 N·m", why="Hand wrenches end at 3000 N·m.", seldom=True,
    ),
    reference: Fraction = entry(
        "Expanded uncertainty of the test device", "1 %", units=("%",), least="0 %", most="10 %",
        seldom=True, why="Nothing can be checked with that.", help="From its own sheet, k = 2.",
    ),
) -> WrenchCheck:  # fmt: skip
    """Deviations and the verdict; see the module's docstring."""
    top, w = wrench_high.m_as("newton*meter"), number(reference)
    p = CLASSES[type_class].limit(top)
    places: dict[float, list[float]] = defaultdict(list)
    for row in readings:
        setting, true = row.set.m_as("newton*meter"), row.true.m_as("newton*meter")
        places[setting].append((setting - true) / true)
    every = [each for deviations in places.values() for each in deviations]
    farthest = max(every, key=lambda each: round(abs(each), 12))
    out = abs(farthest) > p * (1 + 1e-9)
    return WrenchCheck(
        verdict="is out: do not use it" if out else "is within its limit",
        farthest=Q(farthest, ""),
        mean=Q(math.fsum(every) / len(every), ""),
        limit=Q(p, ""),
        repeats=Q(max(max(each) - min(each) for each in places.values()), ""),
        places=tuple(
            (Q(setting, "N·m"), str(len(each)), Q(math.fsum(each) / len(each), ""),
             Q(max(each, key=abs), ""))
            for setting, each in sorted(places.items())
        ),
        findings=(
            *_of_verdict(farthest, p, w, math.fsum(every) / len(every)),
            *_of_readings(places, top),
            note(
                "before-the-first",
                "Load the wrench five times to its greatest torque before the first reading, and "
                "let it lie in the room until it is as warm as the test device.",
            ),
        ),
    )  # fmt: skip


def _percent(share: float) -> str:
    return show(Q(100 * abs(share), "%"), "%", 2)


def _of_verdict(farthest: float, p: float, w: float, mean: float) -> list[Finding]:
    """What the farthest reading says, and whether the test device can say it."""
    found = []
    if abs(farthest) > p * (1 + 1e-9):
        found.append(
            stop(
                "out",
                f"A reading is {_percent(farthest)} off and {_percent(p)} is the limit. Put the "
                "wrench out of use, send it to be adjusted, and look at what was tightened with "
                "it since its last check.",
                "readings",
            )
        )
    elif abs(farthest) + w > p * (1 + 1e-9):
        found.append(
            caution(
                "in-doubt",
                f"The farthest reading is within the limit by less than the {_percent(w)} that "
                "the test device itself may be off. Have the wrench calibrated.",
                "readings",
            )
        )
    elif abs(mean) > p / 2:
        found.append(
            note(
                "leans",
                f"All in all the wrench shows {_percent(mean)} too "
                f"{'much' if mean > 0 else 'little'}. Give that to the calculator of its setting.",
            )
        )
    if w > QUARTER * p * (1 + 1e-9):
        found.append(
            caution(
                "reference-poor",
                f"The test device may be off by {_percent(w)}; a quarter of the wrench's limit is "
                "the most that it should be. Take a better one.",
                "reference",
            )
        )
    return found


def _of_readings(places: dict[float, list[float]], top: float) -> list[Finding]:
    """Whether there are enough readings, at the right places."""
    found = []
    low = LEAST_SHARE * top
    covered = any(abs(each - low) < 0.1 * low for each in places) and any(
        each > 0.95 * top for each in places
    )
    if len(places) < PLACES or min(map(len, places.values())) < ENOUGH or not covered:
        found.append(
            note(
                "readings-few",
                "This is a check between calibrations. A full one takes five readings at a fifth, "
                "at three fifths and at all of the scale.",
                "readings",
            )
        )
    return found


@torque_wrench_check.drawing("Deviations")
def _(entries: Any, results: Any) -> Chart:
    limit = 100 * number(results.limit)
    chart = Chart(
        "Deviations",
        "Deviation of every reading in per cent against the setting; dashed lines at the limits.",
        x="Setting, N·m", y="Deviation, %",
    )  # fmt: skip
    for row in entries.readings:
        setting, true = row.set.m_as("newton*meter"), row.true.m_as("newton*meter")
        off = 100 * (setting - true) / true
        reach = 0.012 * entries.wrench_high.m_as("newton*meter")
        chart.curve([(setting - reach, off), (setting + reach, off)])
    chart.limit(limit, f"+ {limit:g}\u202f%")
    chart.limit(-limit, f"\u2212 {limit:g}\u202f%")
    return chart
