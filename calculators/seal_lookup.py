"""O-rings, lip seals and gaskets as tables to look things up in."""

from __future__ import annotations

from calculators.gasket_materials import ASME, ASME_MEMORY, FACINGS
from calculators.lip_seal_tables import ELASTOMERS, PRACTICE, RUNOUTS
from calculators.o_ring_sizes import (
    ISO_3601_1,
    RINGS,
    SIZES,
    bore_tolerance,
    section_tolerance,
)
from witnessmark.calc import (
    Length,
    Number,
    Q,
    Rounding,
    Speed,
    Stress,
    Temperature,
    column,
    reference_table,
)

_SIZE = Rounding(decimals=2, us_decimals=3)
_WHOLE = Rounding(decimals=0, us_decimals=0)

O_RINGS = reference_table(
    name="o-ring-sizes",
    title="Standard O-rings",
    purpose="Size codes of the inch-based O-rings with inside diameter and section, and how far "
    "a ring of class B may differ.",
    columns=(
        column("Size code"),
        column("Inside diameter", Length, rounding=_SIZE),
        column("may differ by ±", Length, rounding=_SIZE),
        column("Section", Length, rounding=_SIZE),
        column("may differ by ±", Length, rounding=_SIZE),
    ),
    rows=[
        (
            ring.code, Q(ring.bore, "mm"), Q(bore_tolerance(ring.bore), "mm"),
            Q(ring.section, "mm"), Q(section_tolerance(ring.section), "mm"),
        )
        for ring in RINGS
    ],
    sources=(ISO_3601_1, SIZES),
    notes=(
        "Tolerance of the inside diameter: 0.009 d₁^0.95 + 0.11 mm.",
        "Measure the section without pressing: a caliper closed by its own weight.",
        "The code is on the bag, not on the ring.",
    ),
)  # fmt: skip

ELASTOMER_LIMITS = reference_table(
    name="lip-seal-elastomers",
    title="Lip seals: speed and heat",
    purpose="Lip speed that elastomers stand, and the temperature of the oil.",
    columns=(
        column("Elastomer"),
        column("Speed, all makers", Speed, rounding=_WHOLE),
        column("Speed, some makers", Speed, rounding=_WHOLE),
        column("Temperature", Temperature, rounding=_WHOLE),
    ),
    rows=[
        (item.text, Q(item.safe, "m/s"), Q(item.utmost, "m/s"), Q(item.hottest, "°C"))
        for item in ELASTOMERS.values()
    ],
    sources=(PRACTICE,),
    notes=("Halve the speeds where little oil comes to the lip, and with a dust lip.",),
)

RUNOUT_LIMITS = reference_table(
    name="lip-seal-runout",
    title="Lip seals: runout of the land",
    purpose="Runout, total reading of a dial, that a lip follows at a speed.",
    columns=(
        column("Speed"),
        column("Runout, at most", Length, rounding=Rounding(decimals=2, us_decimals=4)),
    ),
    rows=[(f"{speed} r/min", Q(runout, "mm")) for speed, runout in RUNOUTS],
    sources=(PRACTICE,),
    notes=(
        "Up to the first speed the first figure holds; between two, take a straight line.",
        "The offset of the bore from the shaft comes on top; together no more than 0.25 mm to "
        "0.4 mm.",
    ),
)

GASKET_FACTORS = reference_table(
    name="gasket-factors",
    title="Gasket factors",
    purpose="Gasket factor m and seating stress y of flat gaskets.",
    columns=(
        column("Gasket of"),
        column("m", Number, rounding=Rounding(decimals=2, us_decimals=2)),
        column("y", Stress, unit="MPa", rounding=Rounding(figures=3)),
    ),
    rows=[(item.text, Q(item.m, ""), Q(item.y, "MPa")) for item in FACINGS.values()],
    sources=(ASME, ASME_MEMORY),
    notes=("y seats the gasket; what it stands at most is in its maker's sheet.",),
)
