"""Ratio and efficiency of a planetary gear against velocities and moments solved as equations."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.planetary_gear import check_teeth, efficiency_of_stage, ratio_of_stage
from witnessmark.calc import RefusedError

MANY = settings(max_examples=60, deadline=None, derandomize=True)
SUNS = st.integers(min_value=6, max_value=80)
PLANETS = st.integers(min_value=6, max_value=80)
MESHES = st.floats(min_value=0.8, max_value=1.0)


def carrier_speed(sun: int, planet: int) -> float:
    """Carrier speed for a sun speed of 1, from the velocities where the pitch circles touch."""
    ring = sun + 2 * planet
    centre = (sun + planet) / 2
    # Unknown: carrier and planet. The planet's rim moves with the sun's and stands at the annulus.
    system = np.array([[centre, -planet / 2], [centre, planet / 2]])
    carrier, _ = np.linalg.solve(system, np.array([sun / 2, 0.0]))
    assert ring == 2 * centre + planet
    return float(carrier)


def efficiency(sun: int, planet: int, mesh: float) -> float:
    """Power out over power in, from moments in balance and the loss seen from the carrier."""
    carrier = carrier_speed(sun, planet)
    # Unknown: moments on annulus and carrier, for a moment of 1 on the sun.
    balance = np.array([[1.0, 1.0], [-carrier, 0.0]])
    loss = np.array([-1.0, -mesh * (1 - carrier)])
    _, moment = np.linalg.solve(balance, loss)
    return float(-moment * carrier)


@MANY
@given(SUNS, PLANETS)
def test_ratio_is_that_of_rolling_pitch_circles(sun: int, planet: int) -> None:
    """Willis gives what rolling without slip gives."""
    assert ratio_of_stage(sun, sun + 2 * planet) == pytest.approx(1 / carrier_speed(sun, planet))


@MANY
@given(SUNS, PLANETS, MESHES)
def test_efficiency_is_that_of_moments_in_balance(sun: int, planet: int, mesh: float) -> None:
    """The closed form is the balance of moments and power, solved."""
    expected = efficiency(sun, planet, mesh)
    assert efficiency_of_stage(sun, sun + 2 * planet, mesh) == pytest.approx(expected)


@MANY
@given(SUNS, PLANETS, MESHES)
def test_bounds(sun: int, planet: int, mesh: float) -> None:
    """A planetary gear has a ratio above 2 and loses less than its meshes would alone."""
    ring = sun + 2 * planet
    assert ratio_of_stage(sun, ring) > 2
    assert mesh <= efficiency_of_stage(sun, ring, mesh) <= 1 + 1e-12
    assert efficiency_of_stage(sun, ring, 1.0) == pytest.approx(1.0, rel=1e-15)


def test_order_of_stages_does_not_count() -> None:
    """Two unlike stages give one product whichever comes first."""
    stages = [(12, 48, 0.97), (15, 45, 0.96), (20, 70, 0.98)]

    def through(order: list[tuple[int, int, float]]) -> tuple[float, float]:
        ratio = eta = 1.0
        for sun, ring, mesh in order:
            ratio *= ratio_of_stage(sun, ring)
            eta *= efficiency_of_stage(sun, ring, mesh)
        return ratio, eta

    assert through(stages) == pytest.approx(through(stages[::-1]), rel=1e-14)


@pytest.mark.parametrize(
    ("teeth", "entry", "word"),
    [
        ((13, None, 62, 3), "ring", "24.5"),
        ((15, None, 15, 3), "ring", "outside the sun"),
        ((15, 16, 45, 3), "planet", "15 teeth"),
        ((16, None, 48, 3), "planets", "64"),
    ],
)
def test_impossible_teeth_are_refused(
    teeth: tuple[int, int | None, int, int], entry: str, word: str
) -> None:
    """The message is about the entry to mend and tells the figure that does not fit."""
    with pytest.raises(RefusedError) as refused:
        check_teeth(*teeth)
    assert refused.value.entry == entry
    assert word in refused.value.message


@pytest.mark.parametrize("teeth", [(15, 15, 45, 3), (12, None, 48, 3), (16, 16, 48, 4)])
def test_possible_teeth_pass(teeth: tuple[int, int | None, int, int]) -> None:
    """A gear that can be put together is not refused."""
    check_teeth(*teeth)
