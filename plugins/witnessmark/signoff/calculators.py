"""A calculator of the handbook as a sign-off sees it: code, check values, default results."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Protocol

from witnessmark.calc import Calculator, CalculatorFailedError, CheckValue, Outcome
from witnessmark.signoff.basis import CalculatorBasis
from witnessmark.signoff.digests import normalised

AnyCalculator = Calculator[..., Any]
Evaluate = Callable[[AnyCalculator, Mapping[str, Any]], Outcome]


class Modules(Protocol):
    """The modules of a collection of calculators."""

    @property
    def modules(self) -> Mapping[str, Path]:
        """Files by dotted name."""

    def closure(self, modules: list[str]) -> tuple[Path, ...]:
        """The files of modules and of all they import of the collection."""


def calculator_basis(
    calculator: AnyCalculator, collection: Modules, evaluate: Evaluate
) -> CalculatorBasis:
    """What a sign-off holds of a calculator; ``evaluate`` gives its results at the defaults."""
    names = {path: name for name, path in collection.modules.items()}
    sources = {
        names[path]: normalised(path.read_text("utf-8-sig"))
        for path in collection.closure([calculator.module])
    }
    return CalculatorBasis(
        calculator.name,
        calculator.title,
        sources,
        tuple(_check_row(case) for case in calculator.check_values),
        _results(calculator, evaluate),
    )


def _check_row(case: CheckValue) -> tuple[Any, ...]:
    """Everything that a check value claims, in the order of ``CHECK_ROW``."""
    return (
        case.label,
        {name: _plain(text) for name, text in sorted(case.entries.items())},
        dict(sorted(case.expected.items())),
        " | ".join(filter(None, (case.source.title, case.source.clause, case.source.kind))),
        "" if case.rel is None else repr(case.rel),
        case.abs_ or "",
        list(case.findings),
        list(case.refused),
        case.remark,
    )


CHECK_ROW = (
    "label", "entries", "expected", "source", "relative tolerance", "tolerance", "findings",
    "refused", "remark",
)  # fmt: skip
"""What the columns of a row of check values are."""


def _plain(text: Any) -> Any:
    return text if isinstance(text, str) else [list(row) for row in text]


def _results(calculator: AnyCalculator, evaluate: Evaluate) -> tuple[tuple[str, str], ...]:
    """Label and text of every result and finding at the defaults."""
    try:
        outcome = evaluate(calculator, {})
    except CalculatorFailedError as error:
        return (("no result", str(error)),)
    rows = [(str(each["label"]), _shown(each)) for each in outcome["results"]]
    rows += [(str(each["level"]), str(each["text"])) for each in outcome["findings"]]
    rows += [
        (str(name), str(part["error"]["message"]))
        for name, part in outcome["entries"].items()
        if part["error"]
    ]
    return tuple(rows)


def _shown(result: Mapping[str, Any]) -> str:
    if "rows" in result:
        return "; ".join(" ".join(map(str, row)) for row in result["rows"])
    return str(result.get("display", result.get("text", "")))
