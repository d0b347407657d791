"""The flywheel joint: friction by trial, peaks by summing a cycle, properties, findings."""

from __future__ import annotations

import math
import random
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.engine_torque import PEAKS, torque_at_joint
from calculators.friction_face import friction_radius, reach_of_nut
from calculators.joint_capacity import joint_capacity
from calculators.joint_settling import settling_loss
from calculators.thread_sizes import THREADS
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)
FORCED = {"clamp_by": "clamp", "clamp": "60 kN", "mu_dry": "0.15", "settled": "0 %"}
RING = {"held": "ring", "thread": "M12x1.25", "torque": "118 N·m", **FORCED}


def outcome_of(**entries: str) -> dict[str, Any]:
    """The outcome without its drawing; no entry may be refused."""
    outcome = evaluate(joint_capacity, entries, drawings=False)
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


# -- the radius of friction -----------------------------------------------------------------------


@pytest.mark.parametrize(("outer", "inner"), [(35.0, 17.0), (60.0, 59.0), (40.0, 0.0)])
def test_radius_by_trial(outer: float, inner: float) -> None:
    """The mean radius of points strewn evenly over the ring."""
    dice = random.Random(9)
    points = [math.sqrt(dice.uniform(inner * inner, outer * outer)) for _ in range(40000)]
    assert friction_radius(outer, inner) == pytest.approx(sum(points) / len(points), rel=4e-3)


@given(st.floats(min_value=5, max_value=300), st.floats(min_value=0, max_value=0.99))
def test_bounds_of_the_radius(outer: float, share: float) -> None:
    """Two thirds of a full disc, the radius itself of a thin ring, never below the mean."""
    assert friction_radius(outer, 0.0) == pytest.approx(2 / 3 * outer, rel=1e-12)
    assert friction_radius(outer, 0.999999 * outer) == pytest.approx(outer, rel=1e-5)
    even, worn = (friction_radius(outer, share * outer, each) for each in (False, True))
    assert even >= worn * (1 - 1e-12)


def test_a_small_nut_presses_a_small_face() -> None:
    """Washer of 46 mm on 10 mm of hub: 23 + 10 tan 30° = 28.77 mm, whatever the flange."""
    assert reach_of_nut(46, 10, 50) == pytest.approx(28.7735, abs=1e-4)
    assert reach_of_nut(46, 60, 37) == 37


# -- the engine -----------------------------------------------------------------------------------


def _peak_of_cycle(cylinders: int) -> float:
    """Greatest over mean gas torque of the cycle in the module's docstring, in half degrees."""
    angle = np.arange(0, 720, 0.05)
    a, lam, ratio = np.radians(angle), 0.28, 9.0
    root = np.sqrt(1 - (lam * np.sin(a)) ** 2)
    travel = 1 - np.cos(a) + (1 - root) / lam
    slope = np.sin(a) * (1 + lam * np.cos(a) / root)
    clearance = 2 / (ratio - 1)
    volume = clearance + travel
    pressure = np.ones_like(a)
    work, squeeze = angle < 180, angle >= 540
    pressure[work] = 55 * (clearance / volume[work]) ** 1.28
    pressure[squeeze] = ((clearance + 2) / volume[squeeze]) ** 1.32
    one = (pressure - 1) * slope
    shift = len(one) // cylinders
    every = sum(np.roll(one, shift * k) for k in range(cylinders))
    return float(np.max(every) / np.mean(every))


@pytest.mark.parametrize("cylinders", sorted(PEAKS))
def test_peaks_by_summing_the_cycle(cylinders: int) -> None:
    """The table is that sum, to its last figure."""
    if len(np.arange(0, 720, 0.05)) % cylinders == 0:
        assert PEAKS[cylinders] == pytest.approx(_peak_of_cycle(cylinders), abs=0.051)


@given(
    st.floats(min_value=1, max_value=500),
    st.floats(min_value=1, max_value=20),
    st.floats(min_value=0, max_value=1),
)
def test_the_joint_sees_something_between(mean: float, times: float, behind: float) -> None:
    """Between the load and what the cylinders give."""
    through = torque_at_joint(mean, times * mean, behind)
    assert mean * (1 - 1e-12) <= through <= times * mean * (1 + 1e-12)


# -- capacity -------------------------------------------------------------------------------------


@MANY
@given(st.integers(min_value=2, max_value=12), st.floats(0.05, 0.3), st.floats(5, 200))
def test_hold_grows_evenly(screws: int, mu: float, force: float) -> None:
    """Twice the screws, the friction or the clamp hold twice as much."""
    base = RING | {"screws": str(screws), "mu_dry": f"{mu!r}", "clamp": f"{force!r} kN"}
    one = value("hold", **base)
    for change in (
        {"screws": str(2 * screws)}, {"mu_dry": f"{2 * mu!r}"}, {"clamp": f"{2 * force!r} kN"},
    ):  # fmt: skip
        assert value("hold", **(base | change)) == pytest.approx(2 * one, rel=1e-9)


def test_the_least_is_that_of_the_worst_corner() -> None:
    """Two hundred joints within their limits hold more than the least, and come near to it."""
    entries = {"torque": "480 N·m ± 4 %", "mu_thread": "0.10 … 0.16", "mu_dry": "0.12 … 0.18"}
    least = value("least", **entries)
    dice = random.Random(5)
    tried = [
        value(
            "hold",
            torque=f"{dice.uniform(460.8, 499.2)!r} N·m",
            mu_thread=f"{dice.uniform(0.10, 0.16)!r}",
            mu_dry=f"{dice.uniform(0.12, 0.18)!r}",
        )
        for _ in range(200)
    ]
    assert least <= min(tried) < 1.15 * least
    corner = value("hold", torque="460.8 N·m", mu_thread="0.16", mu_dry="0.12")
    assert least == pytest.approx(corner, rel=1e-9)


def test_settling_takes_its_share() -> None:
    """30 % of the clamp lost is 30 % of the hold lost."""
    whole = value("hold", settled="0 %")
    assert value("hold", settled="30 %") == pytest.approx(0.7 * whole, rel=1e-12)


def test_settling_by_its_depth_is_a_row_of_springs() -> None:
    """M10 × 1.5, 30 mm threaded all along, washer face 14.63 on 11, outside 40 mm: the screw by
    hand, the cone by adding slices; 8 µm over both compliances."""
    slices, tangent = 20000, 0.362 + 0.032 * math.log(30 / 14.63 / 2) + 0.153 * math.log(40 / 14.63)
    parts = 0.0
    for k in range(slices):
        depth = 15 * (k + 0.5) / slices
        wide = min(14.63 + 2 * depth * tangent, 40.0)
        parts += 2 * (15 / slices) / (205e3 * math.pi / 4 * (wide**2 - 11**2))
    root, full = math.pi / 4 * 8.1597**2, math.pi / 4 * 10**2
    screw = (5 / full + 35 / root + 4 / full) / 205e3
    form = THREADS["M10x1.5"]
    got = settling_loss(form, 30.0, (14.63, 11.0, 40.0), 0.008)
    assert got == pytest.approx(0.008 / (parts + screw), rel=1e-4)
    bare = {"held": "ring", "thread": "M10x1.5", "clamp_by": "clamp", "clamp": "30 kN"}
    deep = bare | {"loss_by": "settling", "settles": "8 µm", "grip": "30 mm", "around": "40 mm"}
    assert 30 - value("clamp_left", **deep) == pytest.approx(got / 1000, rel=0.02)


def test_a_joint_that_settles_away_is_refused() -> None:
    """Half a millimetre of creep leaves nothing of the clamp."""
    outcome = evaluate(joint_capacity, {"loss_by": "settling", "settles": "0.5 mm"})
    assert "lost altogether" in outcome["entries"]["settles"]["error"]["message"]


def test_dowels_hold_the_lesser_of_shear_and_pressure() -> None:
    """Short ones crush, long ones shear."""
    short, long = results(dowel_length="3 mm"), results(dowel_length="30 mm")
    assert short["dowel_hold"]["value"] == short["dowel_bearing"]["value"]
    assert long["dowel_hold"]["value"] == long["dowel_shear"]["value"]


# ISO 8734 and ASME B18.8.5M hardened pins in single shear, kN, as printed; the module's 1050 MPa.
@pytest.mark.parametrize(("d", "force"), [(6, 29.7), (8, 52.5), (10, 82.5)])
def test_printed_shear_of_hardened_pins(d: int, force: float) -> None:
    """Two pins at 1 m hold twice the printed force in kN·m."""
    pins = {"dowels": "2", "dowel": f"{d} mm", "dowel_radius": "100 mm",
            "dowel_shear_most": "1050 MPa"}  # fmt: skip
    assert value("dowel_shear", **pins) == pytest.approx(2 * force * 100, rel=0.01)


# -- findings -------------------------------------------------------------------------------------


def powered(kilowatt: float, **entries: str) -> dict[str, str]:
    """A joint that holds 254.6 N·m for sure, on an engine of so many kW."""
    return FORCED | {"burns": "spark", "behind": "100 %", "power": f"{kilowatt!r} kW"} | entries


@pytest.mark.parametrize(
    ("code", "level", "raised", "quiet"),
    [
        ("friction-too-little", "stop", powered(9.2), powered(9.1)),
        (
            "friction-too-little", "caution",
            powered(9.2, dowel_fit="tight"), powered(9.1, dowel_fit="tight"),
        ),
        ("friction-near", "caution", powered(6.2), powered(6.0)),
        ("friction-near", "caution", powered(4.7, use="shock"), powered(4.7)),
        ("friction-carries", "note", powered(6.0), powered(6.2)),
        ("dowels-too-weak", "caution", powered(6.0, dowel="2 mm"), powered(6.0)),
        ("dowels-backup", "note", powered(6.0), powered(6.0, dowels="0")),
        ("dowels-share", "note", powered(6.0, dowel_fit="tight"), powered(6.0)),
        ("faces-oily", "caution", {"faces": "oily"}, {"faces": "dry"}),
        ("faces-layer", "caution", {"faces": "layer"}, {"faces": "oily"}),
        ("clamp-lost", "caution", {"settled": "10.1 %"}, {"settled": "10 %"}),
        ("one-face", "note", {"held": "nut"}, RING),
    ],
)  # fmt: skip
def test_finding_on_either_side_of_its_limit(
    code: str, level: str, raised: dict[str, str], quiet: dict[str, str]
) -> None:
    """Raised beyond the limit, quiet up to it. A peak of 7 times 3.98 N·m a kW stands against
    254 N·m: safety 1 at 9.1 kW, 1.5 at 6.1 kW, 2 at 4.6 kW."""
    assert levels(**raised).get(code) == level
    assert code not in levels(**quiet)


def test_a_hole_wider_than_the_nut_presses_is_refused() -> None:
    """A thin hub under a small nut."""
    outcome = evaluate(joint_capacity, {"hub": "2 mm", "inner": "30 mm", "outer": "60 mm"})
    assert "presses the face only up to" in outcome["entries"]["inner"]["error"]["message"]


@pytest.mark.parametrize("entries", [{}, RING, {"dowels": "0"}])
def test_the_drawing_shows_hold_and_radius(entries: dict[str, str]) -> None:
    """For one nut, a ring of screws, and without dowels."""
    outcome = evaluate(joint_capacity, entries)
    words = " ".join(re.findall(r">([^<>]+)<", outcome["drawings"][0]["svg"]))
    shown = {part["name"]: part["display"] for part in outcome["results"]}
    assert shown["hold"] in words
    assert f"R{shown['radius']}" in words
