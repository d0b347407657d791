"""Bar on the nut: moments by vectors, inverses, mirror symmetry, findings, refusals, picture."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.lever import lever
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)
ARMS = st.floats(min_value=0.15, max_value=2.8)
FORCES = st.floats(min_value=5, max_value=1400)
ANGLES = st.floats(min_value=15, max_value=165)


def outcome_of(**entries: str) -> dict[str, Any]:
    """The outcome without its drawing; no entry may be refused."""
    outcome = evaluate(lever, entries, drawings=False)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def results(**entries: str) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome_of(**entries)["results"]}


def value(name: str, **entries: str) -> float:
    """The number of a result in its own unit."""
    return float(results(**entries)[name]["value"])


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def refusal(name: str, **entries: str) -> str:
    """The message an entry is refused with."""
    error = evaluate(lever, entries, drawings=False)["entries"][name]["error"]
    assert error, f"{name} was accepted"
    return str(error["message"])


def pulled(**entries: str) -> dict[str, str]:
    """Entries for the torque of a pull."""
    return {"load": "hand", "find": "torque", **entries}


def hung(**entries: str) -> dict[str, str]:
    """Entries for the torque of a hanging mass."""
    return {"load": "mass", "find": "torque", **entries}


# -- an independent route: the cross product ------------------------------------------------------


@MANY
@given(FORCES, ARMS, ANGLES, st.floats(min_value=-40, max_value=40), st.floats(0.0, 0.8))
def test_moment_is_the_cross_product(
    force: float, arm: float, phi: float, psi: float, height: float
) -> None:
    """Torque and tilting moment are the two parts of r x F about the nut's axis."""
    found = results(
        **pulled(force=f"{force!r} N", arm=f"{arm!r} m", angle=f"{phi!r}°", aside=f"{psi!r}°",
                 standing=f"{1000 * height!r} mm")
    )  # fmt: skip
    a, b = math.radians(phi), math.radians(psi)
    pull = force * np.array([math.cos(a) * math.cos(b), math.sin(a) * math.cos(b), math.sin(b)])
    moment = np.cross([arm, 0.0, height], pull)
    assert found["torque"]["value"] == pytest.approx(moment[2], rel=1e-9)
    assert found["bending"]["value"] == pytest.approx(math.hypot(*moment[:2]), rel=1e-6, abs=1e-9)


@MANY
@given(st.floats(0.5, 100), ARMS, st.floats(-55, 55), st.floats(0, 20))
def test_hanging_mass_is_the_cross_product_of_two_weights(
    mass: float, arm: float, slope: float, bar: float
) -> None:
    """Load and bar, each at its own place, in a field that points down."""
    found = results(
        **hung(mass=f"{mass!r} kg", arm=f"{arm!r} m", slope=f"{slope!r}°", bar_mass=f"{bar!r} kg")
    )
    way = np.array([math.cos(math.radians(slope)), math.sin(math.radians(slope)), 0.0])
    weight = np.array([0.0, -9.80665, 0.0])
    moment = np.cross(arm * way, mass * weight) + np.cross(arm / 2 * way, bar * weight)
    assert found["torque"]["value"] == pytest.approx(-moment[2], rel=1e-9)


@pytest.mark.parametrize(
    ("degrees", "share"),
    [(0, 1.0), (10, 193.153 / 196.133), (15, 0.9659), (20, 184.305 / 196.133)],
)
def test_a_slope_takes_torque_away(degrees: int, share: float) -> None:
    """Cosines from a four-figure table."""
    got = value("torque", **hung(mass="20 kg", arm="1 m", slope=f"{degrees}°"))
    assert got == pytest.approx(196.133 * share, rel=5e-5)


# -- properties -----------------------------------------------------------------------------------


@MANY
@given(FORCES, ARMS, st.floats(min_value=0, max_value=75))
def test_square_is_the_middle(force: float, arm: float, off: float) -> None:
    """A pull leaning forward gives as much as one leaning back, and square gives the most."""
    each = [
        value("torque", **pulled(force=f"{force!r} N", arm=f"{arm!r} m", angle=f"{90 + x!r}°"))
        for x in (-off, off, 0.0)
    ]
    assert each[0] == pytest.approx(each[1], rel=1e-9)
    assert each[2] >= each[0] * (1 - 1e-12)


@MANY
@given(FORCES, ARMS, ANGLES)
def test_pull_and_arm_give_the_torque_back(force: float, arm: float, phi: float) -> None:
    """Solving for the pull or for the arm undoes solving for the torque."""
    phi_text = f"{phi!r}°"
    torque = value("torque", **pulled(force=f"{force!r} N", arm=f"{arm!r} m", angle=phi_text))
    if not 1 <= torque <= 5000:
        return
    wanted = {"load": "hand", "target": f"{torque!r} N·m", "angle": phi_text}
    assert value("pull", find="load", arm=f"{arm!r} m", **wanted) == pytest.approx(force, rel=1e-9)
    reach = value("reach", find="arm", force=f"{force!r} N", **wanted)
    assert reach == pytest.approx(1000 * arm, rel=1e-9)


@MANY
@given(st.floats(1, 100), ARMS, st.floats(0, 20), st.sampled_from(["", "0.4 m"]))
def test_mass_and_arm_give_the_torque_back(
    mass: float, arm: float, bar: float, balance: str
) -> None:
    """The same with a hanging mass and a heavy bar, wherever it balances."""
    common = {"load": "mass", "bar_mass": f"{bar!r} kg", "balance": balance, "slope": "12°"}
    torque = value("torque", find="torque", mass=f"{mass!r} kg", arm=f"{arm!r} m", **common)
    if not 1 <= torque <= 5000:
        return
    wanted = {**common, "target": f"{torque!r} N·m"}
    assert value("hung", find="load", arm=f"{arm!r} m", **wanted) == pytest.approx(mass, rel=1e-8)
    reach = value("reach", find="arm", mass=f"{mass!r} kg", **wanted)
    assert reach == pytest.approx(1000 * arm, rel=1e-8)


@MANY
@given(st.floats(0, 20), st.floats(0, 20))
def test_a_heavier_bar_never_lowers_the_torque(bar: float, more: float) -> None:
    """Adding mass to the bar adds torque."""
    light = value("torque", **hung(bar_mass=f"{bar!r} kg"))
    assert value("torque", **hung(bar_mass=f"{bar + more!r} kg")) >= light


def test_a_tube_is_not_added_to_the_bar() -> None:
    """600 and 700 mm with 200 mm overlap and the hand 100 mm from the end are 1 m, not 1.3 m."""
    tubed = {"arm_by": "tube", "bar": "600 mm", "tube": "700 mm", "overlap": "200 mm",
             "behind": "100 mm"}  # fmt: skip
    assert value("torque", **pulled(force="100 N", **tubed)) == pytest.approx(100, rel=1e-12)
    assert value(
        "tube_needed", load="hand", find="arm", target="100 N·m", force="100 N", **tubed
    ) == pytest.approx(700, rel=1e-12)


@pytest.mark.parametrize(("degrees", "loss"), [(5, 0.0038), (10, 0.0152), (15, 0.0341)])
def test_an_angle_off_the_square_only_loses(degrees: int, loss: float) -> None:
    """1 - cos of 5, 10 and 15 degrees; the band of a pull square within that is one-sided."""
    (part,) = (
        part
        for part in outcome_of(**pulled(force="100 N", arm="1 m", angle=f"90° ± {degrees}°"))[
            "results"
        ]
        if part["name"] == "torque"
    )
    worst = part["band"]["worst"]
    assert worst["low"] == pytest.approx(100 * (1 - loss), abs=0.01)
    assert worst["high"] == pytest.approx(100, rel=1e-4)


# -- findings -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("pull-fair", "note", pulled(force="150 N"), pulled(force="151 N")),
        ("pull-brace", "caution", pulled(force="151 N"), pulled(force="150 N")),
        ("pull-hard", "caution", pulled(force="301 N"), pulled(force="300 N")),
        ("pull-hard", "caution", pulled(force="301 N"), pulled(force="301 N", people="2")),
        ("pull-too-great", "stop", pulled(force="501 N"), pulled(force="500 N")),
        ("mass-heavy", "caution", hung(mass="25.1 kg"), hung(mass="25 kg")),
        ("mass-lowered", "caution", hung(), pulled()),
        ("mass-turns", "note", hung(), pulled()),
        ("off-square", "caution", pulled(angle="71°"), pulled(angle="72°")),
        ("off-square", "caution", hung(slope="19°"), hung(slope="18°")),
        ("socket-tilts", "caution", pulled(standing="301 mm"), pulled(standing="299 mm")),
        (
            "overlap-short", "caution",
            pulled(arm_by="tube", bar="600 mm", overlap="149 mm"),
            pulled(arm_by="tube", bar="600 mm", overlap="150 mm"),
        ),
        ("gravity-local", "note", hung(gravity="local"), hung()),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


@pytest.mark.parametrize("entries", [pulled(), hung()])
def test_what_must_always_be_seen_to(entries: dict[str, str]) -> None:
    """The nut that lets go, the engine that tips, the torque wrench that is no bar."""
    found = levels(**entries)
    assert found["lets-go"] == found["engine-held"] == "caution"
    assert found["no-torque-wrench"] == "note"


def test_findings_are_finished_sentences() -> None:
    """Every text ends in a full stop."""
    for case in (pulled(force="600 N", angle="60°"), hung(mass="40 kg", gravity="local")):
        for finding in outcome_of(**case)["findings"]:
            assert re.search(r"[a-z).]\.$", finding["text"]), finding


# -- refusals -------------------------------------------------------------------------------------


def test_a_bar_that_is_heavier_than_the_job_is_refused() -> None:
    """A bar that gives more by itself leaves nothing to hang on."""
    asked = {"load": "mass", "target": "20 N·m", "bar_mass": "10 kg"}
    assert "own weight" in refusal("bar_mass", find="load", arm="1 m", **asked)
    assert "own weight" in refusal("bar_mass", find="arm", mass="5 kg", balance="1 m", **asked)


def test_an_overlap_longer_than_the_bar_is_refused() -> None:
    """Bar 200 mm and overlap 300 mm contradict each other, whatever is asked for."""
    tubed = {"arm_by": "tube", "bar": "200 mm", "overlap": "300 mm"}
    assert "as long as that" in refusal("overlap", **pulled(**tubed))
    assert "as long as that" in refusal("overlap", load="hand", find="arm", **tubed)


def test_a_tube_that_is_not_needed_is_refused() -> None:
    """With a bar longer than the arm wanted there is nothing to lengthen."""
    asked = {"load": "hand", "find": "arm", "arm_by": "tube", "target": "20 N·m", "bar": "600 mm"}
    assert "no tube" in refusal("bar", **asked)


def test_a_hand_behind_the_nut_is_refused() -> None:
    """End of the tube to the hand longer than everything."""
    tubed = {"arm_by": "tube", "bar": "100 mm", "tube": "300 mm", "overlap": "100 mm"}
    assert "behind the nut" in refusal("behind", **pulled(behind="400 mm", **tubed))


# -- the picture ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entries", "texts"),
    [
        ({"load": "hand", "find": "load"}, ("480\u202fN", "1000\u202fmm", "480\u202fN·m")),
        (hung(mass="30 kg", slope="15°"), ("30.0\u202fkg", "1000\u202fmm", "284\u202fN·m")),
        ({"load": "hand", "find": "arm"}, ("250\u202fN", "1920\u202fmm", "480\u202fN·m")),
    ],
)
def test_the_drawing_shows_load_arm_and_torque(
    entries: dict[str, str], texts: tuple[str, ...]
) -> None:
    """The three figures stand in the drawing, whichever is asked for."""
    svg = evaluate(lever, entries)["drawings"][0]["svg"]
    picture = re.sub(r"<(title|desc).*?</\1>", "", svg)
    words = re.findall(r">([^<>]+)<", picture)
    for text in texts:
        assert text in words
