"""Made as the drawing allows, how many flywheels of a hundred go on their dowels?

Purpose at the bench: holes and dowels are each within their zones and sizes, and yet one pair
in so many does not go together. Before a flange is sent back, or a batch is drilled, this tells
how often that must happen, and how much of it a fitter gets back by finding the place by hand.

Certainty first: with every size and place at its worst no pair can bind as long as the virtual
sizes leave room, (D_min - T_h) - (d_max + T_d) >= 0. Where they do not, patterns are drawn by
chance and counted (``calculators.pattern_chance``).

Symbols: N dowels on radius r, T_h, T_d zones (diameters) of holes and dowels, D, d sizes.

Assumptions: places and sizes scatter independently; sizes evenly between their limits; even
spacing on the ring, one position only (the index mark's).

Sources: JCGM 101:2008; ISO 2692. The seed is fixed: the same entries give the same count.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.pattern_chance import Tally, tally
from calculators.pattern_draws import Drawn
from witnessmark.calc import (
    Bars,
    CheckValue,
    Count,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    as_entered,
    calculator,
    caution,
    choice,
    entry,
    note,
    number,
    result,
    show,
    stop,
    text_result,
    with_unit,
)

JCGM_101 = Source(
    "jcgm-101-2008",
    "JCGM 101:2008 Propagation of distributions using a Monte Carlo method",
    "6 and 7",
)
ISO_2692 = Source(
    "iso-2692-2021", "ISO 2692:2021 Maximum material requirement, least material requirement",
    "maximum material virtual size",
)  # fmt: skip
NORMAL = Source(
    "two-dowels-closed",
    "Two dowels: only their distance counts, a normal error of σ√2; erf(c/σ) in closed form",
    kind="derivation",
)
RAYLEIGH = Source(
    "rayleigh-closed",
    "Offset of a dowel from its hole: Rayleigh distributed, (1 - exp(-c²/2σ²)) for each",
    kind="derivation",
)
REFERENCE = Source(
    "chance-by-reference-library",
    "1500 patterns drawn with another generator, each judged by general numerical routines",
    kind="derivation",
)
_PERCENT = Rounding(decimals=1, us_decimals=1)
_SEED = 2692
_ZERO_PLUS = 1e-9
_SCATTERED = {
    "count": "4", "radius": "27 mm", "hole_zone": "0.18 mm", "dowel_zone": "0 mm",
    "hole": "8.16 mm", "dowel": "8 mm", "spread": "normal", "drawings": "3000",
}  # fmt: skip


@dataclass(frozen=True)
class AssemblyChance:
    """How often it goes together, and whether it must."""

    chance: Fraction = result(
        "Goes on, place found by hand", lead=True, unit="%", us_unit="%", rounding=_PERCENT,
        band=False,
    )  # fmt: skip
    verdict: str = text_result("That is")
    sure: Length = result(
        "Room when everything is at its worst", unit="µm", us_unit="thou",
        rounding=Rounding(step="1 µm", us_decimals=2), band=False,
        help="On the diameter. Not below zero: every one goes on, without drawing lots.",
    )  # fmt: skip
    uncertainty: Fraction = result(
        "Known to ±", unit="%", us_unit="%", rounding=_PERCENT, band=False, seldom=True,
        help="Twice the standard uncertainty of a count.",
    )  # fmt: skip
    squares: Fraction = result(
        "Goes on where least squares put it", unit="%", us_unit="%", rounding=_PERCENT,
        band=False, seldom=True,
    )  # fmt: skip
    fixed: Fraction = result(
        "Goes on held at its true place", unit="%", us_unit="%", rounding=_PERCENT,
        band=False, seldom=True, help="As in a jig that lets nothing turn or shift.",
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()
    counted: Tally | None = None


@calculator(
    name="assembly-chance",
    title="How many of a hundred will go on",
    topic="dowels and holes",
    purpose="Draws holes and dowels by chance within their zones and sizes and counts how many "
    "flywheels go on their dowels.",
    formulas=(
        Formula(
            r"\left(D_\mathrm{min} - T_\mathrm{h}\right) - "
            r"\left(d_\mathrm{max} + T_\mathrm{d}\right) \ge 0",
            "Every one goes on",
        ),
        Formula(r"P = \frac{x}{n}", "Share of the drawings that go together"),
        Formula(
            r"u = \sqrt{\frac{\tilde{P} \left(1 - \tilde{P}\right)}{n + 4}},\quad "
            r"\tilde{P} = \frac{x + 2}{n + 4}",
            "Standard uncertainty of the share",
        ),
    ),
    symbols=(
        Symbol("D, d", "diameters of hole and dowel", "mm"),
        Symbol(r"T_\mathrm{h}, T_\mathrm{d}", "zones of hole and dowel, diameters", "mm"),
        Symbol("x, n", "drawings that go together, all drawings", "1"),
    ),
    assumptions=(
        "Places and sizes scatter by chance, each for itself; a drill jig that is out shifts all "
        "alike and is no chance.",
        "Sizes lie evenly between their limits. Places lie normally, three sigma at the edge of "
        "the zone, or evenly over it.",
        "The dowels are evenly spaced, and only the position of the index mark counts.",
        "The seed is fixed, so the same entries always give the same count.",
    ),
    sources=(JCGM_101, ISO_2692, NORMAL, RAYLEIGH, REFERENCE),
    check_values=(
        CheckValue(
            "two dowels, σ 0.03 mm, clearance 0.04 mm: erf(4/3)",
            {**_SCATTERED, "count": "2", "hole": "8.08 mm"}, {"chance": "94.07 %"},
            source=NORMAL, abs_="1.3 %",
        ),
        CheckValue(
            "four dowels held at their true places, σ 0.03 mm, clearance 0.08 mm",
            _SCATTERED, {"fixed": "89.05 %"}, source=RAYLEIGH, abs_="1.7 %",
            remark="(1 - exp(-0.08² / (2 × 0.03²)))⁴",
        ),
        CheckValue(
            "the same by least squares and in the best place", _SCATTERED,
            {"squares": "98.5 %", "chance": "99.9 %"}, source=REFERENCE, abs_="0.7 %",
        ),
        CheckValue(
            "holes 8.040 with 0.012, dowels 8.015 with 0.012: 1 µm is left",
            {"hole": "8.040 … 8.066 mm", "dowel": "8.006 … 8.015 mm", "hole_zone": "0.012 mm",
             "dowel_zone": "0.012 mm", "spread": "even"},
            {"sure": "1 µm", "chance": "100 %", "fixed": "100 %"}, source=ISO_2692,
            findings=("always-goes",),
        ),
        CheckValue(
            "dowels as large as their holes", {**_SCATTERED, "hole": "8 mm", "drawings": "500"},
            {"chance": "0 %"}, source=ISO_2692, findings=("seldom-goes",),
        ),
        CheckValue(
            "no scatter at all", {**_SCATTERED, "hole_zone": "0 mm", "drawings": "500"},
            {"chance": "100 %", "sure": "160 µm"}, source=ISO_2692,
        ),
        CheckValue(
            "dowels that overlap", {"count": "12", "radius": "12 mm"}, source=ISO_2692,
            refused=("radius",),
        ),
    ),
)  # fmt: skip
def assembly_chance(
    *,
    count: Count = entry("Dowels", "4", least=2, most=12, why="A flange has 2 to 12."),
    radius: Length = entry(
        "Radius of the ring", "31 mm", units=("mm", "in"), least="5 mm", most="500 mm",
        why="Measured from the centre of the crankshaft.",
    ),
    hole: Length = entry(
        "Hole, diameter with limits", "8.040 … 8.066 mm", units=("mm", "in"), least="1 mm",
        most="60 mm", why="No dowel of a flywheel is of that size.",
    ),
    dowel: Length = entry(
        "Dowel, diameter with limits", "8.006 … 8.015 mm", units=("mm", "in"), least="1 mm",
        most="60 mm", why="No dowel of a flywheel is of that size.",
    ),
    hole_zone: Length = entry(
        "Zone of the holes on the drawing", "0.04 mm", units=("mm", "µm", "thou"), least=0,
        most="2 mm", why="No dowel hole is placed as loosely.", help="A diameter.",
    ),
    dowel_zone: Length = entry(
        "Zone of the dowels on the drawing", "0.03 mm", units=("mm", "µm", "thou"), least=0,
        most="2 mm", why="No dowel is placed as loosely.", help="A diameter.",
    ),
    spread: str = choice(
        "Within their zones the places lie",
        {"normal": "mostly near the middle (normal)", "even": "anywhere alike (even)"},
        default="even", seldom=True, help="Even is the careful one.",
    ),
    drawings: str = choice(
        "Patterns drawn", {"500": "500", "1000": "1000", "3000": "3000"}, default="1000",
        seldom=True, help="More take longer and tell more finely.",
    ),
) -> AssemblyChance:  # fmt: skip
    """Share that goes together, and certainty; see the module's docstring."""
    holes, dowels = _limits("hole", hole), _limits("dowel", dowel)
    r, n = radius.m_as("mm"), int(count)
    if 2 * r * math.sin(math.pi / n) <= holes[1]:
        raise RefusedError("radius", "The holes would run into each other. Check radius and count.")
    case = Drawn(n, r, hole_zone.m_as("mm"), dowel_zone.m_as("mm"), holes, dowels, spread == "even")
    counted = tally(case, int(drawings), _SEED)
    sure = (holes[0] - case.hole_zone) - (dowels[1] + case.dowel_zone)
    total = counted.drawings
    share = (counted.best + 2) / (total + 4)
    return AssemblyChance(
        chance=Q(counted.best / total, ""),
        verdict=_verdict(counted, sure),
        sure=Q(round(1000 * sure, 6), "µm"),
        uncertainty=Q(2 * math.sqrt(share * (1 - share) / (total + 4)), ""),
        squares=Q(counted.squares / total, ""),
        fixed=Q(counted.fixed / total, ""),
        findings=tuple(_findings(counted, sure, case)),
        counted=counted,
    )


def _limits(name: str, value: Any) -> tuple[float, float]:
    """The limits of an entry as it was entered, mm."""
    standing = as_entered(name, value)
    return standing.low.m_as("mm"), standing.high.m_as("mm")


def _verdict(counted: Tally, sure: float) -> str:
    if sure >= -_ZERO_PLUS:
        return "every one"
    failed = counted.drawings - counted.best
    if failed == 0:
        return f"none of {counted.drawings} drawn failed"
    if counted.best == 0:
        return f"none of {counted.drawings} drawn went on"
    return f"one in {counted.drawings / failed:.2g} does not go on"


def _findings(counted: Tally, sure: float, case: Drawn) -> list[Finding]:
    share, fixed = counted.best / counted.drawings, counted.fixed / counted.drawings
    room = show(Q(round(abs(1000 * sure), 6), "µm"), "µm", 2)
    if sure >= -_ZERO_PLUS:
        # A normal place may lie beyond its zone; certainty is for parts within the drawing.
        beyond = "" if case.even else " Parts beyond their zones are drawn too, and may fail."
        return [
            note(
                "always-goes",
                f"With every size and place at its worst {room} are left: whatever is within the "
                f"drawing goes on.{beyond}",
            )
        ]
    found: list[Finding] = []
    if share < 0.5:
        found.append(
            stop(
                "seldom-goes",
                "Parts made to this drawing mostly do not go together. Do not drill or order: "
                "wider holes or narrower zones, or ream both together.",
            )
        )
    elif share < 0.99:
        found.append(
            caution(
                "some-will-not",
                f"{with_unit(f'{100 * (1 - share):.2g}', '%')} of the pairs do not go on although "
                "each part is within its drawing. Pair them by trial, or narrow the zones.",
            )
        )
    elif counted.best == counted.drawings:
        few = with_unit(f"{300 / counted.drawings:.1g}", "%")
        found.append(
            note(
                "none-failed",
                f"None of {counted.drawings} failed: fewer than about {few} will (19 times in "
                f"20). At the very worst {room} would be lacking.",
            )
        )
    if share - fixed > 0.05:
        found.append(
            note(
                "find-the-place",
                f"Held at its true place only {with_unit(f'{100 * fixed:.3g}', '%')} would go on. "
                "Let it turn and shift on its dowels by hand; no bolts until it is home.",
            )
        )
    return found


@assembly_chance.drawing("What goes on, judged three ways")
def _draw(entries: Any, results: AssemblyChance) -> Bars:
    texts = [
        with_unit(f"{100 * number(share):.1f}", "%")
        for share in (results.chance, results.squares, results.fixed)
    ]
    bars = Bars(
        "What goes on, judged three ways",
        f"Place found by hand {texts[0]}, by least squares {texts[1]}, held fast {texts[2]}.",
        full=1.0,
    )
    bars.bar("place found by hand", number(results.chance), texts[0])
    bars.bar("where least squares put it", number(results.squares), texts[1])
    bars.bar("held at its true place", number(results.fixed), texts[2])
    return bars
