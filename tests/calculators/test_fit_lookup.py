"""The tables of fits against figures printed in textbooks of machine elements."""

from __future__ import annotations

import pytest

from calculators.fit_lookup import LIMITS_OF_HOLES, LIMITS_OF_SHAFTS
from witnessmark.calc import ReferenceTable

PRINTED = [
    (LIMITS_OF_HOLES, "30 … 50 mm", "H7", "+25 / 0"),
    (LIMITS_OF_HOLES, "30 … 50 mm", "P7", "−17 / −42"),
    (LIMITS_OF_HOLES, "6 … 10 mm", "N7", "−4 / −19"),
    (LIMITS_OF_HOLES, "up to 3 mm", "K7", "0 / −10"),
    (LIMITS_OF_SHAFTS, "6 … 10 mm", "m6", "+15 / +6"),
    (LIMITS_OF_SHAFTS, "50 … 80 mm", "h11", "0 / −190"),
    (LIMITS_OF_SHAFTS, "30 … 50 mm", "g6", "−9 / −25"),
]
"""ISO 286-2 as printed in textbooks; the same figures as the check values of the calculators."""


@pytest.mark.parametrize(("table", "size", "name", "printed"), PRINTED)
def test_printed_figures(table: ReferenceTable, size: str, name: str, printed: str) -> None:
    """The cell of a size and a class reads as in print."""
    place = [part.label for part in table.columns].index(name)
    row = next(row for row in table.rows if row[0] == size)
    assert row[place] == printed
