"""The entries of a calculator as form fields, made from its declaration.

``front/entries.js`` reads the same fields; what it needs to know of an entry stands in
``data-`` attributes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from witnessmark.calc import UNITS, Entry, with_unit
from witnessmark.calc.units import read_unit
from witnessmark.databook.shown import show_text
from witnessmark.page.cells_html import table_field, table_text
from witnessmark.page.elements import Attribute, Html, element, join, text
from witnessmark.page.entry_text import parted, parted_range, tail_parted

PLAIN = "of 1"
"""The unit of a share that is written as a plain number: 0.95 of 1."""
LONGEST_BESIDE_ITS_LABEL = 10
"""A field with a longer text (64.4 +0/-0.074) stands under its label, over the whole width."""
LONGEST_IN_A_LIST = 30
"""Options with longer words are offered one below the other, where nothing is cut off."""


@dataclass(frozen=True)
class Followed:
    """Where a fed entry comes from: the id of the calculator on the page, the name of its
    result, and words for the reader: the calculator with its step, and the result's label."""

    ident: str
    result: str
    words: str
    label: str


def entry_field(
    entry: Entry,
    part: Mapping[str, Any],
    ident: str,
    *,
    fixed: bool,
    origin: str,
    followed: Followed | None = None,
) -> Html:
    """One entry: a field to type in, or the page's own figure with its origin when fixed.

    A fed entry is a field that follows its source until something is typed in it.
    """
    by_tool = part.get("tool")
    texts = by_tool["instead_of"] if by_tool else part["text"]
    whence = _whence(followed, fixed=fixed) if followed else text(origin)
    return element(
        "div",
        {
            "class": _classes(
                entry, part, fixed=fixed, fed=followed is not None or by_tool is not None
            ),
            "data-entry": entry.name,
            "data-form": entry.form,
            "data-text": texts if isinstance(texts, str) else _json(texts),
            "data-as-units": _json(part["as_units"]) if "as_units" in part else None,
            "data-unit-si": entry.unit or None,
            "data-unit-us": us_unit(entry) or None,
            "data-when": _json(entry.when) if entry.when else None,
            "data-follows": followed.ident if followed else None,
            "data-follows-result": followed.result if followed else None,
            **(_own(entry, str(texts)) if by_tool and entry.kind else {}),
            "hidden": not part["active"],
        },
        *(
            _fixed(entry, part, whence, followed)
            if fixed
            else _editable(entry, part, ident, whence, followed)
        ),
    )


def _classes(entry: Entry, part: Mapping[str, Any], *, fixed: bool, fed: bool) -> str:
    """How the entry is laid out; a text with limits gets the whole width, so that it is seen."""
    if fixed:
        return "wm-entry wm-fixed"
    shown = field_text(entry, part, fed=fed)
    long = entry.form == "quantity" and len(shown) > LONGEST_BESIDE_ITS_LABEL
    by_tool = " wm-by-tool" if "tool" in part else ""
    return f"wm-entry wm-{entry.form}{' wm-long' if long else ''}{by_tool}"


def _own(entry: Entry, own: str) -> dict[str, Attribute]:
    """How an entry that a tool settles looks without the tool: what stands in its field, and
    the unit beside it."""
    assert entry.kind is not None
    found = read_unit(entry.kind, parted(own)[1])
    unit = found[0] if found else entry.unit
    shown = field_text(entry, {"text": own, "typed_unit": unit})
    return {"data-own-shown": shown, "data-own-unit": unit}


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True)


def us_unit(entry: Entry) -> str:
    """The unit of the field where the page is read in US customary units."""
    return next((unit for unit in entry.units if UNITS[unit].us), entry.unit)


def _whence(followed: Followed, *, fixed: bool) -> Html:
    """Where a fed figure comes from, as a link, and the way back to it once it was typed over."""
    link = element("a", {"href": f"#{followed.ident}"}, text(followed.words))
    again = element(
        "button", {"type": "button", "class": "wm-follow", "hidden": True}, text("follow again")
    )
    instead = element("span", {"class": "wm-instead", "hidden": True}, text("Yours, in place of: "))
    if fixed:
        return join(text(f"{followed.label}, from "), link)
    return join(instead, text(f"{followed.label}, from "), link, text(" "), again)


def _fixed(
    entry: Entry, part: Mapping[str, Any], whence: Html, followed: Followed | None
) -> list[Html]:
    return [
        element("span", {"class": "wm-label"}, text(entry.label)),
        element(
            "span",
            {"class": "wm-fixed-value"},
            *(fed_value(entry, part) if followed else _shown(entry, part)),
        ),
        element("span", {"class": "wm-origin"}, whence),
        element("p", {"class": "wm-error"}) if followed else Html(""),
    ]


def fed_value(entry: Entry, part: Mapping[str, Any]) -> list[Html]:
    """A fed figure that cannot be typed over, in both unit systems, without its band."""
    if "as_units" not in part:
        return [text(str(part.get("display", part["text"])))]
    return [
        element("span", {"class": name}, text(with_unit(part["as_units"][unit], unit)))
        for name, unit in (("wm-si", entry.unit), ("wm-us", us_unit(entry)))
    ]


def _shown(entry: Entry, part: Mapping[str, Any]) -> list[Html]:
    """A fixed entry as a value in a sentence is shown: in both unit systems."""
    if entry.form == "table":
        return [table_text(entry, part["text"])]
    if entry.kind is None or "as_units" not in part:
        return [text(str(part.get("display", part["text"])))]
    typed = str(part["text"])
    number, unit, tail = parted(typed)
    if number and not unit and not tail:
        typed = f"{number} {entry.unit}"
    si, us = (show_text(typed, entry.kind, system) for system in ("si", "us"))
    if si == us:
        return [text(si)]
    return [
        element("span", {"class": "wm-si"}, text(si)),
        element("span", {"class": "wm-us"}, text(us)),
    ]


def _editable(
    entry: Entry, part: Mapping[str, Any], ident: str, whence: Html, followed: Followed | None
) -> list[Html]:
    field = f"{ident}-{entry.name}"
    notes = [f"{field}-help"] if entry.help else []
    notes += [f"{field}-echo", f"{field}-error"]
    attributes: dict[str, Attribute] = {"id": field, "aria-describedby": " ".join(notes)}
    whose = element("span", {"class": "wm-whose", "hidden": True}, text("yours"))
    named = {"for": field, "class": "wm-label"}
    tag = "label"
    if entry.form == "table":
        tag, named = "span", {"id": f"{field}-label", "class": "wm-label"}
        control = table_field(entry, part["text"], field, attributes)
    elif entry.form == "choice" and is_long(entry):
        tag, named = "span", {"id": f"{field}-label", "class": "wm-label"}
        control = _options(entry, part, field, attributes)
    elif entry.form == "choice":
        control = _list(entry, part, attributes)
    else:
        control = _quantity(entry, part, attributes, fed=followed is not None or "tool" in part)
    return [
        element("div", {"class": "wm-named"}, element(tag, {**named}, text(entry.label)), whose),
        control,
        element("p", {"class": "wm-by"}, text(f"from {part['tool']['title']}"))
        if "tool" in part
        else Html(""),
        _line("help", field, entry.help) if entry.help else Html(""),
        element("p", {"class": "wm-origin"}, whence) if whence else Html(""),
        _line("echo", field, echo(part)),
        _line("error", field, ""),
    ]


def _line(kind: str, field: str, words: str) -> Html:
    return element("p", {"class": f"wm-{kind}", "id": f"{field}-{kind}"}, text(words))


def echo(part: Mapping[str, Any]) -> str:
    """How an entry was read, where that is not plain from what stands in the field."""
    if part.get("error") or "as_units" not in part:
        return ""
    words = []
    if part["typed_unit"] != part["unit"]:
        words.append(f"= {part['as_units'][part['unit']]} {part['unit'] or PLAIN}")
    if "low" in part:
        assumed = "usual tolerance: " if part["tolerance_assumed"] else ""
        words.append(f"{assumed}{part['display']}")
    return "; ".join(words)


def field_text(entry: Entry, part: Mapping[str, Any], *, fed: bool = False) -> str:
    """What stands in the field when the unit stands in the list beside it.

    Of a fed figure the number alone; its limits are told below the field.
    """
    if fed and "as_units" in part:
        return str(part["as_units"][part["typed_unit"]])
    typed = str(part["text"])
    number, unit, tail = parted(typed)
    if not number:
        number, unit = parted_range(typed)
    if unit == entry.unit == "%" and not tail:
        return number
    tail, last = tail_parted(tail)
    known = {text for text in (unit, last) if text and text != "%"}
    if not number or entry.kind is None or not known:
        return typed
    found = [read_unit(entry.kind, text) for text in sorted(known)]
    if any(each is None or each[0] != part.get("typed_unit") for each in found):
        return typed
    return f"{number} {tail}{' %' if last == '%' else ''}".strip()


def _quantity(
    entry: Entry, part: Mapping[str, Any], attributes: dict[str, Attribute], *, fed: bool
) -> Html:
    value = element(
        "input",
        {
            **attributes,
            "type": "text",
            "inputmode": _keyboard(entry, part),
            "autocomplete": "off",
            "spellcheck": "false",
            "value": field_text(entry, part, fed=fed),
            "placeholder": "not known" if entry.optional else None,
            "disabled": True,
        },
    )
    return element(
        "div", {"class": "wm-field"}, value, _units(entry, part.get("typed_unit", entry.unit))
    )


def _keyboard(entry: Entry, part: Mapping[str, Any]) -> str | None:
    """Large digits on a tablet where nothing but digits is likely to be typed."""
    if entry.form == "count":
        return "numeric"
    positive = any(
        limit is not None and not str(limit).strip().startswith(("-", "−"))
        for limit in (entry.least, entry.above)
    )
    return "decimal" if positive and "±" not in str(part["text"]) else None


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


def is_long(entry: Entry) -> bool:
    """Whether some option would be cut off in a list."""
    return any(len(label) > LONGEST_IN_A_LIST for label in entry.choices.values())


def _list(entry: Entry, part: Mapping[str, Any], attributes: dict[str, Attribute]) -> Html:
    options = [
        element("option", {"value": name, "selected": name == part["text"]}, text(label))
        for name, label in entry.choices.items()
    ]
    return element(
        "div", {"class": "wm-field"}, element("select", {**attributes, "disabled": True}, *options)
    )


def _options(
    entry: Entry, part: Mapping[str, Any], field: str, attributes: dict[str, Attribute]
) -> Html:
    return element(
        "div",
        {
            "class": "wm-options",
            "role": "radiogroup",
            "aria-labelledby": f"{field}-label",
            **attributes,
        },
        *(
            element(
                "label",
                {},
                element(
                    "input",
                    {
                        "type": "radio",
                        "name": field,
                        "value": name,
                        "checked": name == part["text"],
                        "disabled": True,
                    },
                ),
                element("span", {}, text(label)),
            )
            for name, label in entry.choices.items()
        ),
    )
