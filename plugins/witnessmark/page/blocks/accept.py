"""What a part must be like to be fitted again: a table of limits."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement

from witnessmark.databook.yaml_source import Listing, Mapping, Node, Scalar, describe
from witnessmark.faults import nearest
from witnessmark.page.blocks.builder import BlockBuilder, Stash, fault_no_text, read_body
from witnessmark.page.braces import DOTTED
from witnessmark.page.context import PageContext
from witnessmark.page.source import BlockShape, SourceBlock

COLUMNS = {"what": "Look at", "limit": "Accept", "how": "How", "otherwise": "Otherwise"}
REQUIRED = ("what", "limit")
_EXAMPLE = "'- what: …' with 'limit: …' and, where it helps, 'how:' and 'otherwise:'"


class AcceptBuilder(BlockBuilder):
    """``/// accept | Title`` with a list of limits; a limit is a name or a text."""

    name = "accept"
    shape = BlockShape(raw=True, argument="Title", optional_argument=True)

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """An empty table."""
        return SubElement(parent, "table", {"class": "wm-accept"})

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Fill the table; its texts are Markdown of one line."""
        rows = _rows(block, page)
        if block.argument:
            SubElement(element, "caption").text = page.marked(
                block.argument, block.line, block.index
            )
        used = [column for column in COLUMNS if any(column in row for row in rows)]
        head = SubElement(SubElement(element, "thead"), "tr")
        for column in used:
            SubElement(head, "th", {"scope": "col"}).text = COLUMNS[column]
        body = SubElement(element, "tbody")
        for row in rows:
            line = SubElement(body, "tr")
            for column in used:
                tag, attributes = ("th", {"scope": "row"}) if column == "what" else ("td", {})
                cell = SubElement(line, tag, attributes)
                # Narrow screens stack the cells and show the column's name before each.
                cell.set("data-label", COLUMNS[column])
                cell.text = _text(row, column, block, page)


def _text(row: dict[str, Scalar], column: str, block: SourceBlock, page: PageContext) -> str:
    scalar = row.get(column)
    if scalar is None:
        return ""
    if column == "limit" and DOTTED.fullmatch(scalar.text):
        return page.parsed.token(scalar.text, scalar.line, block.index)
    return page.marked(scalar.text, scalar.line, block.index)


def _rows(block: SourceBlock, page: PageContext) -> list[dict[str, Scalar]]:
    node = read_body(block, page)
    if node is None or not isinstance(node, Listing):
        found = "no limits" if node is None else describe(node)
        page.fault(block.line, str(block), found, f"a list: {_EXAMPLE}", code="no-list")
        return []
    return [row for item in node.items if (row := _row(item, block, page))]


def _row(item: Node, block: SourceBlock, page: PageContext) -> dict[str, Scalar]:
    if not isinstance(item, Mapping):
        page.fault(item.line, str(block), describe(item), _EXAMPLE, code="no-keys")
        return {}
    row: dict[str, Scalar] = {}
    for entry in item:
        if entry.key not in COLUMNS:
            page.fault(
                entry.line, f"accept.{entry.key}", f"the key '{entry.key}'",
                f"one of {', '.join(COLUMNS)}", nearest=nearest(entry.key, COLUMNS),
                code="unknown-key",
            )  # fmt: skip
        elif isinstance(entry.value, Scalar) and not entry.value.empty:
            row[entry.key] = entry.value
        else:
            fault_no_text(page, f"accept.{entry.key}", entry.value)
    for key in REQUIRED:
        if key not in item.keys:
            page.fault(item.line, "accept", f"a row without '{key}'", _EXAMPLE, code="missing-key")
    return row
