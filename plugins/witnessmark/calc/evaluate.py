"""The one way from typed entries to results.

The build calls ``evaluate`` to print default results into a page, the browser's worker
calls it for every entry, the command line and every test go through it. There is no second
path, so nothing can disagree.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from types import SimpleNamespace
from typing import Any

from witnessmark.calc.as_entered import AsEntered, entered
from witnessmark.calc.calculator import Calculator, RefusedError
from witnessmark.calc.declaration import Column, Result
from witnessmark.calc.display import (
    Rounding,
    Toward,
    round_number,
    show_quantity,
    unit_for,
    unit_system,
    with_unit,
)
from witnessmark.calc.entries import Given, ReadEntry, describe, read_entries
from witnessmark.calc.findings import Finding, caution, in_order
from witnessmark.calc.tolerance import Band, Numbers, Point, bands
from witnessmark.calc.tools import ToolRecord, findings_of_tools, given_by_tools
from witnessmark.calc.units import Quantity, as_quantity, fits, magnitude_in

SYSTEMS = ("si", "us")
INDEPENDENT = "entries vary independently, each within its limits"
WIDE = 0.1
"""Below this share of the larger end, the smaller end of a band is rounded by itself."""

Outcome = dict[str, Any]


class CalculatorFailedError(RuntimeError):
    """A calculator raised, or returned what its declaration does not allow: a defect in it."""


def evaluate(
    calculator: Calculator[..., Any],
    entries: Given,
    units: str = "si",
    *,
    drawings: bool = True,
    tools: Mapping[str, ToolRecord] | None = None,
    today: str = "",
) -> Outcome:
    """Results, findings and drawings for what was typed, as plain JSON.

    ``entries`` maps names to text (rows of text for a table); those left out take their
    defaults. ``units`` is "si" or "us". ``drawings=False`` leaves the drawings out, for those
    who only want figures. ``tools`` are the tools chosen, by their place; the entries they settle
    are told with the tool's title. ``today`` (year-month-day) is the day by which certificates
    are judged; nothing here looks at a clock. A bad entry is told in its own part of the outcome
    and leaves the results empty. Raises KeyError for an unknown entry or unit system and
    CalculatorFailedError when the calculator itself is at fault.
    """
    if units not in SYSTEMS:
        raise KeyError(f"unit system {units!r}; there are: {', '.join(SYSTEMS)}")
    with unit_system(units):
        given = given_by_tools(calculator.tools.values(), tools or {})
        outcome = _evaluate(
            calculator,
            {**entries, **{name: each.text for name, each in given.items()}},
            units,
            drawings,
            findings_of_tools((tools or {}).values(), today),
        )
    for name, each in given.items():
        own = entries.get(name, calculator.entries[name].default)
        outcome["entries"][name]["tool"] = {"title": each.title, "instead_of": own}
    return outcome


def _evaluate(
    calculator: Calculator[..., Any],
    entries: Given,
    units: str,
    drawings: bool,
    found: list[Finding],
) -> Outcome:
    read = read_entries(calculator.entries, entries)
    with entered({name: _standing(part) for name, part in read.items()}):
        return _outcome(calculator, read, units, drawings, found)


def _standing(part: ReadEntry) -> AsEntered:
    """The entry for ``as_entered``."""
    if part.toleranced:
        return AsEntered(part.low, part.value, part.high)
    return AsEntered(part.value, part.value, part.value)


def _outcome(
    calculator: Calculator[..., Any],
    read: dict[str, ReadEntry],
    units: str,
    drawings: bool,
    found: list[Finding],
) -> Outcome:
    outcome: Outcome = {"calculator": calculator.name, "units": units, "complete": False}
    results: Any = None
    if not any(part.code for part in read.values()):
        results = _run(calculator, read)
    outcome["entries"] = {name: describe(part) for name, part in read.items()}
    if results is None:
        return outcome | {"results": [], "findings": [], "drawings": []}
    outcome["complete"] = True
    banded, troubles = _bands(calculator, read, results)
    outcome["results"] = [
        _describe_result(item, getattr(results, name), units, banded.get(name), calculator)
        for name, item in calculator.results.items()
        if getattr(results, name) is not None
    ]
    found = [
        *found,
        *(finding for part in read.values() if part.active for finding in part.findings),
        *getattr(results, "findings", ()),
        *troubles,
    ]
    outcome["findings"] = [vars(finding) for finding in in_order(found)]
    outcome["drawings"] = _drawings(calculator, read, results) if drawings else []
    return outcome


def _run(calculator: Calculator[..., Any], read: dict[str, ReadEntry]) -> Any:
    """The calculator's results, or None when it refused an entry (which is then marked)."""
    values = {name: part.value for name, part in read.items()}
    try:
        results = calculator(**values)
    except RefusedError as refused:
        read[refused.entry].refuse("contradiction", refused.message)
        return None
    except Exception as error:
        raise CalculatorFailedError(
            f"{calculator.name}: {type(error).__name__}: {error}"
        ) from error
    for name, item in calculator.results.items():
        _check_result(calculator.name, item, getattr(results, name))
    return results


def _check_result(name: str, item: Result, value: Any) -> None:
    if value is None or item.form in ("text", "table", "count") or item.kind is None:
        return
    place = f"{name}: result {item.name!r}"
    if not fits(value, item.kind):
        raise CalculatorFailedError(f"{place} is {value}, which is no {item.kind.label}")
    if not math.isfinite(magnitude_in(value, item.kind.own, item.kind)):
        raise CalculatorFailedError(f"{place} is not a finite number")


def _axes(read: dict[str, ReadEntry]) -> list[list[str]]:
    """The toleranced entries; those declared to vary together share an axis."""
    groups: dict[str, list[str]] = {}
    for name, part in read.items():
        if part.toleranced:
            groups.setdefault(part.entry.varies_with or f"={name}", []).append(name)
    return list(groups.values())


def _at_point(part: ReadEntry, place: float) -> Quantity:
    """The value of a toleranced entry at a place between its limits (-1 low, +1 high)."""
    if place == 0:
        return part.value
    end = part.high if place > 0 else part.low
    return part.value + (end - part.value) * abs(place)


def _bands(
    calculator: Calculator[..., Any], read: dict[str, ReadEntry], nominal: Any
) -> tuple[dict[str, dict[str, Any]], list[Finding]]:
    """The band of every result, and a finding when none can be given. ``nominal`` are the
    results of the entries as they stand."""
    axes = _axes(read)
    wanted = [item for item in calculator.results.values() if item.form == "quantity" and item.band]
    if not axes or not wanted:
        return {}, []
    plain = {name: part.value for name, part in read.items()}
    ends = {
        (name, place): _at_point(read[name], place)
        for names in axes
        for name in names
        for place in (-1.0, 0.0, 1.0)
    }

    def solve(point: Point) -> Numbers | None:
        if not any(point):
            return _numbers(wanted, nominal)
        moved = dict(plain)
        for names, place in zip(axes, point, strict=True):
            for name in names:
                end = ends.get((name, place))
                moved[name] = _at_point(read[name], place) if end is None else end
        try:
            results = calculator.function(**moved)
        except RefusedError:
            return None
        return _numbers(wanted, results)

    try:
        found = bands(len(axes), solve)
    except Exception as error:
        raise CalculatorFailedError(
            f"{calculator.name}: {type(error).__name__}: {error}"
        ) from error
    if found is None:
        return {}, [
            caution(
                "no-band",
                "Within the tolerances some entries contradict each other, so no band is given.",
            )
        ]
    moving = {name: band for name, band in found.items() if not _is_still(band)}
    return {name: {"band": band, "axes": axes} for name, band in moving.items()}, []


def _numbers(wanted: Iterable[Result], results: Any) -> Numbers:
    """The results that have a band, each in its kind's own unit."""
    numbers = {}
    for item in wanted:
        value = getattr(results, item.name)
        if value is not None and item.kind is not None:
            numbers[item.name] = magnitude_in(value, item.kind.own, item.kind)
    return numbers


def _is_still(band: Band) -> bool:
    """Whether no toleranced entry moves the result: then it has no band to show."""
    return band.high - band.low <= 1e-9 * max(abs(band.low), abs(band.high))


def _describe_result(
    item: Result, value: Any, units: str, banded: dict[str, Any] | None, owner: Calculator[..., Any]
) -> Outcome:
    part: Outcome = {
        "name": item.name, "label": item.label, "lead": item.lead, "seldom": item.seldom,
        "kind": item.form,
    }  # fmt: skip
    if item.form == "text":
        return part | {"text": str(value), "display": str(value), "band": None}
    if item.form == "table":
        return part | _describe_table(item.columns, value, units) | {"band": None}
    if item.form == "count":
        return part | {
            "value": int(value), "unit": "", "number": str(int(value)), "unit_text": "",
            "display": str(int(value)), "band": None,
        }  # fmt: skip
    assert item.kind is not None
    number, unit = show_quantity(value, item.kind, item.rounding, units, item.unit, item.us_unit)
    return part | {
        "kind": item.kind.name,
        "value": magnitude_in(value, item.unit or item.kind.own, item.kind),
        "unit": item.unit or item.kind.own,
        "number": number,
        "unit_text": unit,
        "display": with_unit(number, unit),
        "band": _describe_band(item, banded, units, owner) if banded else None,
    }


def _describe_band(
    item: Result, banded: dict[str, Any], units: str, owner: Calculator[..., Any]
) -> Outcome:
    band: Band = banded["band"]
    kind = item.kind
    assert kind is not None

    def limits(low: float, high: float) -> Outcome:
        shown = unit_for(kind, units, item.unit, item.us_unit)
        ends = []
        for number, toward in ((low, "down"), (high, "up")):
            in_unit = _shown_number(number, shown, item)
            ends.append(round_number(in_unit, _one_step(item, band, shown), units, _toward(toward)))
        own = item.unit or kind.own
        return {
            "low": _shown_number(low, own, item),
            "high": _shown_number(high, own, item),
            "display": with_unit(f"{ends[0]} … {ends[1]}", shown),
        }

    drivers = [
        {
            "entry": names[0],
            "label": " and ".join(owner.entries[name].label for name in names),
            "share": share,
            "share_text": f"{round_number(100 * share, Rounding(decimals=0))}\u202f%",
        }
        for names, share in zip(banded["axes"], band.shares, strict=True)
    ]
    drivers.sort(key=lambda driver: -round(driver["share"], 9))
    return {
        "worst": limits(band.low, band.high),
        "rss": limits(band.rss_low, band.rss_high) | {"assumption": INDEPENDENT},
        "searched": band.searched,
        "drivers": drivers,
    }


def _shown_number(number: float, unit: str, item: Result) -> float:
    """A number in the kind's own unit, in another unit."""
    assert item.kind is not None
    if unit == item.kind.own:
        return number
    return magnitude_in(as_quantity(number, item.kind.own, item.kind), unit, item.kind)


def _one_step(item: Result, band: Band, unit: str) -> Rounding:
    """Both ends of a band are rounded to one step, that of the larger end; in a band so wide
    that the smaller end would vanish, each by its own figures."""
    rounding = item.rounding
    if rounding.step or rounding.decimals is not None:
        return rounding
    ends = [abs(_shown_number(end, unit, item)) for end in (band.low, band.high)]
    largest = max(ends)
    if largest == 0 or min(ends) < WIDE * largest:
        return rounding
    places = (rounding.figures or 3) - 1 - math.floor(math.log10(largest) + 1e-12)
    return Rounding(decimals=places, us_decimals=places)


def _toward(word: str) -> Toward:
    return "down" if word == "down" else "up"


def _describe_table(columns: tuple[Column, ...], rows: Any, units: str) -> Outcome:
    heads = []
    for part in columns:
        unit = unit_for(part.kind, units, part.unit) if part.kind else ""
        heads.append({"label": part.label, "unit": unit})
    return {
        "columns": heads,
        "rows": [
            [_cell(part, cell, units) for part, cell in zip(columns, row, strict=True)]
            for row in rows
        ],
    }


def _cell(part: Column, cell: Any, units: str) -> str:
    if part.kind is None or isinstance(cell, (str, int)):
        return str(cell)
    number, _ = show_quantity(cell, part.kind, part.rounding, units, part.unit)
    return number


def _drawings(
    calculator: Calculator[..., Any], read: dict[str, ReadEntry], results: Any
) -> list[Outcome]:
    values = SimpleNamespace(**{name: part.value for name, part in read.items()})
    drawn: list[Outcome] = []
    for title, draw in calculator.drawings:
        try:
            drawing = draw(values, results)
        except Exception as error:
            raise CalculatorFailedError(
                f"{calculator.name}: drawing {title!r}: {type(error).__name__}: {error}"
            ) from error
        if drawing is not None:
            drawn.append(
                {
                    "name": f"{calculator.name}-{len(drawn) + 1}",
                    "title": title,
                    "svg": drawing.svg(),
                }
            )
    return drawn
