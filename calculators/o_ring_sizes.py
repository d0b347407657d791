"""Sizes of O-rings: the standard series, how far section and inside diameter may differ.

Five sections are made in inch-based sizes; each has its row of inside diameters, named by a
number of three figures. A ring of class B may differ in its inside diameter by

    tol(d1) = 0.009 d1^0.95 + 0.11   (mm),

in its section by what stands in ``SECTION_TOLERANCES``. Lengths are mm.

Sources: ISO 3601-1 (tolerances: formula and steps as printed there; sizes from memory).
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import Any

from witnessmark.calc import Source

ISO_3601_1 = Source(
    "iso-3601-1-2012",
    "ISO 3601-1:2012 Fluid power systems - O-rings - Inside diameters, cross-sections, "
    "tolerances and designation codes",
    "class B",
)
SIZES = Source(
    "iso-3601-1-sizes",
    "ISO 3601-1:2012, inside diameters and size codes; from memory",
    "size codes 004 to 455",
    kind="from memory",
)

SECTION_TOLERANCES = ((2.25, 0.08), (3.15, 0.09), (4.50, 0.10), (6.30, 0.13), (8.40, 0.15))
"""Sections up to and including the first figure (mm) may differ by the second (mm)."""


@dataclass(frozen=True)
class Ring:
    """A standard ring: its size code, inside diameter and section in mm."""

    code: str
    bore: float
    section: float


# Section (mm), number of the first ring, inside diameters (mm) of it and those that follow.
_SERIES = (
    (1.78, 4, (
        1.78, 2.57, 2.90, 3.68, 4.47, 5.28, 6.07, 7.65, 9.25, 10.82, 12.42, 14.00, 15.60, 17.17,
        18.77, 20.35, 21.95, 23.52, 25.12, 26.70, 28.30, 29.87, 31.47, 33.05, 34.65, 37.82, 41.00,
        44.17, 47.35, 50.52, 53.70, 56.87, 60.05, 63.22, 66.40, 69.57, 72.75, 75.92, 82.27, 88.62,
        94.97, 101.32, 107.67, 114.02, 120.37, 126.72, 133.07,
    )),
    (2.62, 102, (
        1.24, 2.06, 2.84, 3.63, 4.42, 5.23, 6.02, 7.59, 9.19, 10.77, 12.37, 13.94, 15.54, 17.12,
        18.72, 20.29, 21.89, 23.47, 25.07, 26.64, 28.24, 29.82, 31.42, 32.99, 34.59, 36.17, 37.77,
        39.34, 40.94, 42.52, 44.12, 45.69, 47.29, 48.90, 50.47, 52.07, 53.64, 55.25, 56.82, 58.42,
        59.99, 61.60, 63.17, 64.77, 66.34, 67.95, 69.52, 71.12, 72.69, 75.87, 82.22, 88.57, 94.92,
        101.27, 107.62, 113.97, 120.32, 126.67, 133.02, 139.37, 145.72, 152.07, 158.42, 164.77,
        171.12, 177.47, 183.82, 190.17, 196.52, 202.87, 209.22, 215.57, 221.92, 228.27, 234.62,
        240.97, 247.32,
    )),
    (3.53, 201, (
        4.34, 5.94, 7.52, 9.12, 10.69, 12.29, 13.87, 15.47, 17.04, 18.64, 20.22, 21.82, 23.39,
        24.99, 26.57, 28.17, 29.74, 31.34, 32.92, 34.52, 36.09, 37.69, 40.87, 44.04, 47.22, 50.39,
        53.57, 56.74, 59.92, 63.09, 66.27, 69.44, 72.62, 75.79, 78.97, 82.14, 85.32, 88.49, 91.67,
        94.84, 98.02, 101.19, 104.37, 107.54, 110.72, 113.89, 117.07, 120.24, 123.42, 126.59,
        129.77, 132.94, 136.12, 139.29, 142.47, 145.64, 148.82, 151.99, 158.34, 164.69, 171.04,
        177.39, 183.74, 190.09, 196.44, 202.79, 209.14, 215.49, 221.84, 228.19, 234.54, 240.89,
        247.24, 253.59, 266.29, 278.99, 291.69, 304.39, 329.79, 355.19, 380.59, 405.26, 430.66,
        456.06,
    )),
    (5.33, 309, (
        10.46, 12.07, 13.64, 15.24, 16.81, 18.42, 19.99, 21.59, 23.16, 24.77, 26.34, 27.94, 29.51,
        31.12, 32.69, 34.29, 37.47, 40.64, 43.82, 46.99, 50.17, 53.34, 56.52, 59.69, 62.87, 66.04,
        69.22, 72.39, 75.57, 78.74, 81.92, 85.09, 88.27, 91.44, 94.62, 97.79, 100.97, 104.14,
        107.32, 110.49, 113.67, 116.84, 120.02, 123.19, 126.37, 129.54, 132.72, 135.89, 139.07,
        142.24, 145.42, 148.59, 151.77, 158.12, 164.47, 170.82, 177.17, 183.52, 189.87, 196.22,
        202.57,
    )),
    (6.99, 425, (
        113.67, 116.84, 120.02, 123.19, 126.37, 129.54, 132.72, 135.89, 139.07, 142.24, 145.42,
        148.59, 151.77, 158.12, 164.47, 170.82, 177.17, 183.52, 189.87, 196.22, 202.57, 215.27,
        227.97, 240.67, 253.37, 266.07, 278.77, 291.47, 304.17, 316.87, 329.57,
    )),
)  # fmt: skip

RINGS = tuple(
    Ring(f"{first + place:03d}", bore, section)
    for section, first, bores in _SERIES
    for place, bore in enumerate(bores)
)

_SAME_SECTION, _SAME_BORE = 0.06, 0.12
"""Within these (mm) a ring typed in is taken for a standard one: inch sizes are rounded."""


def section_tolerance(section: float) -> float:
    """How far a section (mm, up to 8.40) may differ either way, mm."""
    steps = [most for most, _ in SECTION_TOLERANCES]
    return SECTION_TOLERANCES[min(bisect_left(steps, section), len(steps) - 1)][1]


def bore_tolerance(bore: float) -> float:
    """How far an inside diameter (mm) of class B may differ either way, mm."""
    return 0.009 * float(bore**0.95) + 0.11


def usual_section(section: Any) -> str:
    """The tolerance of a section (a length), as it would be typed."""
    return f"{section_tolerance(section.m_as('mm')):.2f} mm"


def usual_bore(bore: Any) -> str:
    """The tolerance of an inside diameter (a length), as it would be typed."""
    return f"{bore_tolerance(bore.m_as('mm')):.2f} mm"


def named(bore: float, section: float) -> str:
    """The size code of a ring (mm), or the words that it has none."""
    near = [
        ring
        for ring in RINGS
        if abs(ring.section - section) <= _SAME_SECTION and abs(ring.bore - bore) <= _SAME_BORE
    ]
    if not near:
        return "no standard size"
    best = min(near, key=lambda ring: abs(ring.bore - bore))
    return best.code


def of_section(section: float) -> tuple[Ring, ...]:
    """The standard rings of the series that a section (mm) belongs to; none for odd sections."""
    return tuple(ring for ring in RINGS if abs(ring.section - section) <= _SAME_SECTION)
