"""Every calculator agrees with its check values, and has enough of them to mean something."""

from __future__ import annotations

import importlib
import pkgutil
from typing import Any

import pytest

import calculators
from witnessmark.calc import Calculator, CheckValue, calculators_of, evaluate, run_check

LEAST_CASES = 4

ALL: list[Calculator[..., Any]] = [
    item
    for module in pkgutil.iter_modules(calculators.__path__)
    for item in calculators_of(importlib.import_module(f"calculators.{module.name}"))
]
CASES = [
    pytest.param(item, case, id=f"{item.name}: {case.label}")
    for item in ALL
    for case in item.check_values
]
EACH = [pytest.param(item, id=item.name) for item in ALL]


def test_there_are_calculators() -> None:
    """The list that the other tests run over is not empty, and no name comes twice."""
    names = [item.name for item in ALL]
    assert names
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(("item", "case"), CASES)
def test_agrees_with_its_check_value(item: Calculator[..., Any], case: CheckValue) -> None:
    """What comes out is what the source says."""
    assert [result for result in run_check(item, case).results if not result.agrees] == []


@pytest.mark.parametrize(("item", "case"), CASES)
def test_check_value_asks_for_something(item: Calculator[..., Any], case: CheckValue) -> None:
    """A case without an expectation would pass whatever came out."""
    assert case.expected or case.findings or case.refused


@pytest.mark.parametrize(("item", "case"), CASES)
def test_check_value_holds_in_us_units(item: Calculator[..., Any], case: CheckValue) -> None:
    """The unit system changes what is shown, never what is computed."""
    shown = evaluate(item, case.entries, "us")
    assert [result for result in run_check(item, case, shown).results if not result.agrees] == []


@pytest.mark.parametrize("item", EACH)
def test_has_enough_check_values(item: Calculator[..., Any]) -> None:
    """At least four cases expect a figure, and each names where it comes from."""
    with_figures = [case for case in item.check_values if case.expected]
    assert len(with_figures) >= LEAST_CASES
    assert [case.label for case in item.check_values if not case.source.title] == []


@pytest.mark.parametrize("item", EACH)
def test_labels_of_check_values_differ(item: Calculator[..., Any]) -> None:
    """A failing case can be told from the others by its label."""
    labels = [case.label for case in item.check_values]
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize("item", EACH)
def test_default_entries_stand(item: Calculator[..., Any]) -> None:
    """Without any entry the calculator answers, with exactly one lead result and a drawing."""
    outcome = evaluate(item, {})
    assert outcome["complete"], {n: e["error"] for n, e in outcome["entries"].items() if e["error"]}
    assert sum(result["lead"] for result in outcome["results"]) == 1
    assert outcome["drawings"]
