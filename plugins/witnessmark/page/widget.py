"""A calculator in the page: its form and its default results, complete without any script.

The custom element of ``front/widget.js`` takes over what stands here once the runtime is
there: the same form, the same places for results, findings and drawings.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.calc import Calculator, Entry, Source
from witnessmark.page.elements import Html, element, join, text
from witnessmark.page.entries_html import Followed, entry_field
from witnessmark.page.mathml import mathml
from witnessmark.page.results_html import drawings_html, render_outcome
from witnessmark.page.tools_html import OfferedTools, tool_field

PAGE_FIGURES = "The page's own figures, worked out when the handbook was built."

MOST_BESIDE = 6.5
"""A calculator with more entries in front takes the whole width under its step; a fixed
entry, which is a line of text, counts half."""


@dataclass(frozen=True)
class Placement:
    """A calculator put on a page.

    ``entries`` are the texts the page gives (data book, literal, or fed by another calculator);
    the others take their defaults. ``fixed`` names entries the reader cannot change, ``origins``
    tells where an entry comes from, ``follows`` which results feed entries, ``tools`` what the
    shop has for the places of tools, ``label`` the machines it is for when the page shows several.
    """

    calculator: Calculator[..., Any]
    ident: str
    entries: Mapping[str, Any] = field(default_factory=dict)
    fixed: frozenset[str] = frozenset()
    origins: Mapping[str, str] = field(default_factory=dict)
    follows: Mapping[str, Followed] = field(default_factory=dict)
    tools: Sequence[OfferedTools] = ()
    label: str = ""
    reference_url: str = ""

    @property
    def key(self) -> str:
        """Everything but the calculator itself and what came out, as one text."""
        return repr([
            self.calculator.name, self.ident, self.entries, sorted(self.fixed), self.origins,
            self.follows, self.tools, self.label, self.reference_url,
        ])  # fmt: skip


def render_calculator(placement: Placement, outcome: Mapping[str, Any]) -> Html:
    """The widget's HTML with the results of ``outcome``, which is complete.

    Two parts: the panel (results, findings, entries), which stands beside the step where
    there is room, and the rest (drawings, how it is worked out), which stays in the text.
    """
    calculator, ident = placement.calculator, f"wm-{placement.ident}"
    return element(
        "wm-calculator",
        {
            "id": ident,
            "class": "wm-calculator wm-large" if _is_large(placement, outcome) else "wm-calculator",
            "data-calculator": calculator.name,
            "role": "group",
            "aria-labelledby": f"{ident}-title",
            "data-search-exclude": True,
        },
        element(
            "div",
            {"class": "wm-panel"},
            _head(placement, ident),
            element("p", {"class": "wm-stale", "hidden": True}),
            element("div", {"class": "wm-outcome"}, render_outcome(outcome)),
            _form(placement, outcome, ident),
            _foot(),
        ),
        element(
            "div",
            {"class": "wm-rest"},
            drawings_html(outcome["drawings"], ident),
            _worked_out(calculator, placement.reference_url),
        ),
    )


def _is_large(placement: Placement, outcome: Mapping[str, Any]) -> bool:
    """Whether the form is too long for the narrow column beside a step."""
    front = [
        entry.name
        for entry in _entries(placement)
        if _in_front(placement, entry) and outcome["entries"][entry.name]["active"]
    ]
    entries = sum(0.5 if name in placement.fixed else 1 for name in front)
    return entries + len(placement.tools) > MOST_BESIDE


def _entries(placement: Placement) -> list[Entry]:
    return list(placement.calculator.entries.values())


def _in_front(placement: Placement, entry: Entry) -> bool:
    """Entries the fitter rarely changes are not in front, unless the page gives them a value
    and leaves them open to the reader."""
    offered = entry.name in placement.entries and entry.name not in placement.fixed
    return offered or not entry.seldom


def _head(placement: Placement, ident: str) -> Html:
    whom = element("span", {"class": "wm-for"}, text(placement.label)) if placement.label else None
    return element(
        "div",
        {"class": "wm-head"},
        element(
            "div", {"class": "wm-title", "id": f"{ident}-title"}, text(placement.calculator.title)
        ),
        whom,
    )


def _form(placement: Placement, outcome: Mapping[str, Any], ident: str) -> Html:
    """Entries in front; the others behind a disclosure."""
    front: list[Html] = []
    behind: list[Html] = []
    for entry in _entries(placement):
        made = _entry(placement, outcome, entry, ident)
        (front if _in_front(placement, entry) else behind).append(made)
    more = element(
        "details",
        {"class": "wm-seldom"},
        element("summary", {}, text("More entries")),
        *behind,
    )
    return element(
        "form",
        # It is never sent. To a search, browsers offer no addresses; whatever else a form might
        # lead to, they ponder each field of it while the page loads.
        {"class": "wm-form", "action": "search", "novalidate": True, "autocomplete": "off"},
        element(
            "div",
            {"class": "wm-front"},
            *(tool_field(offered, ident) for offered in placement.tools),
            *front,
        ),
        more if behind else None,
    )


def _entry(placement: Placement, outcome: Mapping[str, Any], entry: Entry, ident: str) -> Html:
    return entry_field(
        entry,
        outcome["entries"][entry.name],
        ident,
        fixed=entry.name in placement.fixed,
        origin=placement.origins.get(
            entry.name, "given by this page" if entry.name in placement.fixed else ""
        ),
        followed=placement.follows.get(entry.name),
    )


def _worked_out(calculator: Calculator[..., Any], reference_url: str) -> Html:
    formulas = [
        element(
            "div",
            {"class": "wm-formula"},
            mathml(formula.latex),
            element("p", {}, text(formula.gives)),
        )
        for formula in calculator.formulas
    ]
    granted = [element("li", {}, text(sentence)) for sentence in calculator.assumptions]
    sources = [element("li", {}, text(source_text(source))) for source in calculator.sources]
    link = element(
        "p",
        {},
        element("a", {"href": reference_url}, text("Symbols, limits and check values")),
    )
    return element(
        "details",
        {"class": "wm-worked-out"},
        element("summary", {}, text("How it is worked out")),
        element("p", {}, text(calculator.purpose)),
        *formulas,
        join(element("p", {}, text("Taken for granted:")), element("ul", {}, *granted))
        if granted
        else None,
        join(element("p", {}, text("Sources:")), element("ul", {}, *sources)) if sources else None,
        link if reference_url else None,
    )


def source_text(source: Source) -> str:
    """A source with its clause, as one phrase."""
    return f"{source.title}, {source.clause}" if source.clause else source.title


def _foot() -> Html:
    return element(
        "div",
        {"class": "wm-foot"},
        element("p", {"class": "wm-runtime"}, text(PAGE_FIGURES)),
        element(
            "button",
            {"type": "button", "class": "wm-back", "hidden": True},
            text("back to the page's figures"),
        ),
        element("p", {"class": "wm-said", "role": "status"}),
    )
