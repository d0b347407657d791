"""A field to write a measured value in, judged against the accept limits of the page."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element, SubElement

from witnessmark.calc.chain import may_stand_for
from witnessmark.calc.quantity_text import EntryError
from witnessmark.calc.reading import limits_of
from witnessmark.calc.units import KINDS, kinds_with_unit
from witnessmark.databook import Labelled, Scope
from witnessmark.databook.shown import show_value
from witnessmark.databook.yaml_source import Listing, Mapping, Scalar, describe
from witnessmark.faults import nearest
from witnessmark.page.blocks.builder import BlockBuilder, Stash, fault_no_text, read_body
from witnessmark.page.blocks.placed import placed_calculators
from witnessmark.page.braces import DOTTED
from witnessmark.page.context import PageContext
from witnessmark.page.given import lookup
from witnessmark.page.reading_html import ReadingPlace, ShownLimits, reading_field
from witnessmark.page.source import BlockShape, SourceBlock

SIDES = {"limits": "band", "most": "most", "least": "least"}
"""Keys of the block that give limits, and what the reading's request calls them."""

KEYS = (*SIDES, "kind", "unit", "places", "times", "how", "otherwise", "feeds", "name")
MOST_PLACES = 24
_EXAMPLE = (
    "'limits: name.of.value', 'most: 0.10 mm', or 'kind: length' for a reading without limits"
)


@dataclass
class _Head:
    """What the author wrote in the block."""

    texts: dict[str, Scalar] = field(default_factory=dict)
    places: tuple[str, ...] = ("",)
    feeds: tuple[Scalar, ...] = ()

    def text(self, key: str) -> str:
        return self.texts[key].text if key in self.texts else ""

    @property
    def limit(self) -> tuple[str, Scalar] | None:
        """The key that gives limits, with its text."""
        return next(((key, self.texts[key]) for key in SIDES if key in self.texts), None)


class ReadingBuilder(BlockBuilder):
    """``/// reading | Depth of the seal`` with ``limits: seal.depth`` and what to do otherwise.

    Where engines have different limits there is one field for each, labelled.
    """

    name = "reading"
    shape = BlockShape(raw=True, argument="What is measured")

    def open(self, parent: Element, block: SourceBlock, page: PageContext) -> Element:
        """The place of the field; it stays where the author put it."""
        return SubElement(parent, "div", {"class": "wm-reading-place"})

    def close(self, element: Element, block: SourceBlock, page: PageContext, stash: Stash) -> None:
        """Put the field in its place, or one for each set of limits."""
        if not block.argument:  # told by the reader of the source
            return
        head = _read(block, page)
        if head is None:
            return
        for part in _limits(head, block, page):
            shown = _shown(part, head, block, page)
            if shown is None:
                continue
            place = ReadingPlace(
                ident=page.identity(f"reading-{head.text('name') or _slug(block.argument)}"),
                title=block.argument,
                limits=shown,
                places=head.places,
                how=head.text("how"),
                otherwise=head.text("otherwise"),
                label=part.label if part else "",
                feeds=_targets(head, shown.kind, part.scopes if part else (), block, page),
            )
            page.readings[place.ident] = place.request
            attributes = {"class": "wm-reading-one"}
            if part and part.label:
                attributes["data-wm-scopes"] = " ".join(scope.key for scope in part.scopes)
            SubElement(element, "div", attributes).text = stash(reading_field(place))


def _slug(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-") or "value"


def _read(block: SourceBlock, page: PageContext) -> _Head | None:
    """The block's head; None after a fault that leaves nothing to show."""
    node = read_body(block, page)
    if not isinstance(node, Mapping):
        found = "no limits and no kind" if node is None else describe(node)
        page.fault(node.line if node else block.line, str(block), found, _EXAMPLE, code="no-keys")
        return None
    head, whole = _Head(), True
    for entry in node:
        if entry.key not in KEYS:
            page.fault(
                entry.line, f"reading.{entry.key}", f"the key '{entry.key}'",
                f"one of {', '.join(KEYS)}", nearest=nearest(entry.key, KEYS), code="unknown-key",
            )  # fmt: skip
        elif entry.key == "places":
            head.places = _places(entry.value, page) or head.places
        elif entry.key == "feeds":
            items = entry.value.items if isinstance(entry.value, Listing) else (entry.value,)
            head.feeds = tuple(item for item in items if isinstance(item, Scalar))
        elif isinstance(entry.value, Scalar) and not entry.value.empty:
            head.texts[entry.key] = entry.value
        else:
            fault_no_text(page, f"reading.{entry.key}", entry.value)
            whole = False
    sides = [key for key in SIDES if key in head.texts]
    if len(sides) > 1:
        line = head.texts[sides[1]].line
        page.fault(
            line, str(block), f"'{sides[0]}' and '{sides[1]}'",
            "one of them; 'limits' takes both ends (1.8 … 2.2 mm)", code="two-limits",
        )  # fmt: skip
        whole = False
    _repeat(head, page)
    return head if whole else None


def _places(node: object, page: PageContext) -> tuple[str, ...]:
    items = node.items if isinstance(node, Listing) else ()
    texts = tuple(item.text for item in items if isinstance(item, Scalar) and not item.empty)
    if not texts or len(texts) != len(items) or len(set(texts)) != len(texts):
        line = getattr(node, "line", 0)
        page.fault(
            line, "reading.places", "no list of different names",
            "where it is measured: [12 o'clock, 3 o'clock]", code="no-places",
        )  # fmt: skip
        return ()
    return texts


def _repeat(head: _Head, page: PageContext) -> None:
    """``times: 3`` is three places without names."""
    if "times" not in head.texts:
        return
    written = head.texts["times"]
    if not written.text.isdecimal() or not 2 <= int(written.text) <= MOST_PLACES:
        page.fault(
            written.line, "reading.times", f"'{written.text}'",
            f"a whole number from 2 to {MOST_PLACES}", code="no-count",
        )  # fmt: skip
    elif head.places != ("",):
        page.fault(
            written.line, "reading.times", "'times' beside 'places'", "one of the two",
            code="times-and-places",
        )  # fmt: skip
    else:
        head.places = tuple(str(number + 1) for number in range(int(written.text)))


def _limits(head: _Head, block: SourceBlock, page: PageContext) -> Sequence[Labelled | None]:
    """The values of the data book that give the limits, one for each set of engines; a single
    None where the limits are written out, or where there are none."""
    if head.limit is None or not DOTTED.fullmatch(head.limit[1].text):
        return [None]
    name = head.limit[1].text
    scopes: Sequence[Scope] = page.scopes_within(block)
    if not lookup(page, name, head.limit[1].line, scopes):
        return []
    return page.book.across(name, scopes)


def _shown(
    part: Labelled | None, head: _Head, block: SourceBlock, page: PageContext
) -> ShownLimits | None:
    """The limits as the page shows them and as the reading is judged by them."""
    side = head.limit[0] if head.limit else ""
    line = head.limit[1].line if head.limit else block.line
    if part is not None and not part.value.is_quantity:
        page.fault(
            line, f"reading.{side}", f"'{show_value(part.value)}', which is no quantity",
            "a value with a kind and a unit", code="wrong-kind",
        )  # fmt: skip
        return None
    text = part.value.text if part else head.text(side)
    kind = part.value.kind if part else _kind(head, block, page)
    if kind is None:
        return None
    unit = part.value.unit if part else (head.text("unit") or KINDS[kind].own)
    if unit not in KINDS[kind].units:
        page.fault(
            head.texts["unit"].line if "unit" in head.texts else line, "reading.unit", f"'{unit}'",
            f"a unit of the kind {kind}: {', '.join(KINDS[kind].units)}",
            nearest=nearest(unit, KINDS[kind].units), code="unknown-unit",
        )  # fmt: skip
        return None
    given = {SIDES[side]: text} if side else {}
    band, most, least = (given.get(name, "") for name in ("band", "most", "least"))
    try:
        limits = limits_of(kind, unit, band=band, most=most, least=least)
    except EntryError as error:
        page.fault(
            line, f"reading.{side}", f"'{text}' ({error.message.rstrip('.')})",
            f"a {KINDS[kind].label} with its unit", code=error.code,
        )  # fmt: skip
        return None
    if side == "limits" and limits.low == limits.high:
        page.fault(
            line, "reading.limits", f"'{text}', which has no width",
            "a value with a tolerance, or 'most:' or 'least:' for a limit on one side",
            code="no-width",
        )  # fmt: skip
        return None
    return ShownLimits(kind, unit, SIDES.get(side, ""), text, part.origin if part else "")


def _targets(
    head: _Head, kind: str, scopes: Sequence[Scope], block: SourceBlock, page: PageContext
) -> tuple[tuple[tuple[str, str], ...], ...]:
    """For each text under ``feeds`` the entries that take the reading: the identity of a
    calculator on the page, and the entry's name. One text stands for the mean of all repeats,
    as many as there are places stand for a place each."""
    if head.feeds and len(head.feeds) not in (1, len(head.places)):
        page.fault(
            head.feeds[0].line, "reading.feeds", f"{len(head.feeds)} entries",
            f"one, which takes the mean, or {len(head.places)}, one for each place",
            code="feeds-count",
        )  # fmt: skip
        return ()
    targets = []
    placed = placed_calculators(page).values()
    for written in head.feeds:
        name, _, entry_name = written.text.partition(".")
        named = [each for each in placed if name in (each.name, each.calculator.name)]
        entry = named[0].calculator.entries.get(entry_name) if named else None
        if not named or entry is None:
            known = [f"{each.name}.{other}" for each in placed for other in each.calculator.entries]
            page.fault(
                written.line, "reading.feeds", f"'{written.text}'",
                "an entry of a calculator on this page, as NAME.entry",
                nearest=nearest(written.text, known), code="unknown-entry",
            )  # fmt: skip
            continue
        if (
            entry.kind is None
            or entry.form != "quantity"
            or not may_stand_for(kind, entry.kind.name)
        ):
            page.fault(
                written.line, "reading.feeds", f"a {kind} for '{written.text}'",
                f"a {entry.kind.name if entry.kind else entry.form}, as the entry wants",
                code="wrong-kind",
            )  # fmt: skip
            continue
        targets.append(
            tuple(
                (f"wm-{worked.ident}", entry_name)
                for each in named
                for worked in each.worked
                if not scopes or set(scopes) & set(worked.setting.scopes)
            )
        )
    return tuple(targets)


def _kind(head: _Head, block: SourceBlock, page: PageContext) -> str | None:
    """The kind that is named, or the one kind that has the unit."""
    if "kind" in head.texts:
        name = head.text("kind")
        if name in KINDS:
            return name
        page.fault(
            head.texts["kind"].line, "reading.kind", f"the kind '{name}'",
            f"one of {', '.join(KINDS)}", nearest=nearest(name, KINDS), code="unknown-kind",
        )  # fmt: skip
        return None
    unit = head.text("unit")
    kinds = kinds_with_unit(unit) if unit else []
    if kinds:
        return kinds[0].name
    page.fault(
        block.line, str(block), "no kind of quantity",
        "'kind: length', or a value of the data book", code="no-kind",
    )  # fmt: skip
    return None
