"""The source of a page: its blocks and its values in braces, each with its line.

Markdown forgets line numbers and quietly turns what it does not understand into text. So
the source is read once before Markdown sees it: every block is found with its line and
checked (name, nesting, closing), every ``{…}`` is found with its line, and both are replaced
by marks that only refer to them by number:

- ``/// calculator | name`` with its YAML body becomes an empty ``/// wm-calculator | 3``;
- ``{flywheel.nut.torque}`` becomes a number between two private characters.

Code is left alone: fences, indented code, code spans, ``<pre>``, comments.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field

from witnessmark.faults import Faults, nearest
from witnessmark.page.braces import Row, mark_values
from witnessmark.page.code_lines import TAB, CodeLines, code_lines, indent_of
from witnessmark.page.indents import check_indents

PREFIX = "wm-"
"""Blocks carry this prefix inside Markdown, so that they never clash with another extension's."""

TOKEN_START, TOKEN_END = "\ue0a0", "\ue0a1"
TOKEN = re.compile(f"{TOKEN_START}(\\d+){TOKEN_END}")

STRUCTURE_CODES = frozenset({
    "unknown-block", "unclosed-block", "stray-close", "too-few-slashes", "wrong-nesting",
    "malformed-block", "indent-below-head", "unended-code",
})  # fmt: skip
"""Codes of the faults after which a page's blocks are not what the author meant."""

_OPEN = re.compile(r"(?P<indent>[ ]*)(?P<slashes>/{3,})[ ]*(?P<name>[\w-]+)[ ]*(?:\|(?P<rest>.*))?")
_CLOSE = re.compile(r"[ ]*(?P<slashes>/{3,})[ ]*")
_SLASHES = re.compile(r"[ ]*(?P<slashes>/{2,})[ ]*(?P<name>[\w-]+)?(?P<rest>.*)")


@dataclass(frozen=True)
class BlockShape:
    """What the source reader must know of a block.

    ``raw`` says whether its body is YAML, ``argument`` what stands behind the bar, ``nests``
    whether it may stand inside another block. ``passage`` marks a block that only says
    something of a passage of the page: whatever may stand on the page may stand in it.
    """

    raw: bool = False
    argument: str = ""
    optional_argument: bool = False
    nests: bool = True
    passage: bool = False


@dataclass
class SourceBlock:
    """A block as written. ``body`` is its text without indent, ``body_line`` where it begins."""

    index: int
    name: str
    argument: str
    line: int
    slashes: int
    indent: int
    parent: SourceBlock | None
    body_line: int
    body: list[str] = field(default_factory=list)
    finished: bool = False
    """Whether Markdown carried the block from its head to its end."""

    def __str__(self) -> str:
        return f"{'/' * self.slashes} {self.name}"


@dataclass(frozen=True)
class SourceReference:
    """The text between a pair of braces, its line, and the number of the block around it."""

    index: int
    text: str
    line: int
    within: int | None = None


@dataclass
class PageSource:
    """A page's source taken apart: the text for Markdown, and what its marks refer to."""

    lines: list[str] = field(default_factory=list)
    blocks: list[SourceBlock] = field(default_factory=list)
    references: list[SourceReference] = field(default_factory=list)

    def token(self, text: str, line: int, within: int | None = None) -> str:
        """A mark for the value called ``text`` on ``line``, to be put into Markdown text."""
        self.references.append(SourceReference(len(self.references), text, line, within))
        return f"{TOKEN_START}{len(self.references) - 1}{TOKEN_END}"


@dataclass
class SourceReader:
    """Reads the source of one page.

    ``shapes`` are the blocks of this package by name, ``foreign`` the names of blocks that
    other extensions own. ``line_of`` turns the index of a line given to Markdown into its
    line in the file. ``stray`` is told of braces that are no value, with their line.
    """

    file: str
    shapes: Mapping[str, BlockShape]
    foreign: Collection[str]
    line_of: Callable[[int], int]
    faults: Faults
    stray: Callable[[str, int], None]
    page: PageSource = field(default_factory=PageSource)
    rows: list[Row] = field(default_factory=list)
    open_blocks: list[SourceBlock] = field(default_factory=list)

    def read(self, lines: list[str]) -> PageSource:
        """Take the page apart; every fault of structure goes to ``faults``."""
        code = code_lines(lines)
        if code.unended is not None:
            self.fault(
                code.unended, lines[code.unended].strip()[:40], "code or a comment without an end",
                f"'{code.closing.strip()}' on a line of its own behind it", "unended-code",
            )  # fmt: skip
        check_indents(lines, code, self.file, self.line_of, self.faults)
        for index, line in enumerate(lines):
            self.take(index, line, code)
            self.check_indent_below(index, line)
        while self.open_blocks:
            self.unclosed(self.open_blocks.pop())
        if code.unended is not None:
            self.rows.append(Row(code.closing, self.line_of(code.unended), code=True))
        mark_values(self.rows, self.page.token, self.stray)
        self.page.lines = [row.text for row in self.rows]
        return self.page

    def emit(self, index: int, text: str, *, code: bool = False) -> None:
        inner = [block.index for block in self.open_blocks if block.name in self.shapes]
        within = inner[-1] if inner else None
        self.rows.append(Row(text, self.line_of(index), code, within))

    def take(self, index: int, line: str, code: CodeLines) -> None:
        """One line: block mark, body of a raw block, or text."""
        top = self.open_blocks[-1] if self.open_blocks else None
        closing = _CLOSE.fullmatch(line)
        inside_raw = top is not None and self.shape(top).raw
        if top is not None and inside_raw and not closing:
            opening = _OPEN.fullmatch(line)
            if opening is None or opening["name"].lower() not in self.known():
                top.body.append(line[top.indent :] if not line[: top.indent].strip() else line)
                return
            self.unclosed(self.open_blocks.pop())
        elif index in code:
            self.emit(index, line, code=True)
            return
        if closing:
            self.close(index, line, len(closing["slashes"]))
        elif _SLASHES.fullmatch(line):
            self.open(index, line)
        else:
            self.emit(index, line)

    def check_indent_below(self, index: int, line: str) -> None:
        """Text right below a head and indented would be taken for options of the block."""
        top = self.open_blocks[-1] if self.open_blocks else None
        if (
            top is not None
            and top.name in self.shapes
            and not self.shape(top).raw
            and self.line_of(index) == top.body_line
            and line.strip()
            and indent_of(line) >= top.indent + TAB
        ):
            self.fault(
                index, str(top), "indented text right below the block's head",
                "the text at the margin of the head, or an empty line before code",
                "indent-below-head",
            )  # fmt: skip

    def shape(self, block: SourceBlock) -> BlockShape:
        return self.shapes.get(block.name, BlockShape(optional_argument=True))

    def known(self) -> set[str]:
        return {*self.shapes, *self.foreign}

    def open(self, index: int, line: str) -> None:
        opening = _OPEN.fullmatch(line)
        if opening is None:
            self.malformed(index, line)
            return
        name, slashes = opening["name"].lower(), len(opening["slashes"])
        number = self.line_of(index)
        if name not in self.known():
            self.fault(
                index, f"/// {name}", f"the block '{name}'", f"one of {', '.join(self.shapes)}",
                "unknown-block", nearest(name, self.known()),
            )  # fmt: skip
        self.check_nesting(index, name, slashes)
        parent = self.open_blocks[-1] if self.open_blocks else None
        block = SourceBlock(
            len(self.page.blocks), name, (opening["rest"] or "").strip(), number, slashes,
            len(opening["indent"]), parent, number + 1,
        )  # fmt: skip
        self.open_blocks.append(block)
        if name in self.shapes:
            self.check_argument(index, block)
            self.page.blocks.append(block)
            mark = f"{opening['indent']}{opening['slashes']} {PREFIX}{name} | {block.index}"
            self.emit(index, mark)
        elif name in self.foreign:
            self.emit(index, line)

    def check_argument(self, index: int, block: SourceBlock) -> None:
        shape = self.shapes[block.name]
        if shape.argument and not shape.optional_argument and not block.argument:
            self.fault(
                index, str(block), "no text behind the block's name",
                f"'{block} | {shape.argument}'", "no-argument",
            )  # fmt: skip
        elif block.argument and not shape.argument:
            self.fault(
                index, str(block), f"'{block.argument}' behind the block's name",
                f"'{block}' alone, and the text on the lines below", "stray-argument",
            )  # fmt: skip

    def check_nesting(self, index: int, name: str, slashes: int) -> None:
        """A block inside another has fewer slashes; a block that may not nest ends the others."""
        if name in self.shapes and not self.shapes[name].nests:
            while self.open_blocks and self.open_blocks[-1].slashes <= slashes:
                self.unclosed(self.open_blocks.pop())
            outer = [
                block
                for block in self.open_blocks
                if block.name in self.shapes and not self.shape(block).passage
            ]
            if outer:
                self.fault(
                    index, f"/// {name}", f"a {name} inside '{outer[-1]}' of line {outer[-1].line}",
                    f"the closing '{'/' * outer[-1].slashes}' before it", "wrong-nesting",
                )  # fmt: skip
            return
        tight = [block for block in self.open_blocks if block.slashes <= slashes]
        if tight:
            self.fault(
                index,
                f"{'/' * slashes} {name}",
                f"a block with {slashes} slashes inside '{tight[0]}' of line {tight[0].line}",
                f"more slashes on the outer block ('{'/' * (slashes + 1)} {tight[0].name}' … "
                f"'{'/' * (slashes + 1)}'), or its closing line before this one",
                "too-few-slashes",
            )

    def close(self, index: int, line: str, slashes: int) -> None:
        if slashes not in [block.slashes for block in self.open_blocks]:
            top = self.open_blocks[-1] if self.open_blocks else None
            expected = (
                f"'{'/' * top.slashes}', which closes '{top}' of line {top.line}"
                if top
                else "no closing line: no block is open here"
            )
            self.fault(index, "/" * slashes, f"'{'/' * slashes}'", expected, "stray-close")
            return
        block = self.open_blocks.pop()
        while block.slashes != slashes:
            self.unclosed(block)
            block = self.open_blocks.pop()
        if block.name in self.known():
            if not indent_of(line):
                # Blocks of the older kind, such as admonitions, take in the line below them.
                self.emit(index, "")
            self.emit(index, line)

    def unclosed(self, block: SourceBlock) -> None:
        slashes = "/" * block.slashes
        self.faults.add(
            self.file, block.line, str(block), "a block that is not closed",
            f"'{slashes}' on a line of its own behind it", code="unclosed-block",
        )  # fmt: skip
        if block.name in self.known():
            self.rows.append(Row(" " * block.indent + slashes, block.line))

    def malformed(self, index: int, line: str) -> None:
        """A line that begins with slashes and a word but is no head of a block."""
        match = _SLASHES.fullmatch(line)
        assert match is not None
        name, rest = (match["name"] or "").lower(), match["rest"].strip()
        if len(match["slashes"]) == 2 and name not in self.shapes:
            self.emit(index, line)
            return
        near = nearest(name, self.known()) or name
        text = rest.lstrip("|:-–— ") or "…"
        self.fault(
            index, line.strip()[:40], "slashes that open no block",
            f"'/// {near or 'name'} | {text}' with three slashes or more and a bar before the text",
            "malformed-block",
        )  # fmt: skip

    def fault(
        self, index: int, field: str, found: str, expected: str, code: str, near: str = ""
    ) -> None:
        self.faults.add(
            self.file, self.line_of(index), field, found, expected, nearest=near, code=code
        )
