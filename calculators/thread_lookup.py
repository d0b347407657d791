"""Threads, their limits and their spanners as tables to look things up in.

Made from the data that the thread calculators compute with: ``thread_sizes``, ``thread_form``,
``fastener_classes``, ``thread_gap`` and ``spanner_sizes``.
"""

from __future__ import annotations

from typing import Any

from calculators.fastener_classes import CLASSES, INCH_END, ISO_898, METRIC_END, SAE_J429
from calculators.spanner_sizes import (
    ACROSS_FLATS,
    ASME_B18,
    CLEARANCE_HOLE,
    INCH_FLATS,
    ISO_272,
    ISO_273,
    OLDER,
    WASHER_FACE,
)
from calculators.thread_form import INCH, ThreadForm
from calculators.thread_gap import THREADS as TOLERANCES
from calculators.thread_sizes import METRIC, UNIFIED, inches
from calculators.thread_strength import ASME_B1_1, ISO_724
from witnessmark.calc import (
    Area,
    Force,
    Length,
    Number,
    Q,
    Rounding,
    Source,
    column,
    reference_table,
)

ISO_965 = Source(
    "iso-965-1-tables", "ISO 965-1:2013 ISO general purpose metric screw threads - Tolerances - "
    "Principles and basic data", "tables of tolerances, grade 6, positions g and H",
)  # fmt: skip

_MM = Rounding(decimals=3, us_decimals=4)
_WHOLE = Rounding(decimals=0, us_decimals=0)
_PLAIN = Rounding(figures=3)
METRIC_MARKS = ("8.8", "10.9", "12.9")
INCH_MARKS = ("grade 5", "grade 8")


def _proof(form: ThreadForm, mark: str, end: float) -> Any:
    """Proof load, or None beyond the end of the standard. Metric areas are rounded to three
    figures first, as ISO 898-1 does."""
    if form.d > end + 1e-9:
        return None
    area = form.stress_area if form.unified else float(f"{form.stress_area:.3g}")
    return Q(CLASSES[mark].strength(form.d).proof * area, "N")


def _loads(marks: tuple[str, ...]) -> list[Any]:
    return [column(f"Proof {mark}", Force, unit="kN", rounding=_PLAIN) for mark in marks]


def _row(form: ThreadForm, marks: tuple[str, ...], end: float) -> tuple[Any, ...]:
    return (
        form.label, "coarse" if form.coarse else "fine", Q(form.d2, "mm"), Q(form.d3, "mm"),
        Q(form.nut_bore, "mm"), Q(form.stress_area, "mm²"),
        *(_proof(form, mark, end) for mark in marks),
    )  # fmt: skip


_THREAD_COLUMNS = (
    column("Thread"), column("Pitch"),
    column("Pitch diameter", Length, unit="mm", rounding=_MM),
    column("Root of bolt", Length, unit="mm", rounding=_MM),
    column("Bore of nut", Length, unit="mm", rounding=_MM),
    column("Stress area", Area, unit="mm²", rounding=_PLAIN),
)  # fmt: skip
_LIMIT = (
    "The proof load is a limit of the fastener, not a clamp force to tighten to. The maker's "
    "stated torque rules."
)

METRIC_THREADS = reference_table(
    name="metric-threads",
    title="Metric threads and proof loads",
    purpose="Diameters, stress area and proof load of metric threads, coarse and fine.",
    columns=(*_THREAD_COLUMNS, *_loads(METRIC_MARKS)),
    rows=[_row(form, METRIC_MARKS, METRIC_END) for form in METRIC.values()],
    sources=(ISO_724, ISO_898),
    notes=(
        _LIMIT,
        "Class 8.8 changes above 16 mm; 16 mm itself belongs to the lower group.",
        "ISO 898-1 ends at 39 mm: beyond it there is no load here. Loads are worked out as there, "
        "from areas rounded to three figures.",
        "A central nut's pitch is never guessed from its diameter.",
    ),
)

INCH_THREADS = reference_table(
    name="inch-threads",
    title="Inch threads and proof loads",
    purpose="Diameters, stress area and proof load of unified threads, coarse and fine.",
    columns=(*_THREAD_COLUMNS, *_loads(INCH_MARKS)),
    rows=[_row(form, INCH_MARKS, INCH_END) for form in UNIFIED.values()],
    sources=(ASME_B1_1, SAE_J429),
    notes=(
        _LIMIT,
        "A proof load of grade 5 is lower by an eighth above 1 in.",
        "Inch and metric threads of nearly the same diameter start on one another and then strip.",
    ),
)

THREAD_LIMITS = reference_table(
    name="thread-limits",
    title="Limits of metric threads, 6g and 6H",
    purpose="What a sound bolt 6g and a sound nut 6H measure, and the clearance between them.",
    columns=(
        column("Thread"),
        *(
            column(label, Length, unit="mm", rounding=_MM)
            for label in (
                "Bolt d, least", "Bolt d, most", "Bolt d2, least", "Bolt d2, most",
                "Nut D2, least", "Nut D2, most", "Nut D1, least", "Nut D1, most",
            )
        ),
        column("Clearance, least", Length, unit="µm", rounding=Rounding(decimals=0, us_decimals=4)),
        column("Clearance, most", Length, unit="µm",
               rounding=Rounding(decimals=0, us_decimals=4)),
    ),
    rows=[
        (
            size.label,
            *(
                Q(diameter, "mm")
                for diameter in (
                    size.bolt(1).crest, size.bolt(0).crest, size.bolt(1).pitch, size.bolt(0).pitch,
                    size.nut(0).pitch, size.nut(1).pitch, size.nut(0).crest, size.nut(1).crest,
                )
            ),
            *(Q(clearance, "mm") for clearance in size.clearances),
        )
        for size in TOLERANCES.values()
    ],
    sources=(ISO_965, ISO_724),
    notes=(
        "d and D1 are measured over the crests of bolt and nut, d2 and D2 at the pitch diameter.",
        "Before plating. Plating adds four times its thickness to a bolt's pitch diameter.",
        "Clearance is that of the pitch diameters, nut less bolt.",
    ),
)  # fmt: skip


SPANNERS = reference_table(
    name="spanner-sizes",
    title="Spanner sizes and clearance holes",
    purpose="Width across flats of metric hexagon heads and nuts in millimetres, the older widths "
    "where they differ, the washer face and the clearance hole.",
    columns=(
        column("Thread"),
        column("Across flats, mm", Number, rounding=_WHOLE),
        column("Older heads, mm", Number, rounding=_WHOLE),
        column("Washer face", Length, unit="mm", rounding=Rounding(decimals=2, us_decimals=3)),
        column("Clearance hole", Length, unit="mm", rounding=Rounding(decimals=1, us_decimals=3)),
    ),
    rows=[
        (
            f"M{d:g}", Q(flats, ""), Q(OLDER[d], "") if d in OLDER else None,
            Q(WASHER_FACE[d], "mm") if d in WASHER_FACE else None, Q(CLEARANCE_HOLE[d], "mm"),
        )
        for d, flats in ACROSS_FLATS.items()
    ],
    sources=(ISO_272, ISO_273),
    notes=(
        "A spanner that is nearly right rounds the hexagon: one that fits has no play to speak of.",
        "Central nuts, ring nuts and hub nuts have widths of their own: measure them.",
        "Clearance holes are of the medium series; washer faces are the least ones.",
    ),
)  # fmt: skip

INCH_SPANNERS = reference_table(
    name="inch-spanner-sizes",
    title="Inch spanner sizes",
    purpose="Width across flats of inch hexagon bolts.",
    columns=(
        column("Thread"),
        column("Across flats"),
        column("In millimetres", Number, rounding=Rounding(decimals=2, us_decimals=2)),
    ),
    rows=[
        (f"{nominal} in", f"{flats} in", Q(INCH * inches(flats), ""))
        for nominal, flats in INCH_FLATS.items()
    ],
    sources=(ASME_B18,),
    notes=("Some nuts, and heavy patterns, are a sixteenth or an eighth wider: measure.",),
)
