"""The Markdown extension: carries blocks, values and plate through Markdown's own stages.

- before the text is parsed, ``SourceReader`` takes it apart and puts marks in;
- the marks of blocks are carried by pymdownx.blocks, which knows nesting and lists;
- the marks of values become elements among the inline patterns;
- the plate goes in under the title, and headings get their text for the table of contents.

Nothing else of the package imports Markdown.
"""

from __future__ import annotations

import re
from typing import Any
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.inlinepatterns import InlineProcessor
from markdown.preprocessors import Preprocessor
from markdown.treeprocessors import Treeprocessor
from markdown.util import AtomicString
from pymdownx.blocks import BlocksExtension, BlocksProcessor
from pymdownx.blocks.block import Block

from witnessmark.page.blocks import BUILDERS, BlockBuilder
from witnessmark.page.context import PageContext
from witnessmark.page.front_matter_check import check_front_matter
from witnessmark.page.inline_values import shown_values, value_element
from witnessmark.page.line_map import line_map
from witnessmark.page.plate import render_procedure_head
from witnessmark.page.source import PREFIX, TOKEN, SourceReader

AFTER_INCLUDES, AFTER_CODE_AND_ESCAPES, BEFORE_INLINE = 31.5, 176, 21
BEFORE_CONTENTS, AFTER_CONTENTS = 6.5, 4.5
_HEADING = re.compile(r"h[1-6]")


class WitnessMarkExtension(BlocksExtension):  # type: ignore[misc]  # pymdownx has no types
    """The extension of a build. Set ``context`` to the page before it is converted."""

    def __init__(self, context: PageContext | None = None, **options: Any) -> None:
        super().__init__(**options)
        self.context = context

    @property
    def page(self) -> PageContext:
        """The page being converted. Raises RuntimeError when none was set."""
        if self.context is None:
            raise RuntimeError("set WitnessMarkExtension.context before converting a page")
        return self.context

    def extendMarkdownBlocks(self, md: Markdown, block_mgr: BlocksProcessor) -> None:
        """Register the stages; called once for every page."""
        for builder in BUILDERS.values():
            block_mgr.register(_carrier(builder, self), {})
        md.preprocessors.register(_SourceStage(md, self, block_mgr), "wm_source", AFTER_INCLUDES)
        md.inlinePatterns.register(
            _ValueStage(TOKEN.pattern, self), "wm_value", AFTER_CODE_AND_ESCAPES
        )
        md.treeprocessors.register(_PlateStage(md, self), "wm_plate", BEFORE_INLINE)
        md.treeprocessors.register(_ContentsStage(md), "wm_contents", BEFORE_CONTENTS)
        md.treeprocessors.register(_SectionsStage(md, self), "wm_sections", AFTER_CONTENTS)


def makeExtension(**options: Any) -> WitnessMarkExtension:
    """The extension, by the name Markdown looks for."""
    return WitnessMarkExtension(**options)


class _SourceStage(Preprocessor):
    """Takes the source apart and hands on a text with marks."""

    def __init__(
        self, md: Markdown, extension: WitnessMarkExtension, blocks: BlocksProcessor
    ) -> None:
        super().__init__(md)
        self.extension = extension
        self.blocks = blocks

    def run(self, lines: list[str]) -> list[str]:
        page = self.extension.page
        page.restart()
        page.text = "\n".join(lines)
        check_front_matter(page)
        reader = SourceReader(
            file=page.file,
            shapes={name: builder.shape for name, builder in BUILDERS.items()},
            foreign={name for name in self.blocks.blocks if not name.startswith(PREFIX)},
            line_of=line_map(lines, page.source, page.front.body_line),
            faults=page.faults,
            stray=page.stray_braces,
        )
        page.parsed = reader.read([line.replace("\r", "") for line in lines])
        return page.parsed.lines


def _carrier(builder: BlockBuilder, extension: WitnessMarkExtension) -> type[Block]:
    """A block of pymdownx that hands everything to ``builder``; its argument is a number."""

    class Carrier(Block):  # type: ignore[misc]  # pymdownx has no types
        NAME = PREFIX + builder.name
        ARGUMENT = True
        OPTIONS: dict[str, Any] = {}  # noqa: RUF012 - the shape pymdownx wants

        def on_create(self, parent: Element) -> Element:
            page = extension.page
            self.source = page.parsed.blocks[int(self.argument)]
            return builder.open(parent, self.source, page)

        def on_add(self, block: Element) -> Element:
            return builder.body(block)

        def on_markdown(self) -> str:
            return "block"

        def on_end(self, block: Element) -> None:
            self.source.finished = True
            builder.close(
                block,
                self.source,
                extension.page,
                lambda html: AtomicString(self.md.htmlStash.store(html)),
            )

    return Carrier


class _ValueStage(InlineProcessor):
    """Turns the mark of a value into the value."""

    def __init__(self, pattern: str, extension: WitnessMarkExtension) -> None:
        super().__init__(pattern)
        self.extension = extension

    def handleMatch(  # type: ignore[override]  # the stub has the form of old patterns
        self, m: re.Match[str], data: str
    ) -> tuple[Element, int, int]:
        page = self.extension.page
        reference = page.parsed.references[int(m[1])]
        values = shown_values(reference, page)
        if values:
            element = value_element(values)
        else:  # its fault is noted; the text stands for it
            element = Element("span", {"class": "wm-fault"})
            element.text = f"{{{reference.text}}}"
        return _as_it_is(element), m.start(0), m.end(0)


def _as_it_is(element: Element) -> Element:
    """The element with its texts protected from inline patterns."""
    for part in element.iter():
        if part.text:
            part.text = AtomicString(part.text)
        if part.tail:
            part.tail = AtomicString(part.tail)
    return element


class _PlateStage(Treeprocessor):
    """Puts title and plate at the head of a procedure."""

    def __init__(self, md: Markdown, extension: WitnessMarkExtension) -> None:
        super().__init__(md)
        self.extension = extension

    def run(self, root: Element) -> None:
        page = self.extension.page
        if not page.front.is_procedure:
            return
        title = next((place for place, part in enumerate(root) if part.tag == "h1"), None)
        if title is None and page.front.title:
            heading = Element("h1")
            heading.text = AtomicString(page.front.title)
            root.insert(0, heading)
            title = 0
        place = 0 if title is None else title + 1
        for part in reversed(render_procedure_head(page)):
            root.insert(place, _as_it_is(part))


class _ContentsStage(Treeprocessor):
    """Gives headings with values or step numbers their text in the table of contents."""

    def run(self, root: Element) -> None:
        if "toc" not in self.md.treeprocessors:
            return
        steps = {
            section.find(".//h2"): section.findtext("div")
            for section in root.iter("section")
            if section.get("class") == "wm-step"
        }
        for part in root.iter():
            if not _HEADING.fullmatch(str(part.tag)):  # a comment has a function as tag
                continue
            has_value = any(span.get("class") == "wm-value" for span in part.iter("span"))
            if "data-toc-label" not in part.attrib and (has_value or part in steps):
                number = f"{steps[part]}. " if part in steps else ""
                part.set("data-toc-label", number + _seen(part).strip())


class _SectionsStage(Treeprocessor):
    """Notes which sections hold for some engines only, once headings have their anchors."""

    def __init__(self, md: Markdown, extension: WitnessMarkExtension) -> None:
        super().__init__(md)
        self.extension = extension

    def run(self, root: Element) -> None:
        sections = self.extension.page.sections
        sections.clear()
        for passage in root.iter("div"):
            if passage.get("class") != "wm-only":
                continue
            for part in passage.iter():
                if _HEADING.fullmatch(str(part.tag)) and part.get("id"):
                    sections[part.get("id", "")] = passage.get("data-wm-scopes", "")


def _seen(element: Element) -> str:
    """The text of an element as seen with SI units."""
    text = element.text or ""
    for part in element:
        if part.get("class") not in ("wm-or", "wm-us"):
            text += _seen(part)
        text += part.tail or ""
    return text


__all__ = ["WitnessMarkExtension", "makeExtension"]
