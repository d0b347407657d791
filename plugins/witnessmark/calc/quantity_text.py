"""Reading what a person typed: ``420 N·m``, ``310 ft-lb``, ``1 7/16 in``, ``480 N·m ± 4 %``.

Nothing is ever evaluated as code. A number is digits with one decimal mark, a common
fraction, or both (``1 7/16``); a tolerance may follow (``± 4 %``, ``+0.1/-0.2 mm``), or a
range may stand instead (``0.10 … 0.16``). Whatever does not fit is refused with a message
that says what would be right; whatever is doubtful (``1,200``) is refused too, because a
wrong guess at a bench costs more than a second try.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from witnessmark.calc.units import (
    KINDS,
    UNITS,
    Kind,
    Quantity,
    as_quantity,
    kinds_with_unit,
    magnitude_in,
    read_unit,
    squeeze,
)

LONGEST = 80
"""An entry longer than this many characters is no quantity."""

_LARGEST = 1e15

_DIGITS = r"(?:\d{1,3}(?:[ \u00a0\u202f]\d{3})+|\d+)"
_DECIMAL = rf"(?:{_DIGITS}(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{{1,4}})?"
_FRACTION = r"(?:\d+[ \-])?\d+/\d+"
_NUMBER = rf"[+-]?(?:{_FRACTION}|{_DECIMAL})"
_NUMBER_AT = re.compile(_NUMBER, re.ASCII)
_AMBIGUOUS = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+", re.ASCII)
_SUM = re.compile(r"^[\d.,\s]+(\*\*|[*^()])", re.ASCII)

_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip


class EntryError(ValueError):
    """An entry that cannot be read or is refused. ``code`` is stable, the message is for people."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code
        self.message = message


@dataclass(frozen=True)
class Entered:
    """A quantity as it was read.

    ``value`` is the number in ``unit`` (the unit it was typed in). ``low`` and ``high`` are
    the limits of its tolerance, equal to ``quantity`` when it has none. ``remark`` says how
    a doubtful spelling was understood.
    """

    text: str
    value: float
    unit: str
    quantity: Quantity
    low: Quantity
    high: Quantity
    remark: str = ""
    limits_typed: bool = False
    """Whether limits were typed, be they zero: ``± 0`` says that the value is exact."""

    @property
    def toleranced(self) -> bool:
        """Whether the limits differ from the value."""
        return bool(self.low < self.high)


def _tidy(text: str) -> str:
    """One spelling for marks that keyboards and spreadsheets vary."""
    for mark, plain in _VULGAR.items():
        text = text.replace(mark, f" {plain}")
    for minus in "−–—‐‑":
        text = text.replace(minus, "-")
    text = re.sub(r"\.{2,}", " … ", text.replace("⁄", "/"))
    return " ".join(text.split())


def read_number(text: str) -> tuple[float, str]:
    """The number at the head of ``text`` and what follows it.

    Raises EntryError when there is none, when it is ambiguous or out of all measure.
    """
    match = _NUMBER_AT.match(text)
    if match is None:
        raise EntryError("no-number", "Write a number first, for example 420 or 0.12.")
    token, rest = match.group(), text[match.end() :]
    bare = token.lstrip("+-")
    if _AMBIGUOUS.fullmatch(bare):
        plain = bare.replace(",", "")
        raise EntryError(
            "ambiguous-comma",
            f"{bare} can mean {plain} or {bare.replace(',', '.', 1)}: write one of these.",
        )
    if rest[:1] in {".", ","}:
        raise EntryError("two-marks", "Write the number with one decimal mark only.")
    if rest[:1].isdigit() or rest[:1] == "/":
        raise EntryError("odd-number", "Write one number, for example 420, 0.12 or 1 7/16.")
    value = (
        _fraction(bare)
        if "/" in bare
        else float(re.sub(r"[ \u00a0\u202f]", "", bare.replace(",", ".")))
    )
    if token.startswith("-"):
        value = -value
    if not math.isfinite(value) or abs(value) > _LARGEST:
        raise EntryError("absurd", "That number is out of all measure; check the digits.")
    return value, rest.strip()


def _fraction(text: str) -> float:
    whole, _, part = text.replace("-", " ").rpartition(" ")
    above, below = part.split("/")
    if len(text) > 20 or int(below) == 0:
        raise EntryError(
            "odd-fraction", "Write the fraction with a number other than 0 below the line."
        )
    return (int(whole) if whole else 0) + int(above) / int(below)


def _unit_of(kind: Kind, spelling: str, own: str) -> tuple[str, str]:
    """The unit that ``spelling`` means and a remark when the spelling is a loose one."""
    if not spelling:
        return own, ""
    found = read_unit(kind, spelling)
    if found is None:
        raise EntryError("unknown-unit", _unit_message(kind, spelling))
    unit, loose = found
    if loose:
        return unit, f"“{spelling}” is read as {unit}."
    return unit, ""


def _unit_message(kind: Kind, spelling: str) -> str:
    shown = spelling if len(spelling) <= 20 else spelling[:20] + "…"
    accepted = ", ".join(unit for unit in kind.units if unit) or "no unit"
    others = [other for other in kinds_with_unit(spelling) if other.name != kind.name]
    if others:
        return (
            f"{shown} is a unit of {others[0].label}; a {kind.label} is wanted here, in {accepted}."
        )
    return f"{shown} is not a unit of {kind.label} known here; write {accepted}."


@lru_cache(maxsize=1024)
def read_quantity(text: str, kind: Kind, own: str | None = None) -> Entered:
    """Read ``text`` as a quantity of ``kind``; a bare number is in the unit ``own``.

    Accepts a tolerance (``± 4 %``, ``± 0.5 mm``, ``+0.1/-0.2 mm``) and a range
    (``0.10 … 0.16``, nominal in the middle). Raises EntryError otherwise.
    """
    own = kind.own if own is None else own
    if len(text) > LONGEST:
        raise EntryError("too-long", f"Too long: an entry has at most {LONGEST} characters.")
    if any(mark.isdigit() and not mark.isascii() and mark not in "²³" for mark in text):
        raise EntryError("other-digits", "Write the number with the digits 0 to 9.")
    tidy = _tidy(text)
    if not tidy:
        raise EntryError("empty", "Nothing is entered; write a number.")
    if _SUM.match(tidy):
        raise EntryError("sum", "Write one number; sums and powers are not worked out here.")
    first, rest = read_number(tidy)
    if "…" in rest:
        return _range(text, first, rest, kind, own)
    for mark in ("±", "+/-", "+-"):
        if mark in rest:
            spelling, _, tolerance = rest.partition(mark)
            return _plus_minus(text, first, spelling.strip(), tolerance.strip(), kind, own)
    if re.search(r"\+\s*[\d.,]", rest):
        return _deviations(text, first, rest, kind, own)
    unit, remark = _unit_of(kind, rest, own)
    if "/" in tidy and not rest and kind.name == "length" and not UNITS[unit].us:
        remark = f"“{tidy}” has no unit and is read in {unit}; write “{tidy} in” for inches."
    quantity = as_quantity(first, unit, kind)
    return Entered(text, first, unit, quantity, quantity, quantity, remark=remark)


def _range(text: str, first: float, rest: str, kind: Kind, own: str) -> Entered:
    first_unit, _, second = rest.partition("…")
    last, last_unit = read_number(second.strip())
    unit, remark = _unit_of(kind, last_unit or first_unit.strip(), own)
    if first_unit.strip() and _unit_of(kind, first_unit.strip(), own)[0] != unit:
        raise EntryError("two-units", "Write both ends of the range in one unit.")
    if first > last:
        raise EntryError("range-order", "Write the smaller end of the range first.")
    middle = (first + last) / 2
    low, high = as_quantity(first, unit, kind), as_quantity(last, unit, kind)
    return Entered(text, middle, unit, as_quantity(middle, unit, kind), low, high, remark, True)


def _plus_minus(
    text: str, value: float, spelling: str, tolerance: str, kind: Kind, own: str
) -> Entered:
    width, tolerance_unit = read_number(tolerance)
    if width < 0:
        raise EntryError("negative-tolerance", "Write the tolerance after ± without a sign.")
    relative = squeeze(tolerance_unit) == "%" and (kind.name != "fraction" or "%" not in spelling)
    if relative:
        if kind.difference:
            raise EntryError(
                "percent-of-temperature", f"Write the tolerance of a {kind.label} in K."
            )
        unit, remark = _unit_of(kind, spelling, own)
        return _with_limits(text, value, unit, abs(value) * width / 100, kind, remark)
    # "480 ± 20 N·m" gives the unit once, behind the tolerance.
    unit, remark = _unit_of(kind, spelling or ("" if kind.difference else tolerance_unit), own)
    return _with_limits(text, value, unit, _width(width, tolerance_unit, kind, unit), kind, remark)


def _width(width: float, spelling: str, kind: Kind, unit: str) -> float:
    """A tolerance's number in ``unit``, whatever unit it was written in."""
    difference = KINDS[kind.difference] if kind.difference else kind
    written, _ = _unit_of(difference, spelling, unit)
    return magnitude_in(as_quantity(width, written, difference), unit, difference)


def _deviations(text: str, value: float, rest: str, kind: Kind, own: str) -> Entered:
    """Upper and lower deviation apart: ``75 mm +0.1/-0.2`` (unit before or behind)."""
    match = re.fullmatch(
        r"(?P<unit>[^+]*?)\s*\+\s*(?P<up>[\d.,]+)\s*/?\s*-?\s*(?P<down>[\d.,]+)\s*(?P<after>.*)",
        rest,
    )
    if match is None:
        raise EntryError("odd-tolerance", "Write deviations as in 75 mm +0.1/-0.2.")
    unit, remark = _unit_of(kind, match["unit"] or match["after"], own)
    up, _ = read_number(match["up"])
    down, _ = read_number(match["down"])
    written = match["after"] or unit
    up, down = _width(up, written, kind, unit), _width(down, written, kind, unit)
    return Entered(
        text,
        value,
        unit,
        as_quantity(value, unit, kind),
        as_quantity(value - down, unit, kind),
        as_quantity(value + up, unit, kind),
        remark,
        True,
    )


def _with_limits(
    text: str, value: float, unit: str, width: float, kind: Kind, remark: str
) -> Entered:
    return Entered(
        text,
        value,
        unit,
        as_quantity(value, unit, kind),
        as_quantity(value - width, unit, kind),
        as_quantity(value + width, unit, kind),
        remark,
        True,
    )
