"""How far the index mark may stand off at the rim.

Purpose at the bench: the marks of flange and flywheel are brought together by eye at the rim.
What stands off there is an angle, and the angle is a distance at the dowels.

Formulas: delta = s / R (arc s on the rim radius R), d = delta r at the dowel radius r.
Assumption: the offset is small against the radius, arc and chord alike.
Source: plane geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from witnessmark.calc import (
    Angle,
    CheckValue,
    Drawing,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    calculator,
    caution,
    entry,
    note,
    result,
    show,
    stop,
)

RADIAN = Source("iso-80000-3", "ISO 80000-3:2019, plane angle", "3-5", kind="standard")
BY_HAND = Source("plane-geometry", "Plane geometry, by hand", kind="derivation")


@dataclass(frozen=True)
class IndexMarkOffset:
    """The turn that an offset of the marks means, and what it is at the dowels."""

    at_dowels: Length = result(
        "At the dowels that is", lead=True, unit="mm", rounding=Rounding(figures=2)
    )
    turn: Angle = result("Turn of the flywheel", rounding=Rounding(figures=2))
    share: Fraction | None = result(
        "Of the room at the dowels", unit="%", us_unit="%", rounding=Rounding(decimals=0)
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="index-mark-offset",
    title="How far the index mark may stand off",
    topic="dowels and holes",
    purpose="Turns an offset of the marks at the rim into a distance at the dowels.",
    formulas=(
        Formula(r"\delta = \frac{2 s}{D}", "Turn, from the arc at the rim"),
        Formula(r"d = \delta\,r", "Distance at the dowels"),
    ),
    symbols=(
        Symbol("s", "offset of the marks along the rim", "mm"),
        Symbol("D", "diameter at which the marks are", "mm"),
        Symbol("r", "radius of the dowels", "mm"),
    ),
    assumptions=("The offset is small against the radius.",),
    sources=(RADIAN,),
    check_values=(
        CheckValue(
            "1 mm at radius 140 mm: 0.409°",
            {"offset": "1 mm", "rim": "280 mm", "dowels": "27 mm"},
            {"turn": "0.409 °", "at_dowels": "0.193 mm"},
            source=BY_HAND,
            remark="1/140 rad = 0.40926°; 27/140 = 0.1929 mm.",
        ),
        CheckValue(
            "one degree of arc at diameter 360 mm is pi mm",
            {"offset": "3.14159265 mm", "rim": "360 mm", "dowels": "60 mm"},
            {"turn": "1.0000 °", "at_dowels": "1.0472 mm"},
            source=BY_HAND,
            findings=("more-than-a-tooth",),
        ),
        CheckValue(
            "marks that meet",
            {"offset": "0 mm", "rim": "382 mm", "dowels": "31 mm"},
            {"turn": "0.000 °", "at_dowels": "0.000 mm"},
            source=BY_HAND,
        ),
        CheckValue(
            "half the radius, half the distance",
            {"offset": "0.4 mm", "rim": "400 mm", "dowels": "100 mm", "room": "0.2 mm"},
            {"at_dowels": "0.200 mm", "share": "100 %"},
            source=BY_HAND,
        ),
        CheckValue(
            "dowels outside the rim",
            {"rim": "60 mm", "dowels": "31 mm"},
            source=BY_HAND,
            refused=("dowels",),
        ),
    ),
)
def index_mark_offset(
    *,
    offset: Length = entry(
        "Marks stand apart by", "0.5 mm", units=("mm", "in"), least=0, most="30 mm",
        usual=("0 mm", "3 mm"), why="Then it is not the mark that is meant.",
        help="Along the rim, with a steel rule.",
    ),
    rim: Length = entry(
        "Diameter at the marks", "382 mm", units=("mm", "in"), least="40 mm", most="1500 mm",
        why="The marks are on the rim.",
    ),
    dowels: Length = entry(
        "Radius of the dowels", "31 mm", units=("mm", "in"), least="5 mm", most="500 mm",
        why="Measured from the centre of the crankshaft.",
    ),
    room: Length = entry(
        "Room at the tightest dowel", "", units=("µm", "mm", "thou"), above=0, most="1 mm",
        optional=True, why="Room is what a hole is larger by, on one side.",
        help="From the pattern calculator. Leave empty if it is not known.",
    ),
) -> IndexMarkOffset:  # fmt: skip
    """Turn and distance; see the module's docstring."""
    s, diameter, r = (each.m_as("millimeter") for each in (offset, rim, dowels))
    if 2 * r >= diameter:
        raise RefusedError("dowels", "The dowels cannot lie outside the marks. Check both figures.")
    turn = 2 * s / diameter
    distance = turn * r
    share = None if room is None else Q(100 * distance / room.m_as("millimeter"), "%")
    return IndexMarkOffset(
        at_dowels=Q(distance, "mm"),
        turn=Q(math.degrees(turn), "°"),
        share=share,
        findings=tuple(_findings(turn, distance, share)),
    )


def _findings(turn: float, distance: float, share: Any) -> list[Finding]:
    findings = []
    if share is not None and share.m_as("dimensionless") > 1 + 1e-9:
        findings.append(
            stop(
                "beyond-room",
                "With the marks so far apart the dowels are not in their holes. Turn the flywheel "
                "until they meet; do not push.",
            )
        )
    elif share is None and distance > 0.1:
        findings.append(
            caution(
                "far-at-dowels",
                f"{show(Q(distance, 'mm'), 'mm', 2)} at the dowels is more than dowels usually "
                "leave. Bring the marks closer before you slide the flywheel on.",
            )
        )
    if math.degrees(turn) > 0.9:
        findings.append(
            caution(
                "more-than-a-tooth",
                f"A turn of {show(Q(math.degrees(turn), '°'), '°', 2)} is no slip of the eye. Is "
                "it the right mark, and the right position?",
            )
        )
    findings.append(
        note("look-square", "Look at the marks square from outside; from the side they lie.")
    )
    return findings


@index_mark_offset.drawing("The marks, turn exaggerated")
def _draw(entries: Any, results: IndexMarkOffset) -> Drawing:
    rim = entries.rim.m_as("millimeter") / 2
    dowels = entries.dowels.m_as("millimeter")
    off = show(entries.offset, "mm", 3)
    shown = math.radians(14)
    drawing = Drawing(
        "The marks, turn exaggerated",
        f"The marks stand {off} apart at the rim; the turn is drawn as 14 degrees.",
    )
    drawing.circle((0, 0), rim)
    drawing.circle((0, 0), dowels, role="centre")
    drawing.centre_lines((0, 0), 1.1 * rim)
    drawing.line((0, 0.9 * rim), (0, 1.08 * rim), role="mark")
    tip = (-math.sin(shown), math.cos(shown))
    drawing.line((0.9 * rim * tip[0], 0.9 * rim * tip[1]), (rim * tip[0], rim * tip[1]), "mark")
    drawing.line((0, 0), (rim * tip[0], rim * tip[1]), role="thin")
    drawing.circle((0, dowels), 0.05 * rim)
    drawing.label((-0.5 * rim * math.sin(shown), rim), off, toward="nw")
    drawing.label((dowels * tip[0], dowels * tip[1]),
                  show(results.at_dowels, "mm", 2), toward="w")  # fmt: skip
    return drawing
