"""What is entered of any torque multiplier, and where its figures come from.

Sources: as told with each; ranges of entries: bench practice.
"""

from __future__ import annotations

from typing import Any

from calculators.drive_square import CHOICES
from calculators.wrench_entries import TORQUES
from witnessmark.calc import Source, choice, entry

WILLIS = Source(
    "willis", "Willis equation with the annulus held, by hand: 1 + 45/15 = 4", kind="derivation"
)
POWER = Source(
    "power-balance", "Power in, power out and moments about one axis, by hand", kind="derivation"
)
TEETH = Source(
    "planet-teeth", "Two meshes on one line of centres, by hand: (62 - 13)/2 is not whole",
    kind="derivation",
)  # fmt: skip
PRACTICE = Source(
    "multiplier-practice", "Bench practice with torque multipliers, no published source",
    kind="common practice",
)  # fmt: skip

ARM = entry(
    "Nut's centre to where the arm bears", "250 mm", units=("mm", "cm", "m", "in"),
    least="50 mm", most="1500 mm", usual=("100 mm", "800 mm"),
    why="Arms of hand multipliers are between 50 mm and 1500 mm long.",
    help="Measured square to the press, from the centre of the output square.",
)  # fmt: skip
TURN = entry(
    "Turn of the nut", "60°", units=("°", "turn"), least="0°", most="3600°",
    usual=("0°", "720°"), why="Run the nut down without the multiplier.",
    help="How far the nut will go under the multiplier, from snug.",
)  # fmt: skip
INPUT_SQUARE = choice("Square at the wrench", CHOICES, default="12.5", seldom=True)
OUTPUT_SQUARE = choice("Square at the nut", CHOICES, default="20", seldom=True)


def wanted(most: int, usual: int) -> Any:
    """The torque that the nut is to get; greatest torques in N·m, of any and as a rule."""
    return entry(
        "Torque wanted at the nut", "480 N·m", units=TORQUES, least="1 N·m", most=f"{most} N·m",
        usual=("20 N·m", f"{usual} N·m"),
        why=f"Hand multipliers work between 1 N·m and {most} N·m.",
        help="With its tolerance, if one is given: 480 N·m ± 4 %.",
    )  # fmt: skip


def greatest(most: int) -> Any:
    """What the multiplier may give at the most, never beyond ``most`` N·m; optional."""
    return entry(
        "Greatest torque of the multiplier", "", units=TORQUES, above=0, most=f"{most} N·m",
        optional=True, seldom=True, help="From its plate. Leave empty if not known.",
    )  # fmt: skip


def meshes(help: str, *, seldom: bool = False) -> Any:
    """Efficiency of the meshes of a stage, where it is known by its teeth."""
    return entry(
        "Efficiency of the meshes", "0.97", units=("", "%"), least=0.8, most=1,
        usual=("0.95", "0.99"), tolerance="0.02", when={"known_by": "teeth"},
        why="Two greased meshes lose between nothing and a fifth.", help=help, seldom=seldom,
    )  # fmt: skip
