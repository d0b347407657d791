"""Tools of the shop: what they settle in a calculator, and certificates that have run out."""

from __future__ import annotations

import json
from dataclasses import dataclass

import pytest

from witnessmark.calc import (
    DeclarationError,
    Fraction,
    ToolPlace,
    Torque,
    WhenKnown,
    calculator,
    choice,
    entry,
    evaluate,
    evaluate_json,
    result,
)
from witnessmark.calc.tools import given_by_tools

WRENCH = ToolPlace(
    "wrench", "Wrench", "torque wrench",
    {"most": "{high}", "gives": "100 % ± {deviation}", "known_by": "tool"},
)  # fmt: skip


@dataclass(frozen=True)
class Pull:
    torque: Torque = result("Torque", lead=True)


@calculator(
    name="sample-wrench", title="A wrench", topic="sample", purpose="Tests tools.", tools=(WRENCH,)
)
def pulled(
    *,
    most: Torque = entry("Highest mark", "100 N·m", most="500 N·m"),
    gives: Fraction = entry("Gives", "100 %", units=("%",)),
    known_by: str = choice("Known by", {"guess": "guess", "tool": "tool"}, default="guess"),
) -> Pull:
    return Pull(most * gives)


def card(**more: object) -> dict:
    """A torque wrench with a certificate to the end of 2026."""
    made = {"name": "w1", "title": "small wrench", "kind": "torque wrench",
            "values": {"high": "60 N·m", "deviation": "4 %"}, "due": "2026-12-31"}  # fmt: skip
    return made | more


def test_a_tool_settles_what_it_knows():
    """Its figures go before typed ones; what was typed is told, to be put back without it."""
    typed = {"most": "80 N·m", "known_by": "guess"}
    outcome = evaluate(pulled, typed, tools={"wrench": card()})
    assert outcome["results"][0]["value"] == pytest.approx(60)
    band = outcome["results"][0]["band"]["worst"]
    assert (band["low"], band["high"]) == pytest.approx((57.6, 62.4))  # 60 ± 4 %
    assert outcome["entries"]["most"]["tool"] == {"title": "small wrench", "instead_of": "80 N·m"}
    assert outcome["entries"]["gives"]["tool"]["instead_of"] == "100 %"
    assert outcome["entries"]["known_by"]["text"] == "tool"
    assert "tool" not in evaluate(pulled, typed)["entries"]["most"]


def test_the_best_of_several_texts_is_taken():
    """What the sheet found goes before the limit of the class."""
    place = ToolPlace("w", "W", "torque wrench", {"gives": ("{found}", "100 % ± {deviation}")})
    for more, text in (({}, "100 % ± 4 %"), ({"found": "99 % ± 1 %"}, "99 % ± 1 %")):
        tool = card(values={"deviation": "4 %"} | more)
        assert given_by_tools([place], {"w": tool})["gives"].text == text
    assert place.fields == {"found", "deviation"}


def test_a_text_may_hang_on_fields_that_do_not_stand_in_it():
    """A sheet is counted with only where both of its figures are known."""
    sheet = WhenKnown("sheet", ("found", "uncertainty"))
    place = ToolPlace("w", "W", "torque wrench", {"known_by": (sheet, "limit")})
    for more, text in (
        ({}, "limit"),
        ({"found": "1 %"}, "limit"),
        ({"found": "1 %", "uncertainty": "1 %"}, "sheet"),
    ):
        tool = card(values={"deviation": "4 %"} | more)
        assert given_by_tools([place], {"w": tool})["known_by"].text == text
    assert place.fields == {"found", "uncertainty"}


def test_a_tool_settles_nothing_with_a_value_it_lacks():
    """A wrench without a deviation leaves that entry open."""
    outcome = evaluate(pulled, {}, tools={"wrench": card(values={"high": "60 N·m"})})
    assert "tool" in outcome["entries"]["most"]
    assert "tool" not in outcome["entries"]["gives"]


@pytest.mark.parametrize(
    ("today", "overdue"),
    [("2026-12-31", False), ("2027-01-01", True), ("2030-06-01", True), ("", False)],
)
def test_a_certificate_holds_up_to_its_day(today, overdue):
    """The day it ends is its last; without a day nothing is said, and no clock is looked at."""
    outcome = evaluate(pulled, {}, tools={"wrench": card()}, today=today)
    found = [finding for finding in outcome["findings"] if finding["code"] == "tool-overdue"]
    assert bool(found) is overdue
    if overdue:
        assert found[0]["level"] == "caution"
        assert "small wrench ran out on 2026-12-31" in found[0]["text"]


def test_a_tool_without_a_certificate_is_never_overdue():
    """A bar needs none."""
    outcome = evaluate(pulled, {}, tools={"wrench": card(due="")}, today="2099-01-01")
    assert outcome["findings"] == []


def test_a_figure_that_the_entry_refuses_is_told_there():
    """A wrong card is an error at the entry like any other."""
    tool = card(values={"high": "900 N·m"})
    outcome = evaluate(pulled, {}, tools={"wrench": tool})
    assert outcome["entries"]["most"]["error"]["code"] == "too-large"
    assert outcome["entries"]["most"]["tool"]["title"] == "small wrench"


def test_what_fits_no_place_is_refused():
    """A bar is no wrench, and there is no place for a bar."""
    with pytest.raises(ValueError, match="a torque wrench is wanted"):
        evaluate(pulled, {}, tools={"wrench": card(kind="socket")})
    with pytest.raises(KeyError):
        evaluate(pulled, {}, tools={"bar": card()})


def test_a_request_with_tools_is_the_same_evaluation():
    """By the worker's door, alone and in a chain."""
    here = evaluate(pulled, {}, tools={"wrench": card()}, today="2027-06-01")
    link = {"calculator": "sample-wrench", "tools": {"wrench": card()}}
    alone = json.loads(evaluate_json(json.dumps(link | {"today": "2027-06-01"})))
    chain = json.loads(evaluate_json(json.dumps({"chain": {"a": link}, "today": "2027-06-01"})))
    assert alone == chain["outcomes"]["a"] == json.loads(json.dumps(here))


def test_a_place_gives_entries_of_the_calculator():
    """A slip in the declaration is told when it is made."""
    for place in (
        ToolPlace("bar", "Bar", "reaction bar", {"lenght": "{length}"}),
        ToolPlace("most", "Bar", "reaction bar"),
    ):
        with pytest.raises(DeclarationError, match=f"tool '{place.name}'"):
            calculator(name="sample-bad", title="", topic="", purpose="", tools=(place,))(
                pulled.function
            )
