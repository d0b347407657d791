"""Drive squares: their true sides and what they stand.

The number a square is called by is not its side: a 10 mm square has sides of 9.525 mm, and
counting with 10 mm overstates its strength by 16 %. Hand drive parts are tested with a
torque that goes into the plastic range; the working limit taken here is 0.6 of it.

A square bar of side a and yield stress in shear tau: elastic T = 0.208165 a^3 tau (Saint-Venant),
fully plastic T = a^3 tau/3.

Sources: ISO 1174-1 (sides) and ISO 3315 (test torques), both from memory; share for working
use: common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import Finding, Q, Source, caution, show, stop

ISO_1174 = Source(
    "iso-1174-1", "ISO 1174-1 Assembly tools for screws and nuts - Driving squares, quoted "
    "from memory", kind="from memory",
)  # fmt: skip
ISO_3315 = Source(
    "iso-3315", "ISO 3315 Assembly tools for screws and nuts - Driving parts for hand-operated "
    "square drive socket wrenches - Dimensions and tests, quoted from memory", kind="from memory",
)  # fmt: skip

WORKING_SHARE = 0.6
"""Share of the test torque that is taken for work; common practice."""


@dataclass(frozen=True)
class Square:
    """A drive square: what it is called, its side in mm and its test torque in N·m."""

    label: str
    side: float
    test: float

    @property
    def limit(self) -> float:
        """Torque in N·m up to which it is used."""
        return WORKING_SHARE * self.test


SQUARES = {
    "6.3": Square("6.3 mm (1/4 in)", 6.35, 62.0),
    "10": Square("10 mm (3/8 in)", 9.525, 203.0),
    "12.5": Square("12.5 mm (1/2 in)", 12.70, 512.0),
    "20": Square("20 mm (3/4 in)", 19.05, 1412.0),
    "25": Square("25 mm (1 in)", 25.40, 2515.0),
}
CHOICES = {name: square.label for name, square in SQUARES.items()}


def findings_of_square(
    place: str, name: str, torque: float, most: float, entry: str
) -> list[Finding]:
    """What there is to say about the square ``name`` under ``torque`` N·m, ``most`` at worst.

    ``place`` says where it is, "wrench" for example; ``entry`` names the entry it was chosen by.
    """
    square = SQUARES[name]
    if max(torque, most) <= square.limit:
        return []
    limit = show(Q(square.limit, "N·m"), "N·m")
    if torque > square.limit:
        return [
            stop(
                f"{place}-square-over",
                f"The {square.label} square at the {place} would carry "
                f"{show(Q(torque, 'N·m'), 'N·m')}; it is used up to {limit}. Take a larger square.",
                entry,
            )
        ]
    return [
        caution(
            f"{place}-square-near",
            f"At the top of the band the {square.label} square at the {place} would carry "
            f"{show(Q(most, 'N·m'), 'N·m')}, more than the {limit} it is used up to. Take a "
            "larger square.",
            entry,
        )
    ]
