"""O-rings in their grooves: volume by quadrature, worst cases by search, bands by Monte Carlo."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, differential_evolution

from calculators.o_ring_face import o_ring_face
from calculators.o_ring_radial import o_ring_radial
from calculators.o_ring_section import (
    groove_area,
    growth,
    height_loss,
    section_of_volume,
    torus_volume,
)
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=30, deadline=None, derandomize=True)
EXACT = {
    "bore": "60 mm ± 0 mm", "section": "3.5 mm ± 0 mm", "groove": "60 mm", "mate": "65.6 mm",
    "width": "4.8 mm", "corner": "0 mm", "swell": "0 %", "hot": "20 °C", "cold": "20 °C",
}  # fmt: skip
FLAT = {
    "bore": "40 mm ± 0 mm", "section": "2.5 mm ± 0 mm", "inner": "40 mm", "outer": "47 mm",
    "depth": "2 mm", "corner": "0 mm", "swell": "0 %", "hot": "20 °C", "cold": "20 °C",
}  # fmt: skip


def outcome(calculator: Any, units: str = "si", **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(calculator, entries, units)
    assert found["complete"], {k: v["error"] for k, v in found["entries"].items() if v["error"]}
    return found


def results(calculator: Any, units: str = "si", **entries: Any) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome(calculator, units, **entries)["results"]}


def codes(calculator: Any, **entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {each["code"]: each["level"] for each in outcome(calculator, **entries)["findings"]}


def error(calculator: Any, name: str, **entries: Any) -> str:
    """The message with which an entry is refused."""
    part = evaluate(calculator, entries)["entries"][name]["error"]
    assert part is not None
    return str(part["message"])


@MANY
@given(st.floats(2, 650), st.floats(1.5, 8.4))
def test_volume_of_a_ring_by_quadrature(bore: float, section: float) -> None:
    """Rings of circumference 2 pi r, cut from inside to outside, add up to the volume."""
    middle, half = (bore + section) / 2, section / 2

    def shell(angle: float) -> float:
        x, height = half * math.sin(angle), 2 * half * math.cos(angle)
        return 2 * math.pi * (middle + x) * height * half * math.cos(angle)

    volume, _ = quad(shell, -math.pi / 2, math.pi / 2)
    assert torus_volume(bore, section) == pytest.approx(volume, rel=1e-9)


@MANY
@given(st.floats(2, 650), st.floats(1.5, 8.4), st.floats(-0.05, 0.25))
def test_stretching_keeps_the_volume(bore: float, section: float, strain: float) -> None:
    """The cubic solved by a root finder of the reference library."""
    girth = bore * (1 + strain)
    volume = torus_volume(bore, section)
    root = brentq(lambda cs: torus_volume(girth, cs) - volume, 0.3 * section, 2 * section)
    assert section_of_volume(bore, section, girth) == pytest.approx(root, rel=1e-9)


# ISO 3601-2, loss of section by stretch, both in per cent; from memory.
@pytest.mark.parametrize(
    ("strain", "loss"),
    [(1, 0.970), (2, 1.730), (3, 2.290), (5, 3.395), (10, 6.000), (20, 10.520)],
)
def test_height_lost_by_stretch(strain: float, loss: float) -> None:
    """The printed polynomials at round figures."""
    assert 100 * height_loss(strain / 100) == pytest.approx(loss, abs=5e-4)


def test_the_two_polynomials_meet() -> None:
    """At 3 % they differ by a thousandth of a per cent; nothing is lost without stretch."""
    assert height_loss(0.03) == pytest.approx(height_loss(0.0300001), abs=2e-5)
    assert height_loss(0.0) == height_loss(-0.02) == 0.0
    assert height_loss(1e-9) < 1e-6


@pytest.mark.parametrize(
    ("strain", "lost"),
    [(1, 0.456), (2, 0.907), (3, 1.351), (5, 2.223), (10, 4.307), (20, 8.113)],
)
def test_equal_volume_at_round_figures(strain: float, lost: float) -> None:
    """Ring 60 × 3.53; figures worked with a computer algebra system."""
    there = section_of_volume(60, 3.53, 60 * (1 + strain / 100))
    assert 100 * (1 - there / 3.53) == pytest.approx(lost, abs=5e-4)


def test_corners_take_their_share() -> None:
    """A corner of radius r takes a square less a quarter circle, by counting fine squares."""
    fine = (np.arange(2000) + 0.5) / 2000
    x, y = np.meshgrid(fine, fine)
    outside = np.mean((x - 1) ** 2 + (y - 1) ** 2 > 1)
    assert groove_area(5, 3, 1) == pytest.approx(15 - 2 * outside, abs=2e-3)


def test_growth_is_three_times_the_linear_one() -> None:
    """A cube of rubber 100 K warmer at 160e-6 /K, to first order; swelling on top."""
    assert growth(160e-6, 100, 0.0) == pytest.approx((1 + 0.016) ** 3, rel=1e-3)
    assert growth(0.0, 50, 0.08) == pytest.approx(1.08)


def _radial_squeeze(bore: float, cs: float, groove: float, mate: float) -> float:
    """Squeeze on a shaft, written apart from the calculator."""
    percent = 100 * (groove / bore - 1)
    if percent <= 0:
        loss = 0.0
    elif percent <= 3:
        loss = 0.01 + 1.06 * percent - 0.1 * percent**2
    else:
        loss = 0.56 + 0.59 * percent - 0.0046 * percent**2
    left = cs * (1 - loss / 100)
    return 1 - (mate - groove) / 2 / left


LIMITS = ((62.52, 63.66), (3.43, 3.63), (64.326, 64.4), (70.0, 70.046))


def test_the_worst_of_all_sizes_by_search() -> None:
    """The band's ends are what a search over all sizes finds."""
    band = results(o_ring_radial)["squeeze"]["band"]["worst"]
    for sign, end in ((1, "low"), (-1, "high")):
        found = differential_evolution(
            lambda x, sign=sign: sign * _radial_squeeze(*x), LIMITS, seed=4, tol=1e-10
        )
        assert band[end] == pytest.approx(100 * sign * found.fun, abs=0.02)


def test_squeezes_drawn_by_chance_lie_in_the_band() -> None:
    """Monte Carlo of rings and parts: none leaves the worst case; of sizes that scatter
    with three sigma to each limit, 99.7 in 100 stay in the root-sum-square band."""
    dice = np.random.default_rng(11)
    drawn = np.array([
        100 * _radial_squeeze(*(dice.uniform(low, high) for low, high in LIMITS))
        for _ in range(20_000)
    ])  # fmt: skip
    centred = {"groove": "64.363 mm ± 0.037 mm", "mate": "70.023 mm ± 0.023 mm"}
    band = results(o_ring_radial, **centred)["squeeze"]["band"]
    assert band["worst"]["low"] <= drawn.min() < band["worst"]["low"] + 1.0
    assert band["worst"]["high"] - 1.0 < drawn.max() <= band["worst"]["high"]
    normal = np.array([
        100 * _radial_squeeze(*(dice.normal((a + b) / 2, (b - a) / 6) for a, b in LIMITS))
        for _ in range(20_000)
    ])  # fmt: skip
    inside = np.mean((normal > band["rss"]["low"]) & (normal < band["rss"]["high"]))
    assert inside == pytest.approx(0.9973, abs=0.0015)


def test_findings_speak_of_the_worst_sizes() -> None:
    """The nominal squeeze is 15.7 %, the least 12.3 %, at the limits of section and groove."""
    case = {**EXACT, "section": "3.5 mm ± 0.1 mm", "mate": "65.9 mm"}
    assert "squeeze-low" not in codes(o_ring_radial, **case)
    case["groove"] = "59.85 mm ± 0.15 mm"
    assert codes(o_ring_radial, **case)["squeeze-low"] == "caution"
    least = results(o_ring_radial, **case)["squeeze"]["band"]["worst"]["low"]
    assert 2 < least < 10


@pytest.mark.parametrize(
    ("squeeze", "motion", "said"),
    [
        (0.0199, "rest", {"no-squeeze"}), (0.0201, "rest", {"squeeze-low"}),
        (0.0999, "rest", {"squeeze-low"}), (0.1001, "rest", set()),
        (0.2999, "rest", set()), (0.3001, "rest", {"squeeze-high"}),
        (0.0801, "sliding", set()), (0.0799, "sliding", {"squeeze-low"}),
        (0.1799, "sliding", set()), (0.1801, "sliding", {"squeeze-high"}),
    ],
)  # fmt: skip
def test_squeeze_on_both_sides_of_its_limits(squeeze: float, motion: str, said: set[str]) -> None:
    """A section of 3.5 mm in a groove of height 3.5 (1 - s)."""
    mate = 60 + 2 * 3.5 * (1 - squeeze)
    found = codes(o_ring_radial, **EXACT | {"mate": f"{mate:.6f} mm", "motion": motion})
    assert found.keys() & {"no-squeeze", "squeeze-low", "squeeze-high"} == said


def test_off_centre_one_side_loses_what_the_other_gains() -> None:
    """0.15 of 3.5 mm is 4.3 %; below 3 % nothing is said."""
    got = results(o_ring_radial, **EXACT, offset="0.15 mm")
    assert got["squeeze"]["value"] == pytest.approx(20)
    assert got["squeeze_far"]["value"] == pytest.approx(100 * (1 - 2.95 / 3.5))
    assert "one-side-only" in codes(o_ring_radial, **EXACT, offset="0.15 mm")
    assert "one-side-only" not in codes(o_ring_radial, **EXACT, offset="0.1 mm")


def test_cold_takes_squeeze() -> None:
    """50 K colder the volume shrinks by 2.85 % and the height by half of that."""
    cold = results(o_ring_radial, **EXACT | {"cold": "-30 °C"})["squeeze_cold"]["value"]
    assert cold == pytest.approx(100 * (1 - 2.8 / (3.5 * math.sqrt(1 - 0.0285))))
    loose = EXACT | {"mate": "66.6 mm", "cold": "-30 °C"}  # 5.7 % at 20 °C
    assert codes(o_ring_radial, **loose)["loose-when-cold"] == "caution"
    assert "loose-when-cold" not in codes(o_ring_radial, **loose | {"mate": "66.5 mm"})


@pytest.mark.parametrize(
    ("calculator", "case", "code", "level"),
    [
        (o_ring_radial, {**EXACT, "groove": "63.1 mm", "mate": "68.6 mm"}, "stretch-high",
         "caution"),
        (o_ring_radial, {**EXACT, "groove": "59 mm", "mate": "64.6 mm"}, "ring-loose", "caution"),
        (o_ring_radial, {**EXACT, "seat": "bore", "groove": "64.9 mm", "mate": "59.3 mm"},
         "ring-too-large", "caution"),
        (o_ring_radial, {**EXACT, "width": "3.6 mm"}, "groove-full", "caution"),
        (o_ring_radial, {**EXACT, "width": "3.4 mm"}, "groove-overfull", "stop"),
        (o_ring_radial, {**EXACT, "width": "6 mm"}, "groove-wide", "note"),
        (o_ring_radial, {**EXACT, "rubber": "EPDM"}, "rubber-in-oil", "stop"),
        (o_ring_radial, {**EXACT, "rubber": "unknown"}, "rubber-unknown", "caution"),
        (o_ring_radial, {**EXACT, "hot": "101 °C"}, "rubber-too-hot", "stop"),
        (o_ring_radial, {**EXACT, "cold": "-31 °C"}, "rubber-too-cold", "caution"),
        (o_ring_radial, {**EXACT, "state": "used"}, "ring-reused", "stop"),
        (o_ring_face, {**FLAT, "bore": "40.3 mm ± 0 mm"}, "off-its-wall", "caution"),
        (o_ring_face, {**FLAT, "pressure_from": "inside", "outer": "45.4 mm"}, "off-its-wall",
         "caution"),
        (o_ring_face, {**FLAT, "pressure_from": "inside", "outer": "43.5 mm",
                       "inner": "36 mm"}, "ring-too-large", "caution"),
        (o_ring_face, {**FLAT, "outer": "44.9 mm"}, "ring-too-thick", "stop"),
        (o_ring_face, {**FLAT, "depth": "1.6 mm"}, "squeeze-high", "caution"),
        (o_ring_face, {**FLAT, "depth": "2.15 mm"}, "squeeze-low", "caution"),
        (o_ring_face, {**FLAT, "state": "used"}, "ring-reused", "stop"),
    ],
)  # fmt: skip
def test_findings(calculator: Any, case: dict[str, str], code: str, level: str) -> None:
    """Beyond each threshold its finding is raised; the plain case raises none of them."""
    assert codes(calculator, **case).get(code) == level
    assert code not in codes(calculator, **(EXACT if calculator is o_ring_radial else FLAT))


def test_nothing_is_said_just_short_of_the_thresholds() -> None:
    """The same cases a hair on the other side."""
    for case, code in (
        ({"groove": "62.9 mm", "mate": "68.4 mm"}, "stretch-high"),
        ({"seat": "bore", "groove": "65.1 mm", "mate": "59.5 mm"}, "ring-too-large"),
        ({"hot": "100 °C"}, "rubber-too-hot"), ({"cold": "-30 °C"}, "rubber-too-cold"),
        ({"width": "4.2 mm"}, "groove-full"), ({"width": "5.7 mm"}, "groove-wide"),
    ):  # fmt: skip
        assert code not in codes(o_ring_radial, **EXACT | case), code


def test_face_by_hand() -> None:
    """Pressure from outside: stretched by 1 % on the inner wall, section by ISO, room by hand."""
    got = results(o_ring_face, **FLAT | {"inner": "40.4 mm", "outer": "47.4 mm"})
    left = 2.5 * (1 - 0.0097)
    assert got["squeeze"]["value"] == pytest.approx(100 * (1 - 2 / left))
    area = math.pi / 4 * section_of_volume(40, 2.5, 40.4) ** 2
    assert got["fill"]["value"] == pytest.approx(100 * area / (3.5 * 2))


def test_face_worst_case_by_corners() -> None:
    """Least and greatest depth and section, with the ring not stretched."""
    case = FLAT | {"section": "2.5 mm ± 0.1 mm", "depth": "2 mm ± 0.05 mm"}
    band = results(o_ring_face, **case)["squeeze"]["band"]["worst"]
    assert band["low"] == pytest.approx(100 * (1 - 2.05 / 2.4))
    assert band["high"] == pytest.approx(100 * (1 - 1.95 / 2.6))


def test_the_standard_tolerance_is_taken_unless_one_is_typed() -> None:
    """Class B of ISO 3601-1 comes with the size; typed limits win."""
    part = outcome(o_ring_face)["entries"]["section"]
    assert part["tolerance_assumed"]
    assert (part["low"], part["high"]) == pytest.approx((2.53, 2.71))
    part = outcome(o_ring_face, section="3.53 mm", depth="2.7 mm", outer="51.6 mm")["entries"]
    assert part["section"]["high"] == pytest.approx(3.63)
    typed = outcome(o_ring_face, section="2.62 mm ± 0.02 mm")["entries"]["section"]
    assert not typed["tolerance_assumed"]
    assert typed["high"] == pytest.approx(2.64)


def test_rings_that_suit_have_the_stretch_that_is_wanted() -> None:
    """On 64.4 only ring 230 is stretched by 1 % to 5 %; each row by its own diameter."""
    rows = results(o_ring_radial)["suited"]["rows"]
    assert [row[0] for row in rows] == ["230"]
    rows = results(o_ring_radial, groove="40 mm", mate="45.6 mm", bore="39 mm")["suited"]["rows"]
    for _, bore, stretch, _ in rows:
        assert float(stretch) == pytest.approx(100 * (40 / float(bore) - 1), abs=0.06)
        assert 1 <= 100 * (40 / float(bore) - 1) <= 5


def test_refused_entries() -> None:
    """What cannot be put together names the entry to mend."""
    assert "Check both diameters" in error(o_ring_radial, "groove", mate="64 mm")
    assert "none is a radius" in error(o_ring_radial, "section", mate="140 mm")
    assert "more than a quarter" in error(o_ring_radial, "bore", bore="45 mm")
    assert "touch" in error(o_ring_radial, "offset", **EXACT | {"offset": "2 mm", "mate": "64 mm"})
    assert "corners would meet" in error(o_ring_radial, "corner", **EXACT | {
        "corner": "1.5 mm", "width": "2.9 mm"})  # fmt: skip
    assert "Exchange" in error(o_ring_face, "outer", inner="50 mm")
    assert "does not belong" in error(o_ring_face, "depth", depth="7 mm")


@pytest.mark.parametrize("units", ["si", "us"])
def test_drawings_stand_at_the_ends(units: str) -> None:
    """The section comes out for loose and overfull rings, both seats and both walls."""
    for case in (
        {}, {"seat": "bore", "groove": "67 mm", "mate": "61.4 mm", "bore": "60 mm"},
        {**EXACT, "mate": "67.2 mm"}, {**EXACT, "width": "3 mm", "corner": "0 mm"},
    ):  # fmt: skip
        svg = evaluate(o_ring_radial, case, units)["drawings"][0]["svg"]
        assert "free section" in svg
    for case in ({}, {"pressure_from": "inside"}, {**FLAT, "depth": "2.6 mm"}):
        svg = evaluate(o_ring_face, case, units)["drawings"][0]["svg"]
        assert "pressure" in svg
