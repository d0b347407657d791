"""Chains: figures handed on whole, sources first, and what happens when a source gives nothing."""

from __future__ import annotations

import dataclasses
import itertools
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.calc.sample_calculators import lever, sorted_rows, spread
from witnessmark.calc import (
    CalculatorFailedError,
    ChainError,
    Follow,
    Link,
    can_feed,
    evaluate,
    evaluate_chain,
    evaluate_json,
    fed_entry,
    fed_text,
    request,
)
from witnessmark.calc.entries import Withheld, read_entries

LENGTHS = st.floats(1e-3, 1e4)


def _part(kind: str, unit: str, value: float, low: float | None = None, high: float = 0.0) -> dict:
    """A result's part of an outcome."""
    band = None if low is None else {"worst": {"low": low, "high": high}}
    return {"kind": kind, "unit": unit, "value": value, "band": band}


@given(LENGTHS, st.floats(0, 0.9), st.floats(0, 3))
def test_value_and_limits_arrive_as_they_were_sent(value, below, above):
    """Uneven limits too, in another unit (1 m is 1000 mm): the value to five figures or a
    micrometre, no part of the band lost and next to nothing added."""
    low, high = value * (1 - below), value * (1 + above)
    text = fed_text(_part("length", "m", value, low, high), spread.entries["a"])
    read = read_entries(spread.entries, {"a": text})["a"]
    assert not read.code
    off = abs(read.value.m_as("mm") - 1000 * value)
    rest = 1e-9 * 1000 * value  # what twelve digits leave
    assert off <= min(0.5e-4 * 1000 * value, 0.5e-3) + rest
    got = (read.low.m_as("mm"), read.high.m_as("mm")) if read.toleranced else (1000 * value,) * 2
    assert got[0] <= 1000 * low + rest
    assert got[1] >= 1000 * high - rest
    wide, wider = 1000 * (high - low), got[1] - got[0]
    assert wider <= wide * 1.001 + 4 * off + rest


@pytest.mark.parametrize(
    ("kind", "unit", "value", "low", "high", "text"),
    [
        ("torque", "N·m", 871.1534567, 414.9461, 1593.9012, "871.15 N·m +722.8/-456.3"),
        ("torque", "N·m", 417.391304, None, 0, "417.39 N·m"),
        ("torque", "N·m", 104.0, 103.9999, 104.00004, "104 N·m +0.00004/-0.0001"),
        ("torque", "N·m", 0.0, -0.25, 0.5, "0 N·m +0.5/-0.25"),
        ("torque", "N·m", -12.345678, -13.0, -12.0, "-12.346 N·m +0.346/-0.654"),
        ("torque", "lbf·ft", 73.7562149, None, 0, "100 N·m"),
        ("torque", "N·m", 123456.7, None, 0, "123460 N·m"),
        ("torque", "N·m", 0.000123456, None, 0, "0.00012346 N·m"),
    ],
)
def test_a_figure_is_handed_on_as_a_fitter_would_write_it(kind, unit, value, low, high, text):
    """Five figures, deviations outward with four, no zeros behind; by hand."""
    plain = dataclasses.replace(spread.entries["reading"], deviation="value")
    assert fed_text(_part(kind, unit, value, low, high), plain) == text


@pytest.mark.parametrize(
    ("unit", "value", "text"),
    [
        ("mm", 340.380512, "340.381 mm"),
        ("mm", 12.34567, "12.346 mm"),
        ("mm", 0.0214612, "0.0215 mm"),
        ("mm", 0.00033456, "0.000335 mm"),
        ("in", 1.0, "25.4 mm"),
        ("µm", 23.6876, "0.0237 mm"),
    ],
)
def test_a_length_is_handed_on_to_the_micrometre_or_its_tenth(unit, value, text):
    """Five figures of a large length would lose a fit; six of a small one nobody has measured."""
    assert fed_text(_part("length", unit, value), spread.entries["a"]) == text


def test_what_is_handed_on_is_what_is_reckoned_with():
    """Typing the text of the fed field by hand gives the same outcome, to the last digit."""
    done = evaluate_chain(_levers(), _evaluated)
    typed = done["second"]["entries"]["arm"]["text"]
    again = evaluate(lever, {"force": "100 N ± 5 N", "arm": typed})
    assert again["results"] == done["second"]["results"]


def test_limits_are_not_read_as_deviations_of_a_wrench():
    """An entry that takes deviations in the sense of ISO 6789 is fed plain limits all the same."""
    text = fed_text(_part("torque", "N·m", 100.0, 93.0, 109.0), spread.entries["reading"])
    read = read_entries(spread.entries, {"reading": text})["reading"]
    low, high = read.low.m_as("N*m"), read.high.m_as("N*m")
    assert 92.99 < low <= 93.0 + 1e-9
    assert 109.0 - 1e-9 <= high < 109.01


def test_a_temperature_is_handed_on_in_degrees():
    """68 °F is 20 °C; limits 4.5 K apart stay so."""
    text = fed_text(_part("temperature", "°F", 68.0, 63.5, 72.5), sorted_rows.entries["bench"])
    read = read_entries(sorted_rows.entries, {"bench": text})["bench"]
    ends = [end.m_as("kelvin") for end in (read.low, read.value, read.high)]
    assert ends == pytest.approx([290.65, 293.15, 295.65])


@pytest.mark.parametrize(
    ("result", "entry", "fits"),
    [
        (lever.results["torque"], spread.entries["reading"], True),
        (lever.results["torque"], spread.entries["a"], False),
        (lever.results["verdict"], lever.entries["stop_kind"], False),
        (sorted_rows.results["count"], spread.entries["share"], True),
        (spread.results["sum"], sorted_rows.entries["parts"], False),
    ],
)
def test_only_a_figure_of_the_right_kind_can_feed(result, entry, fits):
    """A torque is no length; words and tables feed nothing."""
    assert can_feed(result, entry) is fits


def _evaluated(link: Link, entries: dict) -> dict:
    return evaluate(link.calculator, entries, tools=link.tools)


def _levers() -> dict[str, Link]:
    """Bottom first: the arm of the second is the sum of two lengths."""
    return {
        "last": Link(spread, {}, {"reading": Follow("second", "torque")}),
        "second": Link(lever, {"force": "100 N ± 5 N"}, {"arm": Follow("first", "sum")}),
        "first": Link(spread, {"a": "10 mm +3/-1", "b": "200 mm ± 2 mm", "together": "5 mm"}),
    }


def test_sources_are_worked_out_first_whatever_the_order():
    """0.21 m times 100 N is 21 N·m, which the last calculator reads."""
    done = evaluate_chain(_levers(), _evaluated)
    assert list(done) == ["first", "second", "last"]
    assert done["second"]["results"][0]["value"] == pytest.approx(21.0)
    assert done["last"]["entries"]["reading"]["value"] == pytest.approx(21.0)


def test_the_worst_case_is_right_along_a_chain():
    """All corners of the three tolerances, by hand: (a + b) · F at its least and greatest."""
    done = evaluate_chain(_levers(), _evaluated)
    corners = [
        (a + b) / 1000 * force for a, b, force in itertools.product((9, 13), (198, 202), (95, 105))
    ]
    band = done["second"]["results"][0]["band"]["worst"]
    assert (band["low"], band["high"]) == pytest.approx((min(corners), max(corners)))
    entry = done["last"]["entries"]["reading"]
    within = 0.001 * (max(corners) - min(corners))
    assert min(corners) - within <= entry["low"] <= min(corners)
    assert max(corners) <= entry["high"] <= max(corners) + within


def test_only_what_is_wanted_and_its_sources_is_worked_out():
    """The rest of the page is left in peace."""
    assert list(evaluate_chain(_levers(), _evaluated, ["second"])) == ["first", "second"]


def test_a_ring_and_a_stranger_are_refused():
    """The build has refused them before; no evaluation runs for ever."""
    ring = {"a": Link(lever, {}, {"arm": Follow("b", "sum")}),
            "b": Link(spread, {}, {"reading": Follow("a", "torque")})}  # fmt: skip
    with pytest.raises(ChainError, match="a -> b -> a"):
        evaluate_chain(ring, _evaluated)
    with pytest.raises(ChainError, match="b"):
        evaluate_chain({"a": ring["a"]}, _evaluated)


def test_a_source_with_a_bad_entry_gives_nothing():
    """The fed entry tells why; nothing is worked out from a figure that does not hold."""
    links = _levers() | {"first": Link(spread, {"a": "none"})}
    done = evaluate_chain(links, _evaluated)
    error = done["second"]["entries"]["arm"]["error"]
    assert error["code"] == "withheld"
    assert "“Bands” until an entry there is mended" in error["message"]
    assert done["second"]["results"] == []
    assert done["second"]["entries"]["force"]["error"] is None
    assert "“A lever”" in done["last"]["entries"]["reading"]["error"]["message"]


def test_a_result_that_is_not_given_feeds_nothing():
    """Without a stop there is no press on it."""
    entry = sorted_rows.entries["teeth"]
    given = fed_entry(lever, evaluate(lever, {}), "press", entry)
    assert isinstance(given, Withheld)
    assert "gives no “Press on the stop”" in given.message


def test_a_calculator_that_fails_takes_its_own_part_only():
    """Its failure is told for it; what hangs on it gets nothing; the rest has its figures."""

    def work_out(link, entries):
        if link.calculator is spread and "a" in entries:
            raise CalculatorFailedError("a defect")
        return _evaluated(link, entries)

    done = evaluate_chain(_levers() | {"other": Link(lever)}, work_out)
    assert isinstance(done["first"], CalculatorFailedError)
    assert done["second"]["entries"]["arm"]["error"]["code"] == "withheld"
    assert done["other"]["complete"]


def test_a_stop_is_told_where_its_figure_is_used():
    """1500 N on 0.75 m is over the socket's 1000 N·m."""
    links = {
        "first": Link(lever, {"force": "1500 N"}),
        "second": Link(spread, {}, {"reading": Follow("first", "torque")}),
    }
    done = evaluate_chain(links, _evaluated)
    told = [finding for finding in done["second"]["findings"] if finding["entry"] == "reading"]
    assert [finding["code"] for finding in told] == ["source-stopped"]
    assert "“A lever”" in told[0]["text"]
    calm = evaluate_chain(links | {"first": Link(lever)}, _evaluated)
    assert calm["second"]["findings"] == []


def test_a_request_for_a_chain_gives_what_single_requests_give():
    """The worker's door: the same outcomes, those wanted only, the texts fed told as entries."""
    chain = {
        "second": {"calculator": "sample-lever", "entries": {"force": "100 N"},
                   "follows": {"arm": ["first", "sum"]}},
        "first": {"calculator": "sample-spread", "entries": {"a": "10 mm ± 1 mm"}},
    }  # fmt: skip
    for _ in range(2):  # worked out, then kept
        asked = {"chain": chain, "want": ["second"], "units": "us", "drawings": False}
        (outcome,) = json.loads(evaluate_json(json.dumps(asked)))["outcomes"].values()
        first = evaluate(spread, {"a": "10 mm ± 1 mm"}, "us")
        texts = {"force": "100 N", "arm": fed_text(first["results"][0], lever.entries["arm"])}
        assert outcome == json.loads(json.dumps(evaluate(lever, texts, "us", drawings=False)))
        assert outcome["entries"]["arm"]["text"] == texts["arm"]


def test_a_kept_outcome_is_worked_out_anew_on_request(monkeypatch):
    """The worker practises with requests it has answered: that must be work, not a look-up."""
    worked = []

    def counted(calculator, *arguments, **named):
        worked.append(calculator.name)
        return evaluate(calculator, *arguments, **named)

    monkeypatch.setattr(request, "evaluate", counted)
    link = {"calculator": "sample-spread", "entries": {"a": "11 mm"}}
    for asked, times in (({}, 1), ({}, 1), ({"anew": True}, 2), ({}, 2)):
        evaluate_json(json.dumps({"chain": {"one": link}, **asked}))
        assert len(worked) == times
