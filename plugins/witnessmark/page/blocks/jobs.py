"""The list of the reader's jobs, wherever an author wants it."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement

from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.context import PageContext
from witnessmark.page.elements import Html
from witnessmark.page.jobs_html import jobs_place
from witnessmark.page.source import BlockShape, SourceBlock

BRIEF = "open"


class JobsBuilder(BlockBuilder):
    """``/// jobs`` with nothing in it; ``/// jobs | open`` for the last few, in brief."""

    name = "jobs"
    shape = BlockShape(raw=True, argument=BRIEF, optional_argument=True)

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The place of the list."""
        return SubElement(parent, "div", {"class": "wm-jobs-place"})

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Fill it with what the script looks for."""
        if block.argument not in ("", BRIEF):
            page.fault(
                block.line, str(block), f"'{block.argument}' behind the block's name",
                f"'{block} | {BRIEF}', or '{block}' alone for the whole list", code="jobs-argument",
            )  # fmt: skip
        brief = block.argument == BRIEF
        element.text = stash(Html(jobs_place(page.book.scopes(), brief=brief)))
