"""How a value of the data book is written on a page, in both unit systems.

In its own system a value keeps the digits its author gave it (``0.10 mm`` stays two
decimals: the zero says how closely it was meant). In the other system it is converted and
rounded to a decimal place about as fine as the author's last digit, with two figures at least.
"""

from __future__ import annotations

import math
import re
from functools import cache

from witnessmark.calc.display import Rounding, round_number, unit_for, with_unit
from witnessmark.calc.quantity_text import EntryError, read_number, read_quantity
from witnessmark.calc.units import KINDS, UNITS, Kind, as_quantity, magnitude_in
from witnessmark.databook.book import Value

PLUS_MINUS, RANGE = " ± ", " … "
COARSER = 1.38
"""How much coarser than the author's last digit a converted last digit may be: 480 N·m is
354 lbf·ft although 1 lbf·ft is 1.36 N·m."""

_TOLERANCE = re.compile(r"±|\+/-|\+-")
_DEVIATION = re.compile(r"\+\s*([\d.,]+)\s*/?\s*[-−–]?\s*([\d.,]+)")


def show_value(value: Value, system: str = "si") -> str:
    """The value as the reader sees it in a unit system ("si" or "us"); texts stay as they are."""
    if not value.is_quantity:
        return value.text
    return show_text(value.text, KINDS[value.kind], system)


@cache
def show_text(text: str, kind: Kind, system: str = "si") -> str:
    """A quantity text of ``kind`` in a unit system. Raises EntryError when it is none."""
    entered = read_quantity(text, kind)
    written = entered.unit
    unit = _shown_in(kind, written, system)
    difference = KINDS[kind.difference] if kind.difference else kind
    tidy = " ".join(text.replace("−", "-").split())
    head, rest = _head(tidy)
    low, high = (magnitude_in(end, written, kind) for end in (entered.low, entered.high))
    tolerance = _TOLERANCE.split(rest, maxsplit=1)
    deviation = _DEVIATION.search(rest)
    if "…" in rest or ".." in rest:
        last = re.split(r"…|\.{2,}", rest, maxsplit=1)[1]
        place = min(_last_place(head), _last_place(last))
        ends = (
            _number(low, head, kind, written, unit, place),
            _number(high, last, kind, written, unit, place),
        )
        return with_unit(RANGE.join(ends), unit)
    if len(tolerance) == 2:
        width, spelling = read_number(tolerance[1].strip())
        if spelling.strip() == "%" and kind.name != "fraction":
            nominal = _number(entered.value, head, kind, written, unit, _last_place(head))
            return with_unit(nominal, unit) + PLUS_MINUS + with_unit(_digits(tolerance[1]), "%")
        place = min(_last_place(head), _last_place(tolerance[1]))
        nominal = _number(entered.value, head, kind, written, unit, place)
        width = high - entered.value
        spread = _number(width, tolerance[1], difference, written, unit, place)
        return with_unit(nominal + PLUS_MINUS + spread, unit)
    if deviation:
        place = min(map(_last_place, (head, deviation[1], deviation[2])))
        nominal = _number(entered.value, head, kind, written, unit, place)
        up = _number(high - entered.value, deviation[1], difference, written, unit, place)
        down = _number(entered.value - low, deviation[2], difference, written, unit, place)
        return with_unit(f"{nominal} +{up} / −{down}", unit)
    return with_unit(_number(entered.value, head, kind, written, unit, _last_place(head)), unit)


def _head(tidy: str) -> tuple[str, str]:
    """The number at the head of a text as it was written, and what follows it."""
    try:
        _, rest = read_number(tidy)
    except EntryError:  # a sign such as ½, which only a whole quantity text may hold
        return "0.000", tidy
    return tidy.removesuffix(rest).strip(), rest


def _shown_in(kind: Kind, written: str, system: str) -> str:
    """The unit of display: the author's own where it belongs to the system asked for."""
    if system == "us":
        other = unit_for(kind, "us", written)
        return other if UNITS[other].us else written
    return kind.own if UNITS[written].us else written


def _number(number: float, source: str, kind: Kind, written: str, unit: str, finest: int) -> str:
    """``number`` (in ``written``) as text in ``unit``.

    ``source`` shows the author's digits, ``finest`` is the place of the last digit of all
    parts of the value, so that a converted nominal is as fine as its tolerance.
    """
    if unit == written:
        if "/" in source:
            return source.strip()
        return round_number(number, Rounding(decimals=max(0, -_last_place(source))))
    value = magnitude_in(as_quantity(number, written, kind), unit, kind)
    own = KINDS[kind.difference] if kind.difference else kind
    factor = abs(magnitude_in(as_quantity(1.0, written, own), unit, own))
    place = math.floor(math.log10(COARSER * factor) + finest)
    if value:
        place = min(place, math.floor(math.log10(abs(value)) + 1e-12) - 1)
    if place <= 0:
        return round_number(value, Rounding(decimals=-place))
    step = 10**place
    return round_number(round(value / step) * step, Rounding(decimals=0))


def _last_place(source: str) -> int:
    """The decimal place of the last digit that the author wrote: -2 for 0.10."""
    if "/" in source:
        return -3
    match = re.search(r"\d[.,](\d+)", source)
    return -len(match[1]) if match else 0


def _digits(tolerance: str) -> str:
    match = re.search(r"\d+(?:[.,]\d+)?", tolerance)
    return match[0].replace(",", ".") if match else ""
