"""The threads in use, metric and unified, and those that are taken for one another.

``COARSE`` holds the coarse pitches of ISO 261, ``FINE`` the fine ones that fasteners of these
sizes have (ISO 262) and a few beside them that central nuts have. ``UNC`` and ``UNF`` are turns
in an inch from ASME B1.1. A designation always names its pitch: a bare M30 says nothing of a
central nut.

Sources: ISO 261 and ISO 262; ASME B1.1.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from calculators.thread_form import INCH, ThreadForm

COARSE = {
    5.0: 0.8, 6.0: 1.0, 8.0: 1.25, 10.0: 1.5, 12.0: 1.75, 14.0: 2.0, 16.0: 2.0, 18.0: 2.5,
    20.0: 2.5, 22.0: 2.5, 24.0: 3.0, 27.0: 3.0, 30.0: 3.5, 33.0: 3.5, 36.0: 4.0, 39.0: 4.0,
    42.0: 4.5, 45.0: 4.5, 48.0: 5.0,
}  # fmt: skip
"""Nominal diameter in mm to its coarse pitch in mm."""

FINE = {
    8.0: (1.0,), 10.0: (1.25, 1.0), 12.0: (1.5, 1.25), 14.0: (1.5,), 16.0: (1.5,), 18.0: (1.5,),
    20.0: (1.5,), 22.0: (1.5,), 24.0: (2.0, 1.5), 27.0: (2.0,), 30.0: (2.0, 1.5), 33.0: (2.0,),
    36.0: (3.0, 1.5), 39.0: (3.0,), 42.0: (3.0,), 45.0: (3.0,), 48.0: (3.0,),
}  # fmt: skip
"""Nominal diameter in mm to the fine pitches in mm that are met on it."""

UNC = {
    "1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 13, "9/16": 12, "5/8": 11, "3/4": 10,
    "7/8": 9, "1": 8, "1-1/8": 7, "1-1/4": 7, "1-1/2": 6,
}  # fmt: skip
"""Nominal diameter in inches to turns in an inch, coarse."""

UNF = {
    "1/4": 28, "5/16": 24, "3/8": 24, "7/16": 20, "1/2": 20, "9/16": 18, "5/8": 18, "3/4": 16,
    "7/8": 14, "1": 12, "1-1/8": 12, "1-1/4": 12, "1-1/2": 12,
}  # fmt: skip
"""Nominal diameter in inches to turns in an inch, fine."""

LOOK_ALIKE = (0.1, 1.5)
"""Nominal diameters that differ by less than this share, and by less than these mm, are taken
for one another in bad light; bench practice."""


@cache
def inches(text: str) -> float:
    """The inches that a nominal diameter such as 1-1/8 means."""
    return float(sum(Fraction(part) for part in text.split("-")))


def _metric() -> dict[str, ThreadForm]:
    forms = {}
    for d, coarse in COARSE.items():
        for pitch in (coarse, *FINE.get(d, ())):
            name = f"M{d:g}x{pitch:g}"
            forms[name] = ThreadForm(name, d, pitch, coarse=pitch == coarse)
    return forms


def _unified() -> dict[str, ThreadForm]:
    forms = {}
    for nominal, coarse in UNC.items():
        for turns in (coarse, UNF[nominal]):
            name = f"{nominal}-{turns}"
            d, pitch = INCH * inches(nominal), INCH / turns
            forms[name] = ThreadForm(name, d, pitch, unified=True, coarse=turns == coarse)
    return forms


METRIC = _metric()
UNIFIED = _unified()
THREADS = METRIC | UNIFIED
CHOICES = {name: form.label for name, form in THREADS.items()}

PITCHES_OF = {d: {coarse, *FINE.get(d, ())} for d, coarse in COARSE.items()}


def is_standard(d: float, pitch: float) -> bool:
    """Whether a diameter and a pitch in mm are a pair of these tables (within 1 µm)."""
    return any(abs(d - form.d) < 1e-3 and abs(pitch - form.pitch) < 1e-3
               for form in THREADS.values())  # fmt: skip


def look_alikes(form: ThreadForm, most: int = 4) -> list[ThreadForm]:
    """Threads near enough in diameter to start on this one, of another pitch; nearest first.

    A metric thread's neighbours among the unified ones count, and its own other pitches.
    """
    near = [
        other
        for other in THREADS.values()
        if abs(other.pitch - form.pitch) > 1e-6
        and abs(other.d - form.d) < min(LOOK_ALIKE[0] * form.d, LOOK_ALIKE[1])
        and (abs(other.d - form.d) < 1e-6 or other.unified != form.unified)
    ]
    near.sort(key=lambda other: (abs(other.d - form.d) > 0.07 * form.d,
                                 abs(other.pitch - form.pitch), other.name))  # fmt: skip
    return near[:most]
