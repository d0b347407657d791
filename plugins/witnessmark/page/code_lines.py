"""Which lines of a Markdown source are code or raw markup, to be left exactly as they are."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

_FENCE = re.compile(r"(?P<indent>[ >]*)(?P<fence>`{3,}|~{3,})(?P<info>.*)")
_RAW_TAG = re.compile(r"[ ]{0,3}<(pre|script|style|textarea)\b", re.IGNORECASE)
_CONTAINER = re.compile(r"[ ]*(?:[*+-]|\d+[.)]|:|\[\^[^\]]+\]:|!!!|\?\?\?\+?|===[!+]?)(?:[ ]+|$)")
TAB = 4


@dataclass
class CodeLines:
    """Indices of the lines that are code, and the first line of code that has no end (a
    fence, a comment, a raw element) with the line that would have ended it."""

    indices: set[int] = field(default_factory=set)
    unended: int | None = None
    closing: str = ""

    def __contains__(self, index: int) -> bool:
        return index in self.indices


def code_lines(lines: list[str]) -> CodeLines:
    """The code of a page: fenced, indented, ``<pre>`` and the like, comments of several lines.

    Text that is indented because it belongs to a list item, a footnote, a definition or an
    admonition is no code.
    """
    found = CodeLines()
    index = 0
    while index < len(lines):
        found_end = _fence_end(lines, index) or _markup_end(lines, index)
        if found_end is None:
            if _is_indented_code(lines, index, found):
                found.indices.add(index)
            index += 1
            continue
        end, closing = found_end
        if end is None:
            end, found.unended, found.closing = len(lines) - 1, index, closing
        found.indices.update(range(index, end + 1))
        index = end + 1
    return found


def _fence_end(lines: list[str], start: int) -> tuple[int | None, str] | None:
    """The last line of the fence that begins at ``start`` (None: it has none) and what ends it."""
    match = _FENCE.fullmatch(lines[start])
    if match is None or (match["fence"][0] == "`" and "`" in match["info"]):
        return None
    closing = re.compile(rf"[ >]*{re.escape(match['fence'][0])}{{{len(match['fence'])},}}\s*")
    ends = (index for index in range(start + 1, len(lines)) if closing.fullmatch(lines[index]))
    return next(ends, None), match["indent"] + match["fence"]


def _markup_end(lines: list[str], start: int) -> tuple[int | None, str] | None:
    """The last line of a comment or a raw element that begins at ``start``, and what ends it."""
    line = lines[start]
    tag = _RAW_TAG.match(line)
    if tag:
        closing = f"</{tag[1].lower()}>"
    elif line.lstrip().startswith("<!--"):
        closing = "-->"
    else:
        return None
    ends = (index for index in range(start, len(lines)) if closing in lines[index].lower())
    return next(ends, None), closing


def indent_of(line: str) -> int:
    """Columns of white space before the text."""
    expanded = line.expandtabs(TAB)
    return len(expanded) - len(expanded.lstrip())


def container_of(lines: list[str], index: int) -> int | None:
    """The line of the list item, footnote … that the indented line ``index`` belongs to."""
    indent = indent_of(lines[index])
    for above in range(index - 1, -1, -1):
        line = lines[above]
        if not line.strip() or indent_of(line) >= indent:
            continue
        if _CONTAINER.match(line.expandtabs(TAB)):
            return above
        if indent_of(line) == 0:
            return None
        indent = indent_of(line)
    return None


def _is_indented_code(lines: list[str], index: int, found: CodeLines) -> bool:
    line = lines[index]
    if not line.strip() or indent_of(line) < TAB:
        return False
    if container_of(lines, index) is not None:
        return False
    above = lines[index - 1] if index else ""
    return not above.strip() or index - 1 in found
