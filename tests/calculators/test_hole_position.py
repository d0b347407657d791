"""Hole position: plane geometry, boundaries by brute force, findings on both sides."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.hole_position import hole_position
from witnessmark.calc import evaluate

MANY = settings(max_examples=40, derandomize=True, deadline=None)


def run(units: str = "si", **entries: str) -> dict[str, Any]:
    """The outcome of entries that are accepted."""
    outcome = evaluate(hole_position, entries, units)
    assert outcome["complete"], outcome["entries"]
    return outcome


def part(outcome: dict[str, Any], name: str) -> dict[str, Any]:
    """One result of an outcome."""
    return next(each for each in outcome["results"] if each["name"] == name)


def value(name: str, **entries: str) -> float:
    """The number of a result in its own unit."""
    return float(part(run(**entries), name)["value"])


def codes(**entries: str) -> set[str]:
    """Codes of the findings."""
    return {finding["code"] for finding in run(**entries)["findings"]}


@MANY
@given(st.floats(0, 2 * math.pi), st.floats(0.0001, 0.4))
def test_position_is_twice_the_distance_whatever_its_direction(angle: float, off: float) -> None:
    """The zone is a diameter, so the direction does not matter."""
    dx, dy = off * math.cos(angle), off * math.sin(angle)
    got = value("position", dx=f"{dx:.12f} mm", dy=f"{dy:.12f} mm")
    assert got == pytest.approx(2000 * off, abs=1e-6)


@MANY
@given(
    st.sampled_from(["hole", "dowel"]), st.floats(0, 0.1), st.floats(0, 0.05), st.floats(0, 0.05)
)
def test_in_place_is_what_a_gauge_of_virtual_size_tells(
    feature: str, off: float, growth: float, zone: float
) -> None:
    """A fixed gauge pin (or ring) of virtual size on the true place enters exactly when the
    position with bonus is in its zone."""
    sign = 1 if feature == "hole" else -1
    size = 8 + sign * growth
    virtual = 8 - sign * zone
    room = sign * (size - virtual) / 2 - off
    if abs(room) < 1e-6:
        return
    outcome = run(
        feature=feature, dx=f"{off:.9f} mm", dy="0", zone=f"{zone:.9f} mm", size=f"{size:.9f} mm",
        mms="8 mm", lms="", mate="",
    )  # fmt: skip
    assert part(outcome, "verdict")["text"] == ("in place" if room > 0 else "out of place")
    assert part(outcome, "virtual")["value"] == pytest.approx(virtual, abs=1e-8)
    assert part(outcome, "left")["value"] == pytest.approx(2000 * room, abs=1e-4)


def test_shared_zones_let_the_worst_pair_just_enter() -> None:
    """Fixed dowel: the hole's worst edge meets the dowel's worst edge when T1 + T2 = H - F."""
    hole, dowel, zone = 8.040, 8.015, 0.010
    rest = value("other", mms=f"{hole} mm", mate=f"{dowel} mm", zone=f"{zone} mm") / 1000
    inner_edge = zone / 2 + dowel / 2 + rest / 2  # the axes off by both half zones, opposite
    assert inner_edge == pytest.approx(hole / 2, abs=1e-9)
    free = value("other", mms=f"{hole} mm", mate=f"{dowel} mm", zone=f"{zone} mm", held="free")
    assert free == pytest.approx(1000 * (hole - dowel))


def test_without_the_requirement_size_gives_nothing() -> None:
    """Regardless of size the zone stays what the drawing says."""
    assert value("allowed", size="8.060 mm", requirement="none") == pytest.approx(12)
    assert value("allowed", size="8.060 mm") == pytest.approx(32)


@pytest.mark.parametrize(
    ("entries", "code", "raised"),
    [
        ({"dx": "0.010 mm", "dy": "0"}, "out-of-place", False),
        ({"dx": "0.011 mm", "dy": "0"}, "out-of-place", True),
        ({"dx": "0.006 mm", "dy": "0"}, "by-its-size", False),
        ({"dx": "0.007 mm", "dy": "0"}, "by-its-size", True),
        ({"dx": "0.0048 mm", "dy": "0", "requirement": "none"}, "close", False),
        ({"dx": "0.0050 mm", "dy": "0", "requirement": "none"}, "close", True),
        ({"size": "8.040 mm"}, "beyond-size", False),
        ({"size": "8.039 mm"}, "beyond-size", True),
        ({"size": "8.066 mm"}, "beyond-size", False),
        ({"size": "8.067 mm"}, "beyond-size", True),
        ({"size": "8.067 mm", "lms": ""}, "beyond-size", False),
        ({"zone": "0.025 mm"}, "zones-too-wide", False),
        ({"zone": "0.026 mm"}, "zones-too-wide", True),
        ({"zone": "0.026 mm", "mate": ""}, "zones-too-wide", False),
    ],
)
def test_findings_on_both_sides_of_their_limits(
    entries: dict[str, str], code: str, raised: bool
) -> None:
    """Each finding appears just beyond its limit and not at it."""
    assert (code in codes(**entries)) == raised


def test_a_dowel_too_large_is_told_so() -> None:
    """Smaller and larger are not mixed up between holes and dowels."""
    outcome = run(feature="dowel", size="8.020 mm", mms="8.015 mm", lms="8.006 mm", mate="8.04 mm")
    assert "The dowel is larger" in outcome["findings"][0]["text"]
    outcome = run(feature="dowel", size="8.000 mm", mms="8.015 mm", lms="8.006 mm", mate="8.04 mm")
    assert "The dowel is smaller" in outcome["findings"][0]["text"]
    assert part(outcome, "verdict")["text"] == "wrong size"


@pytest.mark.parametrize(
    ("entries", "field"),
    [
        ({"mms": "8.066 mm", "lms": "8.040 mm"}, "lms"),
        ({"feature": "dowel", "mms": "8.006 mm", "lms": "8.015 mm"}, "lms"),
        ({"zone": "4 mm", "mms": "3 mm", "size": "3.01 mm", "lms": "3.1 mm"}, "zone"),
        ({"zone": "-0.01 mm"}, "zone"),
    ],
)
def test_contradictions_are_refused_at_their_field(entries: dict[str, str], field: str) -> None:
    """Sizes exchanged, a zone wider than the hole, a zone below nothing."""
    assert evaluate(hole_position, entries)["entries"][field]["error"]


def test_us_units() -> None:
    """Results in thou and inch, findings too."""
    outcome = run("us", dx="2 thou", dy="0 thou")
    assert part(outcome, "position")["unit_text"] == "thou"
    assert part(outcome, "virtual")["unit_text"] == "in"
    assert "thou" in outcome["findings"][0]["text"]


@pytest.mark.parametrize("entries", [{}, {"dx": "0", "dy": "0"}, {"zone": "0"}, {"dx": "0.3 mm"}])
def test_the_drawing_survives_extremes(entries: dict[str, str]) -> None:
    """No deviation, no zone, far out."""
    assert "axis" in run(**entries)["drawings"][0]["svg"]
