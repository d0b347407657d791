"""Positions, uncertainty and findings of the pattern fit, and its solver at its limits."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calculators.hole_pattern import dowel_pattern_fit
from calculators.pattern_drawing import draw_pattern
from calculators.pattern_fit import least_squares, minimax
from calculators.pattern_interior import Point
from calculators.pattern_positions import Feature, degrees, laid, left_out, mirrored, positions
from witnessmark.calc import evaluate

SQUARE = [(30.0, 0.0), (0.0, 30.0), (-30.0, 0.0), (0.0, -30.0)]
# Unevenly spaced, so that it goes in one position only.
UNEVEN = [(31.0, 0.0), (2.0, 29.0), (-28.0, 9.0), (-12.0, -25.0), (20.0, -21.0)]


def ring(points: list[Point], diameter: float) -> list[Feature]:
    """Points as dowels or holes of one diameter."""
    return [(point, diameter) for point in points]


def moved(points: list[Point], turn: float, x: float = 0.0, y: float = 0.0) -> list[Point]:
    """Points turned about the origin and shifted."""
    c, s = math.cos(turn), math.sin(turn)
    return [(c * a - s * b + x, s * a + c * b + y) for a, b in points]


def run(dowels: list[Point], holes: list[Point], hole: Any = 8.1, **more: Any) -> dict[str, Any]:
    """The outcome for dowels of 8 mm; ``hole`` is one diameter or one for each."""
    sizes = hole if isinstance(hole, list) else [hole] * len(holes)
    entries = {
        "dowels": [[f"{x:.7f}", f"{y:.7f}", "8"] for x, y in dowels],
        "holes": [[f"{x:.7f}", f"{y:.7f}", f"{d}"] for (x, y), d in zip(holes, sizes, strict=True)],
    }
    outcome = evaluate(dowel_pattern_fit, entries | more)
    assert outcome["complete"], outcome["entries"]
    return outcome


def value(outcome: dict[str, Any], name: str) -> float:
    """The number of a result in its own unit."""
    return float(next(part["value"] for part in outcome["results"] if part["name"] == name))


def codes(outcome: dict[str, Any]) -> dict[str, str]:
    """Codes of the findings with their texts."""
    return {finding["code"]: finding["text"] for finding in outcome["findings"]}


def test_least_squares_of_a_published_example() -> None:
    """Umeyama 1991, section IV: R = (0.832 0.555; -0.555 0.832), scale and shift apart."""
    place = least_squares([(0, 0), (1, 0), (0, 2)], [(0, 0), (-1, 0), (0, 2)])
    assert math.cos(place.turn) == pytest.approx(0.832, abs=5e-4)
    assert math.sin(place.turn) == pytest.approx(-0.555, abs=5e-4)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.integers(3, 12), st.floats(1e-4, 0.05), st.floats(0.0, 0.5), st.integers(0, 2**31))
def test_weights_prove_the_best_place(count: int, scatter: float, spread: float, seed: int) -> None:
    """Weights sum to 1 and balance forces and moments; so no near place has a smaller excess.

    For the offsets n_i = e_i/|e_i| balanced by the weights, the sum of w_i (|e_i| - c_i) is a
    lower bound of the largest excess at every place (convexity); it must meet the excess.
    """
    dice = np.random.default_rng(seed)
    angles = np.arange(count) * 2 * math.pi / count
    pins = np.c_[30 * np.cos(angles), 30 * np.sin(angles)]
    holes = pins + dice.normal(0, scatter, pins.shape)
    clearances = 0.03 + spread * dice.uniform(0, 1, count)
    best = minimax([tuple(p) for p in pins], [tuple(h) for h in holes], list(clearances))
    weights = np.array(best.weights)
    offsets = np.array(best.place.offsets([tuple(p) for p in pins], [tuple(h) for h in holes]))
    lengths = np.hypot(*offsets.T)
    assert np.max(lengths - clearances) == pytest.approx(best.excess, abs=1e-11)
    assert weights.sum() == pytest.approx(1, abs=1e-12)
    assert weights.min() >= 0
    if weights.max() > 0.999:  # one dowel centred: nothing can lie below its clearance
        assert best.excess == pytest.approx(-min(clearances), abs=1e-10)
        return
    forces = weights[:, None] * offsets / lengths[:, None]
    arms = np.array(moved([tuple(p) for p in pins], best.place.turn))
    moment = float(np.sum(arms[:, 0] * forces[:, 1] - arms[:, 1] * forces[:, 0]))
    assert np.abs(forces.sum(axis=0)).max() < 1e-6
    assert abs(moment) < 1e-4
    assert weights @ (lengths - clearances) == pytest.approx(best.excess, abs=1e-9)


def test_a_tight_hole_is_centred_and_the_turn_left_to_the_others() -> None:
    """One tight dowel alone sets the room; about it the others share what is left (bounded
    search over the turn)."""
    clearances = [0.005, 0.05, 0.05, 0.05]
    holes = [(30.0, 0.0), (0.01, 30.02), (-30.0, 0.01), (0.0, -30.015)]
    best = minimax(SQUARE, holes, clearances)
    assert best.excess == pytest.approx(-0.005, abs=1e-12)
    assert best.place.of(SQUARE[0]) == pytest.approx(holes[0], abs=1e-9)

    def worst(turn: float) -> float:
        arms = [(x - 30.0, y) for x, y in SQUARE]
        at = [(x + 30.0, y) for x, y in moved(arms, turn)]
        return max(math.dist(a, h) - c for a, h, c in zip(at, holes, clearances, strict=True))

    others = minimize_scalar(
        lambda turn: max(
            math.dist((x + 30.0, y), h) - 0.05
            for (x, y), h in zip(
                moved([(x - 30.0, y) for x, y in SQUARE[1:]], turn), holes[1:], strict=True
            )
        ),
        bounds=(-0.01, 0.01),
        method="bounded",
        options={"xatol": 1e-12},
    )
    assert worst(best.place.turn) == pytest.approx(-0.005, abs=1e-9)
    assert best.place.turn == pytest.approx(others.x, abs=1e-7)


def test_patterns_that_are_nothing_alike_still_get_an_answer() -> None:
    """Random rows never stop the search, and what it gives bounds the best from above."""
    dice = np.random.default_rng(5)
    for _ in range(60):
        count = int(dice.integers(2, 9))
        pins = [tuple(p) for p in dice.uniform(-60, 60, (count, 2))]
        holes = [tuple(p) for p in dice.uniform(-60, 60, (count, 2))]
        clearances = list(dice.uniform(0, 1, count))
        best = minimax(pins, holes, clearances)
        plain = least_squares(pins, holes).offsets(pins, holes)
        most = max(math.hypot(*e) - c for e, c in zip(plain, clearances, strict=True))
        assert best.excess <= most + 1e-9


def test_equal_patterns_keep_the_smallest_clearance() -> None:
    """No offset at all: the room is the smallest radial clearance."""
    outcome = run(UNEVEN, UNEVEN, [8.05, 8.04, 8.07, 8.05, 8.06])
    assert value(outcome, "margin") == pytest.approx(20)


@settings(max_examples=25, derandomize=True, deadline=None)
@given(st.floats(-4, 4), st.floats(-5, 5), st.floats(-5, 5))
def test_turned_and_shifted_holes_lose_nothing(turn: float, x: float, y: float) -> None:
    """Only the zero of the holes' readings has moved; the turn that is found is the one made."""
    outcome = run(UNEVEN, moved(UNEVEN, math.radians(turn), x, y))
    assert value(outcome, "margin") == pytest.approx(50, abs=0.01)
    assert value(outcome, "squares_turn") == pytest.approx(turn, abs=1e-4)


def test_the_uncertainty_of_the_room_is_what_repeated_readings_scatter() -> None:
    """Monte Carlo of readings about two patterns whose room is held by four and by two dowels."""
    dice = np.random.default_rng(3)
    sigma = 0.002
    for holes in (
        [(30.02, 0.03), (-0.04, 30.01), (-29.97, -0.02), (0.03, -30.03)],
        [(30.06, 0.0), (0.0, 30.0), (-30.06, 0.0), (0.0, -30.0)],
    ):
        rooms = []
        for _ in range(1500):
            pins = np.array(SQUARE) + dice.normal(0, sigma, (4, 2))
            bores = np.array(holes) + dice.normal(0, sigma, (4, 2))
            rooms.append(
                -minimax([tuple(p) for p in pins], [tuple(b) for b in bores], [0.1] * 4).excess
            )
        told = value(run(SQUARE, holes, 8.2, uncertainty=f"{sigma} mm"), "margin_uncertainty")
        assert 2000 * np.std(rooms) == pytest.approx(told, rel=0.08)


def test_the_uncertainty_of_the_turn_counts_both_sets_and_the_angle_read() -> None:
    """σ√2/(R√N) for x and y; an angle read to 0.05° adds 0.05° R/√12 on the circle."""
    plain = run(SQUARE, SQUARE, uncertainty="0.01 mm")
    assert value(plain, "turn_uncertainty") == pytest.approx(
        math.degrees(0.01 * math.sqrt(2) / (30 * 2)), rel=1e-6
    )
    polar = [["30", str(90 * i), "8"] for i in range(4)]
    holes = [["30", str(90 * i), "8.1"] for i in range(4)]
    outcome = evaluate(
        dowel_pattern_fit,
        {"form": "polar", "dowels_polar": polar, "holes_polar": holes, "uncertainty": "0.01 mm",
         "division": "0.05°"},
    )  # fmt: skip
    sigma = math.hypot(0.01, 30 * math.radians(0.05) / math.sqrt(12))
    assert value(outcome, "turn_uncertainty") == pytest.approx(
        math.degrees(sigma * math.sqrt(2) / 60), rel=1e-6
    )


@pytest.mark.parametrize(("division", "raised"), [("0.09°", False), ("0.1°", True)])
def test_an_angle_read_too_coarsely_is_told(division: str, raised: bool) -> None:
    """At 30 mm a division of 0.095° is as large as a clearance of 50 µm."""
    rows = [["30", str(90 * i), "8"] for i in range(4)]
    holes = [["30", str(90 * i), "8.1"] for i in range(4)]
    outcome = evaluate(
        dowel_pattern_fit,
        {"form": "polar", "dowels_polar": rows, "holes_polar": holes, "division": division},
    )
    assert ("coarse-angles" in codes(outcome)) == raised


def test_a_set_seen_from_the_wrong_side_is_told() -> None:
    """A lop-sided pattern agrees only with its mirror image; told right, nothing is said."""
    mirror = [(-x, y) for x, y in UNEVEN]
    assert "mirrored" in codes(run(UNEVEN, mirror))
    assert "mirrored" not in codes(run(UNEVEN, mirror, seen="opposite"))
    assert mirrored(ring(UNEVEN, 8), ring(mirror, 8)) == pytest.approx(0, abs=1e-9)


def test_one_dowel_out_alone_is_named() -> None:
    """Dowel 4's hole 0.6 mm out: it is named, not the neighbours that suffer with it."""
    holes = list(UNEVEN)
    holes[3] = (holes[3][0] + 0.6, holes[3][1])
    found = codes(run(UNEVEN, holes))
    assert "Dowel 4 or its hole is out alone" in found["one-dowel-off"]
    assert left_out(positions(ring(UNEVEN, 8), ring(holes, 8.1))[0])[0] == 3
    spread = [(x + 0.2 * (-1) ** i, y) for i, (x, y) in enumerate(UNEVEN)]
    assert "one-dowel-off" not in codes(run(UNEVEN, spread))


def test_a_fit_that_least_squares_would_refuse_is_told() -> None:
    """A hole 0.1 mm out both ways: half its 141 µm in the best place, more by least squares."""
    outcome = run(SQUARE, [(30.1, 0.1), *SQUARE[1:]], 8.16, uncertainty="0.002 mm")
    assert value(outcome, "farthest") > 80
    assert value(outcome, "margin") == pytest.approx(80 - 1000 * math.hypot(0.1, 0.1) / 2, abs=0.1)
    assert "best-place-only" in codes(outcome)
    assert "best-place-only" not in codes(run(SQUARE, [(30.02, 0.02), *SQUARE[1:]], 8.16))


def test_a_single_position_and_other_positions() -> None:
    """Uneven spacing leaves one position; even spacing four; a wrong mark is told."""
    assert "one-position" in codes(run(UNEVEN, UNEVEN))
    assert "It also goes on turned by" in codes(run(SQUARE, SQUARE))["other-positions"]
    found = codes(run(UNEVEN, moved(UNEVEN, math.radians(60))))
    assert "It goes on turned by 60.0°" in found["other-positions"]


def test_lack_within_the_readings_asks_for_finer_readings() -> None:
    """4 µm lacking with 14 µm of uncertainty: a stop all the same, with the advice to measure."""
    holes = [(30.054, 0.0), (-30.054, 0.0)]
    pins = [(30.0, 0.0), (-30.0, 0.0)]
    close = codes(run(pins, holes, 8.1, uncertainty="0.005 mm"))["does-not-go"]
    sure = codes(run(pins, holes, 8.1, uncertainty="0.001 mm"))["does-not-go"]
    assert "measure more finely" in close
    assert "measure more finely" not in sure
    assert "do not pull it in" in sure


def test_patterns_that_differ_by_more_than_wear() -> None:
    """A ring typed with diameters for radii misses by 30 mm; one of 0.5 mm is worn at most."""
    assert "different-patterns" in codes(run(SQUARE, [(2 * x, 2 * y) for x, y in SQUARE]))
    assert "different-patterns" not in codes(run(SQUARE, [(1.016 * x, y) for x, y in SQUARE]))


def test_a_dowel_in_the_middle_is_refused() -> None:
    """Positions go round a ring; a middle dowel belongs to none."""
    rows = [[f"{x}", f"{y}", "8"] for x, y in [*SQUARE, (0.1, 0.1)]]
    outcome = evaluate(dowel_pattern_fit, {"dowels": rows, "holes": rows})
    assert "in the middle" in outcome["entries"]["dowels"]["error"]["message"]


def test_half_a_turn_is_not_two_turns() -> None:
    """The last bit of half a turn never changes its sign."""
    assert degrees(math.pi) == degrees(-math.pi) == 180
    assert degrees(math.radians(-90)) == pytest.approx(-90)


@pytest.mark.parametrize(("scatter", "word"), [(0.004, "room"), (0.3, "lacks")])
def test_the_drawing_states_its_exaggeration(scatter: float, word: str) -> None:
    """Title, number of times, and the room stand on the sheet for any count of dowels."""
    for count in (2, 3, 7, 12):
        dice = np.random.default_rng(count)
        turns = np.arange(count) * 2 * math.pi / count
        pins = [(40 * math.cos(a), 40 * math.sin(a)) for a in turns]
        holes = [(x + dice.normal(0, scatter), y + dice.normal(0, scatter)) for x, y in pins]
        best = laid(positions(ring(pins, 8), ring(holes, 8.1))[0])
        svg = draw_pattern(best, "dowel 1").svg()
        assert "gaps" in svg
        assert word in svg
