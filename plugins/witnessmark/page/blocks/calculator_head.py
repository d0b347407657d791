"""The head of a calculator block: what the author gives it, as he wrote it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.calc import Calculator
from witnessmark.databook.yaml_source import Entry, Listing, Mapping, Node, Scalar, describe
from witnessmark.faults import nearest
from witnessmark.page.blocks.builder import fault_no_text, read_body
from witnessmark.page.context import PageContext
from witnessmark.page.given import Given, Setting
from witnessmark.page.source import SourceBlock

FIXED, OPEN, NAME = "fixed", "open", "name"
KEYS = (FIXED, OPEN, NAME)
"""Keys beside the entries; an entry of the same name goes before."""

_FOLLOWS = re.compile(r"from\s+(?P<of>[A-Za-z0-9][\w-]*)\s*\.\s*(?P<result>\w+)")
_OWN_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


@dataclass(frozen=True)
class Followed:
    """An entry written ``from NAME.result``: fed by another calculator of the page."""

    entry: str
    of: str
    result: str
    line: int


@dataclass
class Head:
    """What the author wrote: entries, which of them follow a result, which are fixed or open
    against the rule, and the name by which other calculators of the page call this one."""

    given: list[Given] = field(default_factory=list)
    follows: list[Followed] = field(default_factory=list)
    fixed: list[str] = field(default_factory=list)
    open: list[str] = field(default_factory=list)
    name: str = ""
    name_line: int = 0

    def is_fixed(self, name: str, setting: Setting) -> bool:
        """Entries from the data book are fixed, all others editable, unless the page says so."""
        return name in self.fixed or (name in setting.origins and name not in self.open)


def read_head(block: SourceBlock, calculator: Calculator[Any, Any], page: PageContext) -> Head:
    """The head of a calculator block; what is wrong in it is noted and left out."""
    wanted = Head()
    node = read_body(block, page)
    if node is None:
        return wanted
    if not isinstance(node, Mapping):
        page.fault(
            node.line, str(block), describe(node), "'entry: value' on a line each", code="no-keys"
        )
        return wanted
    for entry in node:
        if entry.key in KEYS and entry.key not in calculator.entries:
            if entry.key == NAME:
                wanted.name, wanted.name_line = _own_name(entry, page), entry.value.line
            else:
                names = wanted.fixed if entry.key == FIXED else wanted.open
                names.extend(_names(entry, calculator, page))
        else:
            written = _written(entry, page)
            if isinstance(written, str) and written.split()[:1] == ["from"]:
                followed = _followed(entry, written, calculator.name, page)
                if followed is not None:
                    wanted.follows.append(followed)
            elif written is not None:
                wanted.given.append(Given(entry.key, written, entry.value.line))
    both = [name for name in wanted.fixed if name in wanted.open]
    if both:
        page.fault(
            block.line, str(block), f"'{both[0]}' both fixed and open", "one of the two",
            code="fixed-and-open",
        )  # fmt: skip
    return wanted


def _own_name(entry: Entry, page: PageContext) -> str:
    """The name the author gives the calculator on this page."""
    text = entry.value.text if isinstance(entry.value, Scalar) else ""
    if _OWN_NAME.fullmatch(text):
        return text
    page.fault(
        entry.value.line, NAME, describe(entry.value),
        "a name in lower-case words with hyphens, such as 'nut-torque'", code="bad-name",
    )  # fmt: skip
    return ""


def _followed(entry: Entry, written: str, owner: str, page: PageContext) -> Followed | None:
    match = _FOLLOWS.fullmatch(written)
    if match is None:
        page.fault(
            entry.value.line, f"{owner}.{entry.key}", f"'{written}'",
            "'from NAME.result' with the name of a calculator on this page and one of its results",
            code="odd-follow",
        )  # fmt: skip
        return None
    return Followed(entry.key, match["of"], match["result"], entry.value.line)


def _names(entry: Entry, calculator: Calculator[Any, Any], page: PageContext) -> Sequence[str]:
    """The entries named under ``fixed`` or ``open``."""
    items = entry.value.items if isinstance(entry.value, Listing) else (entry.value,)
    names: list[str] = []
    for item in items:
        text = item.text if isinstance(item, Scalar) else ""
        if text in calculator.entries:
            names.append(text)
        else:
            page.fault(
                item.line, f"{calculator.name}.{entry.key}", describe(item),
                f"an entry of the calculator: {', '.join(calculator.entries)}",
                nearest=nearest(text, calculator.entries), code="unknown-entry",
            )  # fmt: skip
    return names


def _written(entry: Entry, page: PageContext) -> str | list[list[str]] | None:
    """The text of an entry, or the rows of a table entry."""
    node = entry.value
    if isinstance(node, Scalar) and not node.empty:
        return node.text
    if isinstance(node, Listing):
        rows = [_row(item) for item in node.items]
        if all(row is not None for row in rows):
            return [row for row in rows if row is not None]
        page.fault(
            node.line, entry.key, "a list that is no table",
            "rows of cells, such as [[27.010 mm, 0 mm], [0 mm, 27.010 mm]]", code="no-rows",
        )  # fmt: skip
        return None
    fault_no_text(page, entry.key, node)
    return None


def _row(item: Node) -> list[str] | None:
    """The cells of a row, or None when it is none."""
    if isinstance(item, Listing) and all(isinstance(cell, Scalar) for cell in item.items):
        return [cell.text for cell in item.items if isinstance(cell, Scalar)]
    return None
