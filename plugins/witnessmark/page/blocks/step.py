"""A step of a procedure: number, tick box, title, and what is to be done."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement

from witnessmark.page.blocks.builder import BlockBuilder, Stash
from witnessmark.page.context import PageContext
from witnessmark.page.source import BlockShape, SourceBlock


class StepBuilder(BlockBuilder):
    """``/// step | Title``, numbered through the page.

    The title is a real heading in the tree, so that it reaches the table of contents.
    """

    name = "step"
    shape = BlockShape(argument="Title", nests=False)

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """Number, tick box and heading; the body follows."""
        number = page.next_step()
        section = SubElement(parent, "section", {"class": "wm-step", "id": f"step-{number}"})
        SubElement(section, "div", {"class": "wm-step-number"}).text = str(number)
        tick = {
            "type": "checkbox",
            "class": "wm-step-tick",
            "id": f"step-{number}-done",
            "aria-label": f"Step {number} done",
        }
        SubElement(section, "input", tick)
        body = SubElement(section, "div", {"class": "wm-step-body"})
        title = SubElement(body, "h2")
        title.text = page.marked(block.argument, block.line, block.index)
        return section

    def body(self, element: Element) -> Element:
        """The text goes behind the heading."""
        return element[-1]

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Put the text before the first calculator into one element: it and the calculator
        can then stand side by side, however much text there is."""
        body = element[-1]
        places = [number for number, part in enumerate(body) if part.get("class") == "wm-place"]
        if not places:
            return
        before = body[: places[0]]
        lead = Element("div", {"class": "wm-step-text"})
        lead.extend(before)
        for part in before:
            body.remove(part)
        body.insert(0, lead)
