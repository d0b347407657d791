"""From a line of the text that Markdown is given back to the line in the page's file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from difflib import SequenceMatcher


def line_map(given: Sequence[str], source_text: str, body_line: int) -> Callable[[int], int]:
    """A function from an index into ``given`` to a line of the file.

    Usually the lines given are the file's from ``body_line`` on. Where something else put
    text in between (an include), its lines count as the line that follows in the file.
    """
    body = source_text.replace("\r\n", "\n").split("\n")[body_line - 1 :]
    if list(given) == body[: len(given)]:
        return lambda index: body_line + index
    places = [0] * len(given)
    for _, first, last, start, end in SequenceMatcher(
        None, given, body, autojunk=False
    ).get_opcodes():
        for index in range(first, last):
            places[index] = min(start + index - first, max(end - 1, start))
    return lambda index: body_line + places[index]
