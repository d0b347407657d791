"""The list of the reader's jobs, wherever an author wants it."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement

from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.context import PageContext
from witnessmark.page.elements import Html
from witnessmark.page.jobs_html import jobs_place
from witnessmark.page.source import BlockShape, SourceBlock


class JobsBuilder(BlockBuilder):
    """``/// jobs`` with nothing in it."""

    name = "jobs"
    shape = BlockShape(raw=True)

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The place of the list."""
        return SubElement(parent, "div", {"class": "wm-jobs-place"})

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Fill it with what the script looks for."""
        element.text = stash(Html(jobs_place(page.book.scopes())))
