"""Parts that are made only when they are shown."""

from dataclasses import dataclass
from typing import Any

import pytest

from witnessmark.calc import (
    CalculatorFailedError,
    Finding,
    Length,
    Q,
    calculator,
    entry,
    evaluate,
    later,
    note,
    result,
    text_result,
)
from witnessmark.calc.calculator import _CATALOGUE

MADE: list[float] = []


@dataclass(frozen=True)
class Doubled:
    """A length and what is said of it."""

    double: Length = result("Double")
    words: str = text_result("In words")
    findings: tuple[Finding, ...] = ()


@pytest.fixture
def doubling() -> Any:
    """A calculator that counts for which lengths its words were made."""

    @calculator(name="sample-doubling", title="", topic="", purpose="")
    def double(
        *, length: Length = entry("Length", "10 mm ± 1 mm"), more: Length = entry("More", "2 mm")
    ) -> Doubled:
        def words() -> str:
            MADE.append(length.m_as("mm"))
            if length.m_as("mm") == 13:
                raise ValueError("thirteen")
            return f"twice {length.m_as('mm'):g}"

        return Doubled(
            double=2 * length + more,
            words=later(words),
            findings=later(lambda: (note("said", words()),)),
        )

    MADE.clear()
    yield double
    del _CATALOGUE["sample-doubling"]


def test_it_is_made_once_for_the_entries_as_they_stand(doubling: Any) -> None:
    """A band is worked out from lengths that no word is made for."""
    outcome = evaluate(doubling, {"more": "2 mm ± 0.5 mm"})
    assert outcome["results"][0]["band"]["worst"]["display"] == "19.5 … 24.5\u202fmm"
    assert outcome["results"][1]["text"] == "twice 10"
    assert outcome["findings"][0]["text"] == "twice 10"
    assert MADE == [10, 10]


def test_a_direct_call_gives_everything(doubling: Any) -> None:
    """Called as a function, a calculator leaves nothing open."""
    results = doubling(length=Q(4, "mm"), more=Q(1, "mm"))
    assert results.words == "twice 4"
    assert results.findings[0].code == "said"


def test_what_goes_wrong_later_is_a_defect_too(doubling: Any) -> None:
    """An exception is not hidden by coming late."""
    with pytest.raises(CalculatorFailedError, match="sample-doubling: ValueError: thirteen"):
        evaluate(doubling, {"length": "13 mm"})
