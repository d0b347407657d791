"""Boxes an author writes in the form of a finding: note, caution, stop."""

from __future__ import annotations

import re
from typing import ClassVar
from xml.etree.ElementTree import Element, SubElement

from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.context import PageContext
from witnessmark.page.findings_html import WORDS
from witnessmark.page.icons import ICON_PATHS
from witnessmark.page.source import SourceBlock

_STASHED = re.compile(r"\s*\x02[^\x02\x03]+\x03\s*")
"""A paragraph that only stands for finished HTML, such as a code fence."""


class FindingBuilder(BlockBuilder):
    """A box with an icon, whose first paragraph begins with the word of its level."""

    level: ClassVar[str]

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The box and its icon; the body follows."""
        box = SubElement(parent, "div", {"class": f"wm-finding wm-{self.level}", "role": "note"})
        icon = SubElement(
            box, "svg", {"class": "wm-icon", "viewBox": "0 0 24 24", "aria-hidden": "true"}
        )
        SubElement(icon, "path", {"d": ICON_PATHS[self.level]})
        SubElement(box, "div", {"class": "wm-finding-body"})
        return box

    def body(self, element: Element) -> Element:
        """The text goes beside the icon."""
        return element[-1]

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Put the word in front of the text."""
        body = element[-1]
        if len(body) == 0:
            page.fault(
                block.line, str(block), "a box without text", "the text of the box",
                code="empty-block",
            )  # fmt: skip
            return
        first = body[0]
        if first.tag != "p" or _STASHED.fullmatch(first.text or ""):
            first = Element("p")
            body.insert(0, first)
        word = Element("b", {"class": "wm-finding-word"})
        word.text = f"{WORDS[self.level]}."
        word.tail = f" {first.text or ''}"
        first.text = ""
        first.insert(0, word)


class NoteBuilder(FindingBuilder):
    """``/// note``: good to know."""

    name = level = "note"


class CautionBuilder(FindingBuilder):
    """``/// caution``: something can go wrong."""

    name = level = "caution"


class StopBuilder(FindingBuilder):
    """``/// stop``: do not go on."""

    name = level = "stop"
