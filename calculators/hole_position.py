"""Is a hole or a dowel where the drawing wants it.

Purpose at the bench: a hole has been measured, off its true place by dx and dy. The drawing
gives a round zone for its axis, and often lets the zone grow when the hole is larger than the
smallest allowed, because a larger hole forgives more.

Formulas: position as a diameter = 2 sqrt(dx^2 + dy^2); allowed T + B. With the maximum material
requirement the bonus is B = D - D_mms for a hole and d_mms - d for a dowel (mms: maximum
material size, the smallest hole or the largest dowel); without it B = 0. Virtual size, which
the mate must clear: D_mms - T for a hole, d_mms + T for a dowel. What there is to share between
hole and dowel when the dowel is fixed in its part: T1 + T2 = H - F, H smallest hole, F largest
dowel; with a bolt free in both parts each gets T = H - F.

Assumptions: the axis is square to the face (else measure it at both ends), the hole round; the
size measured is that of the largest pin that enters, or of the smallest ring that passes.

Sources: ISO 1101 (position), ISO 2692 (maximum material requirement), ASME Y14.5 appendix B
(fixed and floating fasteners).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from witnessmark.calc import (
    CheckValue,
    Drawing,
    Finding,
    Formula,
    Length,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    calculator,
    caution,
    choice,
    entry,
    note,
    result,
    show,
    stop,
    text_result,
)

ISO_1101 = Source(
    "iso-1101-2017", "ISO 1101:2017 Tolerances of form, orientation, location and run-out",
    "position",
)  # fmt: skip
ISO_2692 = Source(
    "iso-2692-2021", "ISO 2692:2021 Maximum material requirement, least material requirement",
    "maximum material virtual size",
)  # fmt: skip
ASME_Y14_5 = Source(
    "asme-y14-5m-1994", "ASME Y14.5M-1994 Dimensioning and Tolerancing",
    "appendix B, examples of fixed and floating fasteners, from memory",
    kind="from memory",
)  # fmt: skip
BY_HAND = Source("plane-geometry", "Plane geometry, by hand", kind="derivation")

_MICRONS = Rounding(step="1 µm", us_decimals=2)
_NOUGHT = 1e-9
_CLOSE = 0.8


@dataclass(frozen=True)
class HolePosition:
    """How far off, how much is allowed, and what the mate must clear."""

    position: Length = result(
        "Off its place, as a diameter", lead=True, unit="µm", us_unit="thou", rounding=_MICRONS,
        help="Twice the distance: the zone on the drawing is a diameter.",
    )  # fmt: skip
    verdict: str = text_result("Verdict")
    allowed: Length = result("Allowed", unit="µm", us_unit="thou", rounding=_MICRONS)
    left: Length = result(
        "Left over", unit="µm", us_unit="thou", rounding=_MICRONS, help="Negative: out of place."
    )
    bonus: Length = result("Bonus from its size", unit="µm", us_unit="thou", rounding=_MICRONS)
    virtual: Length = result(
        "Virtual size", unit="mm", rounding=Rounding(decimals=3, us_decimals=4), seldom=True,
        help="The mate must clear this when size and place are both at their worst.",
    )  # fmt: skip
    to_share: Length | None = result(
        "Zones that may be shared out", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True,
        help="Hole's and dowel's together; for a bolt free in both parts, each part's own.",
    )  # fmt: skip
    other: Length | None = result(
        "That leaves for the mate", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="hole-position",
    title="Is a hole where it should be",
    topic="dowels and holes",
    purpose="Tells from two deviations and a size whether a hole or a dowel is in place, what its "
    "size adds to the zone, and what is left for the mate.",
    formulas=(
        Formula(r"\varnothing = 2 \sqrt{\Delta x^2 + \Delta y^2}", "Off its place, as a diameter"),
        Formula(r"\varnothing \le T + B", "In place"),
        Formula(
            r"B = D - D_\mathrm{mms}\ \text{(hole)},\quad B = d_\mathrm{mms} - d\ \text{(dowel)}",
            "Bonus where the maximum material requirement applies",
        ),
        Formula(
            r"D_\mathrm{v} = D_\mathrm{mms} - T,\quad d_\mathrm{v} = d_\mathrm{mms} + T",
            "Virtual size of hole and dowel",
        ),
        Formula(
            r"T_1 + T_2 = H - F\ \text{(fixed)},\quad T = H - F\ \text{(free)}",
            "Zones of hole and mate",
        ),
    ),
    symbols=(
        Symbol(r"\Delta x, \Delta y", "deviations of the axis from its true place", "mm"),
        Symbol("T", "diameter of the zone on the drawing", "mm"),
        Symbol("B", "bonus", "mm"),
        Symbol("D, d", "measured diameter of hole, of dowel", "mm"),
        Symbol(r"D_\mathrm{mms}, d_\mathrm{mms}", "maximum material size: smallest hole, largest "
               "dowel", "mm"),
        Symbol("H, F", "smallest hole, largest dowel or bolt", "mm"),
    ),
    assumptions=(
        "The axis is square to the face; where it leans, the worse end counts.",
        "The measured size is that of the largest pin that enters the hole, or of the smallest "
        "ring that passes over the dowel.",
    ),
    sources=(ISO_1101, ISO_2692, ASME_Y14_5),
    check_values=(
        CheckValue(
            "0.06 and 0.08 off: a diameter of 0.2",
            {"dx": "0.06 mm", "dy": "0.08 mm", "zone": "0.2 mm", "requirement": "none"},
            {"position": "200.0 µm", "allowed": "200.0 µm", "left": "0.0 µm"},
            source=BY_HAND, findings=("close",), remark="3-4-5 triangle",
        ),
        CheckValue(
            "smallest hole 0.499 in, measured 0.502 in, zone 0.014 in: bonus 3 thou",
            {"dx": "0.004 in", "dy": "0.003 in", "size": "0.502 in", "mms": "0.499 in",
             "lms": "0.505 in", "zone": "0.014 in", "mate": "0.485 in"},
            {"bonus": "0.003 in", "allowed": "0.017 in", "position": "0.010 in",
             "virtual": "0.485 in"},
            source=ISO_2692, abs_="0.01 µm", remark="the standard's rule, worked by hand",
        ),
        CheckValue(
            "dowel 8 mm, measured 7.995 mm, zone 0.02 mm",
            {"feature": "dowel", "dx": "0", "dy": "-0.011 mm", "size": "7.995 mm",
             "mms": "8.000 mm", "lms": "7.990 mm", "zone": "0.02 mm", "mate": "8.05 mm"},
            {"position": "22.0 µm", "bonus": "5.0 µm", "allowed": "25.0 µm", "virtual": "8.020 mm"},
            source=ISO_2692, findings=("by-its-size",), remark="the standard's rule, by hand",
        ),
        CheckValue(
            "fixed fastener: hole 3.94 mm, screw 3.5 mm, each part 0.22 mm",
            {"feature": "hole", "mms": "3.94 mm", "size": "3.94 mm", "lms": "4.1 mm",
             "zone": "0.22 mm", "mate": "3.5 mm", "held": "fixed"},
            {"to_share": "440.0 µm", "other": "220.0 µm"}, source=ASME_Y14_5,
        ),
        CheckValue(
            "floating fastener: hole 3.94 mm, bolt 3.5 mm, each part 0.44 mm",
            {"feature": "hole", "mms": "3.94 mm", "size": "3.94 mm", "lms": "4.1 mm",
             "zone": "0.44 mm", "mate": "3.5 mm", "held": "free"},
            {"to_share": "440.0 µm"}, source=ASME_Y14_5,
        ),
        CheckValue(
            "a zone wider than the sizes leave",
            {"zone": "0.05 mm", "mms": "8.040 mm", "mate": "8.015 mm"},
            {"to_share": "25.0 µm", "other": "-25.0 µm"}, source=ASME_Y14_5,
            findings=("zones-too-wide",),
        ),
        CheckValue(
            "a hole smaller than the drawing allows",
            {"size": "8.030 mm", "mms": "8.040 mm"}, {"bonus": "0.0 µm"},
            source=ISO_2692, findings=("beyond-size",),
        ),
        CheckValue(
            "smallest and largest hole exchanged", {"mms": "8.066 mm", "lms": "8.040 mm"},
            source=BY_HAND, refused=("lms",),
        ),
    ),
)  # fmt: skip
def hole_position(
    *,
    feature: str = choice("What was measured", {"hole": "a hole", "dowel": "a dowel"},
                          default="hole"),
    dx: Length = entry(
        "Off across, Δx", "0.006 mm", units=("mm", "µm", "in", "thou"), least="-10 mm",
        most="10 mm", usual=("-0.5 mm", "0.5 mm"), why="That is another hole.",
        help="Measured less drawn.",
    ),
    dy: Length = entry(
        "Off upward, Δy", "-0.004 mm", units=("mm", "µm", "in", "thou"), least="-10 mm",
        most="10 mm", usual=("-0.5 mm", "0.5 mm"), why="That is another hole.",
        help="Measured less drawn.",
    ),
    zone: Length = entry(
        "Zone on the drawing", "0.012 mm", units=("mm", "µm", "in", "thou"), least=0, most="5 mm",
        why="No dowel is placed as loosely as that.", help="The diameter in the position frame.",
    ),
    requirement: str = choice(
        "May the zone grow with the size",
        {"mmr": "yes, M in a circle in the frame", "none": "no, regardless of size"},
        default="mmr",
    ),
    size: Length = entry(
        "Measured diameter", "8.048 mm", units=("mm", "in"), least="0.5 mm", most="200 mm",
        why="Measured at the bench.",
    ),
    mms: Length = entry(
        "Smallest hole, or largest dowel, allowed", "8.040 mm", units=("mm", "in"), least="0.5 mm",
        most="200 mm", why="From the drawing.", help="The maximum material size.",
    ),
    lms: Length | None = entry(
        "Largest hole, or smallest dowel, allowed", "8.066 mm", units=("mm", "in"), least="0.5 mm",
        most="200 mm", optional=True, why="From the drawing.", help="The least material size.",
    ),
    mate: Length | None = entry(
        "Largest mate, or smallest hole over it", "8.015 mm", units=("mm", "in"), least="0.5 mm",
        most="200 mm", optional=True, seldom=True, why="From its drawing.",
        help="For a hole the largest dowel or bolt that goes in; for a dowel the smallest hole.",
    ),
    held: str = choice(
        "The dowel or bolt is",
        {"fixed": "fixed in one part", "free": "free in both parts"}, default="fixed", seldom=True,
    ),
) -> HolePosition:  # fmt: skip
    """Position, allowance and sharing; see the module's docstring."""
    x, y, measured, most, zone_mm = (q.m_as("millimeter") for q in (dx, dy, size, mms, zone))
    sign = 1 if feature == "hole" else -1
    least = None if lms is None else lms.m_as("millimeter")
    if least is not None and sign * (least - most) < 0:
        raise RefusedError("lms", _exchanged(feature))
    virtual = most - sign * zone_mm
    if virtual <= 0:
        raise RefusedError("zone", "The zone is wider than the hole. Check both figures.")
    position = 2 * math.hypot(x, y)
    spare = sign * (measured - most)
    bonus = max(spare, 0.0) if requirement == "mmr" else 0.0
    allowed = zone_mm + bonus
    to_share = other = None
    if mate is not None:
        to_share = sign * (most - mate.m_as("millimeter"))
        other = to_share - zone_mm if held == "fixed" else to_share
    beyond = spare < -_NOUGHT or (least is not None and sign * (measured - least) > _NOUGHT)
    inside = position <= allowed + _NOUGHT
    return HolePosition(
        position=Q(position, "mm"),
        verdict=_verdict(inside, beyond),
        allowed=Q(allowed, "mm"),
        left=Q(allowed - position, "mm"),
        bonus=Q(bonus, "mm"),
        virtual=Q(virtual, "mm"),
        to_share=None if to_share is None else Q(to_share, "mm"),
        other=None if other is None else Q(other, "mm"),
        findings=(
            *_of_size(feature, beyond, spare, requirement),
            *_of_place(position, zone_mm, allowed, requirement),
            *_of_mate(to_share, zone_mm, held),
        ),
    )


def _exchanged(feature: str) -> str:
    if feature == "hole":
        return "The largest hole is smaller than the smallest. Exchange the two."
    return "The smallest dowel is larger than the largest. Exchange the two."


def _verdict(inside: bool, beyond: bool) -> str:
    if beyond:
        return "wrong size" if inside else "wrong size and out of place"
    return "in place" if inside else "out of place"


def _of_size(feature: str, beyond: bool, spare: float, requirement: str) -> list[Finding]:
    if not beyond:
        return []
    what = "smaller" if (spare < 0) == (feature == "hole") else "larger"
    grown = (
        " What it is larger by counts for the bonus, but not for the drawing."
        if spare > 0 and requirement == "mmr"
        else ""
    )
    return [
        stop(
            "beyond-size",
            f"The {feature} is {what} than the drawing allows; no position makes that good. "
            f"Measure it again, then ask the lead fitter.{grown}",
            "size",
        )
    ]  # fmt: skip


def _of_place(position: float, zone: float, allowed: float, requirement: str) -> list[Finding]:
    """Whether it is in place, and thanks to what."""
    if position > allowed + _NOUGHT:
        return [
            stop(
                "out-of-place",
                f"It is {show(Q(position - allowed, 'mm'), 'µm', 2)} beyond its zone, as a "
                "diameter. Do not file or force it to fit: measure again from the drawing's own "
                "datums, then ask the lead fitter.",
            )
        ]
    if position > zone + _NOUGHT:
        return [
            note(
                "by-its-size",
                "It is in place only because its size gives a bonus. Renew its mate at the same "
                "size or with more room, never tighter.",
            )
        ]
    if allowed > 0 and position > _CLOSE * allowed * (1 + 1e-9):
        bonus = "" if requirement == "mmr" else " There is no bonus from its size."
        return [
            caution(
                "close",
                "More than four fifths of the zone are used. Measure again: an error of a tenth "
                f"of the zone decides.{bonus}",
            )
        ]
    return []


def _of_mate(to_share: float | None, zone: float, held: str) -> list[Finding]:
    if to_share is None or zone <= to_share + _NOUGHT:
        return []
    free = "the mate's zone would be less than nothing" if held == "fixed" else "the bolt may bind"
    return [
        caution(
            "zones-too-wide",
            f"The sizes leave {show(Q(to_share, 'mm'), 'µm', 2)} and the zone alone takes "
            f"{show(Q(zone, 'mm'), 'µm', 2)}: {free}. Two parts that are each right may not go "
            "together; work out the whole pattern.",
            "mate",
        )
    ]


@hole_position.drawing("The axis in its zone")
def _draw(entries: Any, results: HolePosition) -> Drawing:
    x, y = entries.dx.m_as("millimeter"), entries.dy.m_as("millimeter")
    zone = entries.zone.m_as("millimeter")
    allowed, off = results.allowed.m_as("millimeter"), math.hypot(x, y)
    # Drawn with the larger of zone and deviation as 10 mm: only their ratio is to scale.
    scale = 10 / max(allowed / 2, off, 1e-9)
    sheet = Drawing(
        "The axis in its zone",
        f"The measured axis is {show(results.position, 'µm', 3)} off as a diameter; allowed are "
        f"{show(results.allowed, 'µm', 3)}. Zone and deviation are to one scale.",
    )
    sheet.centre_lines((0, 0), 12)
    if allowed > 0:
        sheet.circle((0, 0), allowed / 2 * scale, "limit")
        sheet.diameter((0, 0), allowed / 2 * scale, 135, f"Ø {show(results.allowed, 'µm', 3)}")
    if 0 < zone < allowed - _NOUGHT:
        sheet.circle((0, 0), zone / 2 * scale, "thin")
        sheet.label((0, -zone / 2 * scale), f"without bonus Ø {show(entries.zone, 'µm', 3)}", "s")
    sheet.line((0, 0), (x * scale, y * scale), "part")
    toward = math.degrees(math.atan2(y, x)) if off > 0 else 45.0
    sheet.mark((x * scale, y * scale), "axis", toward, strong=True)
    return sheet
