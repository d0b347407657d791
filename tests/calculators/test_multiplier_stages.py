"""Several stages: order, power balance, one stage as the plain calculator, travel, refusals."""

from __future__ import annotations

import itertools
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.multiplier_stages import multiplier_of_stages
from calculators.torque_multiplier import planetary_multiplier
from witnessmark.calc import Calculator, evaluate

MANY = settings(max_examples=20, deadline=None, derandomize=True)
SURE = {"wrench": "100 % ± 0", "gives": "100 % ± 0", "step": "0.001 N·m"}
STAGES = st.lists(
    st.tuples(st.floats(min_value=2, max_value=6), st.floats(min_value=0.85, max_value=1)),
    min_size=1, max_size=3,
)  # fmt: skip
# Sun and annulus of sound gears with three planets.
GEARS = ((15, 45), (12, 48), (18, 42), (20, 70), (12, 60))


def outcome_of(
    of: Calculator[..., Any] = multiplier_of_stages, /, **entries: Any
) -> dict[str, Any]:
    """The outcome without its drawing; no entry may be refused."""
    outcome = evaluate(of, entries, drawings=False)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def values(of: Calculator[..., Any] = multiplier_of_stages, /, **entries: Any) -> dict[str, Any]:
    """Result name to its number in its own unit."""
    return {part["name"]: part.get("value") for part in outcome_of(of, **entries)["results"]}


def levels(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def rows(stages: list[tuple[float, float]]) -> list[list[str]]:
    """Ratio and efficiency to the rows of the table."""
    return [[f"{i:.9g}", f"{i * eta:.9g}"] for i, eta in stages]


@MANY
@given(STAGES)
def test_the_order_of_the_stages_does_not_count(stages: list[tuple[float, float]]) -> None:
    """Every order gives the same figures; only the table of stages differs."""
    figures = []
    for order in itertools.permutations(stages):
        got = values(stages=rows(list(order)), **SURE)
        figures.append({name: each for name, each in got.items() if each is not None})
    for each in figures[1:]:
        assert each == pytest.approx(figures[0], rel=1e-9)


@MANY
@given(STAGES, st.floats(min_value=1, max_value=700))
def test_power_out_is_power_in_less_the_loss(
    stages: list[tuple[float, float]], degrees: float
) -> None:
    """Work at the nut is the product of the efficiencies times the work of the handle."""
    nothing = {"slack": "0°", "wind_up": "0°"}
    got = values(stages=rows(stages), turn=f"{degrees!r}°", **nothing, **SURE)
    eta = 1.0
    for _, each in stages:
        eta *= each
    work_in = got["setting"] * got["travel"]
    assert got["torque"] * degrees / 360 == pytest.approx(eta * work_in, rel=1e-6)
    assert got["setting"] + got["reaction"] == pytest.approx(got["torque"], rel=1e-9)


@MANY
@given(st.lists(st.sampled_from(GEARS), min_size=1, max_size=3))
def test_a_train_of_real_gears(gears: list[tuple[int, int]]) -> None:
    """Each ratio is above 2; without losses factor and ratio are one."""
    teeth = [[str(sun), "0", str(ring), "2"] for sun, ring in gears]
    got = values(known_by="teeth", teeth=teeth, mesh="1 ± 0", wrench="100 % ± 0")
    assert got["gear_ratio"] > 2 ** len(gears)
    assert got["gear_factor"] == pytest.approx(got["gear_ratio"], rel=1e-12)


@pytest.mark.parametrize("target", ["200 N·m", "480 N·m ± 4 %", "900 N·m"])
def test_one_stage_is_the_plain_multiplier(target: str) -> None:
    """Ratio 5 and factor 4.62 ± 0.12 in either calculator, band and all."""
    plain = outcome_of(planetary_multiplier, target=target, factor="4.62 ± 0.12", step="2 N·m")
    staged = outcome_of(
        target=target, stages=[["5", "4.62"]], gives=f"100 % ± {100 * 0.12 / 4.62!r}",
        step="2 N·m",
    )  # fmt: skip
    for name in ("setting", "torque", "press"):
        (one,) = (part for part in plain["results"] if part["name"] == name)
        (other,) = (part for part in staged["results"] if part["name"] == name)
        assert other["value"] == pytest.approx(one["value"], rel=1e-12)
        if one["band"]:
            for end in ("low", "high"):
                got = other["band"]["worst"][end]
                assert got == pytest.approx(one["band"]["worst"][end], rel=1e-9)


def test_no_tool_within_its_limits_leaves_the_band() -> None:
    """A thousand wrenches and trains of two stages whose meshes give 0.95 to 0.99."""
    teeth = [["15", "15", "45", "3"], ["12", "18", "48", "3"]]
    outcome = outcome_of(known_by="teeth", teeth=teeth, mesh="0.97 ± 0.02", target="900 N·m")
    (part,) = (part for part in outcome["results"] if part["name"] == "torque")
    setting = next(each["value"] for each in outcome["results"] if each["lead"])
    dice = random.Random(9)
    got = []
    for _ in range(1000):
        mesh = dice.uniform(0.95, 0.99)
        k = 4 * (1 + 3 * mesh) / 4 * 5 * (1 + 4 * mesh) / 5
        got.append(k * setting / (1 + dice.uniform(-0.04, 0.04)))
    worst = part["band"]["worst"]
    assert worst["low"] <= min(got)
    assert max(got) <= worst["high"]
    assert worst["high"] - worst["low"] < 1.2 * (max(got) - min(got))


def test_torque_behind_each_stage() -> None:
    """100 N·m in, 3 and 4 without loss: 300 and 1200 N·m."""
    entries = {"stages": [["3", "3"], ["4", "4"]], "target": "1200 N·m"}
    (part,) = (
        each for each in outcome_of(**SURE, **entries)["results"] if each["name"] == "behind"
    )
    assert [row[-1] for row in part["rows"]] == ["300", "1200"]


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("handle-travels", "note", {"slack": "90°", "wind_up": "0°"},
         {"slack": "89°", "wind_up": "0°"}),
        ("setting-high", "stop", {"wrench_high": "59 N·m"}, {"wrench_high": "60 N·m"}),
        ("over-tool", "stop", {"tool_most": "400 N·m"}, {"tool_most": "600 N·m"}),
        ("efficiency-low", "caution", {"stages": [["3", "2.5"], ["3", "2.5"]]}, {}),
        ("efficiency-assumed", "note", {"known_by": "teeth"}, {}),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, Any], quiet: dict[str, Any]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_refusals_name_the_stage() -> None:
    """A factor above its ratio, teeth that do not mesh, planets that do not fit."""

    def refusal(name: str, **entries: Any) -> str:
        outcome = evaluate(multiplier_of_stages, entries)
        return str(outcome["entries"][name]["error"]["message"])

    assert "Stage 2: the factor 3.1" in refusal("stages", stages=[["3", "2.9"], ["3", "3.1"]])
    teeth = {"known_by": "teeth"}
    assert "Stage 1" in refusal("teeth", teeth=[["13", "0", "62", "3"]], **teeth)
    odd = [["15", "15", "45", "3"], ["16", "0", "48", "3"]]
    assert "Stage 2: 3 planets" in refusal("teeth", teeth=odd, **teeth)


def test_the_drawing_shows_the_setting() -> None:
    """The picture of the plain multiplier serves the staged one."""
    assert "set to 60.0\u202fN·m" in evaluate(multiplier_of_stages, {})["drawings"][0]["svg"]
