"""The published form of a job record, and whether a value has it.

The form is JSON Schema (draft 2020-12), of which only the words below are used, so that a record
can be read without a library. A test holds the answers against a general validator's.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

SCHEMA_TEXT = Path(__file__).with_name("job-record.schema.json").read_text("utf-8")
SCHEMA: Mapping[str, Any] = json.loads(SCHEMA_TEXT)

_TYPES: Mapping[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "boolean": (bool,),
    "null": (type(None),),
    "integer": (int,),
    "number": (int, float),
}
_NAMES = {
    dict: "a table", list: "a list", str: "a text", bool: "yes or no", type(None): "nothing",
    int: "a number", float: "a number",
}  # fmt: skip
_WORDS = {
    "object": "a table", "array": "a list", "string": "a text", "boolean": "yes or no",
    "null": "nothing", "integer": "a whole number", "number": "a number",
}  # fmt: skip


class NotOfTheFormError(ValueError):
    """A value is not what the form says; ``field`` is where, in dots from the top."""

    def __init__(self, field: str, found: str, expected: str) -> None:
        self.field, self.found, self.expected = field, found, expected
        super().__init__(f"{field or 'the record'}: found {found}; expected {expected}")


def hold(value: object, rule: Mapping[str, Any] = SCHEMA, field: str = "") -> None:
    """Raise NotOfTheFormError at the first place where ``value`` is not what ``rule`` says."""
    while "$ref" in rule:
        rule = SCHEMA["$defs"][rule["$ref"].removeprefix("#/$defs/")]
    if "anyOf" in rule:
        _one_of(value, rule["anyOf"], field)
        return
    for wrong in (_type(value, rule), _constant(value, rule), _size(value, rule)):
        if wrong:
            raise NotOfTheFormError(field, *wrong)
    if isinstance(value, dict):
        _table(value, rule, field)
    elif isinstance(value, list) and "items" in rule:
        for place, item in enumerate(value):
            hold(item, rule["items"], f"{field}[{place + 1}]")


def _one_of(value: object, rules: list[Mapping[str, Any]], field: str) -> None:
    """One of several forms; where one has the right type, what is wrong with it is told."""
    for rule in rules:
        try:
            hold(value, rule, field)
        except NotOfTheFormError as error:
            wrong = error
            if error.field != field:
                raise
        else:
            return
    raise wrong


def _type(value: object, rule: Mapping[str, Any]) -> tuple[str, str] | None:
    wanted = rule.get("type")
    if wanted is None:
        return None
    right = isinstance(value, _TYPES[wanted]) and (
        wanted == "boolean" or not isinstance(value, bool)
    )
    if wanted == "integer" and isinstance(value, float) and value.is_integer():
        right = True
    return None if right else (shown(value), _WORDS[wanted])


def _constant(value: object, rule: Mapping[str, Any]) -> tuple[str, str] | None:
    allowed = [rule["const"]] if "const" in rule else rule.get("enum")
    if allowed is None or any(value == each and _alike(value, each) for each in allowed):
        return None
    return shown(value), " or ".join(shown(each) for each in allowed)


def _alike(one: object, other: object) -> bool:
    """True is no 1."""
    return isinstance(one, bool) is isinstance(other, bool)


def _size(value: object, rule: Mapping[str, Any]) -> tuple[str, str] | None:
    if isinstance(value, str):
        if len(value) > rule.get("maxLength", len(value)):
            return f"{len(value)} characters", f"at most {rule['maxLength']}"
        if len(value) < rule.get("minLength", 0):
            return "an empty text", "some words"
        if "pattern" in rule and not _matches(rule["pattern"], value):
            return shown(value), f"a text of the form {rule['pattern']}"
    elif isinstance(value, (dict, list)):
        most = rule.get("maxProperties" if isinstance(value, dict) else "maxItems", len(value))
        if len(value) > most:
            return f"{len(value)} of them", f"at most {most}"
    elif isinstance(value, (int, float)):
        low, high = rule.get("minimum", value), rule.get("maximum", value)
        if not low <= value <= high:
            return shown(value), f"a number from {low} to {high}"
    return None


def _matches(pattern: str, value: str) -> bool:
    """``$`` means the very end, as it does elsewhere."""
    return re.fullmatch(pattern.removeprefix("^").removesuffix("$"), value) is not None


def _table(value: dict[str, Any], rule: Mapping[str, Any], field: str) -> None:
    known = rule.get("properties", {})
    missing = [name for name in rule.get("required", ()) if name not in value]
    if missing:
        raise NotOfTheFormError(_below(field, missing[0]), "nothing", "it to be there")
    others = rule.get("additionalProperties", True)
    for name, part in value.items():
        place = _below(field, name)
        if "propertyNames" in rule:
            hold(name, rule["propertyNames"], place)
        if name in known:
            hold(part, known[name], place)
        elif others is False:
            raise NotOfTheFormError(place, "an unknown name", f"one of {', '.join(known)}")
        elif isinstance(others, Mapping):
            hold(part, others, place)


def _below(field: str, name: str) -> str:
    part = name if len(name) <= 60 else f"{name[:60]}…"
    return f"{field}.{part}" if field else part


def shown(value: object) -> str:
    """A value in a message: a number or a short text itself, of anything else what it is."""
    if isinstance(value, str):
        return f"'{value}'" if len(value) <= 60 else f"'{value[:60]}…'"
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value:.6g}" if isinstance(value, float) or abs(value) < 10**9 else "a huge number"
    return _NAMES.get(type(value), "something else")
