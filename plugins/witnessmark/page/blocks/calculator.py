"""A calculator on the page, with what the page gives it."""

from __future__ import annotations

from typing import Any
from xml.etree.ElementTree import Element, SubElement

from witnessmark.calc import Calculator, Outcome
from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.blocks.placed import placed_calculators
from witnessmark.page.context import PageContext
from witnessmark.page.elements import Html, join, text
from witnessmark.page.elements import element as html_element
from witnessmark.page.entries_html import Followed
from witnessmark.page.given import Setting
from witnessmark.page.source import BlockShape, SourceBlock
from witnessmark.page.tools_html import OfferedTools
from witnessmark.page.widget import Placement, render_calculator


class CalculatorBuilder(BlockBuilder):
    """``/// calculator | name`` with ``entry: value`` lines.

    An entry written ``from NAME.result`` is fed by another calculator of the page; ``name:``
    gives a calculator a name for that. Where the machines of the page differ in the values,
    there is one calculator for each set of values, labelled.
    """

    name = "calculator"
    shape = BlockShape(raw=True, argument="name")

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The place of the calculator; it stays where the author put it."""
        return SubElement(parent, "div", {"class": "wm-place"})

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Put the finished widget in its place, or one for each set of values."""
        placed = placed_calculators(page).get(block.index)
        if placed is None:  # a fault has been noted
            return
        calculator, head = placed.calculator, placed.head
        for worked in placed.worked:
            setting = worked.setting
            placement = Placement(
                calculator=calculator,
                ident=worked.ident,
                entries=setting.entries,
                fixed=frozenset(
                    name
                    for name in calculator.entries
                    if head.is_fixed(name, setting)
                    and "tool" not in worked.outcome["entries"][name]
                ),
                origins=setting.origins,
                follows={
                    name: Followed(f"wm-{fed.place.ident}", fed.result, fed.words, fed.label)
                    for name, fed in worked.fed.items()
                },
                tools=_offered(calculator, setting, page),
                label=setting.label,
                reference_url=page.reference_url(calculator.name),
            )
            place = _place(element, setting, worked.outcome, stash)
            place.text = stash(_finished(placement, worked.outcome, page))


def _finished(placement: Placement, outcome: Outcome, page: PageContext) -> Html:
    """The widget, or what stands in for it until the page is written."""
    if page.stand_ins is None:
        return render_calculator(placement, outcome)
    return page.stand_ins.of(placement.key, outcome, lambda: render_calculator(placement, outcome))


def _offered(
    calculator: Calculator[..., Any], setting: Setting, page: PageContext
) -> list[OfferedTools]:
    """The places for which the shop has tools, with the tools."""
    offered = []
    for place in calculator.tools.values():
        fitting = [tool for tool in page.book.tools.values() if tool.kind == place.kind]
        chosen = setting.tools.get(place.name)
        if fitting:
            offered.append(OfferedTools(place, fitting, chosen.name if chosen else ""))
    return offered


def _place(element: Element, setting: Setting, outcome: Outcome, stash: Stash) -> Element:
    """Where the widget goes: alone in its place, or one of several, each behind its label.

    All but the first are folded up under their leading result, so that a page for several
    machines stays short and still shows every figure.
    """
    if not setting.label:
        return SubElement(element, "div", {"class": "wm-placed"})
    scopes = " ".join(scope.key for scope in setting.scopes)
    folded = SubElement(element, "details", {"class": "wm-placed", "data-wm-scopes": scopes})
    if len(element) == 1:
        folded.set("open", "open")
    lead = next((each for each in outcome["results"] if each["lead"]), outcome["results"][0])
    SubElement(folded, "summary").text = stash(
        join(
            html_element("b", {}, text(setting.label)),
            html_element(
                "span",
                {"class": "wm-placed-lead"},
                text(f" {lead['label']}: {lead.get('display', 'see inside')}"),
            ),
        )
    )
    return SubElement(folded, "div")
