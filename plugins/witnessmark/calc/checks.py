"""Check values: cases with results known from outside, run through ``evaluate``.

The same list runs under pytest, inside the browser's runtime and on the calculator's
reference page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from witnessmark.calc.calculator import Calculator
from witnessmark.calc.declaration import CheckValue, Result
from witnessmark.calc.evaluate import Outcome, evaluate
from witnessmark.calc.quantity_text import read_quantity
from witnessmark.calc.units import KINDS, magnitude_in


@dataclass(frozen=True)
class CheckedResult:
    """One expectation of a check value beside what came out."""

    name: str
    label: str
    expected: str
    got: str
    agrees: bool


@dataclass(frozen=True)
class CheckOutcome:
    """A check value with its verdict."""

    case: CheckValue
    results: tuple[CheckedResult, ...]

    @property
    def passed(self) -> bool:
        """Whether every expectation of the case agrees."""
        return all(result.agrees for result in self.results)


def request_of(calculator: Calculator[..., Any], case: CheckValue, units: str = "si") -> Outcome:
    """The case as a request for the worker's ``evaluate_json``."""
    entries = {
        name: text if isinstance(text, str) else [list(row) for row in text]
        for name, text in case.entries.items()
    }
    return {"calculator": calculator.name, "entries": entries, "units": units}


def run_check(
    calculator: Calculator[..., Any], case: CheckValue, outcome: Outcome | None = None
) -> CheckOutcome:
    """Judge a case; ``outcome`` may come from elsewhere (the runtime), else it is evaluated."""
    if outcome is None:
        outcome = evaluate(calculator, case.entries, drawings=False)  # nothing judges them
    got = {result["name"]: result for result in outcome["results"]}
    checked = [
        _compare(calculator.results[name], text, case, got.get(name))
        for name, text in case.expected.items()
    ]
    raised = {finding["code"] for finding in outcome["findings"]}
    checked += [
        CheckedResult(
            code, "finding", code, code if code in raised else "not raised", code in raised
        )
        for code in case.findings
    ]
    for name in case.refused:
        error = outcome["entries"][name]["error"]
        said = error["message"] if error else "accepted"
        checked.append(
            CheckedResult(name, calculator.entries[name].label, "refused", said, error is not None)
        )
    if not case.refused:
        checked += _unexpected_errors(outcome)
    return CheckOutcome(case, tuple(checked))


def _unexpected_errors(outcome: Outcome) -> list[CheckedResult]:
    return [
        CheckedResult(name, name, "accepted", part["error"]["message"], False)
        for name, part in outcome["entries"].items()
        if part["error"]
    ]


def _compare(item: Result, expected: str, case: CheckValue, got: Outcome | None) -> CheckedResult:
    if got is None:
        return CheckedResult(item.name, item.label, expected, "no result", False)
    if item.form == "table":
        text = "; ".join(" ".join(row) for row in got["rows"])
        return CheckedResult(item.name, item.label, expected, text, expected in text)
    if item.form == "text":
        return CheckedResult(item.name, item.label, expected, got["text"], got["text"] == expected)
    kind = item.kind or KINDS["count"]
    unit = got["unit"]
    wanted = magnitude_in(read_quantity(expected, kind, unit).quantity, unit, kind)
    allowed = _allowed(expected, wanted, case, kind.name, unit)
    shown = f"{got['value']:.7g} {unit}".strip()
    return CheckedResult(
        item.name, item.label, expected, shown, abs(got["value"] - wanted) <= allowed
    )


def _allowed(expected: str, wanted: float, case: CheckValue, kind_name: str, unit: str) -> float:
    """The allowed difference in the result's unit; by default half a unit of the last digit."""
    kind = KINDS[kind_name]
    difference = KINDS[kind.difference] if kind.difference else kind
    if case.rel is not None:
        return abs(wanted) * case.rel
    if case.abs_ is not None:
        return magnitude_in(read_quantity(case.abs_, difference, unit).quantity, unit, difference)
    entered = read_quantity(expected, kind, unit)
    digits = expected.replace(",", ".").strip().split()[0].split("e")[0]
    places = len(digits.partition(".")[2])
    half = 0.5 * 10.0**-places * (1 + 1e-9)
    if "e" in expected.split()[0]:
        half *= 10.0 ** int(expected.split()[0].split("e")[1])
    scale = read_quantity(f"{half:.12g} {entered.unit}", difference, unit)
    return abs(magnitude_in(scale.quantity, unit, difference))
