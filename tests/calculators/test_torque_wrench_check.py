"""Checking a torque wrench: verdict, doubt, statistics by a library, findings."""

from __future__ import annotations

import statistics
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.torque_wrench_check import torque_wrench_check
from witnessmark.calc import evaluate

MANY = settings(max_examples=30, deadline=None, derandomize=True)
FULL = [[place, place] for place in ("24", "72", "120") for _ in range(5)]
READINGS = st.lists(
    st.tuples(st.sampled_from([24.0, 72.0, 120.0]), st.floats(min_value=0.9, max_value=1.1)),
    min_size=1, max_size=20,
)  # fmt: skip


def outcome_of(**entries: Any) -> dict[str, Any]:
    """The outcome without its drawing; no entry may be refused."""
    outcome = evaluate(torque_wrench_check, entries, drawings=False)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def results(**entries: Any) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome_of(**entries)["results"]}


def levels(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


@MANY
@given(READINGS)
def test_deviations_are_those_of_the_statistics_library(
    rows: list[tuple[float, float]],
) -> None:
    """Mean, farthest and spread, worked out from the ratio of setting to true torque."""
    table = [[f"{place!r}", f"{place * share!r}"] for place, share in rows]
    found = results(readings=table)
    off = [100 * (1 / share - 1) for _, share in rows]
    assert found["mean"]["value"] == pytest.approx(statistics.fmean(off), rel=1e-9, abs=1e-9)
    assert abs(found["farthest"]["value"]) == pytest.approx(max(map(abs, off)), rel=1e-9, abs=1e-9)
    assert len(found["places"]["rows"]) == len({place for place, _ in rows})
    assert (found["verdict"]["text"] == "is within its limit") is (max(map(abs, off)) <= 4)


def test_the_order_of_the_readings_does_not_count() -> None:
    """Forward and backward give the same outcome but for the table as typed."""
    rows = [["24", "24.3"], ["120", "119"], ["72", "73"]]
    forward, backward = results(readings=rows), results(readings=rows[::-1])
    assert forward == backward


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("out", "stop", {"readings": [["100", "96.1"]]}, {"readings": [["100", "96.2"]]}),
        ("in-doubt", "caution", {"readings": [["100", "96.9"]]}, {"readings": [["100", "97.2"]]}),
        ("leans", "note", {"readings": [["100", "97.9"]]}, {"readings": [["100", "98.1"]]}),
        ("reference-poor", "caution", {"reference": "1.1 %"}, {"reference": "1 %"}),
        ("readings-few", "note", {"readings": FULL[:-1]}, {"readings": FULL}),
        (
            "readings-few", "note",
            {"readings": FULL, "wrench_high": "150 N·m"}, {"readings": FULL},
        ),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, Any], quiet: dict[str, Any]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)
    assert levels(**quiet)["before-the-first"] == "note"


def test_a_pull_without_a_reading_is_told_at_its_cell() -> None:
    """An empty second cell names its row."""
    outcome = evaluate(torque_wrench_check, {"readings": [["100", ""]]})
    assert "Row 1" in outcome["entries"]["readings"]["error"]["message"]


def test_the_chart_shows_a_mark_for_every_reading() -> None:
    """Readings beyond the limits are drawn as well."""
    svg = evaluate(torque_wrench_check, {"readings": [["24", "24"], ["120", "100"]]})
    assert "\u2212 4\u202f%" in svg["drawings"][0]["svg"]
