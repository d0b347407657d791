"""Sockets and bars at their limits: what each stands, and what there is to say beyond it.

Torques in N·m. What a tool stands is the figure of its maker or of the tool register; the working
limit of a square is that of ``calculators.drive_square``. A tool whose figure is not known is not
judged.
"""

from __future__ import annotations

from typing import Any

from calculators.drive_square import CHOICES, findings_of_square
from calculators.wrench_entries import TORQUES
from calculators.wrench_scale import nm
from witnessmark.calc import Finding, Quantity, caution, choice, entry, stop

UNKNOWN = ""


def _stands(what: str) -> Any:
    """What a tool stands, as far as it is known."""
    return entry(
        f"What the {what} stands", "", units=TORQUES, above=0, most="20000 N·m", optional=True,
        seldom=True, help="From the maker or the tool register. Leave empty if not known.",
    )  # fmt: skip


SOCKET_SQUARE = choice(
    "Square of the socket", {UNKNOWN: "not known", **CHOICES}, default=UNKNOWN, seldom=True
)
SOCKET_MOST = _stands("socket")
BAR_MOST = _stands("bar")
REACTION_BAR_MOST = _stands("reaction bar")


def findings_of_socket_used(
    square: str, stands: Quantity | None, torque: float, most: float
) -> list[Finding]:
    """What there is to say about a socket and its square under ``torque``, ``most`` at worst."""
    found = _findings("socket", "socket", stands, torque, most)
    if square != UNKNOWN:
        found += findings_of_square("socket", square, torque, most, "socket_square")
    return found


def findings_of_bar_used(
    what: str, stands: Quantity | None, torque: float, most: float
) -> list[Finding]:
    """What there is to say about a bar, ``what`` it is called, under ``torque``."""
    return _findings(what, "bar", stands, torque, most)


def _findings(
    what: str, code: str, limit: Quantity | None, torque: float, most: float
) -> list[Finding]:
    if limit is None:
        return []
    stands = limit.m_as("newton*meter")
    if torque > stands * (1 + 1e-9):
        text = (
            f"The {what} is made for {nm(stands)} and would carry {nm(torque)}. Take a heavier one."
        )
        return [stop(f"over-{code}", text, f"{code}_most")]
    if most > stands * (1 + 1e-9):
        text = (
            f"The {what} is made for {nm(stands)}; it may come to {nm(most)}. Take a heavier one."
        )
        return [caution(f"{code}-near", text, f"{code}_most")]
    return []
