"""From typed text to the values a calculator is called with, entry by entry.

Every entry is read by itself: a bad one gets its own message and hides none of the others.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import takewhile
from types import SimpleNamespace
from typing import Any

from witnessmark.calc.declaration import Column, Entry, RowTexts
from witnessmark.calc.display import exact, in_every_unit, significant, with_unit
from witnessmark.calc.findings import Finding, caution
from witnessmark.calc.quantity_text import LONGEST, Entered, EntryError, read_quantity
from witnessmark.calc.units import KINDS, Kind, Quantity, as_quantity, magnitude_in

CELLS_TOLD = 3
"""A message about a table tells this many cells; a single one more is told as well."""
MANY_CHOICES = 12
"""With more choices than these a message names the nearest only."""


@dataclass(frozen=True)
class Withheld:
    """Stands for an entry's text where there is none to be had, with the reason."""

    message: str


Given = Mapping[str, "str | RowTexts | Withheld"]


@dataclass(frozen=True)
class CellError:
    """A cell of a table entry that cannot be read."""

    row: int
    column: str
    message: str


@dataclass
class ReadEntry:
    """What became of one entry: the value for the calculator, or an error."""

    entry: Entry
    text: Any
    value: Any = None
    entered: Entered | None = None
    low: Any = None
    high: Any = None
    assumed: bool = False
    active: bool = True
    code: str = ""
    message: str = ""
    cells: tuple[CellError, ...] = ()
    findings: list[Finding] = field(default_factory=list)

    @property
    def toleranced(self) -> bool:
        """Whether the entry has limits apart from its value."""
        return self.active and self.low is not None

    def refuse(self, code: str, message: str) -> None:
        """Mark the entry as not usable."""
        self.code, self.message = code, message


def read_entries(declared: Mapping[str, Entry], given: Given) -> dict[str, ReadEntry]:
    """Read all entries; those not given take their defaults. Unknown names raise KeyError."""
    unknown = [name for name in given if name not in declared]
    if unknown:
        raise KeyError(f"no entry {unknown[0]!r}; there are: {', '.join(declared)}")
    chosen = {
        name: str(given.get(name, item.default))
        for name, item in declared.items()
        if item.form == "choice"
    }
    read: dict[str, ReadEntry] = {}
    for name, item in declared.items():
        active = item.active(chosen)
        text = given.get(name, item.default) if active else item.default
        read[name] = _read(item, text)
        read[name].active = active
    return read


def _read(item: Entry, text: Any) -> ReadEntry:
    if isinstance(text, Withheld):
        read = ReadEntry(item, "")
        read.refuse("withheld", text.message)
        return read
    read = ReadEntry(item, text)
    try:
        if item.form == "table":
            _read_table(read)
        elif not isinstance(text, str):
            read.refuse("not-text", "This entry is one value, not a table.")
        elif item.form == "choice":
            _read_choice(read)
        elif not text.strip() and item.optional:
            read.value = None
        else:
            _read_quantity(read)
    except EntryError as error:
        read.refuse(error.code, error.message)
    return read


def _read_choice(read: ReadEntry) -> None:
    if read.text not in read.entry.choices:
        raise EntryError(
            "no-such-choice", _no_such_choice(read.text, tuple(read.entry.choices.values()))
        )
    read.value = read.text


def _no_such_choice(text: str, choices: Sequence[str]) -> str:
    """All the choices where they are few; of many those that begin most like what was written."""
    if len(choices) <= MANY_CHOICES:
        return f"Choose one of: {', '.join(choices)}."
    written = _plainly(text)
    alike = {choice: _alike(written, _plainly(choice)) for choice in choices}
    most = max(alike.values())
    best = [choice for choice, length in alike.items() if length == most][:6]
    which = f"Nearest: {', '.join(best)}." if most else f"For example {best[0]}."
    return f"“{text}” is none of the {len(choices)} choices. {which}"


def _alike(one: str, other: str) -> int:
    """Characters that two texts begin with in common."""
    pairs = takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False))
    return sum(1 for _ in pairs)


def _plainly(text: str) -> str:
    """Without blanks, in small letters, with x for the sign of multiplication."""
    return "".join(text.lower().replace("×", "x").split())


def _read_quantity(read: ReadEntry) -> None:
    item = read.entry
    assert item.kind is not None
    entered = read_quantity(read.text, item.kind, item.unit)
    if entered.unit not in item.units:
        accepted = ", ".join(item.units)
        raise EntryError("unit-not-here", f"{entered.unit} is not used here; write {accepted}.")
    read.entered = entered
    own = magnitude_in(entered.quantity, item.unit, item.kind)
    _within_limits(item, own, entered)
    if item.form == "count":
        if entered.value != int(entered.value) or entered.toleranced:
            raise EntryError("not-whole", "Write a whole number.")
        read.value = int(entered.value)
        return
    read.value = _in_own_unit(entered.quantity, item)
    if entered.remark:
        read.findings.append(caution("read-as", f"{item.label}: {entered.remark}", item.name))
    _usual(read, own)
    _limits_of_tolerance(read, own)


def _in_own_unit(quantity: Quantity, item: Entry) -> Quantity:
    """The quantity in the entry's own unit (absolute temperatures stay in kelvin)."""
    if item.kind is not None and item.kind.difference:
        return quantity
    return as_quantity(magnitude_in(quantity, item.unit, item.kind), item.unit, item.kind)


@cache
def bound(limit: str | float, kind: Kind, unit: str) -> float:
    """A declared limit as a number in the entry's own unit."""
    if isinstance(limit, str):
        return magnitude_in(read_quantity(limit, kind, unit).quantity, unit, kind)
    return float(limit)


@cache
def bound_text(limit: str | float, kind: Kind, unit: str) -> str:
    """A declared limit as the reader sees it."""
    return with_unit(significant(bound(limit, kind, unit)), unit)


def _within_limits(item: Entry, own: float, entered: Entered) -> None:
    assert item.kind is not None
    reason = f" {item.why}" if item.why else ""
    slack = 1e-12 * abs(own)
    if item.above is not None and own <= bound(item.above, item.kind, item.unit):
        limit = bound_text(item.above, item.kind, item.unit)
        raise EntryError("too-small", f"Must be more than {limit}.{reason}")
    if item.least is not None and own < bound(item.least, item.kind, item.unit) - slack:
        limit = bound_text(item.least, item.kind, item.unit)
        raise EntryError("too-small", f"Must be at least {limit}.{reason}")
    if item.most is not None and own > bound(item.most, item.kind, item.unit) + slack:
        limit = bound_text(item.most, item.kind, item.unit)
        raise EntryError("too-large", f"Must be at most {limit}.{reason}")


def _usual(read: ReadEntry, own: float) -> None:
    item = read.entry
    if item.usual is None or item.kind is None:
        return
    low, high = (bound(limit, item.kind, item.unit) for limit in item.usual)
    if low <= own <= high:
        return
    low_text, high_text = (bound_text(limit, item.kind, item.unit) for limit in item.usual)
    reason = f" {item.usual_why}" if item.usual_why else " Check the figure and its unit."
    read.findings.append(
        caution("unusual", f"{item.label} is usually {low_text} to {high_text}.{reason}", item.name)
    )


def _limits_of_tolerance(read: ReadEntry, own: float) -> None:
    """Low and high limit in the entry's own unit, clipped to what the entry may be."""
    item, entered = read.entry, read.entered
    assert item.kind is not None
    assert entered is not None
    usual = "" if entered.limits_typed else item.usual_tolerance(read.value)
    if usual:
        entered = read_quantity(f"{read.text} ± {usual}", item.kind, item.unit)
        read.assumed = True
    if not entered.toleranced:
        return
    low, high = (magnitude_in(limit, item.unit, item.kind) for limit in (entered.low, entered.high))
    if item.deviation == "reading" and own:
        low, high = own / (1 + (high - own) / own), own / (1 - (own - low) / own)
    if item.least is not None:
        low = max(low, bound(item.least, item.kind, item.unit))
    if item.most is not None:
        high = min(high, bound(item.most, item.kind, item.unit))
    read.low = as_quantity(low, item.unit, item.kind)
    read.high = as_quantity(high, item.unit, item.kind)


def _read_table(read: ReadEntry) -> None:
    item = read.entry
    rows = _rows(read.text)
    read.text = rows
    filled = sum(any(cell.strip() for cell in row) for row in rows)
    if filled > item.most_rows:
        raise EntryError("too-many-rows", f"At most {item.most_rows} rows; there are {filled}.")
    values, errors = [], []
    for index, row in enumerate(rows):
        if not any(cell.strip() for cell in row):
            continue
        cells: dict[str, Any] = {}
        for place, cell_column in enumerate(item.columns):
            try:
                text = row[place] if place < len(row) else ""
                cells[cell_column.name] = _read_cell(cell_column, text)
            except EntryError as error:
                errors.append(CellError(index, cell_column.name, error.message))
        if len(row) > len(item.columns):
            errors.append(CellError(index, item.columns[-1].name, "One cell too many in this row."))
        values.append(SimpleNamespace(**cells))
    if errors:
        read.cells = tuple(errors)
        raise EntryError("bad-cell", _told(errors, item.columns))
    if len(values) < item.least_rows:
        raise EntryError("too-few-rows", f"At least {item.least_rows} rows are needed.")
    read.value = tuple(values)


def _told(errors: Sequence[CellError], columns: Sequence[Column]) -> str:
    """The first cells that cannot be read, each with its row and column, in one message."""
    labels = {part.name: part.label for part in columns}
    told = [f"Row {each.row + 1}, {labels[each.column]}: {each.message}" for each in errors]
    more = len(told) - CELLS_TOLD
    if more > 1:
        told[CELLS_TOLD:] = [f"{more} more cells cannot be read."]
    return " ".join(told)


def _rows(text: Any) -> list[list[str]]:
    """Rows of cells from a table's rows, or from text with a row a line or semicolon."""
    if isinstance(text, str):
        if len(text) > 40 * LONGEST:
            raise EntryError("too-long", "Too much text for a table.")
        lines = text.replace(";", "\n").splitlines()
        return [
            line.split("\t") if "\t" in line else line.split() for line in lines if line.strip()
        ]
    if not isinstance(text, (list, tuple)) or not all(
        isinstance(row, (list, tuple)) for row in text
    ):
        raise EntryError("not-rows", "A table is rows of cells.")
    if not all(isinstance(cell, str) for row in text for cell in row):
        raise EntryError("not-rows", "Each cell of a table is text.")
    return [list(row) for row in text]


def _read_cell(cell: Column, text: str) -> Any:
    if cell.kind is None:
        return text.strip()[:LONGEST]
    unit = cell.units[0] if cell.units else cell.kind.own
    entered = read_quantity(text, cell.kind, unit)
    own = magnitude_in(entered.quantity, unit, cell.kind)
    if cell.least is not None and own < bound(cell.least, cell.kind, unit):
        raise EntryError(
            "too-small", f"Must be at least {bound_text(cell.least, cell.kind, unit)}."
        )
    if cell.most is not None and own > bound(cell.most, cell.kind, unit):
        raise EntryError("too-large", f"Must be at most {bound_text(cell.most, cell.kind, unit)}.")
    if cell.kind.name == "count":
        if own != int(own):
            raise EntryError("not-whole", "Write a whole number.")
        return int(own)
    return as_quantity(own, unit, cell.kind) if not cell.kind.difference else entered.quantity


def describe(read: ReadEntry) -> dict[str, Any]:
    """The entry's part of an outcome, as plain JSON."""
    item = read.entry
    part: dict[str, Any] = {
        "text": read.text
        if isinstance(read.text, (str, list))
        else [list(row) for row in read.text],
        "active": read.active,
        "error": None,
    }
    if read.code:
        part["error"] = {"code": read.code, "message": read.message}
        if read.cells:
            part["error"]["cells"] = [vars(cell) for cell in read.cells]
        return part
    if item.form == "choice":
        return part | {"display": item.choices[read.value]}
    if item.form == "count" and read.value is not None:
        return part | {"display": str(read.value), "value": read.value, "unit": ""}
    if read.entered is None or item.kind is None:
        return part
    unit = read.entered.unit
    display = with_unit(significant(read.entered.value), unit)
    part |= {
        "value": magnitude_in(read.entered.quantity, item.unit, item.kind),
        "unit": item.unit,
        "typed_unit": unit,
        "display": display,
        "as_units": in_every_unit(read.entered.quantity, item.kind, item.units),
    }
    if read.toleranced:
        part |= {
            "low": magnitude_in(read.low, item.unit, item.kind),
            "high": magnitude_in(read.high, item.unit, item.kind),
            "display": f"{display} ({_limits_text(read, unit)})",
            "tolerance_assumed": read.assumed,
        }
    return part


def _limits_text(read: ReadEntry, unit: str) -> str:
    """The limits of a toleranced entry in the unit it was typed in: "460.8 … 499.2".

    They are shown to a hundredth of what lies between them, with four to six figures.
    """
    kind = read.entry.kind or KINDS["number"]
    ends = [magnitude_in(limit, unit, kind) for limit in (read.low, read.high)]
    last = exact(ends[1] - ends[0]).adjusted() - 2
    return " … ".join(
        significant(end, min(6, max(4, exact(end).adjusted() - last + 1))) for end in ends
    )
