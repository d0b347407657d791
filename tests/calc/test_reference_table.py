"""A reference table is complete, or its declaration is refused with place and fix."""

from __future__ import annotations

from types import ModuleType
from typing import Any

import pytest

from witnessmark.calc import (
    DeclarationError,
    Length,
    Q,
    Source,
    column,
    reference_table,
    reference_tables_of,
)

SOURCE = Source("book", "A handbook", kind="handbook")


def made(**changes: Any) -> Any:
    """A table of one row, with changes."""
    whole = {
        "name": "rods", "title": "Rods", "purpose": "Lengths of rods.",
        "columns": (column("Rod"), column("Length", Length)),
        "rows": [("short", Q(10.0, "mm"))], "sources": (SOURCE,),
    }  # fmt: skip
    return reference_table(**whole | changes)


def test_rows_are_kept_as_they_stand() -> None:
    """Cells with and without a figure."""
    assert made(rows=[("short", Q(10.0, "mm")), ("lost", None)]).rows[1] == ("lost", None)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"name": "Rods"}, "lower-case words"),
        ({"rows": []}, "has no rows"),
        ({"rows": [("short",)]}, "row 1: 1 cells for 2 columns"),
        ({"rows": [("short", "10 mm")]}, "column 'Length': found '10 mm', write a quantity"),
        ({"rows": [(Q(1.0, "mm"), Q(1.0, "mm"))]}, "column 'Rod'"),
        ({"columns": (column("Length", Length), column("Rod"))}, "first column names the row"),
        ({"sources": ()}, "where its figures come from"),
        ({"sources": (Source("x", "X", kind="hearsay"),)}, "a kind out of"),
    ],
)
def test_what_contradicts_itself_is_refused(changes: dict[str, Any], message: str) -> None:
    """The message names table, row and column."""
    with pytest.raises(DeclarationError, match=message):
        made(**changes)


def test_tables_of_a_module() -> None:
    """In the order in which they stand there."""
    module = ModuleType("rods")
    first, second = made(), made(name="more-rods")
    vars(module).update(FIRST=first, NUMBER=3, SECOND=second)
    assert reference_tables_of(module) == [first, second]
