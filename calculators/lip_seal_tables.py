"""What is known of rotary lip seals in tables: fits, case allowances, elastomers, runout.

Limits of bore and shaft are those of ISO 286-2. The allowance of the seal's outside diameter
is that of ISO 6194-1. Speeds, temperatures, runout, offset and finish are common practice;
the seal maker's sheet wins.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import pairwise

from calculators.iso_286 import ISO_286_2, grade
from witnessmark.calc import Source

ISO_286 = ISO_286_2.at("H8, h11")
ISO_6194 = Source(
    "iso-6194-1-2007",
    "ISO 6194-1:2007 Rotary shaft lip-type seals incorporating elastomeric sealing elements - "
    "Nominal dimensions and tolerances; from memory",
    "seal outside diameter",
    kind="from memory",
)
PRACTICE = Source(
    "lip-seal-practice",
    "Workshop practice with lip seals: limits of speed, temperature, runout, offset, finish, "
    "squareness and line load; no published source",
    kind="common practice",
)


def h8(size: float) -> tuple[float, float]:
    """Least and greatest bore of class H8 in mm, for a nominal ``size`` in mm up to 500."""
    return size, size + grade(8, size) / 1000


def h11(size: float) -> tuple[float, float]:
    """Least and greatest shaft of class h11 in mm, for a nominal ``size`` in mm up to 500."""
    return size - grade(11, size) / 1000, size


CASES = {"metal": "bare metal case", "rubber": "rubber-covered case"}
_ALLOWANCE_STEPS = (50, 80, 120, 180, 300)
_ALLOWANCES = {
    "metal": ((0.08, 0.20), (0.09, 0.23), (0.10, 0.25), (0.12, 0.28), (0.15, 0.35)),
    "rubber": ((0.15, 0.30), (0.20, 0.35), (0.20, 0.35), (0.25, 0.45), (0.25, 0.45)),
}
LARGEST_BORE = _ALLOWANCE_STEPS[-1]


def allowance(case: str, bore: float) -> tuple[float, float]:
    """Least and greatest excess in mm of the seal's outside diameter over the nominal bore."""
    if not 0 < bore <= LARGEST_BORE:
        raise ValueError(f"the table of ISO 6194-1 kept here ends at 300 mm, found {bore:g} mm")
    return _ALLOWANCES[case][bisect_left(_ALLOWANCE_STEPS, bore)]


@dataclass(frozen=True)
class Elastomer:
    """Lip speed in m/s that is safe and that some makers allow, and temperature in °C."""

    text: str
    safe: float
    utmost: float
    hottest: float


ELASTOMERS = {
    "NBR": Elastomer("NBR, nitrile", 12, 14, 100),
    "ACM": Elastomer("ACM, acrylic", 18, 20, 130),
    "VMQ": Elastomer("VMQ, silicone", 30, 35, 160),
    "FKM": Elastomer("FKM, fluorocarbon", 35, 38, 200),
    "PTFE": Elastomer("PTFE lip", 30, 30, 200),
}

RUNOUTS = ((500, 0.30), (1000, 0.25), (2000, 0.20), (3000, 0.15), (4000, 0.13), (6000, 0.10))
"""Speed in r/min and the allowed runout of the land there, total reading in mm."""

_OFFSETS = ((30, 0.10), (150, 0.25))
"""Shaft diameter in mm and the allowed offset of the bore in mm."""


def allowed_runout(speed: float) -> float | None:
    """Allowed runout (total reading, mm) at a speed in r/min, straight between the points.

    The figure of 500 r/min holds below that speed; above 6000 r/min there is none.
    """
    if speed > RUNOUTS[-1][0]:
        return None
    return _between(RUNOUTS, speed)


def allowed_offset(shaft: float) -> float:
    """Allowed distance of the bore's centre from the shaft's, mm, for a shaft in mm.

    The figure of 30 mm holds for thinner shafts and that of 150 mm for thicker ones.
    """
    return _between(_OFFSETS, shaft)


def _between(points: tuple[tuple[float, float], ...], x: float) -> float:
    """A straight line between each two points; level before the first and after the last."""
    if x <= points[0][0]:
        return points[0][1]
    for (x1, y1), (x2, y2) in pairwise(points):
        if x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return points[-1][1]
