"""Values in braces inside text: found, told from look-alikes, and replaced by a mark.

``{flywheel.nut.torque}`` and ``{calculator.result | entry: value}`` are values. Braces of
other extensions (``{.class}``, ``{#id}``, ``{width=300}``) and of formulas are none. What
looks like an attempt at a value is a fault, because Markdown would print it or swallow it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

NAME = r"[A-Za-z][A-Za-z0-9_-]*(?:\.[A-Za-z][A-Za-z0-9_-]*)*"
DOTTED = re.compile(r"[A-Za-z][A-Za-z0-9_-]*(?:\.[A-Za-z][A-Za-z0-9_-]*)+")

_VALUE = re.compile(rf"\s*(?P<name>{NAME})\s*(?:\|.*)?", re.DOTALL)
_ATTRIBUTES = re.compile(r"data-[\w-]+|hidden|download|markdown|open|disabled|reversed|.*[=#].*")
_PIECES = re.compile(
    r"""(?P<escaped>\\[{}])
      | \\.
      | (?P<ticks>`+)(?!`).+?(?<!`)(?P=ticks)(?!`)
      | <!--.*?-->
      | <code\b.*?</code>
      | </?[A-Za-z][^<>]*>
      | (?P<formula>\$\$?)(?!\s)[^$]+?(?<!\s)(?P=formula)(?!\d)
      | (?P<before>[\\_^}\w]?)\{(?P<inner>\s*[A-Za-z][^{}]*)\}""",
    re.VERBOSE | re.DOTALL,
)


@dataclass
class Row:
    """A line on its way to Markdown: its number in the file, the number of the block it is in."""

    text: str
    line: int
    code: bool = False
    within: int | None = None


Token = Callable[[str, int, int | None], str]
"""Gives the mark for a value from its text, its line and the number of the block around it."""


def mark_values(
    rows: list[Row],
    token: Token,
    stray: Callable[[str, int], None],
) -> None:
    """Replace the values in the text of ``rows`` by tokens, in place.

    ``stray(text, line)`` is told of braces that look like a value and are none. A value may
    run over the end of a line.
    """
    start = 0
    while start < len(rows):
        end = start
        while end < len(rows) and rows[end].text.strip() and not rows[end].code:
            end += 1
        if end == start:
            start += 1
            continue
        passage = rows[start:end]
        text = _mark("\n".join(row.text for row in passage), passage, token, stray)
        for row, new in zip(passage, text.split("\n"), strict=True):
            row.text = new
        start = end


def mark_text(
    text: str, line: int, within: int | None, token: Token, stray: Callable[[str, int], None]
) -> str:
    """The same for one text that stands on ``line`` in the block numbered ``within``."""
    lines = text.split("\n")
    return _mark(text, [Row(part, line, within=within) for part in lines], token, stray)


def _mark(
    text: str,
    passage: list[Row],
    token: Token,
    stray: Callable[[str, int], None],
) -> str:
    def replace(match: re.Match[str]) -> str:
        if match["escaped"]:
            return f"&#{ord(match['escaped'][1])};"
        inner = match["inner"]
        if inner is None:
            return match[0]
        row = passage[text.count("\n", 0, match.start("inner"))]
        content = " ".join(inner.split())
        value = _VALUE.fullmatch(inner)
        if value and ("." in value["name"] or "|" in inner):
            # The line ends that the braces spanned stay, so that lines keep their numbers.
            return match["before"] + token(content, row.line, row.within) + "\n" * inner.count("\n")
        if not match["before"] and not _ATTRIBUTES.fullmatch(content):
            stray(content, row.line)
        return match[0]

    return _PIECES.sub(replace, text)
