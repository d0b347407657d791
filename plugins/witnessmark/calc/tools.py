"""Tools of the shop that settle entries: a wrench its scale, a multiplier its factor.

A calculator declares a place for each kind of tool it is worked with, and which entries such a
tool settles. Which tools there are, the caller says: a tool comes as plain JSON, from a data
book or from anywhere else. While a tool is chosen its figures stand in those entries; without
one they are entries like all others. A certificate that has run out is told, by a date that the
caller gives, so that an evaluation depends on nothing but what it is called with.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from witnessmark.calc.findings import Finding, caution

ToolRecord = Mapping[str, Any]
"""A tool as JSON: ``name``, ``title``, ``kind``, ``values`` (field to text) and ``due``, the date
(year-month-day) up to which its certificate holds, empty when it needs none."""

_FIELD = re.compile(r"\{(\w+)\}")


class WhenKnown(NamedTuple):
    """A text that a tool gives only when it has all the ``fields``, whether they stand in the text
    or not: ``WhenKnown("sheet", ("found", "uncertainty"))``."""

    text: str
    fields: tuple[str, ...]


Gift = str | WhenKnown


@dataclass(frozen=True)
class ToolPlace:
    """A place for a tool of one kind in a calculator.

    ``gives`` maps entries to what such a tool gives them: a text with the tool's fields in
    braces, ``"{step}"`` or ``"100 % ± {deviation}"``, or several such texts, the best first. A
    text with a field that the tool does not have gives nothing; nor does a ``WhenKnown`` one of
    whose fields it does not have.
    """

    name: str
    label: str
    kind: str
    gives: Mapping[str, Gift | tuple[Gift, ...]] = field(default_factory=dict)
    help: str = ""

    @property
    def fields(self) -> set[str]:
        """The fields of a tool that are made use of."""
        return {
            name
            for gifts in self.gives.values()
            for gift in _several(gifts)
            for name in _wanted(gift)
        }


class GivenByTool(NamedTuple):
    """The text that a tool gives an entry, and the tool's title."""

    text: str
    title: str


def given_by_tools(
    places: Iterable[ToolPlace], chosen: Mapping[str, ToolRecord]
) -> dict[str, GivenByTool]:
    """What the chosen tools settle, by entry. Raises KeyError for a place that is not there and
    ValueError for a tool of another kind."""
    known = {place.name: place for place in places}
    given: dict[str, GivenByTool] = {}
    for name, tool in chosen.items():
        place = known[name]
        if tool["kind"] != place.kind:
            raise ValueError(f"{tool['name']} is a {tool['kind']}; a {place.kind} is wanted")
        for entry, gifts in place.gives.items():
            for gift in _several(gifts):
                if all(part in tool["values"] for part in _wanted(gift)):
                    filled = _filled(gift, tool["values"])
                    given.setdefault(entry, GivenByTool(filled, tool["title"]))
    return given


def _several(gifts: Gift | tuple[Gift, ...]) -> tuple[Gift, ...]:
    return (gifts,) if isinstance(gifts, str | WhenKnown) else gifts


def _wanted(gift: Gift) -> list[str]:
    """The fields that a tool must have for the text."""
    if isinstance(gift, WhenKnown):
        return [*gift.fields, *_FIELD.findall(gift.text)]
    return _FIELD.findall(gift)


def _filled(gift: Gift, values: Mapping[str, str]) -> str:
    text = gift.text if isinstance(gift, WhenKnown) else gift
    return _FIELD.sub(lambda match: str(values[match[1]]), text)


def findings_of_tools(chosen: Iterable[ToolRecord], today: str) -> list[Finding]:
    """A caution for every certificate that had run out by ``today`` (year-month-day; empty where
    the day is not known, then nothing is said). The day it ends is its last."""
    return [
        caution(
            "tool-overdue",
            f"The certificate of the {tool['title']} ran out on {tool['due']}. Have the tool "
            "checked before you trust its figure.",
        )
        for tool in chosen
        if today and tool.get("due") and tool["due"] < today
    ]
