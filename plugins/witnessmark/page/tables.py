"""Pages of reference tables: one a table, and their list.

A table is written complete, in both unit systems; the style sheet shows one, the script lets the
reader sort it. ``data-value`` holds what a column is sorted by.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

from witnessmark.calc import Column, ReferenceTable
from witnessmark.calc.display import show_quantity, significant, unit_for
from witnessmark.calc.units import magnitude_in
from witnessmark.page.generated import front_matter, plain, source_list

TABLES_FOLDER = "reference/tables"
NONE = "–"


def table_uri(name: str) -> str:
    """Where the page of a table lies, as a source path."""
    return f"{TABLES_FOLDER}/{name}.md"


def tables_index(tables: Sequence[ReferenceTable]) -> str:
    """The list of all tables, as Markdown."""
    lines = [
        front_matter("Tables", "Every table of this handbook to look things up in."),
        "# Tables\n",
        "Made from the very figures that the calculators compute with. A column is sorted by its "
        "head; the tables print.\n",
        *(f"- [{item.title}]({item.name}.md): {plain(item.purpose)}" for item in tables),
    ]
    return "\n".join(lines) + "\n"


def table_page(table: ReferenceTable) -> str:
    """The page of a table, as Markdown."""
    notes = "\n".join(f"- {plain(each)}" for each in table.notes)
    parts = [
        front_matter(table.title, table.purpose),
        f"# {table.title}\n\n{plain(table.purpose)}\n",
        table_html(table) + "\n",
        f"{notes}\n" if notes else "",
        "## Sources\n\n" + source_list(table.sources),
    ]
    return "\n".join(part for part in parts if part)


def table_html(table: ReferenceTable) -> str:
    """The table as HTML in one line, so that Markdown leaves it alone."""
    head = "".join(_head(part) for part in table.columns)
    body = "".join(
        "<tr>" + "".join(
            _cell(part, cell, first=at == 0)
            for at, (part, cell) in enumerate(zip(table.columns, row, strict=True))
        ) + "</tr>"
        for row in table.rows
    )  # fmt: skip
    label = escape(table.title)
    return (
        f'<div class="wm-scroll wm-lookup" tabindex="0" role="region" aria-label="{label}">'
        f'<table class="wm-sorted"><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
    )


def _head(part: Column) -> str:
    label = escape(part.label, quote=False)
    if part.kind is None:
        return f'<th scope="col">{label}</th>'
    units = _both(*(unit_for(part.kind, system, part.unit) for system in ("si", "us")))
    told = f' <span class="wm-unit">{units}</span>' if units else ""
    return f'<th scope="col" class="wm-num">{label}{told}</th>'


def _cell(part: Column, cell: Any, *, first: bool) -> str:
    if part.kind is None or cell is None:
        words = NONE if cell is None else plain(str(cell))
        if first:
            return f'<th scope="row">{words}</th>'
        return f"<td>{words}</td>" if part.kind is None else f'<td class="wm-num">{words}</td>'
    own = part.unit or part.kind.own
    value = significant(magnitude_in(cell, own, part.kind), 9)
    shown = (
        show_quantity(cell, part.kind, part.rounding, system, part.unit)[0]
        for system in ("si", "us")
    )
    return f'<td class="wm-num" data-value="{value}">{_both(*shown)}</td>'


def _both(si: str, us: str) -> str:
    if si == us:
        return escape(si, quote=False)
    return (
        f'<span class="wm-si">{escape(si, quote=False)}</span>'
        f'<span class="wm-us">{escape(us, quote=False)}</span>'
    )
