"""Thread and proof load: worn, bored and waisted sections, and every finding at its threshold."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.thread_sizes import METRIC, THREADS
from calculators.thread_strength import thread_strength
from tests.calculators.outcomes import Answers

MANY = settings(max_examples=30, deadline=None, derandomize=True)
ASK = Answers(thread_strength)


@MANY
@given(st.sampled_from(sorted(THREADS)), st.sampled_from(["4.6", "8.8", "10.9", "grade 8"]))
def test_loads_stand_in_order(name: str, mark: str) -> None:
    """Proof < yield < tensile load, and the load over the area is a stress of the class."""
    got = ASK.results(thread=name, mark=mark)
    loads = [got[each]["value"] for each in ("proof", "yields", "tensile")]
    assert loads == sorted(loads)
    assert 1000 * loads[0] / got["area"]["value"] < 1000


@MANY
@given(st.sampled_from(sorted(METRIC)), st.floats(0.01, 0.05))
def test_wear_takes_area(name: str, share: float) -> None:
    """dA/A = 2 dd/(d - 0.938 P) to first order, from one worn size to the next."""
    form = THREADS[name]
    over, lost = form.d - 0.35 * form.pitch, share * form.pitch
    first = ASK.value("area", thread=name, measured=f"{over!r} mm")
    then = ASK.value("area", thread=name, measured=f"{over - lost!r} mm")
    rate = 2 * lost / (form.d - 0.938194 * form.pitch)
    assert 1 - then / first == pytest.approx(rate, rel=0.1)


def test_worn_m10() -> None:
    """0.1 mm off the smallest new bolt of M10 costs 2.3 % (by hand); 9.732 mm is its least size
    (ASME B1.13M, 6g)."""
    sound = ASK.value("area", thread="M10x1.5")
    assert ASK.value("area", thread="M10x1.5", measured="9.732 mm") == sound
    worn = ASK.value("area", thread="M10x1.5", measured="9.632 mm")
    assert 100 * (1 - worn / sound) == pytest.approx(2.3, abs=0.05)
    assert "thread-worn" not in ASK.codes(thread="M10x1.5", measured="9.732 mm")
    assert ASK.codes(thread="M10x1.5", measured="9.731 mm")["thread-worn"] == "caution"


def test_waist_and_bore() -> None:
    """The thinner section bears; a bore is taken from either."""
    assert ASK.results(waist="11 mm")["governs"]["text"] == "the thread"
    got = ASK.results(waist="10 mm", bore="4 mm")
    assert got["governs"]["text"] == "the waist"
    assert got["area"]["value"] == pytest.approx(math.pi / 4 * (100 - 16))
    assert "no wall" in ASK.error("bore", waist="8 mm", bore="8 mm")


def test_mark_findings() -> None:
    """No mark, a mark of the other system, and the ends of the standards."""
    assert ASK.codes()["mark-unknown"] == "caution"
    assert "mark-unknown" not in ASK.codes(mark="8.8")
    assert ASK.codes(mark="grade 5")["mark-of-other-system"] == "caution"
    assert "mark-of-other-system" not in ASK.codes(thread="1/2-20", mark="grade 5")
    assert "beyond-class" not in ASK.codes(thread="M39x3", mark="10.9")
    assert ASK.codes(thread="M42x3", mark="10.9")["beyond-class"] == "caution"
    assert "beyond-class" not in ASK.codes(thread="M16x2", mark="9.8")
    assert ASK.codes(thread="M18x2.5", mark="9.8")["beyond-class"] == "caution"
    assert ASK.codes(thread="M16x1.5", mark="8.8")["class-boundary"] == "note"
    assert "class-boundary" not in ASK.codes(thread="M18x1.5", mark="8.8")


def test_thread_findings() -> None:
    """Look-alikes, odd pairs, central nuts and left-hand threads are told."""
    assert "3/8-16" in ASK.text("look-alike", thread="M10x1.5")
    assert "1/2-13" in ASK.text("look-alike", thread="M12x1.75")
    odd = {"thread": "other", "diameter": "30 mm"}
    assert ASK.codes(**odd, pitch="1.25 mm")["thread-not-standard"] == "caution"
    assert "thread-not-standard" not in ASK.codes(**odd, pitch="2 mm")
    assert "central-nut" in ASK.codes(thread="M24x2")
    assert "central-nut" not in ASK.codes(thread="M22x1.5")
    assert ASK.codes(hand="left")["left-hand"] == "caution"
    assert "left-hand" not in ASK.codes()


def test_measured_thread_is_that_of_the_table() -> None:
    """Diameter and pitch typed give what the choice gives, metric and unified."""
    typed = ASK.results(thread="other", diameter="30 mm", pitch="2 mm", mark="10.9")
    assert typed["proof"]["value"] == ASK.results(thread="M30x2", mark="10.9")["proof"]["value"]
    inch = ASK.results(thread="other", diameter="1/2 in", pitch="1/20 in", system="unified")
    assert inch["area"]["value"] == pytest.approx(ASK.value("area", thread="1/2-20"))


def test_refused_entries() -> None:
    """What is no such thread names the entry to mend."""
    assert "too coarse" in ASK.error("pitch", thread="other", diameter="12 mm", pitch="3.1 mm")
    assert "Check thread and reading" in ASK.error("measured", measured="12.2 mm")
    assert "Check thread and reading" in ASK.error("measured", measured="10.4 mm")


def test_drawn_for_every_thread() -> None:
    """Coarse, fine, big and inch threads can be drawn."""
    for name in ("M5x0.8", "M48x3", "1/4-28", "M30x1.5"):
        assert ASK.drawn(thread=name)[0].startswith("<svg")
