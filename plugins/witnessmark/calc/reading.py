"""A reading judged against its limits: in, near, or out.

A reading is what a fitter measured and wrote down in a step. It is read as an entry of a
calculator is, in any unit of its kind, and judged against the accept limits of the page, each
repeat by itself. Nothing of this is a calculator: there is no formula, only a comparison.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from witnessmark.calc.declaration import Entry
from witnessmark.calc.display import (
    Rounding,
    exact,
    plain,
    round_number,
    significant,
    unit_for,
    with_unit,
)
from witnessmark.calc.entries import read_entries
from witnessmark.calc.quantity_text import read_quantity
from witnessmark.calc.units import KINDS, Kind, as_quantity, magnitude_in

Verdict = Literal["in", "near", "out"]
Outcome = dict[str, Any]

NEAR = 0.1
"""A reading is near a limit when less than this share of the width between the limits is left
to it; with one limit only, of the limit itself."""


@dataclass(frozen=True)
class Limits:
    """Accept limits in the unit ``unit`` of ``kind``; None where there is none on that side."""

    kind: Kind
    unit: str
    low: float | None = None
    high: float | None = None
    near: float = NEAR

    @property
    def margin(self) -> Decimal:
        """How close to a limit is near, in ``unit``."""
        if self.low is not None and self.high is not None:
            return exact(self.near * (self.high - self.low))
        one = self.high if self.high is not None else self.low
        return exact(self.near * abs(one or 0.0))


def limits_of(
    kind: str, unit: str, *, band: str = "", most: str = "", least: str = "", near: float = NEAR
) -> Limits:
    """The limits from their texts: ``band`` such as ``2.0 ± 0.2 mm``, or ``most``, ``least``.

    Raises KeyError for an unknown kind and EntryError for a text that cannot be read.
    """
    found = KINDS[kind]

    def end(text: str, side: Literal["low", "high"]) -> float | None:
        if not text:
            return None
        return magnitude_in(getattr(read_quantity(text, found, unit), side), unit, found)

    return Limits(found, unit, end(band or least, "low"), end(band or most, "high"), near)


def judge(name: str, limits: Limits, texts: Sequence[str], units: str = "si") -> Outcome:
    """What became of the readings ``texts`` (empty ones are still to come), as plain JSON.

    ``readings`` has for each text its value, an error or a verdict with words; ``verdict``
    is the worst of them, empty as long as none has been read.
    """
    kind, unit = limits.kind, limits.unit
    entry = Entry(name, name, "quantity", kind, _units(kind, unit), "", optional=True)
    parts: list[Outcome] = []
    values: list[float] = []
    for text in texts:
        read = read_entries({name: entry}, {name: text})[name]
        part: Outcome = {"text": text, "error": None, "verdict": "", "said": ""}
        if read.code:
            part["error"] = {"code": read.code, "message": read.message}
        elif read.entered is not None:
            value = magnitude_in(read.entered.quantity, unit, kind)
            values.append(value)
            verdict, said = _verdict(value, limits, units)
            part |= {"value": value, "unit": unit, "verdict": verdict, "said": said}
        parts.append(part)
    worst = max(
        (part["verdict"] for part in parts), key=("", "in", "near", "out").index, default=""
    )
    return {
        "reading": name,
        "units": units,
        "complete": all(part["verdict"] for part in parts),
        "readings": parts,
        "verdict": worst,
        "limits": limits_text(limits, units),
        "spread": _spread(values, limits, units) if len(values) > 1 else "",
        "given": given(parts, unit),
    }


def given(parts: Sequence[Outcome], unit: str) -> Outcome:
    """What a calculator is given of readings, as text that would be typed: each of them, and
    once all are there and readable, their mean. Their spread is told beside them; how far a
    reading can be trusted is an entry of the calculators that care."""
    each = [f"{significant(part['value'], 9)} {unit}" if part["verdict"] else "" for part in parts]
    values = [part["value"] for part in parts if part["verdict"]]
    if not values or len(values) < len(parts):
        return {"each": each, "mean": ""}
    return {"each": each, "mean": f"{significant(math.fsum(values) / len(values), 9)} {unit}"}


def judge_request(asked: Mapping[str, Any]) -> Outcome:
    """``judge`` for the worker and the record.

    ``asked`` is {"reading": name, "kind", "unit", "texts": [...], "units"} with "band", "most"
    or "least" for the limits and "near" where the page sets one.
    """
    limits = limits_of(
        asked["kind"],
        asked["unit"],
        band=asked.get("band", ""),
        most=asked.get("most", ""),
        least=asked.get("least", ""),
        near=float(asked.get("near", NEAR)),
    )
    return judge(asked["reading"], limits, asked["texts"], asked.get("units", "si"))


def limits_text(limits: Limits, units: str = "si") -> str:
    """The limits as they are said: ``1.8 … 2.2 mm``, ``at most 0.10 mm``; empty for none.

    Limits are rounded inwards, so that what is shown as accepted is accepted.
    """
    shown = _shown_unit(limits, units)
    low = None if limits.low is None else _number(limits.low, limits, units, "up")
    high = None if limits.high is None else _number(limits.high, limits, units, "down")
    if low is not None and high is not None:
        return with_unit(f"{low} … {high}", shown)
    if high is not None:
        return f"at most {with_unit(high, shown)}"
    return f"at least {with_unit(low, shown)}" if low is not None else ""


def _units(kind: Kind, unit: str) -> tuple[str, ...]:
    """The units that are accepted, the reading's own first."""
    return (unit, *(each for each in kind.units if each != unit))


def _verdict(value: float, limits: Limits, units: str) -> tuple[Verdict, str]:
    if limits.low is None and limits.high is None:
        return "in", "Written down; the page sets no limit."
    is_at = exact(value)
    room = []
    for end, name in ((limits.low, "lower"), (limits.high, "upper")):
        if end is None:
            continue
        left = is_at - exact(end) if name == "lower" else exact(end) - is_at
        if left < 0:
            word = "under" if name == "lower" else "over"
            return "out", f"Out: {_width(-left, limits, units)} {word} the limit."
        room.append((left, name))
    left, name = min(room)
    if left < limits.margin:
        limit = f"the {name} limit" if len(room) == 2 else "the limit"
        if left == 0:
            return "near", f"In, but just at {limit}."
        return "near", f"In, but near {limit}: {_width(left, limits, units)} left."
    return "in", f"In: {_width(left, limits, units)} left to the {name} limit."


def _spread(values: Sequence[float], limits: Limits, units: str) -> str:
    return _width(exact(max(values)) - exact(min(values)), limits, units)


def _shown_unit(limits: Limits, units: str) -> str:
    return unit_for(limits.kind, units, limits.unit)


def _number(value: float, limits: Limits, units: str, toward: Literal["up", "down"]) -> str:
    """A limit: in its own unit with the digits it has, elsewhere rounded inwards."""
    shown = _shown_unit(limits, units)
    if shown == limits.unit:
        return plain(exact(value))
    moved = magnitude_in(as_quantity(value, limits.unit, limits.kind), shown, limits.kind)
    return round_number(moved, Rounding(figures=4), toward=toward)


def _width(width: Decimal, limits: Limits, units: str) -> str:
    """A difference between two values, to two figures."""
    kind = KINDS[limits.kind.difference] if limits.kind.difference else limits.kind
    shown = _shown_unit(limits, units)
    value = magnitude_in(as_quantity(float(width), limits.unit, kind), shown, kind)
    return with_unit(round_number(value, Rounding(figures=2)), shown)
