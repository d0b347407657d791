"""The entries of a calculator as form fields, made from its declaration.

``front/entries.js`` reads the same fields; what it needs to know of an entry stands in
``data-`` attributes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from witnessmark.calc import UNITS, Entry
from witnessmark.page.elements import Html, element, join, text

PLAIN = "plain number"


def entry_field(
    entry: Entry, part: Mapping[str, Any], ident: str, *, fixed: bool, origin: str
) -> Html:
    """One entry: a field to type in, or the page's own figure with its origin when fixed."""
    return element(
        "div",
        {
            "class": "wm-entry wm-fixed" if fixed else "wm-entry",
            "data-entry": entry.name,
            "data-form": entry.form,
            "data-text": part["text"] if fixed and isinstance(part["text"], str) else None,
            "data-rows": json.dumps(part["text"], ensure_ascii=False)
            if fixed and entry.form == "table"
            else None,
            "data-unit-si": entry.unit or None,
            "data-unit-us": us_unit(entry) or None,
            "data-when": json.dumps(entry.when, sort_keys=True) if entry.when else None,
            "hidden": not part["active"],
        },
        *(_fixed(entry, part, origin) if fixed else _editable(entry, part, ident, origin)),
    )


def _fixed(entry: Entry, part: Mapping[str, Any], origin: str) -> list[Html]:
    shown = part.get("display", part["text"])
    if not isinstance(shown, str):
        shown = f"{len(shown)} rows"
    elif entry.form == "quantity" and isinstance(part["text"], str):
        shown = part["text"] if "±" in part["text"] or "…" in part["text"] else shown
    return [
        element("span", {"class": "wm-label"}, text(entry.label)),
        element("span", {"class": "wm-fixed-value"}, text(shown)),
        element("span", {"class": "wm-origin"}, text(origin)),
    ]


def _editable(entry: Entry, part: Mapping[str, Any], ident: str, origin: str) -> list[Html]:
    field = f"{ident}-{entry.name}"
    notes = [f"{field}-help", f"{field}-echo", f"{field}-error"]
    attributes: dict[str, str | int | bool | None] = {
        "id": field,
        "aria-describedby": " ".join(notes if entry.help else notes[1:]),
    }
    if entry.form == "choice":
        control = _choice(entry, part, attributes)
    elif entry.form == "table":
        control = _table(entry, part, field, attributes)
    else:
        control = _quantity(entry, part, attributes)
    label = element("label", {"for": field, "class": "wm-label"}, text(entry.label))
    if entry.form == "table":
        label = element("span", {"id": f"{field}-label", "class": "wm-label"}, text(entry.label))
    return [
        join(label, element("span", {"class": "wm-whose", "hidden": True}, text("yours"))),
        control,
        element("p", {"class": "wm-help", "id": notes[0]}, text(entry.help))
        if entry.help
        else Html(""),
        element("p", {"class": "wm-origin"}, text(origin)) if origin else Html(""),
        element("p", {"class": "wm-echo", "id": notes[1]}, text(echo(part))),
        element("p", {"class": "wm-error", "id": notes[2]}),
    ]


def us_unit(entry: Entry) -> str:
    """The unit of the field where the page is read in US customary units."""
    return next((unit for unit in entry.units if UNITS[unit].us), entry.unit)


def echo(part: Mapping[str, Any]) -> str:
    """How an entry was read, where that is not plain from what stands in the field."""
    if part.get("error") or "as_units" not in part:
        return ""
    words = []
    if part["typed_unit"] != part["unit"]:
        words.append(f"= {part['as_units'][part['unit']]} {part['unit'] or PLAIN}".rstrip())
    if "low" in part:
        assumed = "usual tolerance: " if part["tolerance_assumed"] else ""
        words.append(f"{assumed}{part['display']}")
    return "; ".join(words)


def number_text(typed: str, unit: str) -> str:
    """What stands in the field when the unit stands in the list beside it."""
    if unit and typed.count(unit) == 1:
        return " ".join(typed.replace(unit, " ").split())
    return typed


def _quantity(entry: Entry, part: Mapping[str, Any], attributes: dict[str, Any]) -> Html:
    unit = part.get("typed_unit", entry.unit)
    value = element(
        "input",
        {
            **attributes,
            "type": "text",
            "autocomplete": "off",
            "spellcheck": "false",
            "value": number_text(str(part["text"]), unit),
            "disabled": True,
        },
    )
    return element("div", {"class": "wm-field"}, value, _units(entry, unit))


def _units(entry: Entry, chosen: str) -> Html | None:
    if len(entry.units) < 2:
        only = entry.units[0] if entry.units else ""
        return element("span", {"class": "wm-only-unit"}, text(only)) if only else None
    options = [
        element("option", {"value": unit, "selected": unit == chosen}, text(unit or PLAIN))
        for unit in entry.units
    ]
    return element(
        "select",
        {"class": "wm-unit-list", "aria-label": f"Unit of {entry.label}", "disabled": True},
        *options,
    )


def _choice(entry: Entry, part: Mapping[str, Any], attributes: dict[str, Any]) -> Html:
    options = [
        element("option", {"value": name, "selected": name == part["text"]}, text(label))
        for name, label in entry.choices.items()
    ]
    return element(
        "div",
        {"class": "wm-field wm-field-choice"},
        element("select", {**attributes, "disabled": True}, *options),
    )


def _table(entry: Entry, part: Mapping[str, Any], field: str, attributes: dict[str, Any]) -> Html:
    heads = []
    for column in entry.columns:
        unit = column.units[0] if column.units else ""
        heads.append(f"{column.label} ({unit})" if unit else column.label)
    rows = part["text"]
    head = element("tr", {}, *(element("th", {"scope": "col"}, text(name)) for name in heads))
    body = [table_row(entry, heads, row, number) for number, row in enumerate(rows)]
    return element(
        "div",
        {
            "class": "wm-field wm-field-table",
            "data-least": entry.least_rows,
            "data-most": entry.most_rows,
        },
        element(
            "table",
            {**attributes, "aria-labelledby": f"{field}-label"},
            element("thead", {}, head),
            element("tbody", {}, *body),
        ),
        element(
            "div",
            {"class": "wm-row-buttons", "hidden": True},
            element("button", {"type": "button", "class": "wm-add-row"}, text("add a row")),
            element(
                "button", {"type": "button", "class": "wm-remove-row"}, text("remove the last row")
            ),
        ),
    )


def table_row(entry: Entry, heads: Sequence[str], row: Sequence[str], number: int) -> Html:
    """One row of cells to type in."""
    cells = []
    for place, head in enumerate(heads):
        value = row[place] if place < len(row) else ""
        cells.append(
            element(
                "td",
                {},
                element(
                    "input",
                    {
                        "type": "text",
                        "autocomplete": "off",
                        "spellcheck": "false",
                        "data-column": entry.columns[place].name,
                        "aria-label": f"{entry.label}, row {number + 1}, {head}",
                        "value": value,
                        "disabled": True,
                    },
                ),
            )
        )
    return element("tr", {}, *cells)
