"""Indents that Markdown takes for something else than they look like.

What belongs to an item of a list is indented by four spaces. Two or three look the same to
the eye, but end the list: the text falls out of the item and the next number starts at 1.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from witnessmark.faults import Faults
from witnessmark.page.code_lines import CodeLines, indent_of

_NUMBERED = re.compile(r"\d+[.)][ ]+\S")
_STARTS_SOMETHING = re.compile(r"[ ]+(?:[*+-][ ]|\d+[.)][ ]|`{3,}|~{3,}|/{3,}|!!!|\?\?\?)")


def check_indents(
    lines: list[str], code: CodeLines, file: str, line_of: Callable[[int], int], faults: Faults
) -> None:
    """Note every line of a numbered list that is indented by one to three spaces too few.

    A wrapped line right below its item does no harm and is left alone.
    """
    numbered = False
    for index, line in enumerate(lines):
        if not line.strip() or (index in code and not _STARTS_SOMETHING.match(line)):
            continue
        indent = indent_of(line)
        if indent == 0:
            numbered = _NUMBERED.match(line) is not None or (
                numbered and bool(lines[index - 1].strip())
            )
            continue
        detached = not lines[index - 1].strip() or _STARTS_SOMETHING.match(line)
        if numbered and indent % 4 and detached:
            faults.add(
                file,
                line_of(index),
                "numbered list",
                f"an indent of {indent} {'space' if indent == 1 else 'spaces'}",
                f"{4 * (indent // 4 + 1)} spaces: with fewer the text falls out of the item and "
                "the numbers start again",
                code="list-indent",
            )
