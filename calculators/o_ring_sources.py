"""Where the arithmetic of O-rings comes from."""

from __future__ import annotations

from witnessmark.calc import Source

ISO_3601_2 = Source(
    "iso-3601-2-2016",
    "ISO 3601-2:2016 Fluid power systems - O-rings - Housing dimensions for general "
    "applications; polynomial of the stretched section from memory",
    "loss of section by stretch",
    kind="from memory",
)
CONSTANT_VOLUME = Source(
    "torus-volume",
    "Volume of a ring before and after stretching, π² CS² (d1 + CS)/4, worked apart",
    kind="derivation",
)
BY_HAND = Source("o-ring-by-hand", "Lengths and areas of the groove, by hand", kind="derivation")
