"""A calculator on the page, with what the page gives it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any
from xml.etree.ElementTree import Element, SubElement

from witnessmark.calc import Calculator, Outcome
from witnessmark.databook.yaml_source import Entry, Listing, Mapping, Node, Scalar, describe
from witnessmark.faults import nearest
from witnessmark.page.blocks.builder import BlockBuilder, Stash, fault_no_text, read_body
from witnessmark.page.context import PageContext
from witnessmark.page.elements import element as html_element
from witnessmark.page.elements import join, text
from witnessmark.page.given import Given, Setting, evaluated, known_calculator, settings
from witnessmark.page.source import BlockShape, SourceBlock
from witnessmark.page.widget import Placement, render_calculator

FIXED, OPEN = "fixed", "open"


@dataclass
class _Wanted:
    """What the author wrote: entries, and which of them are fixed or open against the rule."""

    given: list[Given] = field(default_factory=list)
    fixed: list[str] = field(default_factory=list)
    open: list[str] = field(default_factory=list)

    def is_fixed(self, name: str, setting: Setting) -> bool:
        """Entries from the data book are fixed, all others editable, unless the page says so."""
        return name in self.fixed or (name in setting.origins and name not in self.open)


class CalculatorBuilder(BlockBuilder):
    """``/// calculator | name`` with ``entry: value`` lines.

    Where the machines of the page differ in the values, there is one calculator for each
    set of values, labelled.
    """

    name = "calculator"
    shape = BlockShape(raw=True, argument="name")

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The place of the calculator; it stays where the author put it."""
        return SubElement(parent, "div", {"class": "wm-place"})

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Put the finished widget in its place, or one for each set of values."""
        if not block.argument:  # told by the reader of the source
            return
        calculator = known_calculator(page, block.argument, block.line)
        if calculator is None:
            return
        wanted = _read(block, calculator, page)
        for setting in settings(page, calculator, wanted.given, page.scopes_within(block)):
            outcome = evaluated(page, calculator, setting, wanted.given, block.line)
            if outcome is None:
                continue
            placement = Placement(
                calculator=calculator,
                ident=page.identity(calculator.name),
                entries=setting.entries,
                fixed=frozenset(
                    name for name in calculator.entries if wanted.is_fixed(name, setting)
                ),
                origins=setting.origins,
                label=setting.label,
                reference_url=page.reference_url(calculator.name),
            )
            place = _place(element, setting, outcome, stash)
            place.text = stash(render_calculator(placement, outcome))


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


def _read(block: SourceBlock, calculator: Calculator[Any, Any], page: PageContext) -> _Wanted:
    wanted = _Wanted()
    node = read_body(block, page)
    if node is None:
        return wanted
    if not isinstance(node, Mapping):
        page.fault(
            node.line, str(block), describe(node), "'entry: value' on a line each", code="no-keys"
        )
        return wanted
    for entry in node:
        if entry.key in (FIXED, OPEN) and entry.key not in calculator.entries:
            names = wanted.fixed if entry.key == FIXED else wanted.open
            names.extend(_names(entry, calculator, page))
        else:
            written = _written(entry, page)
            if written is not None:
                wanted.given.append(Given(entry.key, written, entry.value.line))
    both = [name for name in wanted.fixed if name in wanted.open]
    if both:
        page.fault(
            block.line, str(block), f"'{both[0]}' both fixed and open", "one of the two",
            code="fixed-and-open",
        )  # fmt: skip
    return wanted


def _names(entry: Entry, calculator: Calculator[Any, Any], page: PageContext) -> Sequence[str]:
    """The entries named under ``fixed`` or ``open``."""
    items = entry.value.items if isinstance(entry.value, Listing) else (entry.value,)
    names: list[str] = []
    for item in items:
        text = item.text if isinstance(item, Scalar) else ""
        if text in calculator.entries:
            names.append(text)
        else:
            page.fault(
                item.line, f"{calculator.name}.{entry.key}", describe(item),
                f"an entry of the calculator: {', '.join(calculator.entries)}",
                nearest=nearest(text, calculator.entries), code="unknown-entry",
            )  # fmt: skip
    return names


def _written(entry: Entry, page: PageContext) -> str | list[list[str]] | None:
    """The text of an entry, or the rows of a table entry."""
    node = entry.value
    if isinstance(node, Scalar) and not node.empty:
        return node.text
    if isinstance(node, Listing):
        rows = [_row(item) for item in node.items]
        if all(row is not None for row in rows):
            return [row for row in rows if row is not None]
        page.fault(
            node.line, entry.key, "a list that is no table",
            "rows of cells, such as [[27.010 mm, 0 mm], [0 mm, 27.010 mm]]", code="no-rows",
        )  # fmt: skip
        return None
    fault_no_text(page, entry.key, node)
    return None


def _row(item: Node) -> list[str] | None:
    """The cells of a row, or None when it is none."""
    if isinstance(item, Listing) and all(isinstance(cell, Scalar) for cell in item.items):
        return [cell.text for cell in item.items if isinstance(cell, Scalar)]
    return None
