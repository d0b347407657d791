"""A table to look things up in, declared beside the calculators that use its figures.

A module makes one with ``reference_table`` from the same data that its calculators compute with;
the handbook gives it a page. Nothing of it travels to the browser.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from types import ModuleType
from typing import Any

from witnessmark.calc.declaration import SOURCE_KINDS, Column, DeclarationError, Source

_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


@dataclass(frozen=True)
class ReferenceTable:
    """A table with a page of its own.

    ``rows`` hold a cell for each column: text (or a whole number) where the column has no kind,
    a quantity where it has one, None where there is no figure. The first column names the row.
    """

    name: str
    title: str
    purpose: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Any, ...], ...]
    sources: tuple[Source, ...]
    notes: tuple[str, ...] = ()


def reference_table(
    *,
    name: str,
    title: str,
    purpose: str,
    columns: Sequence[Column],
    rows: Iterable[Sequence[Any]],
    sources: Sequence[Source],
    notes: Sequence[str] = (),
) -> ReferenceTable:
    """Declare a table; ``columns`` are made by ``column()``, ``notes`` stand under the table.

    Raises DeclarationError when the declaration contradicts itself.
    """
    place = f"table {name!r}"
    if not _NAME.fullmatch(name):
        raise DeclarationError(f"{place}: a name is lower-case words with hyphens")
    if not columns or columns[0].kind is not None:
        raise DeclarationError(f"{place}: the first column names the row; it has no kind")
    kept = tuple(tuple(row) for row in rows)
    if not kept:
        raise DeclarationError(f"{place}: it has no rows")
    for number, row in enumerate(kept, 1):
        if len(row) != len(columns):
            raise DeclarationError(
                f"{place}, row {number}: {len(row)} cells for {len(columns)} columns"
            )
        for cell, part in zip(row, columns, strict=True):
            if cell is not None and isinstance(cell, (str, int)) is not (part.kind is None):
                right = "text" if part.kind is None else f"a quantity ({part.kind.label})"
                raise DeclarationError(
                    f"{place}, row {number}, column {part.label!r}: found {cell!r}, write {right}"
                )
    for source in sources:
        if source.kind not in SOURCE_KINDS or not source.title:
            raise DeclarationError(
                f"{place}: source {source.key!r} needs a title and a kind out of "
                f"{', '.join(SOURCE_KINDS)}"
            )
    if not sources:
        raise DeclarationError(f"{place}: name where its figures come from")
    return ReferenceTable(name, title, purpose, tuple(columns), kept, tuple(sources), tuple(notes))


def reference_tables_of(module: ModuleType) -> list[ReferenceTable]:
    """The tables that stand in a module, in their order; one it has imported counts too."""
    return [item for item in vars(module).values() if isinstance(item, ReferenceTable)]
