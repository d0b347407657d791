"""Setting inside limits: no wrench within its deviation leaves them, marks, ranges, findings."""

from __future__ import annotations

import itertools
import random
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.torque_wrench import torque_wrench
from calculators.wrench_classes import CLASSES
from witnessmark.calc import evaluate

MANY = settings(max_examples=30, deadline=None, derandomize=True)
SCALE = {"wrench_low": "20 N·m", "wrench_high": "200 N·m", "step": "1 N·m"}
TORQUES = st.floats(min_value=45, max_value=180)


def outcome_of(units: str = "si", **entries: str) -> dict[str, Any]:
    """The outcome without its drawing; no entry may be refused."""
    outcome = evaluate(torque_wrench, SCALE | entries, units, drawings=False)
    errors = {name: part["error"] for name, part in outcome["entries"].items() if part["error"]}
    assert errors == {}
    return outcome


def values(**entries: str) -> dict[str, float]:
    """Result name to its number in its own unit."""
    return {part["name"]: part["value"] for part in outcome_of(**entries)["results"]}


def levels(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome_of(**entries)["findings"]}


def limited(percent: float, **entries: str) -> dict[str, str]:
    """Entries for a wrench known by its greatest deviation."""
    return {"known_by": "limit", "limit": f"{percent!r} %"} | entries


# -- the deviation counts from the true torque ----------------------------------------------------


@pytest.mark.parametrize(
    ("true", "inside"), [(104.1, True), (104.2, False), (96.2, True), (96.1, False)]
)
def test_set_to_100_with_4_per_cent(true: float, inside: bool) -> None:
    """(100 - 104.1)/104.1 = -3.94 % is in although 4.1 % over the setting; 104.2 is out."""
    deviation = (100 - true) / true
    got = values(target="100 N·m", **limited(4.0))
    assert (got["least"] <= true <= got["greatest"]) is inside
    assert (abs(deviation) <= 0.04) is inside


@MANY
@given(TORQUES, st.floats(min_value=0.1, max_value=15), st.floats(min_value=0.1, max_value=4))
def test_the_true_torque_lies_wider_above_than_below(
    target: float, percent: float, more: float
) -> None:
    """The interval holds the setting, is wider upward, and grows with the deviation."""
    got = values(target=f"{target!r} N·m", **limited(percent))
    below, above = got["setting"] - got["least"], got["greatest"] - got["setting"]
    assert 0 < below < above
    wider = values(target=f"{target!r} N·m", **limited(percent + more))
    assert wider["least"] < got["least"]
    assert wider["greatest"] > got["greatest"]


def test_an_exact_wrench_gives_what_it_is_set_to() -> None:
    """Without deviation the interval is the setting."""
    got = values(target="100 N·m", **limited(0.0))
    assert got["least"] == got["setting"] == got["greatest"]


# -- inside limits: an independent search over every mark and many wrenches ------------------------


@MANY
@given(
    TORQUES,
    st.floats(min_value=0.5, max_value=12),
    st.floats(min_value=0.2, max_value=8),
    st.sampled_from([1.0, 2.0, 5.0]),
)
def test_a_wrench_is_unsuitable_when_no_mark_keeps_within_the_limits(
    target: float, tolerance: float, percent: float, step: float
) -> None:
    """Try every mark of the scale with the two worst wrenches; the findings say the same."""
    low, high, p = target * (1 - tolerance / 100), target * (1 + tolerance / 100), percent / 100
    marks = [20 + k * step for k in range(int(180 / step) + 1)]
    good = [m for m in marks if low <= m / (1 + p) and m / (1 - p) <= high]
    near = [m for m in marks if low * (1 - 1e-6) <= m / (1 + p) and m / (1 - p) <= high * 1.000001]
    if len(good) != len(near):
        return  # on the very edge rounding decides
    entries = limited(percent, target=f"{target!r} N·m ± {tolerance!r} %", step=f"{step!r} N·m")
    found = levels(**entries)
    assert bool(good) is ("keeps-limits" in found)
    assert bool(good) is not ("tool-unsuitable" in found or "no-mark" in found)
    if good:
        setting = values(**entries)["setting"]
        assert min(abs(setting - mark) for mark in good) < 1e-9
        assert abs(setting - target) <= min(abs(mark - target) for mark in good) + 1e-9


@MANY
@given(TORQUES, st.floats(min_value=-6, max_value=6), st.floats(min_value=0, max_value=3))
def test_no_wrench_within_its_sheet_leaves_the_interval(
    target: float, found: float, uncertainty: float
) -> None:
    """A thousand wrenches with deviations from d - W to d + W."""
    entries = {"known_by": "sheet", "found": f"{found!r} %", "uncertainty": f"{uncertainty!r} %"}
    got = values(target=f"{target!r} N·m", **entries)
    dice = random.Random(4)
    true = [
        got["setting"] / (1 + (found + dice.uniform(-uncertainty, uncertainty)) / 100)
        for _ in range(1000)
    ]
    assert got["least"] <= min(true) * (1 + 1e-12)
    assert max(true) <= got["greatest"] * (1 + 1e-12)


def test_what_it_takes_is_just_enough() -> None:
    """340 to 360 takes ± 20/700; such a wrench with fine marks can, one a little worse cannot."""
    asked = {"target": "340 … 360 N·m", "wrench_high": "400 N·m", "step": "0.001 N·m"}
    assert values(**limited(4.0, **asked))["needed"] == pytest.approx(2000 / 700, rel=1e-12)
    assert "keeps-limits" in levels(**limited(100 * 20 / 700 - 1e-4, **asked))
    assert "tool-unsuitable" in levels(**limited(100 * 20 / 700 + 1e-4, **asked))


def test_a_wrench_that_shows_too_much_is_set_higher() -> None:
    """Found + 2 %: 102 on the scale is 100 N·m."""
    sheet = {"known_by": "sheet", "found": "2 %", "uncertainty": "0 %"}
    got = values(target="100 N·m", **sheet)
    assert got["setting"] == pytest.approx(102)
    assert got["least"] == pytest.approx(100)


def test_a_scale_that_starts_between_divisions() -> None:
    """Marks at 7, 12, 17 …: 100 goes to 102, not to 100."""
    odd = {"wrench_low": "7 N·m", "step": "5 N·m"}
    assert values(target="100 N·m", **odd)["setting"] == pytest.approx(102)


def test_expanded_uncertainty_by_trial() -> None:
    """Twice the standard deviation of 20000 settings, class limit and division rectangular."""
    dice = random.Random(6789)
    tried = [150 * (1 + dice.uniform(-0.04, 0.04)) + dice.uniform(-2.5, 2.5) for _ in range(20000)]
    mean = sum(tried) / len(tried)
    twice = 2 * (sum((each - mean) ** 2 for each in tried) / len(tried)) ** 0.5
    got = values(target="150 N·m", **limited(4.0, step="5 N·m"))
    assert got["expanded"] == pytest.approx(twice, rel=0.02)


# -- the table of classes -------------------------------------------------------------------------

# ISO 6789-1:2017, greatest permissible deviation in % up to 10 N·m and above; II A read in the
# standard, the others from memory of it.
PRINTED = {
    "I A": (6, 6), "I B": (6, 4), "I C": (6, 4), "I D": (6, 6), "I E": (6, 4),
    "II A": (6, 4), "II B": (6, 4), "II C": (6, 4), "II D": (6, 6), "II E": (6, 6),
    "II F": (6, 6), "II G": (6, 6),
}  # fmt: skip


@pytest.mark.parametrize(("name", "where"), list(itertools.product(PRINTED, (0, 1))))
def test_limits_of_the_classes(name: str, where: int) -> None:
    """As printed, 10 N·m itself belonging to the small wrenches."""
    assert CLASSES[name].limit((10.0, 10.5)[where]) == PRINTED[name][where] / 100
    assert set(CLASSES) == set(PRINTED)


# -- findings and refusals ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        (
            "tool-unsuitable", "stop",
            {"target": "100 N·m ± 3 %"}, {"target": "100 N·m ± 6 %"},
        ),
        (
            "no-mark", "stop",
            {"target": "102 N·m ± 5 %", "step": "5 N·m"}, {"target": "100 N·m ± 5 %"},
        ),
        ("keeps-limits", "note", {"target": "100 N·m ± 6 %"}, {"target": "100 N·m ± 3 %"}),
        ("no-limits", "note", {"target": "100 N·m"}, {"target": "100 N·m ± 6 %"}),
        ("setting-low", "stop", {"target": "39 N·m"}, {"target": "40 N·m"}),
        ("setting-low", "stop", {"wrench_low": "101 N·m", "target": "100 N·m"},
         {"wrench_low": "100 N·m", "target": "100 N·m"}),
        ("setting-high", "stop", {"target": "201 N·m"}, {"target": "200 N·m"}),
        ("setting-rounded", "caution", {"target": "62 N·m", "step": "5 N·m"},
         {"target": "60 N·m", "step": "5 N·m"}),
        ("calibration-due", "caution", {"since": "13"}, {"since": "12"}),
        ("class-assumed", "note", {"known_by": "class"}, {"known_by": "limit"}),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_what_must_always_be_seen_to() -> None:
    """The second click, and friction as the larger part."""
    assert levels()["one-click"] == "caution"
    assert levels()["friction-more"] == "note"


def test_findings_name_entries_there_are() -> None:
    """A finding that points at an entry points at one of this calculator."""
    for case in ({"target": "39 N·m"}, {"target": "300 N·m"}, {"since": "40"}):
        for finding in outcome_of(**case)["findings"]:
            assert finding["entry"] in ("", *torque_wrench.entries)
            assert re.search(r"[a-z).]\.$", finding["text"]), finding


def test_a_scale_that_is_upside_down_is_refused() -> None:
    """The lowest mark above the highest."""
    outcome = evaluate(torque_wrench, SCALE | {"wrench_low": "250 N·m"})
    assert "Exchange" in outcome["entries"]["wrench_low"]["error"]["message"]


def test_a_setting_below_the_first_mark_is_refused() -> None:
    """1 N·m on a scale of 5 N·m that starts from nothing."""
    outcome = evaluate(torque_wrench, {"target": "1 N·m", "step": "5 N·m", "wrench_low": ""})
    assert "too coarse" in outcome["entries"]["step"]["error"]["message"]


@pytest.mark.parametrize("units", ["si", "us"])
def test_the_chart_stands_in_both_unit_systems(units: str) -> None:
    """The axes name the unit that is shown."""
    svg = evaluate(torque_wrench, {}, units)["drawings"][0]["svg"]
    assert ("lbf·ft" in svg) is (units == "us")


# -- a wrench of the shop -------------------------------------------------------------------------


def wrench_of_the_shop(**values: str) -> dict[str, Any]:
    """What ``evaluate`` wants to know of a wrench from 20 to 120 N·m."""
    card = {"low": "20 N·m", "high": "120 N·m", "step": "1 N·m", "deviation": "4 %"} | values
    return {"torque_wrench": {
        "name": "w", "title": "small wrench", "kind": "torque wrench", "values": card, "due": "",
    }}  # fmt: skip


@pytest.mark.parametrize(
    ("sheet", "least", "greatest"),
    [
        ({}, 96.154, 104.167),  # 100/1.04 and 100/0.96
        ({"found": "2 %"}, 96.154, 104.167),  # a sheet without its uncertainty is no sheet
        ({"found": "-2 %", "uncertainty": "1 %"}, 98.990, 101.031),  # set 98: 98/0.99 and 98/0.97
    ],
)
def test_a_chosen_wrench_counts_by_its_sheet_where_it_has_one(
    sheet: dict[str, str], least: float, greatest: float
) -> None:
    """Else by its greatest deviation. By hand, from the true torque."""
    outcome = evaluate(torque_wrench, {"target": "100 N·m"}, tools=wrench_of_the_shop(**sheet))
    got = {part["name"]: part["value"] for part in outcome["results"]}
    assert (got["least"], got["greatest"]) == pytest.approx((least, greatest), abs=1e-3)
    assert outcome["entries"]["known_by"]["text"] == ("sheet" if len(sheet) == 2 else "limit")
