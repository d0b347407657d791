"""Limit deviations of holes and shafts as tables to look things up in.

They come from ``calculators.iso_286``, as the calculators of fits use them.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from calculators.iso_286 import ISO_286_2, STEPS, Limits, hole, shaft
from witnessmark.calc import ReferenceTable, column, reference_table

HOLES = ("F7", "G7", "H7", "H8", "H11", "JS7", "K7", "M7", "N7", "P7")
SHAFTS = ("f7", "g6", "h6", "h8", "h11", "js6", "k6", "m6", "n6", "p6")
_NOTES = (
    "Upper over lower deviation in micrometres; sizes over … up to and including.",
    "JS and js exactly half of the tolerance. Sizes hold at 20 °C.",
)


def _deviation(microns: float) -> str:
    return f"{microns:+g}".replace("-", "−") if microns else "0"


def _table(name: str, title: str, purpose: str, classes: tuple[str, ...],
           limits: Callable[[str, int, float], Limits]) -> ReferenceTable:  # fmt: skip
    """A row for each step of sizes, a column for each class."""
    rows = []
    for low, high in pairwise((0, *STEPS)):
        cells = [f"{low} … {high} mm" if low else f"up to {high} mm"]
        for each in classes:
            letter, grade = each.rstrip("0123456789"), each.lstrip("FGHJSKMNPfghjskmnp")
            zone = limits(letter, int(grade), float(high))
            cells.append(f"{_deviation(zone.upper)} / {_deviation(zone.lower)}")
        rows.append(cells)
    return reference_table(
        name=name, title=title, purpose=purpose,
        columns=(column("Size"), *(column(each) for each in classes)),
        rows=rows, sources=(ISO_286_2,), notes=_NOTES,
    )  # fmt: skip


LIMITS_OF_HOLES = _table(
    "limits-of-holes",
    "Limits of holes",
    "Limit deviations of common classes of holes.",
    HOLES,
    hole,
)
LIMITS_OF_SHAFTS = _table(
    "limits-of-shafts", "Limits of shafts", "Limit deviations of common classes of shafts.",
    SHAFTS, shaft,
)  # fmt: skip
