"""A reading as form fields: what is measured, what is accepted, a field for each repeat.

``front/reading.js`` has it judged; what it asks with stands in ``data-request``. On paper and
without script the fields are lines to write on.
"""

from __future__ import annotations

import json
from dataclasses import dataclass

from witnessmark.calc.units import KINDS
from witnessmark.databook.shown import show_text
from witnessmark.page.elements import Html, element, text

BEFORE = {"band": "Accept ", "most": "Accept at most ", "least": "Accept at least "}


@dataclass(frozen=True)
class ShownLimits:
    """Limits of a reading: ``side`` is "band", "most", "least" or empty for none."""

    kind: str
    unit: str
    side: str
    text: str
    origin: str


@dataclass(frozen=True)
class ReadingPlace:
    """A reading at its place on the page."""

    ident: str
    title: str
    limits: ShownLimits
    places: tuple[str, ...]
    how: str = ""
    otherwise: str = ""
    label: str = ""
    feeds: tuple[tuple[tuple[str, str], ...], ...] = ()
    """Entries of calculators that take the reading; see ``blocks.reading``."""

    @property
    def request(self) -> dict[str, str]:
        """What the reading is judged by, for ``calc.reading.judge_request``."""
        limits = self.limits
        side = {limits.side: limits.text} if limits.side else {}
        return {"reading": self.ident, "kind": limits.kind, "unit": limits.unit, **side}


def reading_field(place: ReadingPlace) -> Html:
    """The whole reading as one custom element."""
    limits = place.limits
    label = element("span", {"class": "wm-whose"}, text(place.label)) if place.label else None
    return element(
        "wm-reading",
        {
            "id": place.ident,
            "class": "wm-reading",
            "data-feeds": json.dumps(place.feeds) if place.feeds else None,
            "data-request": json.dumps(place.request, ensure_ascii=False),
            "data-search-exclude": True,
        },
        element(
            "fieldset",
            {},
            element("legend", {}, text(place.title), text(" ") if label else None, label),
            _accepts(limits),
            element("p", {"class": "wm-how"}, text(place.how)) if place.how else None,
            element(
                "div",
                {"class": "wm-repeats"},
                *(_repeat(place, n) for n in range(len(place.places))),
            ),
            element("p", {"class": "wm-verdict", "role": "status"}),
            element(
                "p",
                {"class": "wm-otherwise"},
                element("b", {}, text("Otherwise: ")),
                text(place.otherwise),
            )
            if place.otherwise
            else None,
        ),
    )


def _accepts(limits: ShownLimits) -> Html | None:
    """The limits in both unit systems, with where they come from."""
    if not limits.side:
        return None
    kind = KINDS[limits.kind]
    si, us = (show_text(limits.text, kind, system) for system in ("si", "us"))
    values = (
        [text(si)]
        if si == us
        else [
            element("span", {"class": "wm-si"}, text(si)),
            element("span", {"class": "wm-us"}, text(us)),
        ]
    )
    return element(
        "p",
        {"class": "wm-accepts"},
        text(BEFORE[limits.side]),
        element("span", {"class": "wm-value", "title": limits.origin or None}, *values),
    )


def _repeat(place: ReadingPlace, number: int) -> Html:
    """The field of one repeat, with the place it is measured at and the unit."""
    ident = f"{place.ident}-at-{number + 1}"
    named = place.places[number]
    return element(
        "div",
        {"class": "wm-repeat"},
        element(
            "label",
            {"for": ident, "class": "wm-repeat-name" if named else "wm-unseen"},
            text(named or place.title),
        ),
        element(
            "span",
            {"class": "wm-field"},
            element(
                "input",
                {
                    "id": ident,
                    "type": "text",
                    "inputmode": "decimal",
                    "autocomplete": "off",
                    "aria-describedby": f"{ident}-said",
                },
            ),
            element("span", {"class": "wm-only-unit"}, text(place.limits.unit)),
        ),
        element("p", {"class": "wm-repeat-said", "id": f"{ident}-said"}),
    )


__all__ = ["ReadingPlace", "ShownLimits", "reading_field"]
