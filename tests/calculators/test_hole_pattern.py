"""Pattern fit: closed form and minimax against SciPy's rotations, optimisers and bounds."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import differential_evolution, linprog, minimize
from scipy.spatial.transform import Rotation

from calculators.hole_pattern import dowel_pattern_fit, positions
from calculators.pattern_fit import least_squares, minimax
from witnessmark.calc import evaluate

# Invented pattern of four dowels on radius 27 with the holes turned, shifted and scattered.
PINS = [(27.010, -0.005), (-0.008, 27.012), (-26.996, 0.006), (-0.006, -27.010)]
HOLES = [(27.03781, 0.07021), (-0.03423, 26.96587), (-26.94386, -0.11623), (0.14630, -27.04383)]
NONE = [0.0] * 4


def offsets(u, pins, holes):
    """Distances from turned and shifted pins to holes, by matrices."""
    turn, x, y = u
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return np.linalg.norm(np.array(holes) - np.array(pins) @ rotation.T - [x, y], axis=1)


def slsqp(pins, holes, clearances):
    """The minimax by SciPy's SLSQP on the epigraph form, from several starts."""
    best = math.inf
    for start in (0.0, 0.002, -0.002, 0.005):
        found = minimize(
            lambda u: u[3],
            [start, 0.0, 0.0, 0.1],
            jac=lambda u: np.array([0.0, 0, 0, 1]),
            constraints={
                "type": "ineq",
                "fun": lambda u: u[3] + np.array(clearances) - offsets(u[:3], pins, holes),
            },
            method="SLSQP",
            options={"ftol": 1e-14, "maxiter": 500},
        )
        reached = float(np.max(offsets(found.x[:3], pins, holes) - clearances))
        best = min(best, reached)
    return best


def rows(points, diameter):
    return tuple((f"{x:.6f}", f"{y:.6f}", f"{diameter}") for x, y in points)


def outcome(pins, holes, hole=8.1, **extra):
    return evaluate(
        dowel_pattern_fit, {"dowels": rows(pins, 8), "holes": rows(holes, hole), **extra}
    )


def value(result, name):
    return next(part for part in result["results"] if part["name"] == name)["value"]


def codes(result):
    return {finding["code"] for finding in result["findings"]}


def test_least_squares_is_the_rotation_of_a_reference_library():
    """scipy.spatial.transform.Rotation.align_vectors (Kabsch by SVD) gives the same turn."""
    centred = [np.c_[np.array(p) - np.mean(p, axis=0), np.zeros(4)] for p in (HOLES, PINS)]
    rotation, _ = Rotation.align_vectors(*centred)
    place = least_squares(PINS, HOLES)
    assert place.turn == pytest.approx(rotation.as_rotvec()[2], rel=1e-9)
    moved = np.array([place.of(p) for p in PINS])
    assert moved.mean(axis=0) == pytest.approx(np.mean(HOLES, axis=0), abs=1e-12)


def test_minimax_agrees_with_two_optimisers():
    """SLSQP on the epigraph, and differential evolution on the plain maximum."""
    got = minimax(PINS, HOLES, NONE).excess
    assert got == pytest.approx(slsqp(PINS, HOLES, NONE), abs=1e-8)
    found = differential_evolution(
        lambda u: float(np.max(offsets(u, PINS, HOLES))),
        [(-0.01, 0.01), (-0.3, 0.3), (-0.3, 0.3)],
        seed=7, tol=1e-12, atol=1e-12, maxiter=3000, polish=False,
    )  # fmt: skip
    assert got == pytest.approx(found.fun, abs=1e-6)
    assert got <= found.fun + 1e-9


def test_a_linear_program_bounds_the_minimax_from_below():
    """Offsets measured in 64 directions only: never above, and within 1/cos(pi/64)."""
    k = 64
    place = least_squares(PINS, HOLES)
    moved = np.array([place.of(p) for p in PINS])
    residual = np.array(HOLES) - moved
    lines, limits = [], []
    for angle in np.arange(k) * 2 * math.pi / k:
        d = np.array([math.cos(angle), math.sin(angle)])
        for (x, y), e in zip(moved, residual, strict=True):
            lines.append([-d @ [-y, x], -d[0], -d[1], -1.0])
            limits.append(-d @ e)
    solved = linprog([0, 0, 0, 1], A_ub=lines, b_ub=limits, bounds=[(None, None)] * 4)
    got = minimax(PINS, HOLES, NONE).excess
    assert solved.x[3] <= got + 1e-6
    assert got <= solved.x[3] / math.cos(math.pi / k) + 1e-6


@settings(max_examples=25, derandomize=True, deadline=None)
@given(
    st.integers(2, 6),
    st.floats(-0.02, 0.02),
    st.integers(0, 2**31),
    st.floats(0.02, 0.2),
)
def test_minimax_against_slsqp_for_any_pattern(count, turn, seed, clearance):
    """Random patterns with unequal clearances: never worse, and never below, SciPy's."""
    dice = np.random.default_rng(seed)
    angles = np.sort(dice.uniform(0, 2 * math.pi, count)) + np.arange(count) * 0.4
    radius = dice.uniform(20, 60, count)
    pins = np.c_[radius * np.cos(angles), radius * np.sin(angles)]
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    holes = pins @ rotation.T + dice.normal(0, 0.03, (count, 2))
    clearances = clearance * dice.uniform(0.5, 1.5, count)
    got = minimax([tuple(p) for p in pins], [tuple(h) for h in holes], list(clearances)).excess
    reference = slsqp(pins, holes, clearances)
    assert got <= reference + 1e-7
    assert got >= reference - 1e-4


@settings(max_examples=30, derandomize=True, deadline=None)
@given(st.floats(-3, 3), st.floats(-20, 20), st.floats(-20, 20))
def test_turning_and_shifting_both_patterns_changes_nothing(turn, x, y):
    """The room is a property of the two patterns, not of the axes they were measured in."""

    def move(points):
        c, s = math.cos(turn), math.sin(turn)
        return [(c * a - s * b + x, s * a + c * b + y) for a, b in points]

    here = minimax(PINS, HOLES, NONE).excess
    assert minimax(move(PINS), move(HOLES), NONE).excess == pytest.approx(here, abs=1e-8)


@settings(max_examples=20, derandomize=True, deadline=None)
@given(st.floats(-0.05, 0.05))
def test_a_known_turn_is_recovered_and_swapping_negates_it(turn):
    """Holes that are the dowels turned: the turn comes back; swapped, with the other sign."""
    c, s = math.cos(turn), math.sin(turn)
    turned = [(c * x - s * y, s * x + c * y) for x, y in PINS]
    assert least_squares(PINS, turned).turn == pytest.approx(turn, abs=1e-12)
    assert least_squares(turned, PINS).turn == pytest.approx(-turn, abs=1e-12)


def test_minimax_never_exceeds_the_least_squares_maximum():
    """Least squares is one of the places that minimax chooses from."""
    place = least_squares(PINS, HOLES)
    worst = max(math.hypot(*e) for e in place.offsets(PINS, HOLES))
    assert minimax(PINS, HOLES, NONE).excess <= worst + 1e-12


def test_the_scatter_of_the_turn_follows_the_readings():
    """Monte Carlo: u(theta) = sigma sqrt(2) / (R sqrt(N)) for N dowels on radius R."""
    dice = np.random.default_rng(11)
    sigma, pins = 0.01, np.array(PINS)
    turns = []
    for _ in range(2000):
        a = pins + dice.normal(0, sigma, pins.shape)
        b = pins + dice.normal(0, sigma, pins.shape)
        turns.append(least_squares([tuple(p) for p in a], [tuple(p) for p in b]).turn)
    assert np.std(turns) == pytest.approx(sigma * math.sqrt(2) / (27.0 * 2), rel=0.06)


def test_rows_may_come_in_any_order():
    """Holes entered in another order are matched by their angle."""
    shuffled = [HOLES[2], HOLES[0], HOLES[3], HOLES[1]]
    straight = outcome(PINS, HOLES)
    assert value(outcome(PINS, shuffled), "margin") == pytest.approx(
        value(straight, "margin"), abs=1e-9
    )


def test_a_symmetrical_pattern_goes_on_in_every_position():
    """Four alike dowels on a circle: four positions, and the mark decides."""
    square = [(30, 0), (0, 30), (-30, 0), (0, -30)]
    result = outcome(square, square)
    assert value(result, "fitting") == 4
    assert "other-positions" in codes(result)


def test_one_dowel_out_of_step_leaves_one_position():
    """With one dowel moved by 3 mm round the circle only one position is left."""
    square = [(30, 0), (2.995, 29.85), (-30, 0), (0, -30)]
    result = outcome(square, square)
    assert value(result, "fitting") == 1
    assert "other-positions" not in codes(result)


def test_a_mirrored_pattern_does_not_go_unless_the_side_is_told():
    """Flywheel face up: the pattern is seen in a mirror."""
    pins = [(27, 0), (0, 25), (-24, 3)]
    mirrored = [(-x, y) for x, y in pins]
    assert value(outcome(pins, mirrored), "margin") < 0
    assert value(outcome(pins, mirrored, seen="opposite"), "margin") == pytest.approx(50)


@pytest.mark.parametrize(
    ("hole", "code"), [(8.00, "no-clearance"), (8.02, "within-uncertainty"), (8.06, None)]
)
def test_the_verdict_follows_the_room(hole, code):
    """No clearance, room within the readings' uncertainty (2 x 0.007), room enough."""
    square = [(30, 0), (0, 31), (-30, 0), (0, -30)]
    found = codes(outcome(square, square, hole))
    assert {"no-clearance", "within-uncertainty", "does-not-go"} & found == (
        {code} if code else set()
    )


def test_polar_readings_are_the_same_places():
    """Radius and angle give what x and y give."""
    polar = lambda points, d: tuple(  # noqa: E731
        (f"{math.hypot(x, y):.9f}", f"{math.degrees(math.atan2(y, x)):.9f}", f"{d}")
        for x, y in points
    )
    result = evaluate(
        dowel_pattern_fit,
        {"form": "polar", "dowels_polar": polar(PINS, 8), "holes_polar": polar(HOLES, 8.1)},
    )
    assert value(result, "margin") == pytest.approx(value(outcome(PINS, HOLES), "margin"), abs=1e-4)


@pytest.mark.parametrize(
    ("pins", "holes", "field"),
    [(PINS, HOLES[:3], "holes"), ([PINS[0], PINS[0], PINS[1]], HOLES[:3], "dowels")],
)
def test_contradicting_tables_are_refused_at_their_field(pins, holes, field):
    """Not as many holes as dowels, or two rows in one place."""
    assert outcome(pins, holes)["entries"][field]["error"]["code"] == "contradiction"


def test_positions_are_sorted_by_their_turn():
    """The position that is turned least from the marks comes first."""
    square = [((30.0, 0.0), 8.0), ((0.0, 30.0), 8.0), ((-30.0, 0.0), 8.0), ((0.0, -30.0), 8.0)]
    holes = [(place, 8.1) for place, _ in square]
    turns = [each.turn for each in positions(square, holes)]
    assert turns == sorted(turns, key=lambda turn: round(abs(turn), 6))
    assert {round(turn) for turn in turns} == {0, 90, -90, 180}
