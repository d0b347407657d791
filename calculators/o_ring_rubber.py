"""What O-rings are made of: temperatures and oil they stand, and how they grow.

Common practice, no published source; the ring maker's sheet wins.
"""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import Source

PRACTICE = Source(
    "o-ring-practice",
    "Workshop practice with O-rings: squeeze, stretch, filling, temperatures, expansion and "
    "swelling; no published source",
    kind="common practice",
)


@dataclass(frozen=True)
class Rubber:
    """Name, the temperatures it stands in °C, and whether mineral oil spoils it."""

    text: str
    coldest: float
    hottest: float
    oil: bool = True


RUBBERS = {
    "NBR": Rubber("NBR, nitrile", -30, 100),
    "HNBR": Rubber("HNBR, hydrogenated nitrile", -30, 140),
    "FKM": Rubber("FKM, fluorocarbon", -15, 200),
    "VMQ": Rubber("VMQ, silicone", -55, 200),
    "EPDM": Rubber("EPDM", -50, 130, oil=False),
    "unknown": Rubber("not known", -20, 80),
}
