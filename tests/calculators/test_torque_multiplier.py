"""Wrench setting through a multiplier: balance, rounding to the scale, findings, refusals."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.torque_multiplier import planetary_multiplier
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)
TORQUES = st.floats(min_value=50, max_value=3000)
FACTORS = st.floats(min_value=2, max_value=20)
EXACT = {"wrench": "100 % ± 0", "factor": "4.62 ± 0"}


def outcome_of(units: str = "si", **entries: str) -> dict[str, Any]:
    outcome = evaluate(planetary_multiplier, entries, units)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def results(units: str = "si", **entries: str) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome_of(units, **entries)["results"]}


def value(name: str, **entries: str) -> float:
    """The number of a result in its own unit."""
    return float(results(**entries)[name]["value"])


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def text(code: str, **entries: str) -> str:
    """The text of one finding."""
    found = {part["code"]: part["text"] for part in outcome_of(**entries)["findings"]}
    return str(found[code])


def refusal(name: str, **entries: str) -> str:
    """The message an entry is refused with."""
    outcome = evaluate(planetary_multiplier, entries)
    assert outcome["entries"][name]["error"], f"{name} was accepted"
    return str(outcome["entries"][name]["error"]["message"])


# -- the balance ------------------------------------------------------------------------------


@MANY
@given(TORQUES, FACTORS, st.floats(min_value=0.05, max_value=1.5))
def test_moments_about_the_axis_balance(target: float, factor: float, arm: float) -> None:
    """Handle and arm together hold what the nut takes, and the press times the arm is the arm's."""
    found = results(
        target=f"{target!r} N·m", factor=f"{factor!r}", ratio="20", arm=f"{arm!r} m",
        step="0.001 N·m",
    )  # fmt: skip
    setting, torque, reaction = (found[n]["value"] for n in ("setting", "torque", "reaction"))
    assert setting + reaction == pytest.approx(torque, rel=1e-12)
    assert 1000 * found["press"]["value"] * arm == pytest.approx(reaction, rel=1e-12)
    assert torque == pytest.approx(target, rel=1e-3)


@MANY
@given(
    st.floats(min_value=2, max_value=50),
    st.floats(min_value=0.6, max_value=1),
    st.floats(min_value=1, max_value=700),
)
def test_power_out_is_power_in_less_the_loss(ratio: float, eta: float, degrees: float) -> None:
    """Work at the nut is the efficiency times the work of the handle."""
    found = results(
        known_by="ratio", ratio=f"{ratio!r}", efficiency=f"{eta!r}", turn=f"{degrees!r}°",
        step="0.01 N·m",
    )  # fmt: skip
    work_in = found["setting"]["value"] * found["turns"]["value"]
    work_out = found["torque"]["value"] * degrees / 360
    assert work_out == pytest.approx(eta * work_in, rel=1e-9)


def test_the_three_ways_to_know_a_multiplier_agree() -> None:
    """Teeth 15/45 with lossless meshes, ratio 4 and factor 4 are one tool."""
    ways: list[dict[str, str]] = [
        {"known_by": "teeth", "sun": "15", "planet": "15", "ring": "45", "mesh": "1 ± 0"},
        {"known_by": "ratio", "ratio": "4", "efficiency": "1 ± 0"},
        {"known_by": "factor", "ratio": "4", "factor": "4 ± 0"},
    ]
    figures = [{name: part["value"] for name, part in results(**way).items()} for way in ways]
    assert figures[0] == pytest.approx(figures[1], rel=1e-12)
    assert figures[1] == pytest.approx(figures[2], rel=1e-12)


def test_a_wrench_known_to_give_less_is_set_higher() -> None:
    """A wrench that gives 98 % of its setting is set to the target over factor and 0.98."""
    low = {"factor": "5 ± 0", "wrench": "98 % ± 1", "target": "490 N·m", "step": "1 N·m"}
    assert value("setting", **low) == pytest.approx(100, rel=1e-12)
    assert value("torque", **low) == pytest.approx(490, rel=1e-12)


# -- the scale --------------------------------------------------------------------------------


@MANY
@given(TORQUES, st.sampled_from([0.5, 1.0, 2.0, 5.0]))
def test_setting_is_the_nearest_mark(target: float, step: float) -> None:
    """The setting is a whole number of divisions and none is nearer."""
    found = results(target=f"{target!r} N·m", step=f"{step} N·m")
    setting, exact = found["setting"]["value"], found["exact"]["value"]
    assert setting / step == pytest.approx(round(setting / step), abs=1e-9)
    assert abs(setting - exact) <= step / 2 * (1 + 1e-6)


@pytest.mark.parametrize("target", ["525 N·m", "524.99999999999 N·m", "525.00000000001 N·m"])
def test_between_two_marks_the_last_bit_does_not_decide(target: str) -> None:
    """105 on a scale of 2 becomes 106, whatever the last bits are."""
    assert value("setting", target=target, factor="5 ± 0") == pytest.approx(106, rel=1e-12)


def test_a_scale_in_pound_feet_is_kept() -> None:
    """A wrench divided in lbf·ft is set to one of its own marks."""
    shown = results("us", step="2 lbf·ft")["setting"]
    assert shown["display"] == "76.0\u202flbf·ft"


def test_us_display_shows_the_same_figures() -> None:
    """480 N·m are 354 lbf·ft; shares stay in per cent."""
    found = results("us")
    assert found["torque"]["display"] == "354\u202flbf·ft"
    assert found["press"]["unit_text"] == "lbf"
    assert found["input_use"]["unit_text"] == "%"


# -- findings ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("setting-low", "stop", {"wrench_high": "521 N·m"}, {"wrench_high": "520 N·m"}),
        ("setting-low", "stop", {"wrench_low": "105 N·m"}, {"wrench_low": "104 N·m"}),
        ("setting-high", "stop", {"wrench_high": "103 N·m"}, {"wrench_high": "104 N·m"}),
        (
            "setting-over-hand", "stop",
            {"target": "5010 N·m", "factor": "5"}, {"target": "5000 N·m", "factor": "5"},
        ),
        ("setting-rounded", "caution", {"step": "5 N·m"}, {"step": "2 N·m"}),
        ("over-tool", "stop", {"tool_most": "480 N·m"}, {"tool_most": "481 N·m"}),
        (
            "wrench-square-over", "stop",
            {"input_square": "10", "target": "564 N·m"},
            {"input_square": "10", "target": "554 N·m"},
        ),
        ("nut-square-over", "stop", {"output_square": "12.5"}, {"output_square": "20"}),
        ("efficiency-low", "caution", {"factor": "3.7"}, {"factor": "3.8"}),
        ("efficiency-assumed", "note", {"known_by": "ratio"}, {"known_by": "factor"}),
        ("efficiency-assumed", "note", {"known_by": "teeth"}, {"known_by": "factor"}),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_what_must_always_be_seen_to() -> None:
    """Arm and fingers, the wound-up tool and the impact driver are told with every result."""
    found = levels()
    assert found["arm-bears"] == "caution"
    assert found["wound-up"] == "caution"
    assert found["no-impact-driver"] == "note"
    assert "1.51\u202fkN" in text("arm-bears")


def test_rounding_is_told_with_its_sense() -> None:
    """The mark above is too high, the mark below too low."""
    assert "1.1\u202f% too high" in text("setting-rounded", step="5 N·m")
    assert "too low" in text("setting-rounded", step="10 N·m")


def test_findings_are_finished_sentences() -> None:
    """Every text ends in a full stop and names its entry rightly."""
    cases = [{"wrench_high": "521 N·m"}, {"step": "5 N·m"}, {"known_by": "ratio"}]
    for case in cases:
        for finding in outcome_of(**case)["findings"]:
            assert re.search(r"[a-z)]\.$", finding["text"]), finding
            assert finding["entry"] in ("", *planetary_multiplier.entries)


# -- refusals ---------------------------------------------------------------------------------


def test_a_factor_above_the_ratio_is_refused() -> None:
    """Such a gear would make work out of nothing."""
    assert "factor 5.1 cannot be more than the ratio" in refusal("ratio", factor="5.1", ratio="5")


def test_a_tool_that_takes_more_than_it_gives_is_refused() -> None:
    """A ratio of 1.5 at an efficiency of 0.6 is no multiplier."""
    assert "less torque" in refusal(
        "efficiency", known_by="ratio", ratio="1.5", efficiency="0.6"
    )  # fmt: skip


def test_a_setting_below_the_first_mark_is_refused() -> None:
    """Nothing can be set on a scale that starts above it."""
    assert "too coarse" in refusal("step", target="4 N·m", step="5 N·m")


def test_a_deviation_written_in_place_of_the_reading_is_refused() -> None:
    """ "4 %" alone would mean a wrench that gives a twenty-fifth of its setting."""
    assert "100 % ± 4 %" in refusal("wrench", wrench="4 %")


def test_teeth_that_contradict_each_other_are_refused() -> None:
    """The refusal of the gear reaches the entry it is about."""
    assert "24.5" in refusal("ring", known_by="teeth", sun="13", planet="", ring="62")
    assert "18 teeth" in refusal("planet", known_by="teeth", planet="17")


# -- the drawing ------------------------------------------------------------------------------


@pytest.mark.parametrize("arm", ["50.0\u202fmm", "250\u202fmm", "1500\u202fmm"])
def test_the_drawing_shows_arm_press_and_torque(arm: str) -> None:
    """Arm length, press and torques stand in the drawing, for short arms and long ones."""
    outcome = outcome_of(arm=arm, target="300 N·m")
    picture = re.sub(r"<(title|desc).*?</\1>", "", outcome["drawings"][0]["svg"])
    words = " ".join(re.findall(r">([^<>]+)<", picture))
    shown = {part["name"]: part["display"] for part in outcome["results"]}
    for text_wanted in (arm, shown["press"], shown["setting"], f"{shown['torque']} on the nut"):
        assert text_wanted in words
