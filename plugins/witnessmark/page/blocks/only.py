"""A passage of the page that holds for some of its engines only."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement

from witnessmark.databook import Scope, label_of
from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.context import PageContext
from witnessmark.page.source import BlockShape, SourceBlock


class OnlyBuilder(BlockBuilder):
    """``/// only | LG2 canal, LG3``: text, values, steps and calculators for these engines.

    Without a choice of the reader the passage is shown with its label.
    """

    name = "only"
    shape = BlockShape(argument="LG2 canal, LG3", passage=True)

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The passage with its label."""
        around = page.scopes_within(block.parent)
        scopes = narrow(block, page)
        held = tuple(scope for scope in around if scope in scopes)
        if scopes and not held:
            page.fault(
                block.line, str(block), f"'{block.argument}', which this passage never holds for",
                f"one of {', '.join(map(str, around))}", code="only-none",
            )  # fmt: skip
        elif scopes and len(held) == len(around):
            page.fault(
                block.line, str(block), f"'{block.argument}', which is all that is left here",
                "the passage without the block", code="only-all",
            )  # fmt: skip
        box = SubElement(
            parent, "div", {"class": "wm-only", "data-wm-scopes": " ".join(s.key for s in held)}
        )
        label = SubElement(box, "p", {"class": "wm-only-label"})
        label.text = f"Only for {label_of(held, around)}" if held else ""
        return box

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """An empty passage is a slip."""
        if len(element) == 1:
            page.fault(
                block.line, str(block), "a passage without text", "the text of the passage",
                code="empty-block",
            )  # fmt: skip


def narrow(block: SourceBlock, page: PageContext) -> tuple[Scope, ...]:
    """The scopes that an ``only`` block names, read once and noted for ``scopes_within``."""
    if block.index not in page.narrowed:
        page.narrowed[block.index] = page.scopes_called(block.argument, block.line, str(block))
    return page.narrowed[block.index]
