"""Where the figures of gaskets come from, besides the standard."""

from __future__ import annotations

from witnessmark.calc import Source

BY_HAND = Source("gasket-by-hand", "Areas, pressures and thicknesses, by hand", kind="derivation")
PRACTICE = Source(
    "gasket-practice",
    "Workshop practice with flat gaskets: setting, sealant, scatter of thickness and "
    "compression; no published source",
    kind="common practice",
)
