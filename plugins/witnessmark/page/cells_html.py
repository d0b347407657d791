"""Table entries: rows of cells to type in."""

from __future__ import annotations

from collections.abc import Sequence

from witnessmark.calc import Entry
from witnessmark.page.elements import Attribute, Html, element, text

Rows = Sequence[Sequence[str]]

HINT = "Rows copied from a spreadsheet can be pasted into any cell. Enter goes to the next row."


def column_heads(entry: Entry) -> list[str]:
    """The heads of the columns, each with the unit a bare number is in."""
    return [
        f"{column.label} ({column.units[0]})" if column.units and column.units[0] else column.label
        for column in entry.columns
    ]


def table_text(entry: Entry, rows: Rows) -> Html:
    """A table the page gives and the reader cannot change."""
    return element(
        "table",
        {"class": "wm-cells"},
        _head(entry),
        element(
            "tbody",
            {},
            *(element("tr", {}, *(element("td", {}, text(cell)) for cell in row)) for row in rows),
        ),
    )


def table_field(entry: Entry, rows: Rows, field: str, attributes: dict[str, Attribute]) -> Html:
    """A table of fields with buttons to add and remove a row."""
    heads = column_heads(entry)
    return element(
        "div",
        {
            "class": "wm-field-table",
            "data-least": max(entry.least_rows, 1),
            "data-most": entry.most_rows,
        },
        element(
            "div",
            {"class": "wm-scroll"},
            element(
                "table",
                {**attributes, "class": "wm-cells", "aria-labelledby": f"{field}-label"},
                _head(entry),
                element(
                    "tbody",
                    {},
                    *(_row(entry, heads, row, number) for number, row in enumerate(rows, 1)),
                ),
            ),
        ),
        element(
            "div",
            {"class": "wm-row-buttons", "hidden": True},
            element("button", {"type": "button", "class": "wm-add-row"}, text("add a row")),
            element(
                "button", {"type": "button", "class": "wm-remove-row"}, text("remove the last row")
            ),
            element(
                "button",
                {"type": "button", "class": "wm-put-row-back", "hidden": True},
                text("put the row back"),
            ),
            element("p", {"class": "wm-hint"}, text(HINT)),
        ),
    )


def _head(entry: Entry) -> Html:
    heads = (element("th", {"scope": "col"}, text(head)) for head in column_heads(entry))
    return element("thead", {}, element("tr", {}, *heads))


def _row(entry: Entry, heads: Sequence[str], row: Sequence[str], number: int) -> Html:
    cells = []
    for place, head in enumerate(heads):
        attributes: dict[str, Attribute] = {
            "type": "text",
            "autocomplete": "off",
            "spellcheck": "false",
            "enterkeyhint": "next",
            "data-column": entry.columns[place].name,
            "aria-label": f"{entry.label}, row {number}, {head}",
            "value": row[place] if place < len(row) else "",
            "disabled": True,
        }
        cells.append(element("td", {}, element("input", attributes)))
    return element("tr", {}, *cells)
