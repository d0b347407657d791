"""Offset adapter: the same torque by vectors, what must hold at any angle, findings, refusals."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calculators.offset_adapter import offset_adapter
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)
LENGTHS = st.floats(min_value=150, max_value=1400)
SHARES = st.floats(min_value=0, max_value=0.45)
ANGLES = st.floats(min_value=-180, max_value=180)
EXACT = {"wrench": "100 % ± 0", "misdirected": "0° ± 0°", "step": "0.001 N·m"}


def outcome_of(units: str = "si", **entries: str) -> dict[str, Any]:
    """The outcome without its drawing; no entry may be refused."""
    outcome = evaluate(offset_adapter, entries, units, drawings=False)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def part(name: str, **entries: str) -> dict[str, Any]:
    """One result."""
    (found,) = (each for each in outcome_of(**entries)["results"] if each["name"] == name)
    return dict(found)


def value(name: str, **entries: str) -> float:
    """The number of a result in its own unit."""
    return float(part(name, **entries)["value"])


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def shape(length: float, offset: float, angle: float, **more: str) -> dict[str, str]:
    """Entries for a wrench and an adapter, mm and degrees."""
    return {"length": f"{length!r} mm", "offset": f"{offset!r} mm", "angle": f"{angle!r}°"} | more


# -- an independent route: the hand's force and two points ----------------------------------------


@MANY
@given(LENGTHS, SHARES, ANGLES, st.floats(min_value=-25, max_value=25))
def test_gain_is_the_ratio_of_two_moments(
    length: float, share: float, angle: float, aside: float
) -> None:
    """One force at the grip, its moment about fastener and drive by cross products."""
    offset, theta, eps = share * length, math.radians(angle), math.radians(aside)
    assume(offset <= 300)
    grip = np.array([-length, 0.0])
    # Square to the wrench it pulls down; off the square it leans along it.
    pull = np.array([math.sin(eps), -math.cos(eps)])
    nut = offset * np.array([math.cos(theta), math.sin(theta)])

    def moment(about: Any) -> float:
        arm = grip - about
        return float(arm[0] * pull[1] - arm[1] * pull[0])

    got = value("gain", **shape(length, offset, angle, misdirected=f"{aside!r}° ± 0°"))
    assert got == pytest.approx(moment(nut) / moment(np.zeros(2)), rel=1e-9)


# -- properties -----------------------------------------------------------------------------------


@MANY
@given(LENGTHS, ANGLES, st.floats(min_value=20, max_value=900))
def test_no_offset_changes_nothing(length: float, angle: float, target: float) -> None:
    """A socket on the drive is set to the torque itself."""
    got = value("exact", target=f"{target!r} N·m", **shape(length, 0.0, angle), **EXACT)
    assert got == pytest.approx(target, rel=1e-12)


@MANY
@given(LENGTHS, SHARES)
def test_a_right_angle_changes_nothing(length: float, share: float) -> None:
    """With a square pull; then either side is alike."""
    offset = min(share * length, 300.0)
    for angle in (90.0, -90.0):
        assert value("gain", **shape(length, offset, angle)) == pytest.approx(1, rel=1e-12)


@MANY
@given(LENGTHS, SHARES, ANGLES)
def test_left_and_right_are_alike(length: float, share: float, angle: float) -> None:
    """θ and -θ give the same, and so do wrench and adapter both twice as long."""
    offset = min(share * length, 140.0)
    got = value("gain", **shape(length, offset, angle))
    assert value("gain", **shape(length, offset, -angle)) == pytest.approx(got, rel=1e-12)
    if 2 * length <= 1500:
        assert value("gain", **shape(2 * length, 2 * offset, angle)) == pytest.approx(got, rel=1e-9)


def test_first_order_uncertainty_of_the_ratio() -> None:
    """L 400 ± 5, B 60 ± 1, θ 45 ± 5°: 0.86 % on the ratio by the derivatives (by hand)."""
    toleranced = {"length": "400 ± 5 mm", "offset": "60 ± 1 mm", "angle": "45 ± 5 °"}
    found = part("gain", misdirected="0° ± 0°", **toleranced)
    half = (found["band"]["rss"]["high"] - found["band"]["rss"]["low"]) / 2
    assert half / found["value"] == pytest.approx(0.0086, abs=2e-4)


def test_at_a_right_angle_the_pull_drives_the_band() -> None:
    """Straight ahead a pull 10° off the square does nothing, to the side it leads the ranking."""
    sure = {"wrench": "100 % ± 0"}
    aside = part("torque", **shape(400, 60, 90), **sure)["band"]
    assert aside["drivers"][0]["entry"] == "misdirected"
    assert aside["worst"]["high"] / aside["worst"]["low"] == pytest.approx(
        (1 + 0.15 * math.tan(math.radians(10))) / (1 - 0.15 * math.tan(math.radians(10))), rel=1e-9
    )
    assert part("torque", **shape(400, 60, 0), **sure)["band"] is None


def test_the_setting_stands_while_the_band_is_worked_out() -> None:
    """Uncertain lengths move the torque, not what was set."""
    assert part("setting", length="400 ± 20 mm")["band"] is None
    assert part("torque", length="400 ± 20 mm")["band"] is not None


# -- findings and refusals ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("adapter-long", "caution", shape(400, 201, 0), shape(400, 200, 0)),
        ("adapter-long", "caution", shape(400, 200, 180), shape(400, 199, 180)),
        ("square-pull-counts", "note", shape(400, 60, 61), shape(400, 60, 59)),
        ("square-pull-counts", "note", shape(400, 60, -119), shape(400, 60, -121)),
        ("square-pull-counts", "note", shape(400, 60, 90), shape(400, 0, 90)),
        (
            "more-at-fastener", "caution",
            shape(400, 60, 0, wrench_high="100 N·m"), shape(400, 60, 180, wrench_high="200 N·m"),
        ),
        (
            "setting-low", "stop",
            shape(400, 50, 0, wrench_high="401 N·m"), shape(400, 50, 0, wrench_high="400 N·m"),
        ),
        (
            "setting-high", "stop",
            shape(400, 50, 0, wrench_high="79 N·m"), shape(400, 50, 0, wrench_high="80 N·m"),
        ),
        ("setting-rounded", "caution", {"step": "6 N·m"}, {"step": "1 N·m"}),
        ("one-hand", "caution", shape(400, 50, 0), shape(400, 0, 0)),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it. 90 N·m at 400 and 50 mm are set to 80."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_a_fastener_under_the_hand_is_refused() -> None:
    """Folded back as far as the grip the fastener gets nothing."""
    outcome = evaluate(offset_adapter, shape(150, 145, 180))
    assert "Turn the adapter round" in outcome["entries"]["angle"]["error"]["message"]


# -- the picture ----------------------------------------------------------------------------------


@pytest.mark.parametrize("angle", ["0°", "45°", "90°", "-120°", "180°"])
def test_the_drawing_shows_setting_length_and_torque(angle: str) -> None:
    """The three figures stand in the drawing at every angle."""
    outcome = evaluate(offset_adapter, {"angle": angle})
    picture = re.sub(r"<(title|desc).*?</\1>", "", outcome["drawings"][0]["svg"])
    words = re.findall(r">([^<>]+)<", picture)
    shown = {each["name"]: each["display"] for each in outcome["results"]}
    assert f"set to {shown['setting']}" in words
    assert shown["torque"] in words
    assert "400\u202fmm" in words
