"""Results, bands, drivers and drawings of an outcome as HTML.

``front/results.js`` builds the very same elements in the browser; a test compares the two,
so a change here is a change there.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.page.elements import Html, element, join, text
from witnessmark.page.findings_html import findings_list

WORST, LIKELY = "worst case", "root sum square"
SMALLEST_SHARE = 0.05
"""A driver below this share of the spread is not worth a line."""
MOST_DRIVERS = 4
FEWEST_DRIVERS = 2
"""One driver alone says nothing: the whole spread comes from it."""

_DRAWING_ID = re.compile(r"\bwm-d[0-9a-f]+-(title|desc)\b")
_LOOKS_LIKE_NUMBER = re.compile(r"[−+±-]?\d")


def render_outcome(outcome: Mapping[str, Any]) -> Html:
    """Results and findings, the part of the widget that is replaced at every evaluation.

    Stops and cautions stand under the results; figures the fitter does not need to go on, and
    notes, stand last, behind a disclosure.
    """
    front = [result for result in outcome["results"] if not result["seldom"]]
    behind = [result for result in outcome["results"] if result["seldom"]]
    warnings = [finding for finding in outcome["findings"] if finding["level"] != "note"]
    notes = [finding for finding in outcome["findings"] if finding["level"] == "note"]
    more = element(
        "details",
        {"class": "wm-more"},
        element("summary", {}, text(_more(len(behind), len(notes)))),
        results_list(behind) if behind else None,
        findings_list(notes) if notes else None,
    )
    return join(results_list(front), findings_list(warnings), more if behind or notes else None)


def _more(figures: int, notes: int) -> str:
    """What stands behind the disclosure."""
    noted = "1 note" if notes == 1 else f"{notes} notes"
    if not figures:
        return noted
    return f"More figures, {noted}" if notes else "More figures"


def results_list(results: Iterable[Mapping[str, Any]]) -> Html:
    """Results in order, the leading one first and largest."""
    return element("dl", {"class": "wm-results"}, *(_result(result) for result in results))


def _result(result: Mapping[str, Any]) -> Html:
    if result["kind"] == "text":
        kind = "wm-text-result wm-lead" if result["lead"] else "wm-text-result"
        return _block(result, kind, element("dd", {}, text(result["text"])))
    if result["kind"] == "table":
        return _block(result, "wm-table-result", element("dd", {}, _table(result)))
    lead = bool(result.get("lead"))
    return _block(
        result,
        "wm-lead" if lead else "",
        element("dd", {"class": "wm-figure"}, figure(result)),
        _band(result.get("band")),
        _drivers(result.get("band")) if lead else None,
    )


def _block(result: Mapping[str, Any], kind: str, *parts: Html | None) -> Html:
    return element(
        "div",
        {"class": f"wm-result {kind}".rstrip(), "data-result": result["name"]},
        element("dt", {}, text(result["label"])),
        *parts,
    )


def figure(result: Mapping[str, Any]) -> Html:
    """Number and unit apart, with the very space between them that the display text has."""
    number, unit, display = result["number"], result["unit_text"], result["display"]
    if not unit or not (display.startswith(number) and display.endswith(unit)):
        return element("span", {"class": "wm-number"}, text(display))
    return join(
        element("span", {"class": "wm-number"}, text(number)),
        text(display[len(number) : len(display) - len(unit)]),
        element("span", {"class": "wm-unit"}, text(unit)),
    )


def _band(band: Mapping[str, Any] | None) -> Html | None:
    """The limits of a result; the second kind of limits only where it says something else."""
    if not band:
        return None
    worst, likely = band["worst"]["display"], band["rss"]["display"]
    return element(
        "dd",
        {"class": "wm-band"},
        _limits(worst, WORST),
        _limits(likely, LIKELY) if likely != worst else None,
    )


def _limits(display: str, name: str) -> Html:
    return element(
        "span",
        {"class": "wm-band-part"},
        element("span", {"class": "wm-band-limits"}, text(display)),
        text(f" {name}"),
    )


def _percent(share: float) -> int:
    return math.floor(share * 100 + 0.5)


def _drivers(band: Mapping[str, Any] | None) -> Html | None:
    """Which entries the spread comes from, as a bar chart that is also a list of words."""
    drivers = [
        driver for driver in (band or {}).get("drivers", ()) if driver["share"] >= SMALLEST_SHARE
    ][:MOST_DRIVERS]
    if len(drivers) < FEWEST_DRIVERS:
        return None
    return element(
        "dd",
        {"class": "wm-drivers"},
        element("span", {"class": "wm-drivers-title"}, text("Where the spread comes from")),
        element("ul", {}, *(_driver(driver) for driver in drivers)),
    )


def _driver(driver: Mapping[str, Any]) -> Html:
    percent = _percent(driver["share"])
    return element(
        "li",
        {"data-entry": driver["entry"]},
        element("span", {"class": "wm-driver-label"}, text(driver["label"])),
        element(
            "svg",
            {
                "class": "wm-bar",
                "viewBox": "0 0 100 8",
                "preserveAspectRatio": "none",
                "aria-hidden": "true",
            },
            element("rect", {"class": "wm-bar-whole", "width": 100, "height": 8}),
            element("rect", {"class": "wm-bar-share", "width": percent, "height": 8}),
        ),
        element("span", {"class": "wm-driver-share"}, text(driver["share_text"])),
    )


def _table(result: Mapping[str, Any]) -> Html:
    """A table that scrolls on its own when it is wider than its place."""
    head = element(
        "tr",
        {},
        *(
            element(
                "th",
                {"scope": "col"},
                text(column["label"]),
                join(text(" "), element("span", {"class": "wm-unit"}, text(column["unit"])))
                if column["unit"]
                else None,
            )
            for column in result["columns"]
        ),
    )
    rows = (element("tr", {}, *(_cell(cell) for cell in row)) for row in result["rows"])
    return element(
        "div",
        {"class": "wm-scroll", "role": "group", "tabindex": 0, "aria-label": result["label"]},
        element(
            "table",
            {"class": "wm-table"},
            element("thead", {}, head),
            element("tbody", {}, *rows),
        ),
    )


def _cell(cell: str) -> Html:
    return element(
        "td", {"class": "wm-num" if _LOOKS_LIKE_NUMBER.match(cell) else None}, text(cell)
    )


def drawings_html(drawings: Iterable[Mapping[str, Any]], ident: str) -> Html:
    """The drawings, each with its title under it; the SVG comes from our own drawing code.

    ``ident`` is the widget's: the same drawing may stand on a page twice, its ids may not.
    """
    return element(
        "div",
        {"class": "wm-drawings"},
        *(
            element(
                "figure",
                {"class": "wm-drawing", "data-drawing": drawing["name"]},
                element(
                    "div",
                    {"class": "wm-drawing-sheet"},
                    Html(_DRAWING_ID.sub(rf"{ident}-drawing-{number}-\1", drawing["svg"])),
                ),
                element("figcaption", {}, text(drawing["title"])),
            )
            for number, drawing in enumerate(drawings, 1)
        ),
    )
