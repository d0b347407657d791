"""Torque and clamp: round trips, bands against Monte Carlo, every finding at its threshold."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.clamp_torque import clamp_torque
from calculators.thread_form import ThreadForm
from calculators.thread_sizes import THREADS
from tests.calculators.outcomes import Answers

MANY = settings(max_examples=30, deadline=None, derandomize=True)
ASK = Answers(clamp_torque, mark="10.9", state="own", mu_own="0.12", torque="80 N·m ± 0")
NAMES = st.sampled_from(sorted(THREADS))
M10 = {
    "thread": "M10x1.5", "mark": "8.8", "face_outer": "14.63 mm", "face_inner": "11 mm",
}  # fmt: skip


def iso_torque(form: ThreadForm, force: float, mu: float, rubbing: float) -> float:
    """Torque in N·m for a force in N: linear form of ISO 16047, one friction."""
    return 1e-3 * force * (form.pitch / math.tau + 0.57735 * mu * form.d2 + mu * rubbing / 2)


@MANY
@given(NAMES, st.floats(0.05, 0.4), st.floats(5, 900))
def test_there_and_back(name: str, mu: float, torque: float) -> None:
    """Torque to clamp to torque to friction comes back to the same figures."""
    got = ASK.results(thread=name, torque=f"{torque!r} N·m ± 0", mu_own=f"{mu!r}")
    force = got["clamp"]["value"]
    assert "torque" not in got
    back = ASK.results(thread=name, known="clamp", clamp=f"{force!r} kN", mu_own=f"{mu!r}")
    assert back["torque"]["value"] == pytest.approx(torque, rel=1e-9)
    assert "clamp" not in back
    both = {"known": "both", "torque": f"{torque!r} N·m ± 0", "clamp": f"{force!r} kN"}
    assert ASK.value("friction", thread=name, **both) == pytest.approx(mu, rel=1e-7)


@MANY
@given(NAMES, st.floats(0.05, 0.35), st.floats(0.05, 0.35))
def test_more_friction_less_clamp(name: str, mu: float, face: float) -> None:
    """Clamp falls as either friction rises; K and the shares do not depend on the torque."""
    case = {"thread": name, "face": "apart"}
    now = ASK.results(**case, mu_own=f"{mu!r}", face_apart=f"{face!r}")
    for more in ({"mu_own": f"{mu + 0.02!r}", "face_apart": f"{face!r}"},
                 {"mu_own": f"{mu!r}", "face_apart": f"{face + 0.02!r}"}):  # fmt: skip
        assert ASK.value("clamp", **case, **more) < now["clamp"]["value"]
    twice = ASK.results(**case, mu_own=f"{mu!r}", face_apart=f"{face!r}", torque="160 N·m ± 0")
    for name_of in ("nut_factor", "to_stretch", "to_thread", "to_face"):
        assert twice[name_of]["value"] == pytest.approx(now[name_of]["value"], rel=1e-12)
    shares = [now[each]["value"] for each in ("to_stretch", "to_thread", "to_face")]
    assert sum(shares) == pytest.approx(100)
    assert twice["clamp"]["value"] == pytest.approx(2 * now["clamp"]["value"])


@MANY
@given(NAMES, st.floats(0.06, 0.35))
def test_stresses(name: str, mu: float) -> None:
    """The reduced stress is at least the tension; undoing takes less than tightening, by about
    F P/pi."""
    got = ASK.results(thread=name, mu_own=f"{mu!r}")
    assert got["reduced"]["value"] >= got["tension"]["value"]
    undo = got["undo"]["value"]
    assert undo < 80
    arms = 1e3 * got["clamp"]["value"] * THREADS[name].pitch / math.pi
    assert 1e3 * (80 - undo) == pytest.approx(arms, rel=0.25)


def test_against_the_linear_form() -> None:
    """The clamp of the exact form is a little less than that of ISO 16047's linear one."""
    got = ASK.results(**M10, torque="45 N·m ± 0")
    force = 1e3 * got["clamp"]["value"]
    linear = iso_torque(THREADS["M10x1.5"], force, 0.12, got["rubbing"]["value"])
    assert 0.993 < linear / 45 < 1.0


def test_band_against_monte_carlo() -> None:
    """10^5 draws: all inside the worst case; the root sum square agrees with three times their
    spread for limits that are three standard deviations, in each case of correlation."""
    dice = np.random.default_rng(5)
    form, rubbing = THREADS["M10x1.5"], 12.9
    d = (dice.standard_normal((3, 100_000)) / 3).clip(-1, 1)
    for face, same in (("same", True), ("apart", False)):
        mu = 0.14 + 0.02 * d[1]
        under = mu if same else 0.14 + 0.02 * d[2]
        torque = 45 / (1 + 0.04 * d[0])  # deviations of a wrench are shares of the true torque
        rho = np.arctan(mu / math.cos(math.pi / 6))
        arm = form.d2 / 2 * np.tan(form.lead_angle + rho) + under * rubbing / 2
        force = torque / arm
        got = ASK.results(
            **M10, torque="45 N·m ± 4 %", mu_own="0.14 ± 0.02", face=face,
            face_apart="0.14 ± 0.02",
        )["clamp"]["band"]  # fmt: skip
        assert got["worst"]["low"] <= force.min()
        assert got["worst"]["high"] >= force.max()
        half = (got["rss"]["high"] - got["rss"]["low"]) / 2
        assert half == pytest.approx(3 * force.std(), rel=0.03)


def test_one_lubricant_makes_the_wider_band() -> None:
    """Frictions that move together spread the clamp more than frictions that move apart; linked
    ones are one cause in the ranking."""
    band = {
        face: ASK.results(
            **M10, mu_own="0.14 ± 0.02", face=face, face_linked="0.14 ± 0.02",
            face_apart="0.14 ± 0.02",
        )["clamp"]["band"]
        for face in ("same", "linked", "apart")
    }  # fmt: skip
    wide = {face: part["rss"]["high"] - part["rss"]["low"] for face, part in band.items()}
    assert wide["same"] == pytest.approx(wide["linked"], rel=1e-9)
    assert wide["apart"] < 0.8 * wide["same"]
    assert len(band["linked"]["drivers"]) == 1
    assert len(band["apart"]["drivers"]) == 2


def test_corners_of_the_band() -> None:
    """M10, 45 N·m ± 4 % by the true value, friction 0.12 to 0.16: 20.6 to 28.7 kN (corners by
    hand, mean diameter of the face)."""
    band = ASK.results(**M10, torque="45 N·m ± 4 %", mu_own="0.12 … 0.16")["clamp"]["band"]
    assert band["worst"]["low"] == pytest.approx(20.59, rel=0.01)
    assert band["worst"]["high"] == pytest.approx(28.66, rel=0.01)
    text = ASK.text("known-to", **M10, torque="45 N·m ± 4 %", mu_own="0.12 … 0.16")
    assert "between about 20\u202fkN and 29\u202fkN" in text


def test_state_must_be_chosen() -> None:
    """Without a state there is a stop and the widest band; threadlocker needs its own figure."""
    assert ASK.codes(state="unchosen")["friction-not-chosen"] == "stop"
    assert "friction-not-chosen" not in ASK.codes(state="oiled")
    spread = {
        state: ASK.results(state=state)["clamp"]["band"]["worst"] for state in ("unchosen", "dry",
                                                                                "antiseize")
    }  # fmt: skip
    assert spread["unchosen"]["low"] == pytest.approx(spread["dry"]["low"])
    assert spread["unchosen"]["high"] == pytest.approx(spread["antiseize"]["high"])
    assert "test of clamp against torque" in ASK.error("mu_locker", state="locker")
    assert ASK.codes(state="locker", mu_locker="0.13")["locker-in-torque"] == "note"


def test_state_other_than_stated() -> None:
    """Lubricating what is stated dry is a stop that tells the clamp as stated."""
    assert ASK.codes(state="oiled", stated="dry")["state-differs"] == "stop"
    assert "state-differs" not in ASK.codes(state="dry", stated="dry")
    assert "state-differs" not in ASK.codes(state="oiled")
    assert "As stated it would be about" in ASK.text("state-differs", state="oiled", stated="dry")
    assert "As stated" not in ASK.text("state-differs", state="oiled", stated="locker")


def test_yield_findings() -> None:
    """90 % of yield by the plastic rule is the limit; just under it the elastic stress is told."""
    most = ASK.value("most_torque", **M10)
    assert ASK.codes(**M10, torque=f"{1.001 * most!r} N·m ± 0")["over-yield"] == "stop"
    below = ASK.codes(**M10, torque=f"{0.999 * most!r} N·m ± 0")
    assert "over-yield" not in below
    assert below["surface-near-yield"] == "note"
    assert ASK.codes(**M10, torque=f"{0.98 * most!r} N·m ± 4 %")["near-yield"] == "caution"
    assert "near-yield" not in ASK.codes(**M10, torque=f"{0.9 * most!r} N·m ± 4 %")
    assert ASK.value("use", **M10, torque=f"{most!r} N·m ± 0") == pytest.approx(90)


def test_over_proof() -> None:
    """With very little friction the proof load is passed before 90 % of yield."""
    slip = {"mark": "10.9", "thread": "M30x1.5", "mu_own": "0.03"}
    most = ASK.value("most_torque", **slip)
    share = 0.83 * 642.1 / ASK.value("most_clamp", **slip)  # ISO 898-1: 830 MPa, As of M30x1.5
    assert share < 1
    assert (
        ASK.codes(**slip, torque=f"{most * (share + 0.002)!r} N·m ± 0")["over-proof"] == "caution"
    )
    assert "over-proof" not in ASK.codes(**slip, torque=f"{most * (share - 0.002)!r} N·m ± 0")


def test_known_only_to() -> None:
    """More than a quarter either way is a caution, less a note, nothing to say without a band."""
    assert ASK.codes(state="oiled", torque="80 N·m ± 4 %")["known-only-to"] == "caution"
    assert ASK.codes(mu_own="0.12 ± 0.01")["known-to"] == "note"
    assert not {"known-only-to", "known-to"} & ASK.codes().keys()


def test_seat_and_other_findings() -> None:
    """Pressure, prevailing torque, bore, used stretch screws, marks."""
    assert ASK.codes(torque="120 N·m ± 0")["seat-pressed"] == "caution"
    assert "seat-pressed" not in ASK.codes(torque="120 N·m ± 0", seat="hard")
    assert ASK.codes(prevailing="16.1 N·m")["prevailing-large"] == "caution"
    assert "prevailing-large" not in ASK.codes(prevailing="16 N·m")
    assert ASK.codes(bore="4 mm")["hollow-screw"] == "note"
    assert ASK.codes(stretch="used")["stretched-before"] == "stop"
    assert ASK.codes(stretch="new")["needs-angle"] == "caution"
    assert ASK.codes(mark="unmarked", torque="10 N·m")["mark-unknown"] == "caution"
    assert ASK.codes(thread="M42x3")["beyond-class"] == "caution"
    assert (
        ASK.codes(thread="M5x0.8", mu_own="0.03", torque="2 N·m ± 0").get("undoes-itself") is None
    )


def test_thread_that_undoes_itself() -> None:
    """A steep thread with hardly any friction and a slippery face comes loose by itself."""
    steep = {"thread": "other", "diameter": "5 mm", "pitch": "1.2 mm", "torque": "1 N·m ± 0"}
    assert ASK.codes(**steep, mu_own="0.03")["undoes-itself"] == "stop"
    assert "undoes-itself" not in ASK.codes(**steep, mu_own="0.1")


def test_hollow_screw_bears_less() -> None:
    """A bore lowers the greatest torque; the tension is force over the ring (by hand)."""
    central = {"thread": "M30x1.5", "face_outer": "46 mm", "face_inner": "31 mm", "mark": "8.8"}
    solid, hollow = ASK.results(**central), ASK.results(**central, bore="14 mm")
    assert hollow["most_torque"]["value"] < solid["most_torque"]["value"]
    ring = math.pi / 4 * (28.5927**2 - 14**2)
    assert hollow["tension"]["value"] == pytest.approx(1e3 * hollow["clamp"]["value"] / ring)


def test_prevailing_torque_is_spent_first() -> None:
    """A locking nut makes the clamp of the torque that is left, and is there when undoing."""
    plain = ASK.results(torque="70 N·m ± 0")
    locking = ASK.results(torque="80 N·m ± 0", prevailing="10 N·m")
    assert locking["clamp"]["value"] == pytest.approx(plain["clamp"]["value"])
    assert locking["undo"]["value"] == pytest.approx(plain["undo"]["value"] + 10)


def test_refused_entries() -> None:
    """Faces, bores and torques that cannot be name the entry to mend."""
    assert "must pass the thread" in ASK.error("face_inner", face_inner="11 mm")
    assert "wider than its hole" in ASK.error("face_outer", face_outer="13.6 mm")
    assert "no wall" in ASK.error("bore", bore="10.5 mm")
    assert "less than the torque" in ASK.error("prevailing", torque="8 N·m", prevailing="8 N·m")
    assert "without any friction" in ASK.error("clamp", known="both", torque="5 N·m", clamp="40 kN")


def test_drawn() -> None:
    """Three shares, four with a locking nut."""
    assert "locking nut" not in ASK.drawn()[0]
    assert "locking nut" in ASK.drawn(prevailing="10 N·m")[0]
