"""Tilt of a seal against a least-squares plane, rotations and random readings."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.seal_squareness import HOURS, seal_squareness
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=30, deadline=None, derandomize=True)
DEPTH = st.floats(0.5, 5)
DEPTHS = st.tuples(DEPTH, DEPTH, DEPTH, DEPTH)


def given_depths(depths: Any) -> dict[str, str]:
    """Depths in mm at 12, 3, 6 and 9 o'clock as entries."""
    return {f"at_{hour}": f"{float(z)!r} mm" for hour, z in zip(HOURS, depths, strict=True)}


def outcome(units: str = "si", **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(seal_squareness, entries, units)
    assert found["complete"], found["entries"]
    return found


def drawn(units: str = "si", **entries: Any) -> list[str]:
    """The drawings of a case, as SVG."""
    return [part["svg"] for part in evaluate(seal_squareness, entries, units)["drawings"]]


def results(units: str = "si", **entries: Any) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome(units, **entries)["results"]}


def codes(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome(**entries)["findings"]}


def plane(depths: Any, diameter: float) -> tuple[float, float, float, np.ndarray]:
    """Least-squares plane through the four points: middle, slopes to 3 and to 12, residuals."""
    r = diameter / 2
    places = np.array([(1, 0, r), (1, r, 0), (1, 0, -r), (1, -r, 0)], dtype=float)
    z = np.array(depths, dtype=float)
    (middle, a, b), *_ = np.linalg.lstsq(places, z, rcond=None)
    return middle, a, b, z - places @ (middle, a, b)


@MANY
@given(DEPTHS, st.floats(20, 400))
def test_tilt_is_that_of_the_least_squares_plane(depths: Any, diameter: float) -> None:
    """Tilt, mean depth, direction and warp come from numpy's plane as well."""
    middle, a, b, left = plane(depths, diameter)
    got = results(**given_depths(depths), diameter=f"{diameter!r} mm")
    assert got["tilt"]["value"] == pytest.approx(diameter * math.hypot(a, b), abs=1e-9)
    assert got["depth"]["value"] == pytest.approx(middle, abs=1e-9)
    assert got["warp"]["value"] == pytest.approx(left[0], abs=1e-9)
    assert np.allclose(np.abs(left), abs(left[0]), atol=1e-9)
    if "direction" in got:
        turn = math.radians(got["direction"]["value"])
        assert (math.sin(turn), math.cos(turn)) == pytest.approx(
            (a / math.hypot(a, b), b / math.hypot(a, b)), abs=1e-6
        )


@MANY
@given(DEPTH)
def test_equal_depths_are_square(depth: float) -> None:
    """No tilt, no warp, no side that is deepest."""
    got = results(**given_depths([depth] * 4))
    assert got["tilt"]["value"] == 0
    assert got["warp"]["value"] == pytest.approx(0, abs=1e-12)
    assert got["deepest"]["text"] == "no side"
    assert got["tap"]["text"] == "nowhere"
    assert "direction" not in got


@MANY
@given(DEPTHS, st.floats(-0.2, 0.2), st.floats(-0.2, 0.2))
def test_a_plane_changes_tilt_not_warp(depths: Any, p: float, q: float) -> None:
    """Adding a tilt and a shift leaves the warp alone."""
    added = [depths[0] + 0.4 + q, depths[1] + 0.4 + p, depths[2] + 0.4 - q, depths[3] + 0.4 - p]
    before, after = results(**given_depths(depths)), results(**given_depths(added))
    assert after["warp"]["value"] == pytest.approx(before["warp"]["value"], abs=1e-9)


@MANY
@given(DEPTHS, st.integers(1, 3))
def test_turning_the_clock_turns_the_direction_only(depths: Any, quarters: int) -> None:
    """Readings moved on by quarters of the clock move the direction by as much."""
    turned = [depths[(k - quarters) % 4] for k in range(4)]
    before, after = results(**given_depths(depths)), results(**given_depths(turned))
    assert after["tilt"]["value"] == pytest.approx(before["tilt"]["value"], abs=1e-9)
    if "direction" in before:
        moved = (after["direction"]["value"] - before["direction"]["value"] - 90 * quarters) % 360
        assert min(moved, 360 - moved) == pytest.approx(0, abs=1e-6)


def test_uncertainty_against_random_readings() -> None:
    """Readings scattered by u move the tilt along its direction by √2 u (20,000 trials)."""
    rng, u = np.random.default_rng(3), 0.02
    z = np.array([2.0, 2.3, 2.0, 1.7]) + rng.normal(0, u, (20_000, 4))
    tilt = np.hypot(z[:, 1] - z[:, 3], z[:, 0] - z[:, 2])
    got = results(gauge="0.02 mm")["uncertainty"]["value"]
    assert got == pytest.approx(float(tilt.std()), rel=0.03)


@pytest.mark.parametrize(
    ("angle", "deepest", "tap"),
    [(0, "12 o'clock", "6 o'clock"), (30, "1 o'clock", "7 o'clock"), (90, "3 o'clock", "9 o'clock"),
     (200, "7 o'clock", "1 o'clock"), (350, "12 o'clock", "6 o'clock"),
     (300, "10 o'clock", "4 o'clock")],
)  # fmt: skip
def test_hours_of_the_clock(angle: float, deepest: str, tap: str) -> None:
    """The deepest hour and the one across from it, clockwise from the top."""
    turn = math.radians(angle)
    up, right = 0.1 * math.cos(turn), 0.1 * math.sin(turn)
    got = results(**given_depths([2 + up, 2 + right, 2 - up, 2 - right]))
    assert (got["deepest"]["text"], got["tap"]["text"]) == (deepest, tap)
    assert got["direction"]["value"] == pytest.approx(angle, abs=1e-6)


def tilted(tilt: float) -> dict[str, str]:
    """Entries of a seal tilted towards 3 o'clock."""
    return given_depths([2, 2 + tilt / 2, 2, 2 - tilt / 2])


def test_judgement_on_both_sides_of_the_limit() -> None:
    """0.10 mm, known to 0.0141 mm: clear below 0.086, undecided up to 0.114, a stop beyond."""
    both = {"not-square", "square-undecided"}
    assert both & codes(**tilted(0.085)).keys() == set()
    assert both & codes(**tilted(0.087)).keys() == {"square-undecided"}
    assert both & codes(**tilted(0.113)).keys() == {"square-undecided"}
    assert both & codes(**tilted(0.115)).keys() == {"not-square"}
    assert codes(**tilted(0.115))["not-square"] == "stop"
    assert both & codes(**tilted(0.15), speed="slow").keys() == set()
    assert both & codes(**tilted(0.15), limit="0.15 mm").keys() == {"square-undecided"}


def test_makers_limit_wins() -> None:
    """It replaces the common figure and its note."""
    got = results(limit="0.15 mm", speed="fast")
    assert got["allowed"]["value"] == pytest.approx(0.15)
    assert "limit-of-practice" in codes()
    assert "limit-of-practice" not in codes(limit="0.15 mm")


def test_warp_is_told_above_its_uncertainty() -> None:
    """Four readings good to u give a warp good to u/2; beyond twice that it is told."""
    for w, said in ((0.0095, False), (0.0105, True)):
        assert ("warped" in codes(**given_depths([2 + w, 2 - w, 2 + w, 2 - w]))) is said, w


def test_one_wrong_reading_shows_as_a_quarter() -> None:
    """A reading wrong by e gives a warp of e/4, and the text names e."""
    case = outcome(**given_depths([2.2, 2.0, 2.0, 2.0]))
    assert next(r for r in case["results"] if r["name"] == "warp")["value"] == pytest.approx(0.05)
    text = next(f["text"] for f in case["findings"] if f["code"] == "warped")
    assert "0.20\u202fmm" in text


def test_coarse_gauge() -> None:
    """A gauge whose tilt uncertainty is more than a third of the limit cannot judge it."""
    assert "gauge-too-coarse" not in codes(gauge="0.0235 mm")
    assert "gauge-too-coarse" in codes(gauge="0.0237 mm")


def test_toleranced_reading_gives_a_band() -> None:
    """A typed tolerance becomes a band of the tilt by the general way."""
    band = results(**tilted(0.08) | {"at_3": "2.04 ± 0.01 mm"})["tilt"]["band"]
    assert band["worst"]["low"] == pytest.approx(0.07)
    assert band["worst"]["high"] == pytest.approx(0.09)


def test_refused_entries() -> None:
    """A seal standing proud is not measured this way."""
    part = evaluate(seal_squareness, {"at_6": "-0.2 mm"})["entries"]["at_6"]["error"]
    assert "proud" in part["message"]


def test_us_units_and_drawings() -> None:
    """Inches in results and drawings; drawings stand for no tilt and for much."""
    assert results("us")["tilt"]["unit_text"] == "in"
    for entries in ({}, given_depths([2] * 4), given_depths([0, 100, 50, 3])):
        assert [svg[:4] for svg in drawn("us", **entries)] == ["<svg", "<svg"]
