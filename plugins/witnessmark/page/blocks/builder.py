"""What every kind of block is: how it is written, and how it becomes HTML."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from typing import ClassVar
from xml.etree.ElementTree import Element

from witnessmark.databook.yaml_source import Mapping, Node, Scalar, describe, read_yaml
from witnessmark.page.context import PageContext
from witnessmark.page.source import BlockShape, SourceBlock

Stash = Callable[[str], str]
"""Takes finished HTML and gives the text that stands for it in the tree."""


class BlockBuilder(ABC):
    """Builds the HTML of one kind of block.

    ``open`` puts the block's element under ``parent``; Markdown then fills ``body`` of it
    with what stands between the marks (nothing for a block whose body is YAML); ``close``
    finishes it.
    """

    name: ClassVar[str]
    shape: ClassVar[BlockShape] = BlockShape()

    @abstractmethod
    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """Put the element of the block under ``parent`` and return it."""

    def body(self, element: Element) -> Element:
        """The part of the block's element that takes its text."""
        return element

    def close(  # noqa: B027 - a block may be finished as soon as it is filled
        self, element: Element, block: SourceBlock, page: PageContext, stash: Stash
    ) -> None:
        """Finish the element once its text is in it."""


def read_body(block: SourceBlock, page: PageContext) -> Node | None:
    """The YAML of a block's body with the lines of the page; None when there is none."""
    return read_yaml("\n".join(block.body), page.file, page.faults, first_line=block.body_line)


def braced_name(node: Node) -> str:
    """The name in ``entry: {name}``, which YAML reads as a mapping of the name to nothing."""
    if isinstance(node, Mapping) and len(node.entries) == 1:
        entry = node.entries[0]
        if isinstance(entry.value, Scalar) and entry.value.empty:
            return entry.key
    return ""


def fault_no_text(page: PageContext, field: str, node: Node) -> None:
    """Note a value that is no text; braces are told as such."""
    name = braced_name(node)
    page.fault(
        node.line, field, f"braces around '{name}'" if name else describe(node),
        f"the name alone: {name}" if name else "a text or a name of the data book",
        code="no-text",
    )  # fmt: skip
