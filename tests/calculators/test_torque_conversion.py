"""Converting torques: factors of a library, round trips, limits never outward, marks, findings."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from calculators.honest_rounding import figures_of, first_figure, to_figures, to_step
from calculators.torque_conversion import NEWTON_METRES, TO, torque_conversion
from witnessmark.calc import evaluate

MANY = settings(max_examples=40, deadline=None, derandomize=True)
NUMBERS = st.decimals(min_value=1, max_value=9999, places=1, allow_nan=False)
UNITS = st.sampled_from(sorted(NEWTON_METRES))
TARGETS = st.sampled_from(sorted(TO))


def outcome_of(**entries: str) -> dict[str, Any]:
    """The outcome without its chart; no entry may be refused."""
    outcome = evaluate(torque_conversion, entries, drawings=False)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def texts(**entries: str) -> dict[str, str]:
    """Result name to what is shown."""
    return {part["name"]: part["display"] for part in outcome_of(**entries)["results"]}


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def figures(text: str) -> list[Decimal]:
    """The numbers in a text, shares aside."""
    return [Decimal(each) for each in re.findall(r"\d+(?:\.\d+)?", text.split("(")[0])]


# -- factors --------------------------------------------------------------------------------------


def test_factors_are_those_of_the_library() -> None:
    """Pound-force, foot, inch, ounce and kilogram-force from scipy (CODATA and NIST)."""
    lbf, ounce = constants.pound_force, constants.oz * constants.g
    wanted = {
        "lbf·ft": lbf * constants.foot, "lbf·in": lbf * constants.inch,
        "ozf·in": ounce * constants.inch, "kgf·m": constants.kilogram_force,
        "kgf·cm": constants.kilogram_force / 100, "N·m": 1.0,
    }  # fmt: skip
    assert pytest.approx(wanted, rel=1e-14) == NEWTON_METRES


@MANY
@given(NUMBERS, TARGETS, TARGETS)
def test_there_and_back_is_exact(value: Decimal, one: str, other: str) -> None:
    """The factors of there and back multiply to 1."""
    factors = [
        next(
            part["value"]
            for part in outcome_of(value=str(value), source_unit=a, unit=b)["results"]
            if part["name"] == "factor"
        )
        for a, b in ((one, other), (other, one))
    ]
    assert factors[0] * factors[1] == pytest.approx(1, rel=1e-12)


# -- rounding -------------------------------------------------------------------------------------


@MANY
@given(NUMBERS, UNITS, TARGETS)
def test_a_limit_is_never_rounded_outward(value: Decimal, source: str, unit: str) -> None:
    """A maximum stays at or below, a minimum at or above what the factors give."""
    true = float(value) * NEWTON_METRES[source] / NEWTON_METRES[unit]
    entries = {"value": str(value), "source_unit": source, "unit": unit}
    (most,) = figures(texts(kind="maximum", **entries)["converted"])
    (least,) = figures(texts(kind="minimum", **entries)["converted"])
    assert float(most) <= true * (1 + 1e-11)
    assert float(least) >= true * (1 - 1e-11)


@MANY
@given(NUMBERS, st.floats(min_value=0.5, max_value=40), UNITS, TARGETS, st.sampled_from("125"))
def test_a_range_is_rounded_inward(
    value: Decimal, percent: float, source: str, unit: str, step: str
) -> None:
    """Both ends, as text and as marks; a range that no mark fits into says so."""
    low, high = float(value), round(float(value) * (1 + percent / 100), 3)
    factor = NEWTON_METRES[source] / NEWTON_METRES[unit]
    entries = {
        "value": f"{low!r} … {high!r}", "kind": "range", "source_unit": source, "unit": unit,
        "step": step,
    }  # fmt: skip
    shown = texts(**entries)
    first, last = figures(shown["converted"])
    assert low * factor * (1 - 1e-11) <= float(first) <= float(last) <= high * factor * (1 + 1e-11)
    inside = int(high * factor / int(step) + 1e-9) * int(step) >= low * factor * (1 - 1e-9)
    assert ("mark" in shown) is inside
    assert ("no-mark-inside" in levels(**entries)) is not inside


@pytest.mark.parametrize(
    ("number", "count"), [(287, 3), (90, 2), (100, 3), (4.5, 2), (0.5, 1), (0.05, 1), (1050.5, 5)]
)
def test_figures_that_count(number: float, count: int) -> None:
    """Zeros before the point are counted, leading zeros are not."""
    assert figures_of(number) == count


# NIST SP 811, B.7.1, from memory: 36 ft are 10.9728 m and become 11.0 m.
@pytest.mark.parametrize(("feet", "metres"), [(10, "3.0"), (36, "11.0")])
def test_one_figure_more_where_the_first_falls(feet: int, metres: str) -> None:
    """36 ft are 10.9728 m: the first figure falls from 3 to 1, so 11.0 and not 11."""
    converted = feet * 0.3048
    more = first_figure(converted) < first_figure(feet)
    assert str(to_figures(converted, 2 + more, "nearest")) == metres


@pytest.mark.parametrize(
    ("number", "step", "rounded"),
    [(2.5, "1", "3"), (2.675, "0.01", "2.68"), (0.125, "0.01", "0.13"), (389.12, "5", "390")],
)
def test_halves_go_up(number: float, step: str, rounded: str) -> None:
    """As a user expects it, although 2.675 is stored low and Python rounds halves to even."""
    assert to_step(number, Decimal(step), "nearest") == Decimal(rounded)


def test_figures_given_by_hand_win() -> None:
    """90.0 lbf·ft cannot be told from 90; three figures make it 122.0."""
    assert texts(value="90", figures="3")["converted"] == "122.0\u202fN·m"


def test_the_same_unit_changes_nothing() -> None:
    """N·m in N·m is the figure itself."""
    assert texts(value="123.4", source_unit="N·m")["converted"] == "123.4\u202fN·m"


# -- findings and refusals ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("kilogram", "caution", {"source_unit": "kgf·m"}, {"source_unit": "lbf·ft"}),
        ("kilogram", "caution", {"source_unit": "kgf·cm"}, {"source_unit": "N·m"}),
        ("foot-or-inch", "note", {}, {"source_unit": "kgf·m"}),
        ("scale-coarse", "caution", {"value": "31", "step": "5"}, {"value": "30", "step": "1"}),
        (
            "wrench-too-large", "caution",
            {"value": "59", "source_unit": "N·m", "wrench_high": "300"},
            {"value": "60", "source_unit": "N·m", "wrench_high": "300"},
        ),
        (
            "wrench-too-small", "caution",
            {"value": "301", "source_unit": "N·m", "wrench_high": "300"},
            {"value": "300", "source_unit": "N·m", "wrench_high": "300"},
        ),
        (
            "no-mark-inside", "caution",
            {"value": "35 … 36", "kind": "range", "step": "5"},
            {"value": "35 … 40", "kind": "range", "step": "5"},
        ),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_a_range_and_its_kind_belong_together() -> None:
    """One figure is no range, two are no maximum."""
    one = evaluate(torque_conversion, {"value": "35", "kind": "range"})
    assert "two ends" in one["entries"]["value"]["error"]["message"]
    two = evaluate(torque_conversion, {"value": "35 … 40", "kind": "maximum"})
    assert "are a range" in two["entries"]["value"]["error"]["message"]


def test_the_chart_marks_the_figure() -> None:
    """The converted figure stands at the mark."""
    assert "389\u202fN·m" in evaluate(torque_conversion, {})["drawings"][0]["svg"]
