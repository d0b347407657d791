"""How far a face wobbles, with one dial or with two that cancel the end float.

Purpose at the bench: a dial on the face of the flywheel shows its swash, but also every
hundredth that the shaft moves endwise. A second dial on the same circle, half a turn away,
moves with the shaft by as much and with the swash against it: half the difference is swash,
half the sum is float.

A = f + c cos(phi - psi), B = f - c cos(phi - psi); (A - B)/2 is fitted to the first harmonic,
swash 2 c over the diameter of the readings, tilt = atan(c / r). At another radius R the same
tilt shows 2 c R/r.

Symbols: A, B readings, phi hour under the first dial, f endwise movement, c half the swash,
psi where the face stands highest, r radius of the dials, R radius of the limit.

Assumptions: both dials on one circle, half a turn apart, both reading more when the plunger
is pushed in; a flat face (what is not flat is left over as form).

Sources: least squares; limits: common practice. The maker's figure wins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.dial_clock import (
    BY_HAND,
    FOURIER,
    HOURS,
    LENGTHS,
    PRACTICE,
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
    Polar,
    Q,
    Rounding,
    Rows,
    Symbol,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    stop,
    table,
    text_result,
)

_DIAL = Rounding(decimals=2, us_decimals=4)
_FINE = Rounding(decimals=3, us_decimals=5)
_TWO = {
    "hour": HOURS["hour"],
    "first": column("First dial", Length, units=LENGTHS, least="-30 mm", most="30 mm"),
    "second": column("Second dial", Length, units=LENGTHS, least="-30 mm", most="30 mm"),
}
_TWO_ROWS = (
    ("12", "0.00", "0.00"), ("1.5", "0.04", "0.02"), ("3", "0.09", "0.03"), ("4.5", "0.10", "0.04"),
    ("6", "0.08", "0.08"), ("7.5", "0.04", "0.10"), ("9", "0.00", "0.10"), ("10.5", "0.00", "0.06"),
)  # fmt: skip
_ONE_ROWS = (
    ("12", "0.00"), ("1.5", "0.02"), ("3", "0.04"), ("4.5", "0.04"), ("6", "0.02"),
    ("7.5", "-0.01"), ("9", "-0.02"), ("10.5", "-0.02"),
)  # fmt: skip


@dataclass(frozen=True)
class FaceRunout:
    """Swash at the limit's radius, where it is high, and what the shaft did endwise."""

    swash: Length = result("Face runs out by", lead=True, rounding=_DIAL)
    high: str = text_result("Stands highest at")
    in_hand: Length | None = result(
        "Still in hand", rounding=_DIAL, help="Allowed less found; below zero it is too much."
    )
    endwise: Length | None = result(
        "Shaft moved endwise by", rounding=_DIAL, help="While it was turned.", band=False
    )
    tilt: Angle = result("Tilt of the face", rounding=Rounding(decimals=4), seldom=True)
    at_dials: Length = result("Swash where the dials stood", rounding=_FINE, seldom=True)
    form: Length = result("Left over by form", rounding=_FINE, seldom=True)
    shape: str = text_result("Shape of it", seldom=True)
    uncertainty: Length = result(
        "Uncertainty of the swash (2 u)", rounding=_FINE, seldom=True, band=False
    )
    findings: tuple[Finding, ...] = ()
    readings: tuple[Reading, ...] = ()
    found: DialFit | None = None


@calculator(
    name="face-runout",
    title="How far the face wobbles",
    topic="runout and balance",
    purpose="Swash of a face from one dial, or from two that cancel the end float of the shaft.",
    formulas=(
        Formula(r"\frac{A - B}{2} = c \cos(\varphi - \psi)", "Swash from two dials"),
        Formula(r"\frac{A + B}{2} = f", "Endwise movement"),
        Formula(r"\tau = \arctan\frac{c}{r},\quad 2 c\,\frac{R}{r}", "Tilt; swash at radius R"),
    ),
    symbols=(
        Symbol("A, B", "readings of the first and the second dial", "mm"),
        Symbol("c", "half the swash at the dials", "mm"),
        Symbol("f", "endwise movement of the shaft", "mm"),
        Symbol("r, R", "radius of the dials, of the limit", "mm"),
        Symbol(r"\tau", "tilt of the face", "°"),
    ),
    assumptions=(
        "Both dials on one circle, half a turn apart; they read more when pushed in.",
        "Hours are those chalked on the part, under the first dial.",
    ),
    sources=(FOURIER, PRACTICE),
    check_values=(
        CheckValue(
            "0.05 mm at radius 100 mm is 0.0143°",
            {"dials": "one", "radius": "100 mm", "at_radius": "100 mm",
             "readings": [["12", "0.025"], ["3", "0"], ["6", "-0.025"], ["9", "0"]]},
            {"tilt": "0.01432 °", "swash": "0.0500 mm", "high": "12 o'clock"}, source=BY_HAND,
            remark="atan(0.05/200).",
        ),
        CheckValue(
            "two dials: float of 0.10 mm cancels",
            {"both": [["12", "0.03", "-0.03"], ["3", "0.10", "0.10"], ["6", "-0.03", "0.03"],
                      ["9", "0.10", "0.10"]], "radius": "150 mm", "at_radius": "150 mm"},
            {"swash": "0.0600 mm", "endwise": "0.1000 mm"}, source=BY_HAND,
            remark="Half differences 0.03, 0, -0.03, 0; half sums 0, 0.10, 0, 0.10.",
        ),
        CheckValue(
            "one dial takes the float for form",
            {"dials": "one", "readings": [["12", "0.03"], ["3", "0.10"], ["6", "-0.03"],
                                          ["9", "0.10"]]},
            source=BY_HAND, findings=("quarters-disagree", "float-in-it"),
        ),
        CheckValue(
            "twice the radius, twice the swash",
            {"dials": "one", "radius": "80 mm", "at_radius": "160 mm",
             "readings": [["12", "0.00"], ["3", "0.02"], ["6", "0"], ["9", "-0.02"]]},
            {"swash": "0.0800 mm", "at_dials": "0.0400 mm"}, source=BY_HAND,
        ),
        CheckValue(
            "true face, shaft that floats",
            {"both": [["12", "0", "0"], ["3", "0.05", "0.05"], ["6", "0.02", "0.02"],
                      ["9", "0.01", "0.01"]]},
            {"swash": "0.0000 mm", "endwise": "0.0500 mm"}, source=BY_HAND,
            findings=("no-offset",),
        ),
    ),
)  # fmt: skip
def face_runout(
    *,
    dials: str = choice(
        "Read with", {"two": "two dials, half a turn apart", "one": "one dial"}, default="two"
    ),
    both: Rows = table(
        "Readings of both", _TWO, default=_TWO_ROWS, least_rows=4, most_rows=24,
        when={"dials": "two"}, help="The chalked hour under the first dial.",
    ),
    readings: Rows = table(
        "Readings", HOURS, default=_ONE_ROWS, least_rows=4, most_rows=24, when={"dials": "one"},
        help="The chalked hour under the dial; thrust held to one end.",
    ),
    radius: Length = entry(
        "Dials stand at radius", "170 mm", units=("mm", "in"), least="10 mm", most="500 mm",
        why="Measured from the axis of the shaft.",
    ),
    limit: Length | None = entry(
        "Allowed", "0.15 mm", units=LENGTHS, above=0, most="5 mm", optional=True,
        why="No limit of a running part is larger.",
    ),
    at_radius: Length = entry(
        "at radius", "170 mm", units=("mm", "in"), least="10 mm", most="500 mm", seldom=True,
        why="The radius the limit is meant for.", help="Where the limit is meant to be read.",
    ),
    division: Length = entry(
        "Division of the dials", "0.01 mm", units=LENGTHS, above=0, most="0.1 mm", seldom=True,
        why="A dial so coarse tells nothing here.",
    ),
) -> FaceRunout:  # fmt: skip
    """Swash, tilt and endwise movement; see the module's docstring."""
    two = dials == "two"
    step, r = division.m_as("mm"), radius.m_as("mm")
    endwise = None
    if two:
        pairs = [(angle_of(row), row.first.m_as("mm"), row.second.m_as("mm")) for row in both]
        places = tuple((angle, (a - b) / 2) for angle, a, b in pairs)
        sums = [(a + b) / 2 for _, a, b in pairs]
        endwise = round(max(sums) - min(sums), 9)
    else:
        places = tuple((angle_of(row), row.reading.m_as("mm")) for row in readings)
    name = "both" if two else "readings"
    found = fitted(name, places, step)
    share = at_radius.m_as("mm") / r
    swash = round(2 * found.offset * share, 9)
    u = 4 * found.u_offset * share
    may = limit.m_as("mm") if limit is not None else None
    findings = [*findings_of_readings(name, places, found, step)]
    findings += _judged(swash, may, u, two, endwise, step)
    return FaceRunout(
        swash=Q(swash, "mm"),
        high=o_clock(found.direction) if found.known else "nowhere in particular",
        in_hand=Q(round(may - swash, 9), "mm") if may is not None else None,
        endwise=Q(endwise, "mm") if endwise is not None else None,
        tilt=Q(round(math.degrees(math.atan2(found.offset, r)), 9), "°"),
        at_dials=Q(round(2 * found.offset, 9), "mm"),
        form=Q(round(found.form, 9), "mm"),
        shape=form_text(found),
        uncertainty=Q(round(u, 9), "mm"),
        findings=tuple(findings),
        readings=places,
        found=found,
    )


def _judged(
    swash: float, may: float | None, u: float, two: bool, endwise: float | None, step: float
) -> Iterator[Finding]:
    if may is None:
        yield note(
            "no-limit",
            "No limit entered. Common practice: 0.05 mm to 0.20 mm at the edge of the friction "
            "face, 0.13 mm to 0.15 mm for the face of a bell housing. The maker's figure wins.",
            "limit",
        )
    elif swash > may + u + 1e-9:
        yield stop(
            "face-runs-out",
            f"The face runs out by {mm(swash)}; {mm(may)} is allowed. Off again: clean and feel "
            "both faces of the joint, look for a burr under the flange or a dowel that bottoms.",
        )
    elif swash > may - u + 1e-9:
        yield caution(
            "face-undecided",
            f"The swash of {mm(swash)} is nearer to its limit of {mm(may)} than the readings can "
            "tell. Read again with a finer dial.",
        )
    if not two:
        yield caution(
            "float-in-it",
            "One dial cannot tell swash from end float. Hold the thrust hard to one end all the "
            "way round, or take a second dial half a turn away.",
            "dials",
        )
    elif endwise is not None and endwise > 2 * step + 1e-9:
        yield note(
            "moved-endwise",
            f"The shaft moved {mm(endwise)} endwise while it was turned; the two dials cancel it.",
        )


@face_runout.drawing("The face round the clock")
def _draw(entries: Any, results: FaceRunout) -> Polar:
    assert results.found is not None
    return polar_plot("The face round the clock", results.readings, results.found, "high")
