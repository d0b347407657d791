"""Declarations that contradict themselves stop at import, with the name and the part."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from witnessmark.calc import (
    CheckValue,
    DeclarationError,
    Length,
    Source,
    Torque,
    calculator,
    calculators_of,
    choice,
    entry,
    result,
)


@dataclass(frozen=True)
class One:
    out: Length = result("Out", lead=True)


def declare(function, name="sample-wrong", **extra):
    return calculator(name=name, title="t", topic="t", purpose="p", **extra)(function)


def positional(a: Length = entry("A", "1 mm")) -> One: ...


def no_default(*, a: Length) -> One: ...


def no_kind(*, a: int = entry("A", "1")) -> One: ...


def wrong_unit(*, a: Torque = entry("A", "1", units=("mm",))) -> One: ...


def wrong_choice(*, a: str = choice("A", {"x": "X"}, default="y")) -> One: ...


def no_results(*, a: Length = entry("A", "1 mm")) -> int: ...


def waits(*, a: Length = entry("A", "1 mm", when={"b": "x"})) -> One: ...


def right(*, a: Length = entry("A", "1 mm")) -> One:
    return One(a)


@pytest.mark.parametrize(
    ("function", "message"),
    [
        (positional, "'a'.*keyword-only"),
        (no_default, "'a'.*give it a default"),
        (no_kind, "'a'.*annotate it with a kind"),
        (wrong_unit, "'a'.*'mm' is not a unit of torque"),
        (wrong_choice, "'a'.*the default 'y' is not one of its options"),
        (no_results, "must return a dataclass"),
        (waits, "'a' waits for no choice 'b'"),
    ],
)
def test_a_wrong_declaration_says_what_is_wrong(function, message):
    """The message names the calculator, the entry and the fix."""
    with pytest.raises(DeclarationError, match=f"sample-wrong.*{message}"):
        declare(function)


def test_a_name_is_words_with_hyphens():
    """Names are typed in pages; they have one form."""
    with pytest.raises(DeclarationError, match="lower-case words with hyphens"):
        declare(right, name="Sample_Wrong")


def test_a_check_value_names_what_exists():
    """A misspelt entry or result of a check value is found at once."""
    source = Source("s", "By hand", kind="derivation")
    for case in (
        CheckValue("c", {"b": "1"}, source=source),
        CheckValue("c", {}, {"into": "1 mm"}, source=source),
    ):
        with pytest.raises(DeclarationError, match="check value 'c' names the"):
            declare(right, check_values=(case,))


def test_a_source_has_a_title_and_a_known_kind():
    """Sources are printed; they need a title and a kind the site can name."""
    with pytest.raises(DeclarationError, match="needs a title and a kind"):
        declare(right, sources=(Source("s", "Hearsay", kind="rumour"),))


def test_calculators_of_a_module_are_those_it_declares(samples):
    """Imported calculators belong to the module that declares them."""
    assert [item.name for item in calculators_of(samples)] == [
        "sample-lever",
        "sample-spread",
        "sample-table",
        "sample-cut",
    ]
