"""The published form, held against a general validator (python-jsonschema, draft 2020-12)."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

import witnessmark.page
from tests.record.written import AT, CALCULATOR, READING, TICK
from witnessmark.record import SCHEMA, SCHEMA_TEXT
from witnessmark.record.schema import NotOfTheFormError, hold

REVISION = {"revision": "0123456789ab"}
GOOD = {
    "format": "witness-mark job record", "version": 1, "id": "0" * 32, "number": "1",
    "engine": "LG2/canal", "serial": "", "notes": "", "begun": AT, "changed": AT,
    "pages": {
        "a.md": {
            "ticks": {"step-1": TICK | REVISION},
            "readings": {"depth": READING | REVISION},
            "calculators": {
                "lever": CALCULATOR | REVISION | {"maths": ""},
                "rows": CALCULATOR | REVISION | {"maths": "", "typed": {"a": [["1", "2"]]},
                                                 "outcome": None},
            },
        }
    },
}  # fmt: skip
VALIDATOR = Draft202012Validator(SCHEMA)


def holds(data: object) -> bool:
    try:
        hold(data)
    except NotOfTheFormError:
        return False
    return True


def places(data: object, way: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    found = [way] if way else []
    if isinstance(data, (dict, list)):
        for key, part in data.items() if isinstance(data, dict) else enumerate(data):
            found += places(part, (*way, key))
    return found


def test_the_form_is_a_schema():
    """It is one itself, and the good record has it."""
    Draft202012Validator.check_schema(SCHEMA)
    VALIDATOR.validate(GOOD)
    assert holds(GOOD)


def test_the_browser_reads_the_same_form():
    """``front/job-record-form.js`` is the schema behind ``export const FORM =``."""
    front = Path(witnessmark.page.__file__).parent / "front" / "job-record-form.js"
    head, _, form = front.read_text("utf-8").partition("export const FORM = ")
    assert head.startswith("/**")
    assert form == f"{SCHEMA_TEXT.strip()};\n"


def test_nothing_beside_the_form_is_let_in():
    """Every table with named fields is closed, every text, list and table has an end."""

    def rules(rule):
        if isinstance(rule, dict):
            yield rule
            for part in rule.values():
                yield from rules(part)
        elif isinstance(rule, list):
            for part in rule:
                yield from rules(part)

    for rule in rules(SCHEMA):
        match rule.get("type"):
            case "object":
                assert rule.get("additionalProperties", True) is not True, rule
                assert "properties" in rule or "maxProperties" in rule, rule
            case "array":
                assert "maxItems" in rule, rule
            case "string":
                assert "maxLength" in rule or "pattern" in rule, rule


VALUES = st.one_of(
    st.none(), st.booleans(), st.integers(-2, 2000), st.floats(allow_nan=False), st.text(),
    st.sampled_from(["", "in", "si", AT, "0123456789ab", "x" * 401, "a/b/", "a//b", "x:y"]),
    st.lists(st.text(max_size=3), max_size=3), st.dictionaries(st.text(max_size=3), st.none()),
    st.lists(st.just("x"), min_size=25, max_size=25),
)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_it_answers_as_a_general_validator_does(data):
    """A good record with one place changed, taken out or added to."""
    changed = copy.deepcopy(GOOD)
    *way, last = data.draw(st.sampled_from(places(GOOD)))
    inside = changed
    for key in way:
        inside = inside[key]
    what = data.draw(st.sampled_from(["change", "take out", "add"]))
    if what == "change":
        inside[last] = data.draw(VALUES)
    elif what == "take out":
        del inside[last]
    elif isinstance(inside, dict):
        inside[data.draw(st.text(max_size=5))] = data.draw(VALUES)
    else:
        inside.append(data.draw(VALUES))
    assert holds(changed) == VALIDATOR.is_valid(changed)


@pytest.mark.parametrize("text", ["a\n", "\n", "é/"])
def test_the_end_of_an_address_is_its_end(text):
    """A line's end does not slip in behind it."""
    changed = copy.deepcopy(GOOD)
    changed["pages"]["a.md"]["url"] = text
    assert not holds(changed)
