"""Heads, nuts, holes: width across flats, washer face and clearance hole by nominal diameter.

All in millimetres. Older nuts and heads have other widths (``OLDER``): a 17 mm spanner on M10
is right for them, and an 18 mm one on M12 rounds a 19 mm head of the older pattern. Thin central
nuts, ring nuts and hub nuts follow no table: measure.

Sources: ISO 272 and ISO 273 medium series, washer-face diameters of ISO 4014 and ISO 4032
(least), all from memory; older widths as in the withdrawn DIN sheets, from memory; ASME
B18.2.1 and B18.2.2 for inch heads, from memory.
"""

from __future__ import annotations

from calculators.thread_form import INCH
from calculators.thread_sizes import inches
from witnessmark.calc import Source

ISO_272 = Source(
    "iso-272", "ISO 272 Fasteners - Hexagon products - Widths across flats, quoted from memory",
    kind="from memory",
)  # fmt: skip
ISO_273 = Source(
    "iso-273", "ISO 273 Fasteners - Clearance holes for bolts and screws, medium series, quoted "
    "from memory", kind="from memory",
)  # fmt: skip
ASME_B18 = Source(
    "asme-b18-2", "ASME B18.2.1 and B18.2.2 Square, hex and heavy hex bolts, screws and nuts, "
    "quoted from memory", kind="from memory",
)  # fmt: skip

ACROSS_FLATS = {
    5.0: 8.0, 6.0: 10.0, 8.0: 13.0, 10.0: 16.0, 12.0: 18.0, 14.0: 21.0, 16.0: 24.0, 18.0: 27.0,
    20.0: 30.0, 22.0: 34.0, 24.0: 36.0, 27.0: 41.0, 30.0: 46.0, 33.0: 50.0, 36.0: 55.0, 39.0: 60.0,
    42.0: 65.0, 45.0: 70.0, 48.0: 75.0,
}  # fmt: skip
"""Nominal diameter to width across flats, ISO 272."""

OLDER = {10.0: 17.0, 12.0: 19.0, 14.0: 22.0, 22.0: 32.0}
"""Nominal diameter to the width across flats of older heads and nuts, where it differs."""

WASHER_FACE = {
    5.0: 6.88, 6.0: 8.88, 8.0: 11.63, 10.0: 14.63, 12.0: 16.63, 14.0: 19.64, 16.0: 22.49,
    20.0: 28.19, 24.0: 33.61,
}  # fmt: skip
"""Nominal diameter to the least diameter of the washer face under a hexagon."""

CLEARANCE_HOLE = {
    5.0: 5.5, 6.0: 6.6, 8.0: 9.0, 10.0: 11.0, 12.0: 13.5, 14.0: 15.5, 16.0: 17.5, 18.0: 20.0,
    20.0: 22.0, 22.0: 24.0, 24.0: 26.0, 27.0: 30.0, 30.0: 33.0, 33.0: 36.0, 36.0: 39.0, 39.0: 42.0,
    42.0: 45.0, 45.0: 48.0, 48.0: 52.0,
}  # fmt: skip
"""Nominal diameter to the clearance hole of the medium series."""

INCH_FLATS = {
    "1/4": "7/16", "5/16": "1/2", "3/8": "9/16", "7/16": "5/8", "1/2": "3/4", "9/16": "13/16",
    "5/8": "15/16", "3/4": "1-1/8", "7/8": "1-5/16", "1": "1-1/2", "1-1/8": "1-11/16",
    "1-1/4": "1-7/8", "1-1/2": "2-1/4",
}  # fmt: skip
"""Nominal diameter to width across flats of an inch bolt head, both in inches as spoken."""


def spanner(d: float) -> str:
    """The spanner for a nominal diameter in mm, metric or inch, in words."""
    for nominal, flats in INCH_FLATS.items():
        if abs(d - INCH * inches(nominal)) < 1e-6:
            return f"{flats} in"
    if d not in ACROSS_FLATS:
        return "measure it"
    older = f"; older heads {OLDER[d]:g} mm" if d in OLDER else ""
    return f"{ACROSS_FLATS[d]:g} mm{older}"
