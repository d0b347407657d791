"""How far a housing bore sits off the crankshaft, and which offset dowel brings it right.

Purpose at the bench: the dial is clamped to the crankshaft and carried round inside the bore
of the bell housing or seal housing. The housing is then moved by half the total reading, on
dowels whose pin stands off their shank by as much, turned to the right hour.

With the plunger pushed in by a near wall, r(phi) = const - e cos(phi - psi), where psi is the
way from the shaft to the middle of the bore: the wall is nearest opposite to it. So the
reading is highest where the housing must go. The bracket of the dial sags: a true bore then
reads sag (1 - cos phi)/2 with the reading of the stiff bar at the bottom, zeroed at the top,
which looks exactly like an offset. It is taken off first. A dowel of offset d turned to
psi + 180 moves the housing by d; |e - d| is left when it points the right way, and
sqrt(e^2 + d^2 - 2 e d cos t) when it is t off.

Symbols: r reading, phi angle of the plunger in the bore, e offset, psi its direction,
d offset of the dowel.

Assumptions: the reading grows when the plunger is pushed in; thrust held; both dowels alike
and turned alike, so that the housing moves without turning.

Sources: least squares; the sag of a bracket and offset dowels: common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.dial_clock import (
    BY_HAND,
    DEGREES,
    EIGHT,
    FOURIER,
    GUM,
    HOURS,
    LENGTHS,
    PRACTICE,
    WAYS,
    angle_of,
    findings_of_readings,
    fitted,
    mm,
    o_clock,
    polar_plot,
)
from calculators.dial_fit import DialFit, Reading
from calculators.offset_dowel import draw_dowel
from witnessmark.calc import (
    Angle,
    CheckValue,
    Drawing,
    Finding,
    Formula,
    Length,
    Polar,
    Q,
    Rounding,
    Rows,
    Source,
    Symbol,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    show,
    stop,
    table,
    text_result,
)

MACHINERY = Source(
    "machinery-maintenance-sag",
    "Worked example of a machinery maintenance text: the bracket sags 0.004 in a side; +0.160 in "
    "read at the bottom is +0.168 in",
    kind="handbook",
)
_DIAL = Rounding(decimals=2, us_decimals=4)
_FINE = Rounding(decimals=3, us_decimals=5)
_ROWS = tuple(
    zip(EIGHT, ("0.00", "0.08", "0.17", "0.22", "0.20", "0.11", "0.03", "-0.02"), strict=True)
)
_DEGREE_ROWS = tuple((f"{45 * k}", value) for k, (_, value) in enumerate(_ROWS))
_SAG_ONLY = [["12", "0"], ["3", "-0.03"], ["6", "-0.06"], ["9", "-0.03"]]
PLAIN = "plain dowels"


@dataclass(frozen=True)
class BoreOffset:
    """How far and where to, which dowel, and what is left then."""

    offset: Length = result("Move the housing by", lead=True, rounding=_DIAL)
    towards: str = text_result("Towards")
    dowel: str = text_result("Take", help="Both dowels alike, the pin towards that hour.")
    left: Length = result("Offset left then", rounding=_DIAL)
    turned_off: Length | None = result(
        "Left if the dowel is turned 10° wrong", rounding=_DIAL, seldom=True
    )
    total: Length = result("Total reading, sag taken off", rounding=_DIAL, seldom=True, band=False)
    direction: Angle | None = result(
        "Direction, clockwise from 12 o'clock", rounding=Rounding(decimals=0), seldom=True
    )
    form: Length = result("Left over by form", rounding=_FINE, seldom=True)
    uncertainty: Length = result(
        "Uncertainty of the offset (2 u)", rounding=_FINE, seldom=True, band=False
    )
    findings: tuple[Finding, ...] = ()
    readings: tuple[Reading, ...] = ()
    found: DialFit | None = None
    pin: float = 0.0


@calculator(
    name="bore-offset",
    title="Is the housing bore in line, and which dowel brings it there",
    topic="runout and balance",
    purpose="From a dial carried round in the bore by the crankshaft: how far the housing must "
    "move, towards which hour, and the offset dowel that does it.",
    formulas=(
        Formula(
            r"r(\varphi) = m - e \cos(\varphi - \psi) + \frac{s}{2}\left(1 - \cos\varphi\right)",
            "Reading of an offset bore by a dial on a bracket that sags",
        ),
        Formula(r"e = \sqrt{a^2 + b^2}", "Move, towards the highest reading"),
        Formula(r"\sqrt{e^2 + d^2 - 2 e d \cos\tau}", "Left with a dowel turned wrong"),
    ),
    symbols=(
        Symbol("r", "reading, growing as the plunger is pushed in", "mm"),
        Symbol(r"\varphi", "angle in the bore, clockwise from 12 o'clock", "°"),
        Symbol(r"\psi", "way from the shaft to the middle of the bore", "°"),
        Symbol("s", "reading of the bar test at the bottom, zeroed at the top", "mm"),
        Symbol("e, d", "offset of the bore, of the dowel's pin", "mm"),
        Symbol(r"\tau", "error of the dowel's clocking", "°"),
    ),
    assumptions=(
        "Hours are those of the housing, seen from the flywheel side.",
        "The reading grows when the plunger is pushed in.",
        "Both dowels are alike and turned alike.",
    ),
    sources=(FOURIER, GUM, MACHINERY, PRACTICE),
    check_values=(
        CheckValue(
            "sag alone, not taken off, looks like an offset",
            {"readings": _SAG_ONLY}, {"offset": "0.0300 mm"}, source=BY_HAND,
            remark="0, -0.03, -0.06, -0.03 is a cosine of 0.03.",
        ),
        CheckValue(
            "sag alone, taken off: a bore in line",
            {"readings": _SAG_ONLY, "sag": "-0.06 mm"},
            {"offset": "0.0000 mm", "total": "0.0000 mm"}, source=BY_HAND, findings=("no-offset",),
        ),
        CheckValue(
            "sag of 0.004 in a side makes 0.160 in at the bottom 0.168",
            {"readings": [["12", "0 in"], ["3", "0.080 in"], ["6", "0.160 in"],
                          ["9", "0.080 in"]], "sag": "-0.008 in", "limit": "0.1 mm"},
            {"total": "0.1680 in", "offset": "0.0840 in", "towards": "6 o'clock"},
            source=MACHINERY, findings=("off-line",),
        ),
        CheckValue(
            "the highest reading at 3 o'clock: the housing goes to 3 o'clock",
            {"readings": [["12", "0.2"], ["3", "0.4"], ["6", "0.2"], ["9", "0.0"]]},
            {"offset": "0.2000 mm", "towards": "3 o'clock", "left": "0.0000 mm"}, source=BY_HAND,
            findings=("off-line",),
        ),
        CheckValue(
            "eight readings",
            {"readings": [list(row) for row in zip(EIGHT, ("0.126", "0.135", "0.123", "0.103",
             "0.082", "0.065", "0.069", "0.097"), strict=True)], "division": "0.001 mm"},
            {"offset": "0.0350 mm", "direction": "50.36 °"}, source=FOURIER,
        ),
        CheckValue(
            "a dowel of 0.20 mm turned 10° wrong",
            {"readings": [["12", "0.2"], ["3", "0.4"], ["6", "0.2"], ["9", "0.0"]]},
            {"turned_off": "0.03486 mm"}, source=BY_HAND, remark="2 × 0.2 sin 5°.",
        ),
        CheckValue(
            "readings on one side only are refused",
            {"readings": [["12", "0"], ["12", "0.1"], ["1", "0.1"], ["1", "0.2"]]},
            source=PRACTICE, refused=("readings",),
        ),
    ),
)  # fmt: skip
def bore_offset(
    *,
    form: str = choice("Places written as", WAYS, default="hours", seldom=True),
    readings: Rows = table(
        "Readings", HOURS, default=_ROWS, least_rows=4, most_rows=24, when={"form": "hours"},
        help="The hour of the housing where the plunger stands.",
    ),
    readings_degrees: Rows = table(
        "Readings by angle", DEGREES, default=_DEGREE_ROWS, least_rows=4, most_rows=24,
        when={"form": "degrees"},
    ),
    limit: Length = entry(
        "Offset allowed", "0.15 mm", units=LENGTHS, above=0, most="2 mm",
        why="No housing may stand so far off.", help="Half of a total reading.",
    ),
    sag: Length = entry(
        "Bar test of the bracket", "0 mm", units=LENGTHS, least="-3 mm", most="3 mm",
        why="A bracket so limp measures nothing.",
        help="On a stiff bar: zero at the top, read at the bottom; mind the sign.",
    ),
    dowels: Rows = table(
        "Offset dowels to be had",
        {"offset": column("Offset", Length, units=LENGTHS, least="0.01 mm", most="2 mm")},
        default=(("0.10",), ("0.15",), ("0.20",), ("0.30",)), most_rows=8, seldom=True,
    ),
    division: Length = entry(
        "Division of the dial", "0.01 mm", units=LENGTHS, above=0, most="0.1 mm", seldom=True,
        why="A dial so coarse tells nothing here.",
    ),
) -> BoreOffset:  # fmt: skip
    """Move, dowel and what is left; see the module's docstring."""
    hours = form == "hours"
    rows, name = (readings, "readings") if hours else (readings_degrees, "readings_degrees")
    bar = sag.m_as("mm")
    places = tuple((angle_of(row), row.reading.m_as("mm")) for row in rows)
    true = tuple((angle, value - _sagged(bar, angle)) for angle, value in places)
    step, may = division.m_as("mm"), limit.m_as("mm")
    found = fitted(name, true, step)
    away = round(found.offset, 9)
    pins = sorted(row.offset.m_as("mm") for row in dowels)
    pin = min((0.0, *pins), key=lambda offset: (round(abs(away - offset), 9), offset))
    if not found.known:
        pin = 0.0
    hour = o_clock(found.direction)
    total = max(r for _, r in true) - min(r for _, r in true)
    findings = [*findings_of_readings(name, true, found, step)]
    findings += _judged(away, abs(away - pin), may, 2 * found.u_offset, pin, pins)
    findings += _about_sag(bar, places)
    return BoreOffset(
        offset=Q(away, "mm"),
        towards=hour if found.known else "stays where it is",
        dowel=f"{_pin(pin)} to {hour}" if pin else PLAIN,
        left=Q(round(abs(away - pin), 9), "mm"),
        turned_off=Q(round(_left(away, pin, math.radians(10)), 9), "mm") if pin else None,
        total=Q(round(total, 9), "mm"),
        direction=Q(round(found.direction, 7), "°") if found.known else None,
        form=Q(round(found.form, 9), "mm"),
        uncertainty=Q(round(2 * found.u_offset, 9), "mm"),
        findings=tuple(findings),
        readings=true,
        found=found,
        pin=pin,
    )


def _sagged(bar: float, angle: float) -> float:
    """What the sag of the bracket adds to a reading; ``bar`` is its reading at the bottom."""
    return bar * (1 - math.cos(math.radians(angle))) / 2


def _left(away: float, pin: float, wrong: float) -> float:
    return math.sqrt(max(away**2 + pin**2 - 2 * away * pin * math.cos(wrong), 0.0))


def _pin(pin: float) -> str:
    return f"offset {mm(pin)}"


def _judged(
    away: float, left: float, may: float, u: float, pin: float, pins: Sequence[float]
) -> Iterator[Finding]:
    if away > may + u + 1e-9:
        yield stop(
            "off-line",
            f"The bore sits {mm(away)} off the shaft; {mm(may)} is allowed. Clean the joint and "
            "read once more before moving the housing.",
        )
    elif away > may - u + 1e-9:
        yield caution(
            "line-undecided",
            f"The offset of {mm(away)} is nearer to its limit of {mm(may)} than the readings can "
            "tell. Read again, or move the housing.",
        )
    if away > may and left > may + 1e-9:
        yield caution(
            "no-dowel",
            f"The nearest dowel to be had ({mm(pin) if pin else PLAIN}) leaves {mm(left)}. The "
            f"largest is {mm(max(pins))}; a larger offset is made or the housing bored anew.",
            "dowels",
        )
    if pin:
        yield note(
            "turn-the-dowel",
            "Set both dowels with their pins to the same hour, tap them so that they can still "
            "be turned, bolt up, read again, trim by turning, then lock them.",
        )


def _about_sag(bar: float, places: Sequence[Reading]) -> Iterator[Finding]:
    if bar > 1e-9:
        yield caution(
            "sag-sign",
            "A bracket that droops reads less at the bottom of a true bar: the bar test is "
            "negative as a rule. Check the sign.",
            "sag",
        )
    elif abs(bar) <= 1e-9:
        yield note(
            "sag-not-tested",
            "The sag of the bracket looks exactly like an offset upward or downward. Clamp it to "
            "a stiff bar, zero at the top, read at the bottom.",
            "sag",
        )
    yield note(
        "read-again",
        f"Push the shaft to one end while you read, turn one way only, and read again after "
        f"every change: {len(places)} places again.",
    )


@bore_offset.drawing("Readings in the bore")
def _plot(entries: Any, results: BoreOffset) -> Polar:
    assert results.found is not None
    return polar_plot("Readings in the bore", results.readings, results.found, "move it here")


@bore_offset.drawing("The dowel and its clocking")
def _dowel(entries: Any, results: BoreOffset) -> Drawing | None:
    if results.direction is None or not results.pin:
        return None
    text = show(Q(results.pin, "mm"), "mm", 2)
    return draw_dowel(results.direction.m_as("degree"), text)
