"""Bands: worst case, root sum square and drivers against independent routes."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from witnessmark.calc import evaluate
from witnessmark.calc.tolerance import bands


def band_of(outcome, name):
    return next(part for part in outcome["results"] if part["name"] == name)["band"]


def test_no_tolerance_no_band(samples):
    """A band appears only where an entry has limits."""
    assert band_of(evaluate(samples.lever, {}), "torque") is None


def test_the_worst_case_of_a_product_is_at_its_corners(samples):
    """300 ± 10 N on 750 ± 5 mm: 290 × 745 to 310 × 755 (interval arithmetic by hand)."""
    worst = band_of(
        evaluate(samples.lever, {"force": "300 ± 10 N", "arm": "750 ± 5 mm"}), "torque"
    )["worst"]
    assert worst["low"] == pytest.approx(290 * 0.745)
    assert worst["high"] == pytest.approx(310 * 0.755)
    assert worst["display"] == "216 … 235\u202fN·m"


def test_root_sum_square_agrees_with_a_reference_library(samples):
    """First-order propagation by the package `uncertainties`, limits taken as one deviation."""
    got = band_of(evaluate(samples.lever, {"force": "300 ± 10 N", "arm": "750 ± 5 mm"}), "torque")
    reference = ufloat(300, 10) * ufloat(0.75, 0.005)
    assert got["rss"]["high"] - 225 == pytest.approx(reference.std_dev, rel=1e-6)
    assert 225 - got["rss"]["low"] == pytest.approx(reference.std_dev, rel=1e-6)
    shares = {driver["entry"]: driver["share"] for driver in got["drivers"]}
    assert shares["force"] == pytest.approx((0.75 * 10 / reference.std_dev) ** 2, rel=1e-6)
    assert [driver["entry"] for driver in got["drivers"]] == ["force", "arm"]


def test_a_default_tolerance_applies_when_none_is_typed(samples):
    """B carries 1 mm unless another is typed."""
    outcome = evaluate(samples.spread, {})
    assert outcome["entries"]["b"]["tolerance_assumed"]
    assert band_of(outcome, "sum")["worst"]["display"] == "29.00 … 31.00\u202fmm"
    outcome = evaluate(samples.spread, {"b": "20 ± 0.1"})
    assert not outcome["entries"]["b"]["tolerance_assumed"]
    assert band_of(outcome, "sum")["worst"]["display"] == "29.90 … 30.10\u202fmm"


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [("100 mm", 99, 101), ("20 cm", 198, 202), ("10 in ± 1 mm", 253, 255)],
)
def test_a_tolerance_may_follow_from_the_value(samples, typed, low, high):
    """A function gives it for what was typed, in any unit; typed limits win."""
    part = evaluate(samples.cut, {"bar": typed})["entries"]["bar"]
    assert (part["low"], part["high"]) == pytest.approx((low, high))


def test_entries_declared_to_vary_together_cancel(samples):
    """C - D with one common cause has no spread of its own."""
    outcome = evaluate(samples.spread, {"together": "5 ± 1", "again": "5 ± 1", "b": "20 ± 0"})
    assert not outcome["entries"]["b"].get("tolerance_assumed")
    assert band_of(outcome, "sum") is None
    moved = band_of(evaluate(samples.spread, {"together": "5 ± 1", "again": "5 ± 1"}), "sum")
    shares = {driver["label"]: driver["share"] for driver in moved["drivers"]}
    assert shares == {"B": pytest.approx(1), "C and D": pytest.approx(0, abs=1e-12)}


def test_a_result_that_nothing_moves_has_no_band(samples):
    """The peak depends on A alone; with A exact it shows no band of no width."""
    assert band_of(evaluate(samples.spread, {"b": "20 ± 2"}), "peak") is None


def test_a_very_wide_band_keeps_its_smaller_end(samples):
    """0.5 … 60 N is not rounded to 0 … 60: each end by its own figures."""
    band = band_of(
        evaluate(samples.lever, {"force": "1 … 119 N", "arm": "2 m", "stop_kind": "arm"}), "press"
    )
    assert band["worst"]["display"] == "0.00800 … 0.952\u202fkN"


def test_an_extreme_inside_is_searched_for(samples):
    """4 - x² over x in ±2 peaks inside at 4, though both corners give 0."""
    band = band_of(evaluate(samples.spread, {"a": "11 ± 3"}), "peak")
    assert band["searched"]
    assert band["worst"]["high"] == pytest.approx(4.0, abs=1e-3)
    assert band["worst"]["low"] == pytest.approx(4 - 16)


def test_a_result_declared_without_band_has_none(samples):
    """band=False is for results that a tolerance does not concern."""
    assert band_of(evaluate(samples.spread, {"a": "10 ± 1"}), "plain") is None


def test_deviation_of_the_reading_is_asymmetric(samples):
    """ISO 6789 sense: 100 N·m ± 4 % of the true value is 96.154 to 104.167 N·m."""
    part = evaluate(samples.spread, {"reading": "100 N·m ± 4 %"})["entries"]["reading"]
    assert part["low"] == pytest.approx(100 / 1.04)
    assert part["high"] == pytest.approx(100 / 0.96)


def test_limits_are_clipped_to_what_the_entry_may_be(samples):
    """An efficiency of 0.98 ± 0.04 ends at 1."""
    assert evaluate(samples.spread, {"share": "0.98 ± 0.04"})["entries"]["share"]["high"] == 1


FUNCTIONS = {
    "product": lambda v: v[0] * v[1] / v[2],
    "sum of squares": lambda v: v[0] ** 2 + v[1] ** 2 - v[2],
    "saddle": lambda v: (v[0] - 2) * (v[1] - 2) + v[2],
}


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
@settings(max_examples=40, derandomize=True, deadline=None)
@given(widths=st.tuples(*[st.floats(0.01, 0.9)] * 3))
def test_the_worst_case_covers_a_fine_grid(name, widths):
    """No point of a fine grid over the box lies outside the band (brute force)."""
    centre = (2.0, 2.0, 3.0)
    function = FUNCTIONS[name]

    def solve(point):
        values = [c + w * p for c, w, p in zip(centre, widths, point, strict=True)]
        return {"y": function(values)}

    band = bands(3, solve)["y"]
    grid = [solve(p)["y"] for p in itertools.product(np.linspace(-1, 1, 9), repeat=3)]
    slack = 1e-3 * max(1.0, max(grid) - min(grid))
    assert band.low <= min(grid) + slack
    assert band.high >= max(grid) - slack


def test_many_entries_are_handled_by_their_slopes():
    """Eight toleranced entries of a sum of terms: corners from the signs (exact by hand)."""
    signs = [1, -1, 1, -1, 1, 1, -1, 1]
    calls = []

    def solve(point):
        calls.append(point)
        return {"y": sum(s * (10 + p) for s, p in zip(signs, point, strict=True))}

    band = bands(8, solve)["y"]
    assert (band.low, band.high) == (20 - 8, 20 + 8)
    assert band.rss_high - 20 == pytest.approx(math.sqrt(8))
    assert len(calls) < 2**8


def test_a_refused_corner_gives_no_band():
    """Where the box leaves what the calculator accepts, no band is claimed."""
    assert bands(1, lambda point: None if point[0] > 0.5 else {"y": point[0]}) is None


def test_monte_carlo_stays_within_the_worst_case_and_near_the_root_sum_square():
    """Uniform samples (JCGM 101 route), seeded: all inside, about 95 % within 2u."""
    rng = np.random.default_rng(20261112)
    points = rng.uniform(-1, 1, size=(20_000, 2))
    function = lambda p: (100 + 4 * p[0]) / (0.9 + 0.03 * p[1])  # noqa: E731
    band = bands(2, lambda p: {"y": function(p)})["y"]
    samples_y = np.array([function(p) for p in points])
    assert band.low <= samples_y.min()
    assert samples_y.max() <= band.high
    half = (band.rss_high - band.rss_low) / 2
    assert samples_y.std() == pytest.approx(half / math.sqrt(3), rel=0.03)
