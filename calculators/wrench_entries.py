"""What is entered of a torque wrench wherever a setting is worked out for it.

Sources: deviation in the sense of ISO 6789-1; the rest is bench practice.
"""

from __future__ import annotations

from typing import Any

from witnessmark.calc import entry

TORQUES = ("N·m", "lbf·ft", "kgf·m")

WRENCH = entry(
    "The wrench gives, of its setting", "100 %", units=("%",), least="80 %", most="120 %",
    tolerance="4 %", deviation="reading", seldom=True,
    why="A sound wrench is 100 % ± 4 %; one that is farther off than 20 % goes to be mended.",
    help="100 % with the deviation of its class, or what its calibration sheet found.",
)  # fmt: skip


def division(default: str, units: tuple[str, ...] = (*TORQUES, "kgf·cm")) -> Any:
    """The step of the wrench's scale."""
    return entry(
        "One division of the wrench's scale", default, units=units, least="0.001 N·m",
        most="50 N·m", why="No wrench is divided like that.", seldom=True,
    )  # fmt: skip


def marks(most: str, units: tuple[str, ...] = TORQUES) -> tuple[Any, Any]:
    """The lowest and the highest mark of the wrench, neither beyond ``most``; both optional."""
    lowest, highest = (
        entry(
            f"{which} mark of the wrench", "", units=units, above=0, most=most, optional=True,
            help="Leave empty if not known.", seldom=True,
        )
        for which in ("Lowest", "Highest")
    )  # fmt: skip
    return lowest, highest


def newton_metres(torque: Any) -> float | None:
    """A torque that may be left empty, in N·m."""
    return None if torque is None else float(torque.m_as("newton*meter"))
