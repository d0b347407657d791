"""What the nut may get: the setting stands, wrench and multiplier deviate."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.torque_multiplier import planetary_multiplier
from witnessmark.calc import evaluate

MANY = settings(max_examples=20, deadline=None, derandomize=True)


def outcome_of(**entries: str) -> dict[str, Any]:
    outcome = evaluate(planetary_multiplier, entries)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def band(name: str, **entries: str) -> dict[str, Any]:
    """The band of a result."""
    (part,) = (part for part in outcome_of(**entries)["results"] if part["name"] == name)
    return dict(part["band"])


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def test_a_wrench_of_4_per_cent_in_the_sense_of_the_standard() -> None:
    """Set to 100 N·m it gives 96.154 to 104.167 N·m (ISO 6789: per cent of the true torque)."""
    bare = {"target": "100 N·m", "factor": "1 ± 0", "ratio": "1", "step": "1 N·m"}
    worst = band("torque", **bare)["worst"]
    assert worst["low"] == pytest.approx(96.154, abs=5e-4)
    assert worst["high"] == pytest.approx(104.167, abs=5e-4)


def test_worst_case_of_wrench_and_factor() -> None:
    """104 N·m set, factor 4.50 to 4.74: lowest and highest of both together."""
    worst = band("torque", factor="4.62 ± 0.12")["worst"]
    assert worst["low"] == pytest.approx(104 * 4.50 / 1.04, rel=1e-12)
    assert worst["high"] == pytest.approx(104 * 4.74 / 0.96, rel=1e-12)


@MANY
@given(
    st.floats(min_value=100, max_value=2000),
    st.floats(min_value=0.01, max_value=0.3),
    st.floats(min_value=0.5, max_value=6),
)
def test_no_tool_within_its_limits_leaves_the_band(
    target: float, spread: float, deviation: float
) -> None:
    """A thousand wrenches and multipliers, each within its limits, set once for all."""
    entries = {
        "target": f"{target!r} N·m ± 4 %",
        "factor": f"4.62 ± {spread!r}",
        "wrench": f"100 % ± {deviation!r}",
    }
    worst = band("torque", **entries)["worst"]
    dice = random.Random(20)
    setting = round(target / 4.62 / 2) * 2
    p = deviation / 100
    got = [
        setting * dice.uniform(4.62 - spread, 4.62 + spread) / (1 + dice.uniform(-p, p))
        for _ in range(1000)
    ]
    assert worst["low"] <= min(got)
    assert max(got) <= worst["high"]
    assert worst["high"] - worst["low"] < 1.3 * (max(got) - min(got))


def test_the_target_s_tolerance_does_not_widen_the_band() -> None:
    """What is allowed at the nut says nothing about what the tools do."""
    plain = band("torque", target="480 N·m")
    allowed = band("torque", target="480 N·m ± 4 %")
    assert allowed["worst"] == plain["worst"]
    assert {each["entry"]: each["share"] for each in allowed["drivers"]}["target"] == 0


def test_a_rounded_setting_does_not_jump_within_the_band() -> None:
    """The factor's limits lie many divisions of the scale apart; the setting stays what it is."""
    coarse = band("torque", step="5 N·m", wrench="100 % ± 0")["worst"]
    assert coarse["low"] == pytest.approx(105 * 4.50, rel=1e-12)
    assert coarse["high"] == pytest.approx(105 * 4.74, rel=1e-12)


def test_the_setting_has_no_band() -> None:
    """It is chosen, not measured."""
    (setting,) = (part for part in outcome_of()["results"] if part["lead"])
    assert setting["band"] is None


def test_press_follows_the_true_torques() -> None:
    """The arm holds what handle and nut differ by, at the band's ends too."""
    worst = band("press", arm="250 mm")["worst"]
    assert 1000 * worst["low"] == pytest.approx(104 / 1.04 * (4.50 - 1) / 0.25, rel=1e-12)
    assert 1000 * worst["high"] == pytest.approx(104 / 0.96 * (4.74 - 1) / 0.25, rel=1e-12)


def test_efficiency_matters_as_much_as_the_wrench() -> None:
    """0.90 ± 0.04 spreads the torque about as far as a wrench of 4 %."""
    shares = {each["entry"]: each["share"] for each in band("torque", known_by="ratio")["drivers"]}
    assert shares["efficiency"] == pytest.approx(0.5, abs=0.05)


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        (
            "band-over-tolerance", "caution",
            {"target": "480 N·m ± 4 %"}, {"target": "480 N·m ± 8 %"},
        ),
        ("band-over-tolerance", "caution", {"target": "480 N·m ± 4 %"}, {"target": "480 N·m"}),
        (
            "setting-off-middle", "caution",
            {"target": "480 N·m ± 7 %", "step": "5 N·m"}, {"target": "480 N·m ± 7 %"},
        ),
        ("band-from-multiplier", "note", {"factor": "4.62 ± 0.3"}, {"factor": "4.62 ± 0.12"}),
        ("band-from-wrench", "note", {"factor": "4.62 ± 0.12"}, {"factor": "4.62 ± 0.3"}),
        (
            "wrench-square-near", "caution",
            {"input_square": "10", "target": "545 N·m"},
            {"input_square": "10", "target": "535 N·m"},
        ),
        ("nut-square-near", "caution", {"target": "830 N·m"}, {"target": "780 N·m"}),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_exact_tools_have_nothing_to_say_about_a_band() -> None:
    """Without deviations there is neither a band nor a finding about one."""
    exact = {"wrench": "100 % ± 0", "factor": "4.62 ± 0"}
    assert not [code for code in levels(**exact) if code.startswith("band-")]
    assert outcome_of(**exact)["results"][1]["band"] is None


def test_a_factor_whose_upper_limit_reaches_the_ratio_still_has_a_band() -> None:
    """A calibration's own limits are no contradiction of the ratio."""
    assert band("torque", factor="4.95 ± 0.12", ratio="5")["worst"]["high"] > 0
