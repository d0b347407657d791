"""Drive squares and conversions as tables to look things up in.

Drive squares come from ``calculators.drive_square``. The factors follow from exact definitions:
inch 25.4 mm, pound-force 4.4482216152605 N, kilogram-force 9.80665 N.
"""

from __future__ import annotations

from typing import Any

from calculators.drive_square import ISO_1174, ISO_3315, SQUARES, WORKING_SHARE
from witnessmark.calc import (
    Length,
    Number,
    Q,
    Rounding,
    Source,
    Torque,
    column,
    reference_table,
)

SP_811 = Source(
    "nist-sp-811", "NIST SP 811 Guide for the use of the International System of Units",
    "appendix B, factors for conversion",
)  # fmt: skip
WORKING = Source(
    "square-working", "Working limit of squares: 0.6 of the test torque, no published source",
    kind="common practice",
)  # fmt: skip

_TORQUE = Rounding(figures=3)

DRIVE_SQUARES = reference_table(
    name="drive-squares",
    title="Drive squares",
    purpose="True sides of drive squares, the torque they are tested with and the torque they are "
    "used up to.",
    columns=(
        column("Square"),
        column("True side", Length, unit="mm", rounding=Rounding(decimals=3, us_decimals=3)),
        column("Tested with", Torque, rounding=_TORQUE),
        column("Used up to", Torque, rounding=_TORQUE),
    ),
    rows=[
        (each.label, Q(each.side, "mm"), Q(each.test, "N·m"), Q(each.limit, "N·m"))
        for each in SQUARES.values()
    ],
    sources=(ISO_1174, ISO_3315, WORKING),
    notes=(
        f"Used up to {WORKING_SHARE:g} of the test torque, which goes into the plastic range.",
        "The name is not the side: a 10 mm square has sides of 9.525 mm.",
        "Adapters, long extensions and worn squares stand less.",
    ),
)

PAIRS = (
    ("torque", "lbf·ft", "N·m"), ("torque", "lbf·in", "N·m"), ("torque", "kgf·m", "N·m"),
    ("torque", "kgf·cm", "N·m"), ("force", "lbf", "N"), ("force", "kgf", "N"),
    ("length", "in", "mm"), ("length", "thou", "µm"), ("length", "ft", "m"),
    ("mass", "lb", "kg"), ("mass", "oz", "g"), ("pressure", "psi", "kPa"),
    ("pressure", "bar", "kPa"), ("stress", "ksi", "MPa"), ("power", "hp", "kW"),
    ("power", "PS", "kW"),
)  # fmt: skip
"""What is measured, and the units that a row converts from and to."""


def _factor(unit: str, into: str) -> Any:
    """How many of ``into`` one ``unit`` is, as a plain number."""
    return (Q(1.0, unit) / Q(1.0, into)).to("dimensionless")


CONVERSIONS = reference_table(
    name="unit-conversions",
    title="Unit conversions",
    purpose="Factors from one unit to another, both ways.",
    columns=(
        column("What"),
        column("From"),
        column("To"),
        column("Multiply by", Number, rounding=Rounding(figures=7)),
        column("Back: multiply by", Number, rounding=Rounding(figures=7)),
    ),
    rows=[
        (what, unit, into, _factor(unit, into), _factor(into, unit)) for what, unit, into in PAIRS
    ],
    sources=(SP_811,),
    notes=(
        "Convert once, from the stated figure, and round at the end.",
        "On old sheets kg or m·kg for a torque means kgf·m.",
        "Temperatures: °C = (°F − 32)/1.8. A difference of 1.8 °F is one of 1 K.",
    ),
)

STEPS = (
    5, 8, 10, 12, 15, 18, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120, 140, 160, 180, 200,
    250, 300, 350, 400, 480, 500, 600, 700, 800, 1000,
)  # fmt: skip
_FOUR = Rounding(figures=4)

TORQUES = reference_table(
    name="torques",
    title="Torques in other units",
    purpose="Torques in newton metres with what they are on wrenches divided otherwise.",
    columns=(
        column("Torque"),
        *(column(unit, Number, rounding=_FOUR) for unit in ("lbf·ft", "lbf·in", "kgf·m")),
    ),
    rows=[
        (f"{step} N·m", *(Q(step * 1.0, "N·m") / Q(1.0, unit) for unit in
                          ("lbf·ft", "lbf·in", "kgf·m")))
        for step in STEPS
    ],
    sources=(SP_811,),
    notes=("Take the mark of the wrench that comes nearest.",),
)  # fmt: skip
