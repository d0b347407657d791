"""How long threadlocker takes to hold, on these metals and at this temperature.

Purpose at the bench: the data sheet speaks of steel at 22 °C. In a cold shop, on zinc or
stainless steel, in a wide thread, the same liquid may need days. The joint must not be
turned, loaded or run before.

The data sheet gives strength against time at a reference temperature; a curve goes through
its points (``calculators.cure_curve``). This joint lives the same curve more slowly:

    t_eq = t / f,  f = exp[(Ea/R)(1/T - 1/T_ref)] f_gap f_metal f_primer,  f_gap = (g/g_ref)^k

s(t) = s_sheet(t_eq). A primer shortens the cure and may cost a share c of the final strength;
what is reached is then (1 - c) s. From a second temperature on the data sheet that takes q
times as long, Ea = R ln q / (1/T_2 - 1/T_ref).

Symbols: T temperature of bench and parts in kelvin, T_ref of the data sheet, Ea activation
energy, R gas constant, g gap on one flank, k its exponent (0 no influence, 2 strong), f_metal
1 on active metals and 3 to 20 on slow ones (the less active of the two governs), f_primer 0.1
to 0.3 with a primer.

Assumptions: temperature is constant; the cure follows one Arrhenius law; the factors multiply.
None of this holds below about 5 °C, on oily threads or beside anti-seize.

Sources: Arrhenius law with the gas constant of CODATA 2018 (exact); ISO 10964 for the test
bolts M10×1.5; factors of gap, metal and primer and the range of Ea: common practice. The
maker's data sheet wins over all of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from calculators.cure_curve import curve_through
from calculators.cure_findings import (
    METALS,
    SLOW,
    findings_of_metals,
    findings_of_progress,
    findings_of_state,
)
from calculators.cure_sources import (
    ARRHENIUS,
    CHECK_VALUES,
    ISO_10964,
    MONOTONE,
    PRACTICE,
    WEIBULL,
)
from witnessmark.calc import (
    ActivationEnergy,
    Chart,
    Finding,
    Formula,
    Fraction,
    Length,
    Number,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Symbol,
    Temperature,
    Time,
    calculator,
    choice,
    column,
    entry,
    later,
    result,
    show,
    table,
    text_result,
)

GAS_CONSTANT = 8.31446261815324e-3
"""kJ/(mol·K), exact since 2019."""
FULL = 0.95
"""Share of the strength the joint will ever have that counts as full."""

# Units held ready: a band calls the calculator some thirty times.
HOUR, KELVIN, ONE = (Q(1, unit).units for unit in ("h", "K", ""))


@dataclass(frozen=True)
class ThreadlockerCure:
    """When the joint can be handled, when it has full strength, and how far it is."""

    full: Time = result("Full strength after", lead=True, rounding=Rounding(figures=2))
    remaining: Time = result("Still to wait", rounding=Rounding(figures=2))
    handling: Time = result(
        "Can be handled after", unit="min", us_unit="min", rounding=Rounding(figures=2)
    )
    strength: Fraction = result(
        "Strength so far",
        unit="%", us_unit="%", rounding=Rounding(decimals=0, us_decimals=0),
        help="Of the full strength on the data sheet.",
    )  # fmt: skip
    slower: Number = result(
        "Times as long as on the data sheet", rounding=Rounding(figures=2), band=False, seldom=True
    )
    governs: str = text_result("Metal that governs", seldom=True)
    energy: ActivationEnergy = result(
        "Activation energy used", rounding=Rounding(figures=3), band=False, seldom=True
    )
    findings: tuple[Finding, ...] = ()


def _points(rows: Rows) -> list[tuple[float, float]]:
    """The data sheet's points in hours and fractions, in order of time, refused if they fall."""
    points = sorted((row.time.m_as(HOUR), row.strength.m_as(ONE)) for row in rows)
    for (t1, s1), (t2, s2) in pairwise(points):
        if t2 <= t1 * (1 + 1e-9) or s2 <= s1:
            raise RefusedError(
                "points",
                "Strength must rise with time from row to row, with no time twice. Check the rows "
                "against the data sheet.",
            )
    if len(points) == 2 and points[1][1] >= 1:
        raise RefusedError(
            "points",
            "With two rows the curve needs both below 100 %. Write 99 % for the last, or add a "
            "third row.",
        )
    if len(points) > 2 and points[-1][1] < FULL:
        raise RefusedError(
            "points",
            "With three rows and more nothing is read past the last one, so it must reach 95 %. "
            "Add the row of full strength, or leave two rows.",
        )
    return points


def _energy(known: str, energy: Any, other: Any, times: Any, reference: float) -> float:
    """Activation energy in kJ/mol, typed or from a second temperature of the data sheet."""
    if known == "typed":
        return float(energy.m_as("kilojoule/mole"))
    second, ratio = other.m_as(KELVIN), times.m_as(ONE)
    if abs(second - reference) < 3:
        raise RefusedError(
            "other", "The two temperatures must lie at least 3 °C apart for a usable figure."
        )
    if (ratio - 1) * (reference - second) <= 0:
        raise RefusedError(
            "times", "The cure is slower when colder: more than 1 below the data sheet's "
            "temperature, less than 1 above it.",
        )  # fmt: skip
    return float(GAS_CONSTANT * math.log(ratio) / (1 / second - 1 / reference))


@calculator(
    name="threadlocker-cure",
    title="How long until it holds",
    topic="threadlocker",
    purpose="Tells when threadlocker can be handled and when it has its full strength, from the "
    "points of the data sheet, the temperature, the metals and the gap.",
    formulas=(
        Formula(
            r"f = \exp\left[\frac{E_a}{R}\left(\frac{1}{T} - \frac{1}{T_\mathrm{ref}}\right)\right]"
            r"\left(\frac{g}{g_\mathrm{ref}}\right)^{k} f_\mathrm{metal}\,f_\mathrm{primer}",
            "Times as long as on the data sheet",
        ),
        Formula(r"s(t) = (1 - c)\;s_\mathrm{sheet}\!\left(\frac{t}{f}\right)", "Strength"),
        Formula(
            r"s_\mathrm{sheet} = 1 - \exp\left[-\left(\frac{t}{\tau}\right)^{n}\right],\quad "
            r"n = \frac{\ln\left[\ln(1 - s_2)/\ln(1 - s_1)\right]}{\ln(t_2/t_1)}",
            "Curve through two points; through more, monotone cubics in ln t",
        ),
        Formula(
            r"E_a = \frac{R\,\ln q}{1/T_2 - 1/T_\mathrm{ref}}",
            "Activation energy from a second temperature",
        ),
    ),
    symbols=(
        Symbol("s", "strength, share of full strength", "1"),
        Symbol("t", "time since tightening", "h"),
        Symbol(r"T, T_\mathrm{ref}", "temperature of the parts, of the data sheet", "K"),
        Symbol("E_a", "activation energy", "kJ/mol"),
        Symbol("R", "gas constant, 8.314 J/(mol·K)", "J/(mol·K)"),
        Symbol(r"g, g_\mathrm{ref}", "gap on one flank, that of the test bolts", "µm"),
        Symbol("k", "exponent of the gap", "1"),
        Symbol(r"f_\mathrm{metal}, f_\mathrm{primer}", "factors of metal and primer", "1"),
        Symbol("c", "share of strength the primer costs", "1"),
        Symbol("q", "times as long at the second temperature", "1"),
        Symbol(r"\tau, n", "time and exponent of the curve", "h, 1"),
    ),
    assumptions=(
        "The parts keep one temperature throughout; warm them before, or count from when they are.",
        "Full strength means 95 % of what the joint will ever have.",
        "Of the two metals the less active one governs.",
        "Before the first point of three or more, the two-point curve of the first two holds; "
        "after the last point nothing is read.",
        "Factors of gap, metal and primer are common practice; the maker's figures win.",
    ),
    sources=(ARRHENIUS, WEIBULL, MONOTONE, ISO_10964, PRACTICE),
    check_values=CHECK_VALUES,
)  # fmt: skip
def threadlocker_cure(
    *,
    bench: Temperature = entry(
        "Temperature of the parts", "14 °C", units=("°C", "°F"), least="0 °C", most="45 °C",
        tolerance="3 K", why="Between 0 °C and 45 °C only; outside no cure time can be given.",
        help="Of the metal, by touch thermometer; the air is often warmer.",
    ),
    first: str = choice("Metal of the bolt", METALS, default="steel"),
    second: str = choice("Metal of the nut or hole", METALS, default="steel"),
    elapsed: Time = entry(
        "Time since tightening", "24 h", units=("h", "min", "d"), least="0 h", most="5000 h"
    ),
    points: Rows = table(
        "Points of the data sheet",
        {
            "time": column("Time", Time, units=("h", "min", "d"), least="0.01 h", most="1000 h"),
            "strength": column("Strength", Fraction, units=("%",), least="1 %", most="100 %"),
        },
        default=(("2 h", "50 %"), ("24 h", "90 %")),
        least_rows=2, most_rows=5,
        help="Two rows give a smooth curve through both; three to five a curve through all, "
        "the last at 95 % or more.", seldom=True,
    ),
    reference: Temperature = entry(
        "Temperature of the data sheet", "22 °C", units=("°C", "°F"), least="10 °C", most="40 °C",
        why="Data sheets test between 10 °C and 40 °C.", seldom=True,
    ),
    gap: Length = entry(
        "Gap on one flank", "92 µm", units=("µm", "mm", "thou"), least="5 µm", most="500 µm",
        why="Gaps of threads lie between 5 µm and 500 µm.",
        help="From the drop calculator: half the clearance between the pitch diameters.",
        seldom=True,
    ),
    reference_gap: Length = entry(
        "Gap of the test bolts", "94 µm", units=("µm", "mm", "thou"), least="5 µm", most="500 µm",
        why="Gaps of threads lie between 5 µm and 500 µm.",
        help="Test bolts are M10×1.5: 94 µm in the middle of 6g/6H.", seldom=True,
    ),
    gap_exponent: Number = entry(
        "Exponent of the gap", "0 … 2", least=0, most=2,
        why="From 0, no influence, to 2.", help="How strongly a wider gap slows the cure.",
        seldom=True,
    ),
    slow_factor: Number = entry(
        "Times slower on a slow metal", "3 … 20", least=1, most=50, usual=("3", "20"),
        why="Beyond 50 times only a primer helps.",
        help="Counts when one of the metals is a slow one. A range gives a band.", seldom=True,
    ),
    primer: str = choice("Primer", {"none": "none", "primed": "primer used"}, default="none",
    seldom=True),
    primer_factor: Fraction = entry(
        "Time with primer", "0.1 … 0.3", units=("", "%"), least=0.01, most=1,
        why="A primer shortens the cure.", when={"primer": "primed"},
        help="Share of the time without it.", seldom=True,
    ),
    primer_cost: Fraction = entry(
        "Strength lost to the primer", "10 … 40 %", units=("%", ""), least="0 %", most="60 %",
        why="A primer that costs more is the wrong one.", when={"primer": "primed"}, seldom=True,
    ),
    handle_at: Fraction = entry(
        "Strength to handle it", "20 %", units=("%", ""), least="5 %", most="50 %",
        usual=("10 %", "30 %"), why="Handling strength lies between 5 % and 50 % of full.",
        help="The parts no longer slip by hand: 10 % to 30 % of full strength.", seldom=True,
    ),
    energy_by: str = choice(
        "Influence of temperature from",
        {"typed": "an activation energy", "sheet": "a second temperature on the data sheet"},
        default="typed", seldom=True,
    ),
    activation: ActivationEnergy = entry(
        "Activation energy", "55 kJ/mol", tolerance="10 kJ/mol", least="20 kJ/mol",
        most="120 kJ/mol", usual=("45 kJ/mol", "65 kJ/mol"),
        why="Cures of this kind lie between 20 kJ/mol and 120 kJ/mol.",
        when={"energy_by": "typed"}, seldom=True,
    ),
    other: Temperature = entry(
        "Second temperature", "5 °C", units=("°C", "°F"), least="-10 °C", most="80 °C",
        when={"energy_by": "sheet"}, seldom=True,
    ),
    times: Number = entry(
        "Times as long there", "4", least=0.01, most=100, when={"energy_by": "sheet"},
        help="4 when the data sheet says that it takes four times as long.", seldom=True,
    ),
    surface: str = choice(
        "Threads",
        {"clean": "degreased and dry", "oily": "oily or unknown",
         "antiseize": "anti-seize or another compound"},
        default="clean", seldom=True,
    ),
    moved: str = choice(
        "Turned after it began to set", {"no": "no", "yes": "yes"}, default="no", seldom=True
    ),
) -> ThreadlockerCure:  # fmt: skip
    """Times and strength of one joint; see the module's docstring."""
    known = _points(points)
    curve = curve_through(known)
    t, t_ref = bench.m_as(KELVIN), reference.m_as(KELVIN)
    energy = _energy(energy_by, activation, other, times, t_ref)
    slower = math.exp(energy / GAS_CONSTANT * (1 / t - 1 / t_ref))
    slower *= (gap / reference_gap).m_as(ONE) ** gap_exponent.m_as(ONE)
    governing = second if second in SLOW and first not in SLOW else first
    slower *= slow_factor.m_as(ONE) if governing in SLOW else 1.0
    left = 1.0
    if primer == "primed":
        slower *= primer_factor.m_as(ONE)
        left = 1 - primer_cost.m_as(ONE)
    need = handle_at.m_as(ONE) / left
    if need >= FULL:
        raise RefusedError(
            "handle_at",
            "With what the primer costs, the joint never gets that strong. Take a lower strength.",
        )
    hours = elapsed.m_as(HOUR)
    full, handling = slower * curve.time(FULL), slower * curve.time(need)
    return ThreadlockerCure(
        full=Q(full, "h"),
        remaining=Q(max(0.0, full - hours), "h"),
        handling=Q(60 * handling, "min"),
        strength=Q(left * curve.strength(hours / slower), ""),
        slower=Q(slower, ""),
        governs=METALS[governing],
        energy=Q(energy, "kJ/mol"),
        findings=later(
            lambda: (
                *findings_of_state(surface, moved, t),
                *findings_of_metals(first, second, primer),
                *findings_of_progress(hours, handling, full, slower, known[-1][0], len(known) == 2),
            )
        ),
    )


@threadlocker_cure.drawing("Strength against time")
def _(entries: Any, results: Any) -> Chart:
    curve = curve_through(_points(entries.points))
    slower = results.slower.m_as(ONE)
    left = 1 - entries.primer_cost.m_as(ONE) if entries.primer == "primed" else 1.0
    need = entries.handle_at.m_as(ONE)
    hours, reached = entries.elapsed.m_as(HOUR), round(100 * results.strength.m_as(ONE), 9)
    sheet = (curve.time(need), curve.time(FULL))
    here = (results.handling.m_as(HOUR), results.full.m_as(HOUR))
    first, last = 0.4 * min(sheet[0], here[0]), 1.6 * max(sheet[1], here[1])
    if first < hours:
        last = max(last, 1.6 * hours)
    bench, reference = (show(t, "°C", 2) for t in (entries.bench, entries.reference))
    chart = Chart(
        "Strength against time",
        f"Strength in percent over time in hours on a logarithmic scale: the data sheet at "
        f"{reference} (dashed) and this joint at {bench}. After {show(entries.elapsed, 'h', 3)} it "
        f"has {reached:.0f} %; full strength comes after {show(results.full, 'h', 2)}.",
        x="Time, h", y="Strength, %", x_log=True, x_range=(first, last), y_range=(0.0, 100.0),
    )  # fmt: skip
    chart.curve_of(
        lambda t: 100 * curve.strength(t),
        first,
        last,
        f"sheet, {reference}",
        points=32,
        dashed=True,
    )
    chart.curve_of(
        lambda t: 100 * left * curve.strength(t / slower), first, last, f"here, {bench}", points=32
    )
    chart.limit(100 * left * FULL, "full")
    chart.limit(100 * need, "can be handled")
    if hours > first:
        chart.mark(hours, reached, f"{reached:.0f} %", x_text=f"{hours:.3g} h")
    return chart
