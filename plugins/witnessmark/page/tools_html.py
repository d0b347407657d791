"""Places for the shop's tools in the form of a calculator: a list for each kind of tool."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.calc import ToolPlace, ToolRecord
from witnessmark.databook import Tool
from witnessmark.page.elements import Html, element, text

NONE = "none of these: as entered below"


@dataclass(frozen=True)
class OfferedTools:
    """The tools of the shop that fit a place, and the name of the one the page chooses."""

    place: ToolPlace
    tools: Sequence[Tool]
    chosen: str = ""


def tool_field(offered: OfferedTools, ident: str) -> Html:
    """A list of the tools; ``front/tools.js`` hands the chosen one over to Python."""
    place, field = offered.place, f"{ident}-{offered.place.name}"
    chosen = next((tool for tool in offered.tools if tool.name == offered.chosen), None)
    options = [
        element("option", {"value": name, "selected": name == offered.chosen}, text(title))
        for name, title in (("", NONE), *((tool.name, tool.title) for tool in offered.tools))
    ]
    records = {tool.name: _made_use_of(tool, place) for tool in offered.tools}
    return element(
        "div",
        {
            "class": "wm-tool",
            "data-place": place.name,
            "data-tools": json.dumps(records, ensure_ascii=False, sort_keys=True),
            "data-chosen": offered.chosen,
        },
        element(
            "div",
            {"class": "wm-named"},
            element("label", {"for": field, "class": "wm-label"}, text(place.label)),
            element("span", {"class": "wm-whose", "hidden": True}, text("yours")),
        ),
        element(
            "div",
            {"class": "wm-field"},
            element(
                "select",
                {"id": field, "aria-describedby": f"{field}-due", "disabled": True},
                *options,
            ),
        ),
        element("p", {"class": "wm-help"}, text(place.help)) if place.help else None,
        element("p", {"class": "wm-due", "id": f"{field}-due"}, text(due_text(chosen))),
    )


def _made_use_of(tool: Tool, place: ToolPlace) -> ToolRecord:
    """The tool with those of its values that the calculator asks for."""
    values = {name: text for name, text in tool.values.items() if name in place.fields}
    return {**tool.record, "values": values}


def due_text(tool: Tool | None) -> str:
    """How long the tool's certificate holds."""
    return f"Certificate up to {tool.due}" if tool is not None and tool.due else ""
