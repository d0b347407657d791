"""What is decided stands while a band is worked out; what happens moves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from witnessmark.calc import (
    Length,
    Number,
    Q,
    as_entered,
    calculator,
    entry,
    evaluate,
    note,
    result,
)
from witnessmark.calc.findings import Finding


@dataclass(frozen=True)
class Cut:
    marked: Length = result("Marked at")
    length: Length = result("Length cut", lead=True)
    findings: tuple[Finding, ...] = ()


@calculator(name="sample-cut", title="A cut", topic="sample", purpose="Tests as_entered.")
def cut(
    *,
    wanted: Length = entry("Wanted", "100 mm ± 2 mm"),
    shrink: Number = entry("Shrinkage", "1.25 ± 0.05"),
    saw: Length = entry("Saw", "1 mm"),
) -> Cut:
    """Marked once for the figures as entered, then it shrinks as it does."""
    marked = as_entered("wanted", wanted).value / as_entered("shrink", shrink).value
    limits = as_entered("wanted", wanted)
    width = (limits.high - limits.low).m_as("mm")
    return Cut(marked, marked * shrink - saw + saw, (note("width", f"{width:g} mm wide."),))


def outcome(**entries: str) -> dict[str, Any]:
    return evaluate(cut, entries)


def test_a_decided_figure_has_no_band_and_a_happening_has() -> None:
    """The mark stands at 80 mm; the length moves with the shrinkage alone."""
    marked, length = outcome()["results"]
    assert marked["value"] == pytest.approx(80)
    assert marked["band"] is None
    assert length["band"]["worst"]["low"] == pytest.approx(96)
    assert length["band"]["worst"]["high"] == pytest.approx(104)
    assert {d["entry"]: d["share"] for d in length["band"]["drivers"]} == {"shrink": 1, "wanted": 0}


def test_limits_can_be_judged() -> None:
    """A calculator sees the limits of its entries; without a tolerance they are the value."""
    assert outcome()["findings"][0]["text"] == "4 mm wide."
    assert outcome(wanted="100 mm")["findings"][0]["text"] == "0 mm wide."


def test_called_directly_a_value_stands_for_itself() -> None:
    """Outside an evaluation there is no other value and no tolerance."""
    evaluate(cut, {})
    found = cut(wanted=Q("50 mm"), shrink=Q(1.0, ""), saw=Q("1 mm"))
    assert found.marked.m_as("mm") == pytest.approx(50)
    assert found.findings[0].text == "0 mm wide."


def test_an_evaluation_leaves_nothing_behind_when_it_fails() -> None:
    """A calculator that fails does not leave its entries standing for the next."""
    with pytest.raises(KeyError):
        evaluate(cut, {"wantd": "1 mm"})
    standing = as_entered("wanted", Q("7 mm"))
    assert standing.low is standing.value is standing.high
