"""Stiffness of joints against quadrature and springs in a row; settling, warmth, findings."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calculators.clamp_loss import METALS, clamp_loss
from calculators.joint_stiffness import Clamped, screw_compliance
from calculators.thread_sizes import THREADS
from tests.calculators.outcomes import Answers

MANY = settings(max_examples=60, deadline=None, derandomize=True)
ASK = Answers(clamp_loss)


def by_slices(joint: Clamped) -> float:
    """Compliance of the parts: slices of the cone, one after the other."""
    half = joint.grip / (1 if joint.tapped else 2)

    def give(z: float) -> float:
        width = min(joint.face + 2 * z * joint.spread, max(joint.outside, joint.face))
        return 1 / (math.pi / 4 * (width**2 - joint.hole**2))

    knee = (max(joint.outside, joint.face) - joint.face) / (2 * joint.spread)
    total, _ = quad(give, 0, half, points=[knee] if 0 < knee < half else None, limit=200)
    return total * (1 if joint.tapped else 2) / joint.modulus


@MANY
@given(st.floats(5, 120), st.floats(6, 40), st.floats(1.1, 2.0), st.floats(1.0, 8.0), st.booleans())
def test_parts_by_quadrature(
    grip: float, hole: float, face: float, outside: float, tapped: bool
) -> None:
    """The closed form is the sum of slices, in cone, cone with sleeve and sleeve alone."""
    joint = Clamped(grip, hole * face, hole, hole * face * outside, 205e3, tapped)
    assert joint.compliance == pytest.approx(by_slices(joint), rel=1e-7)
    assert joint.compliance > 0


@MANY
@given(st.floats(5, 100), st.floats(1.0, 3.0), st.booleans())
def test_wider_parts_are_stiffer(grip: float, outside: float, tapped: bool) -> None:
    """The compliance falls as the outside grows."""
    narrow = Clamped(grip, 20, 13, 20 * outside, 115e3, tapped).compliance
    assert Clamped(grip, 20, 13, 20 * outside * 1.2, 115e3, tapped).compliance < narrow


def test_screw_as_springs_in_a_row() -> None:
    """M10x1.5, 20 mm shank, 10 mm thread: 3.2004e-6 mm/N by hand, five springs in a row."""
    form = THREADS["M10x1.5"]
    nominal, root = math.pi * 25, math.pi / 4 * 8.160**2
    by_hand = (5 / nominal + 20 / nominal + 10 / root + 5 / root + 4 / nominal) / 205e3
    got = screw_compliance(form, 30, 20, 10, 205e3, False, 205e3)
    assert got == pytest.approx(by_hand, rel=1e-4)
    assert got == pytest.approx(3.2004e-6, rel=1e-4)
    tapped = screw_compliance(form, 30, 20, 10, 205e3, True, 72e3)
    assert tapped - got == pytest.approx((3.3 / 72e3 - 4 / 205e3) / nominal)


def test_cone_of_m10() -> None:
    """M10, grip 30, face 14.63, hole 11, outside 40: tangent 0.51669, 6.4970e-7 mm/N (adaptive
    quadrature)."""
    joint = Clamped(30, 14.63, 11, 40, 205e3, tapped=False)
    assert joint.spread == pytest.approx(0.51669, abs=5e-6)
    assert joint.compliance == pytest.approx(6.4970e-7, rel=1e-4)


@MANY
@given(st.floats(5, 60), st.floats(0, 0.9))
def test_turn_goes_with_the_clamp(clamp: float, share: float) -> None:
    """The turn is the clamp gained over the clamp of one degree."""
    got = ASK.results(clamp=f"{clamp!r} kN", snug=f"{clamp * share!r} kN")
    gained = clamp * (1 - share)
    assert got["turn"]["value"] == pytest.approx(gained / got["each_degree"]["value"], rel=1e-9)


def test_what_is_left_adds_up() -> None:
    """Clamp less settling plus warmth; never less than nothing."""
    got = ASK.results(metal="aluminium", rise="80 K")
    total = 50 - got["settled"]["value"] + got["warm"]["value"]
    assert got["left"]["value"] == pytest.approx(total)
    lost = {"settle_by": "own", "settles": "400 µm"}
    assert ASK.value("left", **lost) == 0
    assert ASK.codes(**lost)["no-clamp-left"] == "stop"
    assert "no-clamp-left" not in ASK.codes()


def test_sign_of_warmth() -> None:
    """Parts that grow more than the screw clamp harder; iron grows less than steel; cooling is
    the other way round."""
    assert ASK.value("warm", metal="aluminium") > 0 > ASK.value("warm", metal="iron")
    assert ASK.value("warm", metal="steel") == pytest.approx(0, abs=1e-12)
    assert ASK.value("warm", metal="aluminium", rise="-40 K") < 0
    assert METALS["steel"].expansion == 11.5e-6


def test_settling_of_faces() -> None:
    """Thread 3, under the head 3, one joint 2: 8 µm in a tapped hole, 11 with a nut (VDI 2230,
    from memory)."""
    assert ASK.value("settling") == pytest.approx(8)
    assert ASK.value("settling", joint="nut") == pytest.approx(11)
    assert ASK.value("settling", finish="rough", between="2") == pytest.approx(3 + 4 + 6)
    assert ASK.value("settling", finish="smooth", between="0") == pytest.approx(3 + 2.5)


def test_findings() -> None:
    """Each on both sides of its threshold."""
    assert "settles-much" not in ASK.codes(settle_by="own", settles="26 µm")
    assert ASK.codes(settle_by="own", settles="28 µm")["settles-much"] == "caution"
    assert ASK.codes(grip="35.9 mm")["grip-short"] == "caution"
    assert "grip-short" not in ASK.codes(grip="36 mm")
    assert "warmth-matters" not in ASK.codes(metal="aluminium", rise="54 K")
    assert ASK.codes(metal="aluminium", rise="64 K")["warmth-matters"] == "caution"
    assert "rises" in ASK.text("warmth-matters", metal="aluminium", rise="64 K")
    assert "falls" in ASK.text("warmth-matters", metal="aluminium", rise="-64 K")
    assert ASK.codes()["settling-usual"] == "note"
    assert "settling-usual" not in ASK.codes(settle_by="own")
    assert {"no-spring-washer", "elastic-turn"} <= ASK.codes().keys()


def test_refused_entries() -> None:
    """Lengths and forces that cannot be name the entry to mend."""
    assert "cannot be longer" in ASK.error("shank", shank="24.1 mm")
    assert "thicker than its thread" in ASK.error("waist", waist="13.5 mm")
    assert "wider than the hole" in ASK.error("outside", outside="14 mm")
    assert "Snug is less" in ASK.error("snug", clamp="5 kN")


def test_drawn() -> None:
    """Tapped and through, narrow and very wide parts, hardly any grip."""
    for case in ({}, {"joint": "nut"}, {"outside": "900 mm"}, {"outside": "14.5 mm"},
                 {"grip": "1 mm", "shank": "0 mm"}, {"grip": "400 mm"}):  # fmt: skip
        assert ASK.drawn(**case)[0].startswith("<svg")
