"""Cure curves against scipy's interpolator, distribution and root finder."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq
from scipy.stats import weibull_min

from calculators.cure_curve import Monotone, Weibull, curve_through

MANY = settings(max_examples=60, deadline=None, derandomize=True)


@st.composite
def sheets(draw: st.DrawFn, least: int = 3) -> list[tuple[float, float]]:
    """Points of a data sheet: times and strengths that rise by noticeable steps."""
    count = draw(st.integers(least, 5))
    steps = st.lists(st.floats(0.2, 3.0), min_size=count, max_size=count)
    logs = np.cumsum(draw(steps)) - 3.0
    rises = np.cumsum(draw(steps))
    strengths = rises / rises[-1] * draw(st.floats(0.5, 0.999))
    return [(float(math.exp(x)), float(s)) for x, s in zip(logs, strengths, strict=True)]


@MANY
@given(sheets())
def test_monotone_curve_is_the_reference_interpolator(points: list[tuple[float, float]]) -> None:
    """Between the points the curve is scipy's PCHIP in ln t."""
    curve = Monotone(points)
    times, strengths = zip(*points, strict=True)
    reference = PchipInterpolator(np.log(times), strengths)
    for x in np.linspace(math.log(times[0]), math.log(times[-1]), 57)[1:-1]:
        assert curve.strength(math.exp(x)) == pytest.approx(float(reference(x)), abs=1e-11)


@MANY
@given(sheets(least=2))
def test_curve_passes_every_point_and_never_falls(points: list[tuple[float, float]]) -> None:
    """Through the data, from 0 upward, within 0 and 1."""
    curve = curve_through(points)
    for time, strength in points:
        assert curve.strength(time) == pytest.approx(strength, abs=1e-12)
    xs = np.linspace(math.log(points[0][0]) - 6, math.log(points[-1][0]) + 6, 300)
    values = [curve.strength(math.exp(x)) for x in xs]
    assert all(0 <= value <= 1 for value in values)
    assert all(b >= a - 1e-13 for a, b in pairwise(values))
    assert curve.strength(0.0) == 0.0


@MANY
@given(sheets(least=2), st.floats(0.01, 0.99))
def test_time_is_the_inverse_of_strength(points: list[tuple[float, float]], share: float) -> None:
    """The time of a strength leads back to it, and is what a root finder finds."""
    curve = curve_through(points)
    wanted = share * points[-1][1]
    time = curve.time(wanted)
    assert curve.strength(time) == pytest.approx(wanted, abs=1e-11)
    root = brentq(lambda x: curve.strength(math.exp(x)) - wanted, -60.0, 20.0, xtol=1e-13)
    assert math.log(time) == pytest.approx(root, abs=1e-6)


@MANY
@given(sheets(), st.floats(0.05, 0.95))
def test_before_the_first_point_strength_is_not_overstated(
    points: list[tuple[float, float]], part: float
) -> None:
    """The head joins the first point and stays at or below the two-point form."""
    curve = Monotone(points)
    time = part * points[0][0]
    two = Weibull.through(points[0], points[1])
    assert curve.strength(time) <= two.strength(time) + 1e-12
    assert curve.strength(points[0][0] * (1 - 1e-9)) == pytest.approx(points[0][1], abs=1e-6)


def test_head_is_smooth_where_the_cubic_starts_steeper() -> None:
    """Left and right slope at the first point agree when the cubic is the steeper one."""
    points = [(0.5, 0.2), (2.0, 0.6), (24.0, 0.98)]
    curve = Monotone(points)
    step = 1e-6
    at = math.log(0.5)
    here = curve.strength(0.5)
    left = (here - curve.strength(math.exp(at - step))) / step
    right = (curve.strength(math.exp(at + step)) - here) / step
    assert left == pytest.approx(right, rel=1e-4)


def test_after_the_last_point_strength_is_held() -> None:
    """Nothing is read past the data."""
    curve = Monotone([(1.0, 0.3), (10.0, 0.7), (100.0, 0.97)])
    assert curve.strength(1e4) == 0.97
    assert curve.time(0.97) == pytest.approx(100.0, rel=1e-12)


@pytest.mark.parametrize("time", [0.1, 1.0, 2.0, 24.0, 72.0])
def test_weibull_is_the_reference_distribution(time: float) -> None:
    """The two-point form is the Weibull distribution function."""
    curve = Weibull.through((2.0, 0.5), (24.0, 0.9))
    expected = weibull_min.cdf(time, curve.n, scale=curve.tau)
    assert curve.strength(time) == pytest.approx(float(expected), rel=1e-12)
    assert curve.time(float(expected)) == pytest.approx(time, rel=1e-10)


def test_weibull_parameters_solve_both_points() -> None:
    """Shape and scale agree with a linear system in ln(-ln(1-s)) = n ln t - n ln tau."""
    points = ((2.0, 0.5), (24.0, 0.9))
    left = np.array([[math.log(t), -1.0] for t, _ in points])
    right = np.array([math.log(-math.log(1 - s)) for _, s in points])
    n, n_log_tau = np.linalg.solve(left, right)
    curve = Weibull.through(*points)
    assert curve.n == pytest.approx(n, rel=1e-12)
    assert curve.tau == pytest.approx(math.exp(n_log_tau / n), rel=1e-12)
