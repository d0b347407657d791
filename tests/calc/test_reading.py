"""Readings are judged against their limits, in any unit, to the last digit."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.calc import evaluate_json
from witnessmark.calc.quantity_text import EntryError
from witnessmark.calc.reading import judge, limits_of, limits_text

FLOAT = limits_of("length", "mm", band="0.10 … 0.25 mm")
RUNOUT = limits_of("length", "mm", most="0.10 mm")
STOCK = limits_of("length", "mm", least="2 mm")


def verdict(limits, text: str) -> str:
    """The verdict on one reading."""
    return judge("reading", limits, [text])["verdict"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("0.10 mm", "near"), ("0.0999 mm", "out"), ("0.25", "near"), ("0,2501", "out"),
        ("0.18", "in"), ("180 µm", "in"), ("0.007 in", "in"), ("0.01 in", "out"),
        ("0.115", "in"), ("0.1149", "near"), ("0.235", "in"), ("0.2351", "near"),
    ],
)  # fmt: skip
def test_a_band(text, expected):
    """Limits themselves are accepted; a tenth of the band (15 µm) from a limit is near."""
    assert verdict(FLOAT, text) == expected


@pytest.mark.parametrize(
    ("limits", "text", "expected"),
    [
        (RUNOUT, "0.10", "near"), (RUNOUT, "0.101", "out"), (RUNOUT, "0.09", "in"),
        (RUNOUT, "0.0901", "near"), (RUNOUT, "0", "in"),
        (STOCK, "2", "near"), (STOCK, "1.999", "out"), (STOCK, "2.2", "in"),
        (STOCK, "2.19", "near"),
    ],
)  # fmt: skip
def test_one_limit(limits, text, expected):
    """With one limit, near is a tenth of the limit."""
    assert verdict(limits, text) == expected


@given(
    st.fractions(min_value=-50, max_value=50, max_denominator=10**6),
    st.integers(-5000, 5000),
    st.integers(1, 2000),
)
def test_in_or_out_as_exact_fractions_say(value, low, width):
    """Against exact arithmetic, with limits in hundredths and readings of six decimals."""
    text = f"{float(value):.6f}"
    band = f"{low / 100} … {(low + width) / 100} mm"
    accepted = Fraction(low, 100) <= Fraction(text) <= Fraction(low + width, 100)
    judged = verdict(limits_of("length", "mm", band=band), text)
    assert (judged != "out") is accepted


def test_repeats_are_judged_each_and_their_spread_is_told():
    """The worst counts; empty places are still to come; a bad text spoils its own place only."""
    outcome = judge("depth", FLOAT, ["0.15", "", "0.24", "much"])
    assert [part["verdict"] for part in outcome["readings"]] == ["in", "", "near", ""]
    assert outcome["verdict"] == "near"
    assert outcome["spread"] == "0.090\u202fmm"
    assert not outcome["complete"]
    assert outcome["readings"][3]["error"]["code"]
    assert judge("depth", FLOAT, ["0.15", "0.3"])["verdict"] == "out"


def test_words_say_how_much():
    """How much is left, or over, and to which limit."""
    said = [judge("f", FLOAT, [text])["readings"][0]["said"] for text in ("0.20", "0.24", "0.05")]
    assert said == [
        "In: 0.050\u202fmm left to the upper limit.",
        "In, but near the upper limit: 0.010\u202fmm left.",
        "Out: 0.050\u202fmm under the limit.",
    ]
    assert "0.0020\u202fin" in judge("f", FLOAT, ["0.20"], "us")["readings"][0]["said"]


def test_limits_are_shown_inwards():
    """0.10 … 0.25 mm is 0.003938 … 0.009842 in: what is shown as accepted is accepted."""
    assert limits_text(FLOAT) == "0.1 … 0.25\u202fmm"
    assert limits_text(FLOAT, "us") == "0.003938 … 0.009842\u202fin"
    assert limits_text(RUNOUT) == "at most 0.1\u202fmm"
    assert limits_text(STOCK) == "at least 2\u202fmm"


def test_temperatures_keep_degrees_and_differences_apart():
    """5 °C over a limit is 9 °F over it."""
    limits = limits_of("temperature", "°C", most="200 °C")
    assert (
        judge("t", limits, ["205 °C"])["readings"][0]["said"] == "Out: 5.0\u202f°C over the limit."
    )
    assert "9.0\u202f°F" in judge("t", limits, ["205 °C"], "us")["readings"][0]["said"]


def test_a_wrong_dimension_is_refused_in_its_place():
    """A torque is no length."""
    error = judge("f", FLOAT, ["5 N·m"])["readings"][0]["error"]
    assert "torque" in error["message"]


def test_limits_that_cannot_be_read_raise():
    """For the build to tell with file and line."""
    with pytest.raises(EntryError):
        limits_of("length", "mm", band="much")


def test_the_worker_reaches_it():
    """The one door of the browser judges readings too."""
    request = {
        "reading": "float", "kind": "length", "unit": "mm", "band": "0.10 … 0.25 mm",
        "texts": ["0.30 mm"], "units": "si",
    }  # fmt: skip
    assert json.loads(evaluate_json(json.dumps(request)))["verdict"] == "out"


def test_what_a_calculator_is_given():
    """Each reading in the own unit; the mean once all are there."""
    outcome = judge("depth", FLOAT, ["0.15", "240 µm", "0,12 mm"])
    assert outcome["given"] == {"each": ["0.15 mm", "0.24 mm", "0.12 mm"], "mean": "0.17 mm"}
    assert judge("depth", FLOAT, ["0.15", ""])["given"] == {"each": ["0.15 mm", ""], "mean": ""}
