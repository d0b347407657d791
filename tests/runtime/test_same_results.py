"""The browser computes what the tests compute."""

from __future__ import annotations

import json
import math
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from tests.runtime.conftest import ROOT, Outcomes
from tests.runtime.generated_entries import generated
from witnessmark.calc import evaluate_json, request_of, run_check
from witnessmark.collection import Collection, load_collection

pytestmark = pytest.mark.runtime

GENERATED = 200

# Of the generated entries, the share that must give results and not only messages.
LEAST_ACCEPTED = 0.3

# Sums and transcendental functions may differ in the last bits between two C libraries.
REL = 1e-12


def _agree(here: Any, there: Any) -> bool:
    """The same JSON, numbers compared within ``REL``."""
    if isinstance(here, dict) and isinstance(there, dict):
        return here.keys() == there.keys() and all(_agree(here[k], there[k]) for k in here)
    if isinstance(here, list) and isinstance(there, list):
        return len(here) == len(there) and all(map(_agree, here, there))
    if isinstance(here, float) or isinstance(there, float):
        return math.isclose(here, there, rel_tol=REL, abs_tol=1e-15)
    return bool(here == there)


def _requests(collection: Collection) -> list[dict[str, Any]]:
    """Defaults and check values of every calculator, in both unit systems."""
    return [
        request
        for units in ("si", "us")
        for item in collection.calculators.values()
        for request in (
            {"calculator": item.name, "entries": {}, "units": units},
            *(request_of(item, case, units) for case in item.check_values),
        )
    ]


def test_browser_and_build_compute_the_same(
    collection: Collection, runtime_outcomes: Outcomes
) -> None:
    """Results, bands, findings and texts agree for defaults and check values."""
    requests = _requests(collection)
    assert requests
    for request, there in zip(requests, runtime_outcomes(requests), strict=True):
        here = json.loads(evaluate_json(json.dumps(request)))
        for part in ("complete", "entries", "results", "findings"):
            assert _agree(here[part], there[part]), (request, part, here[part], there[part])
        assert [each["title"] for each in here["drawings"]] == [
            each["title"] for each in there["drawings"]
        ]


@pytest.mark.parametrize("name", load_collection(ROOT / "calculators").calculators)
def test_browser_and_build_agree_on_generated_entries(
    name: str, collection: Collection, runtime_outcomes: Outcomes
) -> None:
    """Texts are the same to the letter and numbers to 1e-12 for 200 entries a calculator."""
    requests = generated(collection.calculators[name], GENERATED)
    with ThreadPoolExecutor(1) as beside:
        answers = beside.submit(runtime_outcomes, requests)  # while this process computes too
        own = [json.loads(evaluate_json(json.dumps(request))) for request in requests]
        for request, here, there in zip(requests, own, answers.result(), strict=True):
            for part in ("complete", "entries", "results", "findings"):
                assert _agree(here[part], there[part]), (request, part, here[part], there[part])
    accepted = sum(here["complete"] for here in own)
    assert accepted >= GENERATED * LEAST_ACCEPTED, f"only {accepted} of {GENERATED} are accepted"


def test_check_values_hold_in_the_runtime(
    collection: Collection, runtime_outcomes: Outcomes
) -> None:
    """Every published value is met inside the browser runtime."""
    cases = [(item, case) for item in collection.calculators.values() for case in item.check_values]
    assert cases
    outcomes = runtime_outcomes([request_of(item, case) for item, case in cases])
    for (item, case), outcome in zip(cases, outcomes, strict=True):
        judged = run_check(item, case, outcome)
        assert [each for each in judged.results if not each.agrees] == [], (item.name, case.label)
