"""Pinion on the ring gear: forces as vectors, findings on both sides of their limits."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.turning_tool import pinion_turning_tool
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)


def outcome_of(units: str = "si", **entries: str) -> dict[str, Any]:
    outcome = evaluate(pinion_turning_tool, entries, units)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def values(**entries: str) -> dict[str, float]:
    """Result name to its number in its own unit."""
    return {part["name"]: part["value"] for part in outcome_of(**entries)["results"]}


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


@MANY
@given(
    st.integers(min_value=8, max_value=30),
    st.integers(min_value=60, max_value=200),
    st.floats(min_value=1, max_value=6),
    st.floats(min_value=50, max_value=2000),
    st.sampled_from([14.5, 20.0, 25.0]),
)
def test_moments_of_the_tooth_force(
    pinion: int, ring: int, module: float, target: float, alpha: float
) -> None:
    """One force along the line of action makes all the moments, taken as cross products."""
    found = values(
        pinion=str(pinion), ring=str(ring), module=f"{module!r} mm", target=f"{target!r} N·m",
        pressure_angle=f"{alpha}°", efficiency="1 ± 0", held_by="stand",
    )  # fmt: skip
    # The ring at the origin, the pinion to the right; the pinion pushes the ring's tooth down.
    mesh = np.array([module * ring / 2, 0.0])
    axis = np.array([module * (ring + pinion) / 2, 0.0])
    size = 1000 * found["bearing"]
    force = size * np.array([-math.sin(math.radians(alpha)), -math.cos(math.radians(alpha))])

    def moment(arm: Any, push: Any) -> float:
        return float(arm[0] * push[1] - arm[1] * push[0]) / 1000

    on_ring = moment(mesh, force)
    assert on_ring == pytest.approx(-target, rel=1e-9)
    handle = -moment(mesh - axis, -force)
    assert handle == pytest.approx(found["wrench"], rel=1e-9)
    # What holds the tool at its bracket against the handle and the ring's tooth, about the crank.
    bracket = -(handle + moment(mesh, -force))
    assert abs(bracket) == pytest.approx(found["bracket"], rel=1e-9)
    assert -force[1] / 1000 == pytest.approx(found["tooth_force"], rel=1e-9)
    assert -force[0] / 1000 == pytest.approx(found["separating"], rel=1e-9)


@MANY
@given(st.floats(min_value=0.6, max_value=1), st.floats(min_value=1, max_value=360))
def test_work_in_and_out(efficiency: float, degrees: float) -> None:
    """Work about the crankshaft is the efficiency times the work of the handle."""
    found = values(efficiency=f"{efficiency!r}", turn=f"{degrees!r}°")
    assert 480 * degrees / 360 == pytest.approx(
        efficiency * found["wrench"] * found["turns"], rel=1e-9
    )


def test_where_the_bracket_sits_decides_what_the_stand_bears() -> None:
    """On the same engine the handle's torque alone comes out; on the stand everything does."""
    engine, stand = values(held_by="engine"), values(held_by="stand")
    assert engine["stand"] == engine["wrench"]
    assert stand["stand"] == stand["bracket"] == engine["bracket"]


def test_the_rack_is_a_ring_of_96_teeth() -> None:
    """Rack and ring gear differ in their teeth only: 12 in 96 is 8 to 1."""
    found = values(pinion="12", ring="96", module="3.75 mm")
    assert found["ratio"] == 8
    assert found["centres"] == pytest.approx(202.5)


def test_band_of_the_handle_comes_from_the_efficiency() -> None:
    """Worst case at the ends of the efficiency, the lower end giving the larger torque."""
    outcome = outcome_of(efficiency="0.95 ± 0.03")
    band = outcome["results"][0]["band"]["worst"]
    assert band["low"] == pytest.approx(480 / 11 / 0.98, rel=1e-12)
    assert band["high"] == pytest.approx(480 / 11 / 0.92, rel=1e-12)


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("tooth-over", "stop", {"tooth_most": "2.64 kN"}, {"tooth_most": "2.65 kN"}),
        ("tooth-load", "caution", {}, {"tooth_most": "2.64 kN"}),
        ("stand-bears-all", "caution", {"held_by": "stand"}, {"held_by": "engine"}),
        ("engine-bears", "note", {"held_by": "engine"}, {"held_by": "stand"}),
    ],
)
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_what_must_always_be_seen_to() -> None:
    """Battery, the handle driven back and the sense of turning are told with every result."""
    found = levels()
    assert found["starter-off"] == found["drives-back"] == "caution"
    assert found["turns-opposite"] == found["not-for-final"] == "note"


def test_a_pinion_as_large_as_the_ring_is_refused() -> None:
    """Pinion and ring were mixed up: the message tells which count to look at."""
    outcome = evaluate(pinion_turning_tool, {"pinion": "60", "ring": "60"})
    assert "ring's 60" in outcome["entries"]["pinion"]["error"]["message"]


def test_us_display() -> None:
    """45.9 N·m are 34 lbf·ft."""
    assert outcome_of("us")["results"][0]["display"] == "34\u202flbf·ft"


@pytest.mark.parametrize(
    "teeth",
    [
        {"pinion": "6", "ring": "400", "module": "1 mm"},
        {"pinion": "30", "ring": "40", "module": "6 mm"},
    ],
)
def test_the_drawing_shows_both_torques(teeth: dict[str, str]) -> None:
    """Force, torques and distance stand in the drawing, for large and small rings."""
    outcome = outcome_of(**teeth)
    picture = re.sub(r"<(title|desc).*?</\1>", "", outcome["drawings"][0]["svg"])
    words = " ".join(re.findall(r">([^<>]+)<", picture))
    shown = {part["name"]: part["display"] for part in outcome["results"]}
    assert shown["tooth_force"] in words
    assert shown["centres"] in words
