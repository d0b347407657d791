"""Tools of the shop in the data book: what kind each is, and whether its card is complete.

A group under ``tools`` with ``tool:`` names a kind of tool; then its values have the kinds that
stand here, and what a certificate must tell is asked for. Groups without ``tool:`` are things
with a title, as before.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from witnessmark.databook.book import DataBook, Tool, Value
from witnessmark.databook.scope import Scope
from witnessmark.faults import Faults, nearest

GROUP, KIND_KEY = "tools", "tool"
DATE = "date"


@dataclass(frozen=True)
class ToolKind:
    """The values a kind of tool may have, with the kind of each, and those it must have."""

    fields: Mapping[str, str]
    needed: tuple[str, ...] = ()


_CERTIFICATE = {"certificate": "text", "calibrated": DATE, "due": DATE}
TOOL_KINDS = {
    "torque wrench": ToolKind(
        {
            "low": "torque", "high": "torque", "step": "torque", "deviation": "fraction",
            "class": "text", "square": "text", "gives": "fraction", "found": "fraction",
            "uncertainty": "fraction", "reach": "length", **_CERTIFICATE,
        },
        ("low", "high", "step", "deviation", "due"),
    ),
    "torque multiplier": ToolKind(
        {
            "ratio": "number", "factor": "number", "arm": "length", "most": "torque",
            "input_square": "text", "output_square": "text", **_CERTIFICATE,
        },
        ("ratio", "due"),
    ),
    "socket": ToolKind(
        {"square": "text", "across_flats": "length", "most": "torque"},
        ("square", "across_flats"),
    ),
    "reaction bar": ToolKind({"length": "length", "most": "torque"}),
    "bar": ToolKind({"length": "length", "mass": "mass", "most": "torque"}, ("length",)),
}  # fmt: skip
_ALWAYS = ("title", KIND_KEY, "note")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


def read_tools(book: DataBook, faults: Faults) -> dict[str, Tool]:
    """The typed tools of the shop by name; every slip in their cards is a fault."""
    groups: dict[str, dict[str, Value]] = {}
    for name, held in book.values.items():
        parts = name.split(".")
        if parts[0] == GROUP and len(parts) == 3 and Scope() in held:
            groups.setdefault(parts[1], {})[parts[2]] = held[Scope()]
    return {
        name: tool
        for name, card in groups.items()
        if KIND_KEY in card and (tool := _tool(name, card, faults)) is not None
    }


def _tool(name: str, card: Mapping[str, Value], faults: Faults) -> Tool | None:
    written = card[KIND_KEY]

    def fault(value: Value, found: str, expected: str, code: str, near: str = "") -> None:
        faults.add(value.file, value.line, value.name, found, expected, nearest=near, code=code)

    kind = TOOL_KINDS.get(written.text)
    if kind is None:
        fault(
            written, f"the kind of tool '{written.text}'", f"one of {', '.join(TOOL_KINDS)}",
            "unknown-tool-kind", nearest(written.text, TOOL_KINDS),
        )  # fmt: skip
        return None
    for field_name, value in card.items():
        if field_name in _ALWAYS:
            continue
        wanted = kind.fields.get(field_name)
        if wanted is None:
            fault(
                value, f"'{field_name}' of a {written.text}", f"one of {', '.join(kind.fields)}",
                "unknown-tool-value", nearest(field_name, kind.fields),
            )  # fmt: skip
        elif wanted == DATE:
            if not _is_date(value.text):
                fault(value, f"'{value.text}'", "a date such as 2026-09-14", "no-date")
        elif value.kind != wanted:
            fault(value, f"a {value.kind}", f"{{is: {value.text}, kind: {wanted}}}", "wrong-kind")
    missing = [needed for needed in ("title", *kind.needed) if needed not in card]
    if missing:
        fault(
            written, f"a {written.text} without {' and '.join(missing)}",
            f"'{missing[0]}:' beside 'tool:'", "tool-incomplete",
        )  # fmt: skip
        return None
    dates = {key: card[key].text for key in ("calibrated", "due") if key in card}
    known = len(dates) == 2 and all(map(_is_date, dates.values()))
    if known and dates["due"] < dates["calibrated"]:
        fault(
            card["due"], f"'{dates['due']}', before it was calibrated",
            f"a day after {dates['calibrated']}", "due-before-calibrated",
        )  # fmt: skip
    return Tool(
        name,
        card["title"].text,
        written.text,
        {key: value.text for key, value in card.items() if key in kind.fields},
        dates.get("due", ""),
    )


def _is_date(text: str) -> bool:
    if not _DATE.fullmatch(text):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
