"""How far a part runs out of true, which way, and how much of it is form.

Purpose at the bench: the dial stands on the rim, the pilot or the seal land, the crankshaft
is turned slowly, and the reading is written down at each hour chalked on the part. The total
reading is what the limits speak of; the offset of the centre, half of the total of a true
circle, says what to do about it.

r(phi) = m + e cos(phi - psi), fitted to all readings (``calculators.dial_fit``). A centre
off by e shows a total reading of 2 e. What the shaft itself runs out belongs to it and not
to the part: the two are vectors. Their totals may be added or subtracted only where their
high spots coincide or are opposite.

Symbols: r reading, phi angle on the part, m mean, e offset, psi direction of the high spot.

Assumptions: the reading grows when the plunger is pushed in; the part is turned always in
one direction with its end thrust held; offset small beside the radius (the off-centre circle
itself has an oval part of e^2/(4 R)).

Sources: least squares; limits: common practice. The maker's figure wins.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.dial_clock import (
    BY_HAND,
    DEGREES,
    EIGHT,
    FOURIER,
    GUM,
    HOURS,
    PRACTICE,
    WAYS,
    angle_of,
    findings_of_readings,
    fitted,
    form_text,
    mm,
    o_clock,
    polar_plot,
)
from calculators.dial_fit import DialFit, Reading
from witnessmark.calc import (
    Angle,
    CheckValue,
    Finding,
    Formula,
    Length,
    Number,
    Polar,
    Q,
    Rounding,
    Rows,
    Symbol,
    calculator,
    caution,
    choice,
    entry,
    note,
    result,
    stop,
    table,
    text_result,
)

_DIAL = Rounding(decimals=2, us_decimals=4)
_FINE = Rounding(decimals=3, us_decimals=5)
_NOTED = ("0.126", "0.135", "0.123", "0.103", "0.082", "0.065", "0.069", "0.097")
_NOTED_ROWS = tuple(zip(EIGHT, _NOTED, strict=True))
_ROWS = tuple(
    zip(EIGHT, ("0.00", "0.02", "0.03", "0.03", "0.01", "-0.01", "-0.03", "-0.02"), strict=True)
)
_DEGREE_ROWS = tuple((f"{45 * k}", value) for k, (_, value) in enumerate(_ROWS))


@dataclass(frozen=True)
class Runout:
    """Total reading, offset, high spot and form."""

    total: Length = result("Total reading", lead=True, rounding=_DIAL, band=False)
    high: str = text_result("High spot at")
    in_hand: Length | None = result(
        "Still in hand", rounding=_DIAL, help="Allowed less found; below zero it is too much."
    )
    offset: Length = result("Centre off by", rounding=_FINE, help="Half the total of a circle.")
    without_shaft: Length | None = result(
        "Total of the part itself", rounding=_DIAL,
        help="The shaft's own share taken away, as vectors.",
    )  # fmt: skip
    direction: Angle | None = result(
        "High spot, clockwise from 12 o'clock", rounding=Rounding(decimals=0), seldom=True
    )
    form: Length = result(
        "Left over by form", rounding=_FINE, seldom=True,
        help="Greatest less least distance from the fitted circle.",
    )  # fmt: skip
    shape: str = text_result("Shape of it", seldom=True)
    uncertainty: Length = result(
        "Uncertainty of the offset (2 u)", rounding=_FINE, seldom=True, band=False
    )
    uncertainty_direction: Angle | None = result(
        "Uncertainty of the direction (2 u)", rounding=Rounding(decimals=0), seldom=True,
        band=False,
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()
    readings: tuple[Reading, ...] = ()
    found: DialFit | None = None


@calculator(
    name="runout",
    title="How far it runs out of true",
    topic="runout and balance",
    purpose="From dial readings at any hours of the clock: total reading, high spot, offset of "
    "the centre, and what is form.",
    formulas=(
        Formula(r"r(\varphi) = m + a \cos\varphi + b \sin\varphi", "Fitted to all readings"),
        Formula(
            r"e = \sqrt{a^2 + b^2},\quad \psi = \mathrm{atan2}(b,\ a)", "Offset and its direction"
        ),
        Formula(r"u_e = u_r \sqrt{\frac{2}{N}}", "Uncertainty, readings evenly round"),
    ),
    symbols=(
        Symbol("r", "reading", "mm"),
        Symbol(r"\varphi", "angle on the part, clockwise from 12 o'clock", "°"),
        Symbol("e", "offset of the centre", "mm"),
        Symbol(r"\psi", "direction of the high spot", "°"),
        Symbol("u_r", "uncertainty of a reading: residuals, or division over √12", "mm"),
        Symbol("N", "number of readings", "1"),
    ),
    assumptions=(
        "The reading grows when the plunger is pushed in, and hours are those chalked on the "
        "part, clockwise from the flywheel side.",
        "Turned in one direction only, end thrust held.",
        "An offset below three of its standard uncertainties counts as none.",
    ),
    sources=(FOURIER, GUM, PRACTICE),
    check_values=(
        CheckValue(
            "eight readings", {"readings": _NOTED_ROWS, "division": "0.001 mm"},
            {"offset": "0.0350 mm", "direction": "50.36 °", "total": "0.070 mm"},
            source=FOURIER,
            remark="Made from 0.035 mm at 50° with an oval of 4 µm on top, rounded to 1 µm.",
        ),
        CheckValue(
            "three hours missing: a pure offset comes out whole",
            {"readings": [["12", "0"], ["1", "0.050"], ["3", "0.100"], ["6", "0"],
                          ["8", "-0.0866025"]]},
            {"offset": "0.10000 mm", "direction": "90.0 °"}, source=BY_HAND,
            remark="0.1 cos(φ - 90°) at 0°, 30°, 90°, 180°, 240°.",
        ),
        CheckValue(
            "four quarters that disagree",
            {"readings": [["12", "0"], ["3", "0.05"], ["6", "0"], ["9", "0.05"]]},
            {"offset": "0.0000 mm", "form": "0.050 mm"}, source=BY_HAND,
            findings=("quarters-disagree", "no-offset"),
        ),
        CheckValue(
            "uncertainty of eight readings on a dial of 0.01 mm",
            {"readings": [[hour, "0.00"] for hour in EIGHT], "division": "0.01 mm"},
            {"uncertainty": "0.00289 mm"}, source=GUM, abs_="0.00001 mm",
            remark="2 (0.01/√12) √(2/8).",
        ),
        CheckValue(
            "the shaft runs out as much, at a right angle",
            {"readings": [["12", "0.03"], ["3", "0"], ["6", "-0.03"], ["9", "0"]],
             "shaft": "phased", "shaft_total": "0.08 mm", "shaft_hour": "3"},
            {"without_shaft": "0.100 mm", "offset": "0.0300 mm"}, source=BY_HAND,
            remark="Offsets 0.03 and 0.04 at a right angle are 0.05 apart: total 0.10.",
        ),
        CheckValue(
            "a dial that does not come back",
            {"readings": [["12", "0"], ["3", "0.02"], ["6", "0.04"], ["9", "0.02"],
                          ["12", "0.06"]]},
            source=PRACTICE, findings=("does-not-repeat",),
        ),
        CheckValue(
            "three readings are refused",
            {"readings": [["12", "0"], ["3", "0.02"], ["6", "0.04"], ["12", "0"]]},
            source=PRACTICE, refused=("readings",),
        ),
    ),
)  # fmt: skip
def runout(
    *,
    form: str = choice("Places written as", WAYS, default="hours", seldom=True),
    readings: Rows = table(
        "Readings", HOURS, default=_ROWS, least_rows=4, most_rows=24, when={"form": "hours"},
        help="Chalk the clock on the part. Read 12 again at the end: it must repeat.",
    ),
    readings_degrees: Rows = table(
        "Readings by angle", DEGREES,
        default=_DEGREE_ROWS,
        least_rows=4, most_rows=24, when={"form": "degrees"},
    ),
    limit: Length | None = entry(
        "Total reading allowed", "0.15 mm", units=("mm", "µm", "in", "thou"), above=0,
        most="5 mm", optional=True, why="No limit of a running part is larger.",
    ),
    division: Length = entry(
        "Division of the dial", "0.01 mm", units=("mm", "µm", "in", "thou"), above=0,
        most="0.1 mm", seldom=True, why="A dial so coarse tells nothing here.",
    ),
    shaft: str = choice(
        "The shaft's own runout",
        {"unknown": "not known", "phased": "known with its high spot", "total": "its total only"},
        default="unknown", seldom=True,
    ),
    shaft_total: Length = entry(
        "Total reading of the shaft", "0.02 mm", units=("mm", "µm", "in", "thou"), least=0,
        most="5 mm", when={"shaft": ("phased", "total")}, seldom=True,
        why="A shaft so bent is no shaft.",
    ),
    shaft_hour: Number = entry(
        "Its high spot at, o'clock", "12", least=0, most=24, when={"shaft": "phased"},
        seldom=True, why="An hour of the clock.", help="By the same chalk marks.",
    ),
) -> Runout:  # fmt: skip
    """Total, offset and form; see the module's docstring."""
    hours = form == "hours"
    rows = readings if hours else readings_degrees
    places = tuple((angle_of(row), row.reading.m_as("mm")) for row in rows)
    table_name, step = "readings" if hours else "readings_degrees", division.m_as("mm")
    found = fitted(table_name, places, step)
    total = round(max(r for _, r in places) - min(r for _, r in places), 9)
    may = limit.m_as("mm") if limit is not None else None
    own = None
    if shaft == "phased":
        spot = cmath.rect(shaft_total.m_as("mm") / 2, math.radians(30 * shaft_hour.m_as("")))
        own = 2 * abs(cmath.rect(found.offset, math.radians(found.direction)) - spot)
    findings = [*findings_of_readings(table_name, places, found, step)]
    findings += _judged(total, may, step)
    if shaft == "total":
        findings.append(_shares(found, shaft_total.m_as("mm") / 2))
    return Runout(
        total=Q(total, "mm"),
        high=o_clock(found.direction) if found.known else "nowhere in particular",
        in_hand=_mm(may - total) if may is not None else None,
        offset=_mm(found.offset),
        without_shaft=_mm(own) if own is not None else None,
        direction=Q(round(found.direction, 7), "°") if found.known else None,
        form=_mm(found.form),
        shape=form_text(found),
        uncertainty=_mm(2 * found.u_offset),
        uncertainty_direction=Q(round(2 * found.u_direction, 9), "rad") if found.known else None,
        findings=tuple(findings),
        readings=places,
        found=found,
    )


def _mm(length: float) -> Any:
    """A length in mm, cut to a picometre: the last bits of sums differ between machines."""
    return Q(round(length, 9), "mm")


def _judged(total: float, may: float | None, step: float) -> Iterator[Finding]:
    if may is None:
        yield note(
            "no-limit",
            "No limit entered. Common practice: flywheel face 0.05 mm to 0.20 mm at its edge, rim "
            "and pilot 0.05 mm to 0.15 mm. The maker's figure wins.",
            "limit",
        )
    elif total > may + step + 1e-9:
        yield stop(
            "runs-out",
            f"The total reading of {mm(total)} is beyond {mm(may)}. Off again: clean both faces, "
            "look for burrs and for a dowel that stands high, and find out what the shaft itself "
            "runs out before blaming the part.",
        )
    elif total > may - step + 1e-9:
        yield caution(
            "runout-undecided",
            f"The total reading is within a division of the dial of the limit, {mm(may)}. Read "
            "again with a finer dial.",
        )
    yield note(
        "how-to-turn",
        "Turn always the same way, thrust held to one end, plunger square to the surface. The "
        "shaft's own runout is part of what you read.",
    )


def _shares(found: DialFit, shaft: float) -> Finding:
    least, most = abs(found.offset - shaft), found.offset + shaft
    likely = math.hypot(found.offset, shaft)
    return note(
        "shaft-without-phase",
        f"Without the shaft's high spot the part's own total lies between {mm(2 * least)} and "
        f"{mm(2 * most)}, likely near {mm(2 * likely)}. Totals are not simply subtracted.",
        "shaft",
    )


@runout.drawing("Readings round the clock")
def _draw(entries: Any, results: Runout) -> Polar:
    assert results.found is not None
    return polar_plot("Readings round the clock", results.readings, results.found, "high spot")
