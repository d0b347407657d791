"""One value of the data book: its text against its kind, and whether its source is named."""

from __future__ import annotations

import re
from dataclasses import dataclass

from witnessmark.calc.quantity_text import Entered, EntryError, read_number, read_quantity
from witnessmark.calc.units import (
    KINDS,
    UNITS,
    Kind,
    kinds_with_unit,
    magnitude_in,
    read_unit,
)
from witnessmark.databook.book import Value
from witnessmark.databook.yaml_source import Entry, Mapping, Scalar, describe
from witnessmark.faults import Faults, nearest

LEAF_KEYS = ("is", "kind", "source", "rev", "note")
PLAIN_KINDS = ("text", "size")
"""Kinds that are texts: ``size`` is a dimension with a fit, such as ``75 mm h11``."""

_NO_UNIT = re.compile(r"[\s\d.,+\-−–/±…eE]*")


@dataclass(frozen=True)
class FileDefaults:
    """What a file says once for all its values."""

    file: str
    source: str = ""
    rev: str = ""


def read_leaf(
    name: str, node: Scalar | Mapping, defaults: FileDefaults, faults: Faults
) -> Value | None:
    """The value that ``node`` holds, or None after noting why it holds none."""
    if isinstance(node, Scalar):
        return _plain_leaf(name, node, defaults, faults)
    texts = _texts(name, node, defaults.file, faults)
    written = texts.get("is")
    if written is None:
        return None
    kind = texts["kind"].text if "kind" in texts else "text"
    source = texts["source"].text if "source" in texts else defaults.source
    own_source = "source" in texts
    rev = texts["rev"].text if "rev" in texts else "" if own_source else defaults.rev
    note = texts["note"].text if "note" in texts else ""
    if kind not in KINDS and kind not in PLAIN_KINDS:
        _unknown_kind(name, texts["kind"], defaults.file, faults)
        return None
    if kind != "text" and not source:
        faults.add(
            defaults.file,
            written.line,
            name,
            f"'{written.text}' without a source",
            "'source:' here or once at the head of the file",
            code="no-source",
        )
    if kind in PLAIN_KINDS:
        if kind == "text" and _looks_like_quantity(written.text) and "kind" not in texts:
            _quantity_without_kind(name, written, defaults.file, faults)
        return Value(
            name, written.text, kind, source=source, rev=rev, note=note,
            file=defaults.file, line=written.line,
        )  # fmt: skip
    entered = _quantity(name, written, KINDS[kind], defaults.file, faults)
    if entered is None:
        return None
    low, high = (
        magnitude_in(limit, entered.unit, KINDS[kind]) for limit in (entered.low, entered.high)
    )
    if not entered.toleranced:
        low = high = entered.value
    return Value(
        name, written.text, kind, entered.unit, low, high, source, rev, note,
        defaults.file, written.line,
    )  # fmt: skip


def _texts(name: str, node: Mapping, file: str, faults: Faults) -> dict[str, Scalar]:
    """The keys of a leaf, each checked to be known and to hold a text."""
    texts: dict[str, Scalar] = {}
    for entry in node:
        if entry.key not in LEAF_KEYS:
            _unknown_key(name, entry, file, faults)
        elif not isinstance(entry.value, Scalar) or entry.value.empty:
            faults.add(
                file, entry.value.line, f"{name}.{entry.key}", describe(entry.value),
                "a text", code="no-text",
            )  # fmt: skip
        else:
            texts[entry.key] = entry.value
    if node.get("is") is None:
        other = nearest("is", (entry.key for entry in node if entry.key not in LEAF_KEYS))
        faults.add(
            file, node.line, name, f"{' and '.join(node.keys)} without 'is'",
            "'is:' with the value", nearest="is" if other else "", code="no-value",
        )  # fmt: skip
    return texts


def _unknown_key(name: str, entry: Entry, file: str, faults: Faults) -> None:
    empty = isinstance(entry.value, Scalar) and entry.value.empty
    expected = f"one of {', '.join(LEAF_KEYS)}"
    if empty and entry.key[:1].isdigit():
        # {is: 0,12 mm}: inside braces YAML reads the comma as the end of the text.
        expected = "a decimal point, or the text in quotes: inside { } a comma ends it"
    faults.add(
        file, entry.line, name, f"the key '{entry.key}'", expected,
        nearest=nearest(entry.key, LEAF_KEYS), code="unknown-key",
    )  # fmt: skip


def _unknown_kind(name: str, kind: Scalar, file: str, faults: Faults) -> None:
    near = nearest(kind.text, (*KINDS, *PLAIN_KINDS))
    of_unit = [known.name for known in kinds_with_unit(kind.text)]
    faults.add(
        file, kind.line, f"{name}.kind", f"the kind '{kind.text}'",
        "a kind such as length, torque, mass, number, size or text",
        nearest=near or (of_unit[0] if of_unit else ""), code="unknown-kind",
    )  # fmt: skip


def _plain_leaf(name: str, node: Scalar, defaults: FileDefaults, faults: Faults) -> Value | None:
    if node.empty:
        faults.add(defaults.file, node.line, name, "no value", "a value", code="no-value")
        return None
    if _looks_like_quantity(node.text) and not name.endswith(".title"):
        _quantity_without_kind(name, node, defaults.file, faults)
    return Value(name, node.text, file=defaults.file, line=node.line)


def _looks_like_quantity(text: str) -> bool:
    """Whether a text is a number with a known unit: then it needs a kind and a source."""
    try:
        _, rest = read_number(text)
    except EntryError:
        return False
    unit = re.split(r"±|\+/?-|…|\.\.", rest)[0].strip()
    return bool(unit) and bool(kinds_with_unit(unit))


def _quantity_without_kind(name: str, node: Scalar, file: str, faults: Faults) -> None:
    kinds = [kind.name for kind in KINDS.values() if _readable(node.text, kind) and kind.own] or [
        "length"
    ]
    faults.add(
        file, node.line, name, f"the quantity '{node.text}' without kind and source",
        f"{{is: {node.text}, kind: {kinds[0]}, source: …}}", code="no-kind",
    )  # fmt: skip


def _readable(text: str, kind: Kind) -> bool:
    try:
        read_quantity(text, kind)
    except EntryError:
        return False
    return True


def _quantity(name: str, written: Scalar, kind: Kind, file: str, faults: Faults) -> Entered | None:
    def refuse(found: str, expected: str, code: str, near: str = "") -> None:
        faults.add(file, written.line, name, found, expected, nearest=near, code=code)

    try:
        entered = read_quantity(written.text, kind)
    except EntryError as error:
        near = nearest_unit(written.text, kind) if error.code == "unknown-unit" else ""
        refuse(
            f"'{written.text}'", f"a {kind.label}: {error.message.rstrip('.')}", error.code, near
        )
        return None
    if kind.own and bare(written.text, kind):
        refuse(
            f"'{written.text}' without a unit",
            f"a {kind.label} with its unit, such as {written.text} {kind.own}",
            "no-unit",
        )
        return None
    if entered.remark:
        refuse(
            f"'{written.text}'",
            f"the unit without doubt: {entered.remark.rstrip('.')}",
            "loose-unit",
        )
        return None
    if kind.name == "count" and entered.value != int(entered.value):
        refuse(f"'{written.text}'", "a whole number", "not-whole")
        return None
    return entered


def bare(text: str, kind: Kind) -> bool:
    """Whether a text is numbers only, or numbers with a relative tolerance."""
    if "±" in text and kind.name != "fraction":
        text = text.replace("%", "")
    return _NO_UNIT.fullmatch(text) is not None


def nearest_unit(text: str, kind: Kind) -> str:
    """The unit of ``kind`` whose spelling is most like the one in ``text``."""
    try:
        _, rest = read_number(text.strip())
    except EntryError:
        return ""
    spelling = re.split(r"±|\+|…|\.\.", rest)[0].strip()
    if not spelling[:1].isalpha():
        return ""
    known = [spelled for unit in kind.units for spelled in (UNITS[unit].text, *UNITS[unit].aliases)]
    found = read_unit(kind, nearest(spelling, known) or nearest(spelling[:2], known))
    return found[0] if found and found[0] else ""
