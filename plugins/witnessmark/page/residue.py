"""What must not be left in a finished page: marks, braces, block heads that became text."""

from __future__ import annotations

import re
from html import escape
from html.parser import HTMLParser

from witnessmark.page.context import PageContext
from witnessmark.page.source import STRUCTURE_CODES, TOKEN

_WIDGET = re.compile(r"<wm-calculator\b.*?</wm-calculator>", re.DOTALL)
_SUSPECT = re.compile(r"/{3}|[{}\ue0a0]")
_SLASHES = re.compile(r"^[ ]*/{3,}.*$", re.MULTILINE)
_BRACES = re.compile(r"\{[^{}\n]{0,200}\}")
_PLAIN_TAGS = frozenset({"code", "pre", "script", "style", "textarea", "svg", "math", "kbd"})
_EMPTY_TAGS = frozenset({"input", "br", "hr", "img", "wbr", "col", "source", "link", "meta"})


def finish_page(html: str, context: PageContext) -> str:
    """The page's HTML with marks inside code turned back into what the author wrote.

    Notes a fault for every mark, block head or brace that is left in the text.
    """
    # Where the structure is at fault already, what is left over only repeats it.
    sound = not any(
        fault.file == context.file and fault.code in STRUCTURE_CODES for fault in context.faults
    )
    if sound:
        sound = not _not_carried(context)
    if not _SUSPECT.search(html):
        return html
    reader = _Text()
    reader.feed(_WIDGET.sub("", html))
    reader.close()
    source = context.parsed
    for text in reader.texts:
        for match in TOKEN.finditer(text):
            reference = source.references[int(match[1])]
            context.fault(
                reference.line, f"{{{reference.text}}}", "a value inside raw HTML",
                "the value in Markdown text (HTML takes Markdown with markdown=\"1\")",
                code="value-in-html",
            )  # fmt: skip
        for match in _SLASHES.finditer(text) if sound else ():
            _left(context, match[0].strip(), "slashes of a block in the text",
                  "the block at the margin or in a list item, not in an admonition, quotation or "
                  "raw HTML",
                  "block-as-text")  # fmt: skip
        for match in _BRACES.finditer(TOKEN.sub("", text)):
            _left(context, match[0], "braces in the text",
                  "a value's name in the braces, or \\{ for a brace that is meant",
                  "stray-braces")  # fmt: skip
    return TOKEN.sub(lambda m: escape(f"{{{source.references[int(m[1])].text}}}"), html)


def _not_carried(context: PageContext) -> bool:
    """Note the first block that Markdown lost on the way; what follows it is lost with it."""
    lost = [block for block in context.parsed.blocks if not block.finished]
    outer = [block.parent for block in lost]
    for block in lost:
        if block not in outer:
            context.fault(
                block.line, str(block), "a block that Markdown does not carry to its end here",
                "the block at the margin or in a list item; inside an admonition, a definition or "
                "a quotation it cannot stand here",
                code="block-not-carried",
            )  # fmt: skip
            break
    return bool(lost)


def _left(context: PageContext, text: str, found: str, expected: str, code: str) -> None:
    """Note a fault for each place of the source where ``text`` stands."""
    lines = context.source.split("\n")
    shown = text if len(text) <= 60 else f"{text[:60]}…"
    places = [
        number for number, line in enumerate(lines, 1)
        if number >= context.front.body_line and text in line
    ] or [0]  # fmt: skip
    told = {(fault.line, fault.field, fault.code) for fault in context.faults}
    for line in places:
        if (line, shown, code) not in told:
            context.fault(line, shown, found, expected, code=code)


class _Text(HTMLParser):
    """Collects the text of a page outside code, formulas and drawings."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.texts: list[str] = []
        self.plain: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for _, value in attrs:
            if value and TOKEN.search(value):
                self.texts.append(value)
        if tag in _EMPTY_TAGS:
            return
        formula = any(name == "class" and "arithmatex" in (value or "") for name, value in attrs)
        fault = any(name == "class" and value == "wm-fault" for name, value in attrs)
        if self.plain or tag in _PLAIN_TAGS or formula or fault:
            self.plain.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in self.plain:
            while self.plain and self.plain.pop() != tag:
                pass

    def handle_data(self, data: str) -> None:
        if not self.plain:
            self.texts.append(data)
