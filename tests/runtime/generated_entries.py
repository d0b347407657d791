"""Entries as a fitter might type them, generated from a calculator's declaration.

Seeded, so that every run and both runtimes see the same ones: numbers within the limits and
around the defaults, in any accepted unit, with decimal commas, tolerances and ranges, now
and then something that must be refused.
"""

from __future__ import annotations

import random
from typing import Any

from witnessmark.calc import Calculator, Entry, read_quantity
from witnessmark.calc.entries import bound
from witnessmark.calc.units import as_quantity, magnitude_in

RUBBISH = ("", "much", "1e999", "9**9**9", "1,200", "-7", "12 furlong", "٤٢", "0 … 1e9")


def generated(calculator: Calculator[..., Any], count: int) -> list[dict[str, Any]]:
    """``count`` requests for a calculator, in both unit systems."""
    dice = random.Random(f"witness mark {calculator.name}")
    return [
        {
            "calculator": calculator.name,
            "entries": {
                item.name: _typed(item, dice)
                for item in calculator.entries.values()
                if dice.random() < (0.8 if number % 2 else 0.25)
            },
            "units": dice.choice(("si", "us")),
            "drawings": number % 10 == 0,  # they cost more than all the rest
        }
        for number in range(count)
    ]


def _typed(item: Entry, dice: random.Random) -> Any:
    if item.form == "choice":
        return dice.choice(list(item.choices))
    if item.form == "table":
        return [[_shaken(cell, dice) for cell in row] for row in item.default]
    if item.optional and not str(item.default).strip() and dice.random() < 0.9:
        return ""
    if dice.random() < 0.015:
        return dice.choice(RUBBISH)
    if "…" in str(item.default) and dice.random() < 0.8:
        return item.default  # a band is not made by shaking its middle
    if item.form == "count":
        return str(max(1, round(_number(item, dice))))
    value, unit = _number(item, dice), dice.choice(item.units)
    kind = item.kind
    assert kind is not None
    written = f"{magnitude_in(as_quantity(value, item.unit, kind), unit, kind):.5g}"
    if dice.random() < 0.2:
        written = written.replace(".", ",") if "e" not in written else written
    chance = dice.random()
    if chance < 0.15 and not kind.difference:
        return f"{written} {unit} ± {dice.choice((1, 2, 4, 7.5))} %" if unit != "%" else written
    if unit == item.unit and chance < 0.3:
        return written
    return f"{written} {unit}"


def _number(item: Entry, dice: random.Random) -> float:
    """A number in the entry's own unit: near its default, or anywhere within its limits."""
    assert item.kind is not None
    low = bound(item.least, item.kind, item.unit) if item.least is not None else None
    high = bound(item.most, item.kind, item.unit) if item.most is not None else None
    if item.above is not None:
        low = bound(item.above, item.kind, item.unit) + 1e-6
    if low is not None and high is not None and dice.random() < 0.08:
        return dice.uniform(low, high)
    if not str(item.default).strip():
        return dice.uniform(low or 0.0, high or 10.0)
    default = magnitude_in(
        read_quantity(item.default, item.kind, item.unit).quantity, item.unit, item.kind
    )
    value = default * dice.uniform(0.9, 1.1) + (0.0 if default else dice.uniform(0, 0.1))
    if low is not None:
        value = max(value, low)
    return min(value, high) if high is not None else value


def _shaken(cell: str, dice: random.Random) -> str:
    """A cell of a default table, its number moved a little."""
    number, blank, unit = cell.partition(" ")
    try:
        value = float(number.replace(",", "."))
    except ValueError:
        return cell
    if value == int(value) and "." not in number:
        return cell
    return f"{value + dice.gauss(0, 0.01):.3f}{blank}{unit}"
