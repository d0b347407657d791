"""Stripping of threads: shear areas against drawn profiles, limits by search, findings."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.fastener_classes import CLASSES
from calculators.thread_engagement import METALS, thread_engagement
from calculators.thread_gap import THREADS, Profile
from calculators.thread_stripping import (
    bolt_area_per_length,
    c1,
    c2,
    c3,
    nut_area_per_length,
)
from tests.calculators.outcomes import Answers

MANY = settings(max_examples=30, deadline=None, derandomize=True)
ASK = Answers(thread_engagement)
NAMES = st.sampled_from(sorted(THREADS))


def metal_at(profile: Profile, pitch: float, diameter: float, inside: bool) -> float:
    """Share of a pitch that is metal on a cylinder: sampled along a flank drawn from crest to
    root, metal inside the profile (bolt) or outside it (nut)."""
    x = (np.arange(40_000) + 0.5) / 40_000 * pitch / 2
    middle = pitch / 4
    radius = profile.pitch / 2 + (middle - x) * math.sqrt(3)
    ends = sorted((profile.crest / 2, profile.root / 2))
    radius = radius.clip(*ends)
    metal = radius > diameter / 2 if inside else radius < diameter / 2
    return float(metal.mean())


@pytest.mark.parametrize("name", THREADS)
def test_shear_areas_of_the_drawn_profiles(name: str) -> None:
    """Metal of the smallest bolt on the cylinder of the widest nut's crest, and the other way."""
    size = THREADS[name]
    bolt, nut = size.bolt(1.0), size.nut(1.0)
    on_bolt = metal_at(bolt, size.pitch, nut.crest, inside=True)
    on_nut = metal_at(nut, size.pitch, bolt.crest, inside=False)
    assert bolt_area_per_length(size) == pytest.approx(math.pi * nut.crest * on_bolt, rel=1e-3)
    assert nut_area_per_length(size) == pytest.approx(math.pi * bolt.crest * on_nut, rel=1e-3)


def test_factors_meet_where_they_should() -> None:
    """C1 is 1 from 1.9 on; C2 and C3 are both 0.897 at 1 (VDI 2230-1, from memory); none jumps."""
    assert c1(1.9) == pytest.approx(1.0, abs=1e-9)
    assert c2(1.0) == pytest.approx(0.897, abs=5e-4)
    assert c3(1.0) == pytest.approx(0.897, abs=5e-4)
    for function, start, end in ((c1, 1.4, 2.5), (c2, 0.5, 3.0), (c3, 0.1, 1.5)):
        places = np.linspace(start, end, 4001)
        steps = np.abs(np.diff([function(float(x)) for x in places]))
        assert steps.max() < 2e-3


@MANY
@given(NAMES, st.sampled_from(["8.8", "10.9", "12.9"]), st.sampled_from(sorted(METALS)))
def test_needed_depth_is_where_the_shank_gives_first(name: str, mark: str, metal: str) -> None:
    """Just deeper the shank breaks first, just shallower a thread strips."""
    case = {"thread": name, "mark": mark, "metal": metal}
    needed = ASK.value("needed", **case)
    if needed > 149:
        return
    deep = ASK.results(**case, engagement=f"{needed * 1.001!r} mm")
    assert deep["first"]["text"] == "the shank of the screw"
    assert ASK.codes(**case, engagement=f"{needed * 0.999!r} mm")["strips-first"] == "stop"


@MANY
@given(NAMES, st.floats(5, 60), st.floats(1.1, 2))
def test_loads_are_linear_in_the_carrying_length(name: str, carrying: float, times: float) -> None:
    """Twice the carrying length, twice the load."""
    ends = 0.8 * THREADS[name].pitch
    one = ASK.results(thread=name, engagement=f"{carrying + ends!r} mm")
    more = ASK.results(thread=name, engagement=f"{times * carrying + ends!r} mm")
    for part in ("nut_strips", "bolt_strips", "nut_area"):
        assert more[part]["value"] == pytest.approx(times * one[part]["value"], rel=1e-9)


def test_stronger_screws_sit_deeper() -> None:
    """By class and by metal."""
    depths = [ASK.value("needed", mark=mark, metal="iron") for mark in ("8.8", "10.9", "12.9")]
    assert depths == sorted(depths)
    assert ASK.value("needed", metal="aluminium") > ASK.value("needed", metal="strong")
    assert ASK.value("needed", tensile="1200 MPa") < ASK.value("needed")


def test_shank_is_the_strongest_of_the_class() -> None:
    """M12x1.25, 10.9: 92.1 mm² times 1.2 times 1040 MPa (ISO 898-1)."""
    assert ASK.value("shank") == pytest.approx(92.07 * 1.2 * 1.040, rel=1e-3)
    assert CLASSES["10.9"].strength(12).tensile == 1040


def test_a_nut_spreads() -> None:
    """A hexagon nut carries less than a tapped block, by C1."""
    block, nut = ASK.results(), ASK.results(body="nut", flats="18 mm")
    share = nut["nut_strips"]["value"] / block["nut_strips"]["value"]
    assert share == pytest.approx(3.8 * 1.5 - 2.25 - 2.61, rel=1e-9)
    assert "no rule" in ASK.error("flats", body="nut", flats="16.7 mm")
    assert ASK.results(body="nut", flats="16.9 mm")


def test_full_nut_lets_the_screw_break() -> None:
    """ISO 4032 heights (from memory) of M10, M12 and M16 in class 10 with bolts 8.8."""
    for name, height in (("M10x1.5", 8.4), ("M12x1.75", 10.8), ("M16x2", 14.8)):
        case = {"thread": name, "mark": "8.8", "body": "nut", "tensile": "1000 MPa"}
        assert ASK.results(**case, engagement=f"{height} mm")["first"]["text"] == (
            "the shank of the screw"
        )


def test_findings() -> None:
    """Each on both sides of its threshold."""
    assert "long-engagement" not in ASK.codes(engagement="18 mm")
    assert ASK.codes(engagement="18.1 mm")["long-engagement"] == "note"
    assert ASK.codes(metal="aluminium")["soft-thread"] == "caution"
    assert "soft-thread" not in ASK.codes()
    assert "strength-usual" in ASK.codes()
    assert "strength-usual" not in ASK.codes(tensile="800 MPa")
    assert "nut-class" in ASK.codes(body="nut")
    assert "nut-class" not in ASK.codes()
    assert "beyond-class" not in ASK.codes(thread="M39x4")
    assert ASK.codes(thread="M42x3")["beyond-class"] == "caution"
    assert "Nothing carries" in ASK.error("engagement", engagement="0.9 mm")


def test_drawn() -> None:
    """Three bars, each with its load."""
    (picture,) = ASK.drawn(body="nut")
    assert all(word in picture for word in ("shank breaks", "Inner thread", "Screw's thread"))
    assert picture.count("kN</text>") == 3
