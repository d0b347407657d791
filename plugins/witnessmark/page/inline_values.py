"""Values inside a sentence: what the braces name, found or computed, in both unit systems."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from xml.etree.ElementTree import Element, SubElement

from witnessmark.calc import Calculator, Outcome
from witnessmark.databook import Scope, label_of
from witnessmark.databook.shown import show_value
from witnessmark.faults import nearest
from witnessmark.page.context import PageContext
from witnessmark.page.given import Given, Setting, evaluated, known_calculator, lookup, settings
from witnessmark.page.source import SourceReference

_NEXT_ENTRY = re.compile(r",\s*(?=[A-Za-z_]\w*\s*:)")


@dataclass(frozen=True)
class ShownValue:
    """A value as it is shown: in both unit systems, with its origin and whom it holds for."""

    si: str
    us: str
    origin: str
    scopes: tuple[Scope, ...]
    label: str = ""


def shown_values(reference: SourceReference, context: PageContext) -> list[ShownValue]:
    """What stands for a pair of braces: one value or several labelled ones; none after a fault."""
    name, bar, rest = (part.strip() for part in reference.text.partition("|"))
    head = name.split(".")[0]
    computed = bar or (name not in context.book.values and head in context.collection.calculators)
    if computed:
        return _computed(name, rest, reference, context)
    scopes = context.scopes_of(reference)
    if not lookup(context, name, reference.line, scopes):
        return []
    return [
        ShownValue(
            show_value(part.value), show_value(part.value, "us"),
            part.origin or "data book", part.scopes, part.label,
        )
        for part in context.book.across(name, scopes)
    ]  # fmt: skip


def _computed(
    name: str, rest: str, reference: SourceReference, context: PageContext
) -> list[ShownValue]:
    calculator_name, dot, result = name.partition(".")
    calculator = known_calculator(context, calculator_name, reference.line)
    if calculator is None:
        return []
    if not dot or result not in calculator.results:
        context.fault(
            reference.line, f"{{{name} | …}}", f"the result '{result}'" if dot else "no result",
            f"a result of the calculator: {', '.join(calculator.results)}",
            nearest=nearest(result, calculator.results), code="unknown-result",
        )  # fmt: skip
        return []
    given = _read_entries(rest, name, reference, context)
    if given is None:
        return []
    shown: list[ShownValue] = []
    scopes = context.scopes_of(reference)
    for setting in settings(context, calculator, given, scopes):
        outcomes = [
            evaluated(context, calculator, setting, given, reference.line, units)
            for units in ("si", "us")
        ]
        if outcomes[0] is None or outcomes[1] is None:
            continue
        texts = [_display(outcome, result) for outcome in outcomes if outcome is not None]
        if not _may_stand_alone(texts, outcomes[0], name, reference, context):
            continue
        origin = _how(calculator, outcomes[0], setting)
        shown.append(ShownValue(texts[0], texts[1], origin, tuple(setting.scopes)))
    return _alike_together(shown, scopes)


def _read_entries(
    rest: str, name: str, reference: SourceReference, context: PageContext
) -> list[Given] | None:
    """``target: flywheel.nut.torque, ratio: 5`` as entries; a comma inside a text is kept."""
    given: list[Given] = []
    for part in _NEXT_ENTRY.split(rest) if rest else []:
        entry, colon, text = part.partition(":")
        if not colon or not text.strip():
            context.fault(
                reference.line, f"{{{name} | …}}", f"'{part.strip()}'", "'entry: value'",
                code="no-entry",
            )  # fmt: skip
            return None
        if entry.strip() in [item.name for item in given]:
            context.fault(
                reference.line, f"{{{name} | …}}", f"the entry '{entry.strip()}' a second time",
                "each entry once", code="duplicate-key",
            )  # fmt: skip
            return None
        given.append(Given(entry.strip(), text.strip(), reference.line))
    return given


def _display(outcome: Outcome, result: str) -> str:
    for part in outcome["results"]:
        if part["name"] == result:
            return str(part.get("display", ""))
    return ""


def _may_stand_alone(
    texts: Sequence[str], outcome: Outcome, name: str, reference: SourceReference,
    context: PageContext,
) -> bool:  # fmt: skip
    """A figure in a sentence shows no finding beside it, so it must not come with a stop."""
    if not all(texts):
        context.fault(
            reference.line, f"{{{name} | …}}", "no single figure for these entries",
            "a result that is one figure or one text", code="no-figure",
        )  # fmt: skip
        return False
    stops = [finding["text"] for finding in outcome["findings"] if finding["level"] == "stop"]
    if stops:
        context.fault(
            reference.line, f"{{{name} | …}}", f"a figure that comes with a stop: {stops[0]}",
            "entries without a stop, or the calculator itself, which shows the stop",
            code="stop-in-text",
        )  # fmt: skip
    return not stops


def _how(calculator: Calculator[Any, Any], outcome: Outcome, setting: Setting) -> str:
    """From what a figure was computed, for the reader who asks."""
    parts = [
        f"{calculator.entries[name].label} {outcome['entries'][name].get('display', '')}"
        for name in setting.entries
    ]
    return f"{calculator.title}: {', '.join(parts)}" if parts else calculator.title


def _alike_together(shown: list[ShownValue], among: Sequence[Scope]) -> list[ShownValue]:
    """Scopes with the same figure are one value, labelled when others differ."""
    groups: dict[tuple[str, str], list[ShownValue]] = {}
    for value in shown:
        groups.setdefault((value.si, value.us), []).append(value)
    merged: list[ShownValue] = []
    for (si, us), group in groups.items():
        held = {scope for value in group for scope in value.scopes}
        scopes = tuple(scope for scope in among if scope in held)
        origin = "; ".join(dict.fromkeys(value.origin for value in group))
        merged.append(ShownValue(si, us, origin, scopes, label_of(scopes, among)))
    return merged


def value_element(values: Sequence[ShownValue]) -> Element:
    """The values as HTML: one span, or a span of labelled ones with commas between."""
    if len(values) == 1 and not values[0].label:
        return _value_span(values[0])
    group = Element("span", {"class": "wm-values"})
    for number, value in enumerate(values):
        part = SubElement(
            group, "span",
            {"class": "wm-labelled", "data-wm-scopes": " ".join(s.key for s in value.scopes)},
        )  # fmt: skip
        # Separator and label are elements: one engine chosen, both go with the other values.
        if number:
            SubElement(part, "span", {"class": "wm-and"}).text = ", "
        part.append(_value_span(value))
        SubElement(part, "span", {"class": "wm-whom"}).text = f" ({value.label})"
    return group


def _value_span(value: ShownValue) -> Element:
    span = Element("span", {"class": "wm-value", "title": value.origin})
    if value.si == value.us:
        span.text = value.si
        return span
    SubElement(span, "span", {"class": "wm-si"}).text = value.si
    # Hidden on the page, but there for whatever reads the text without its styles.
    SubElement(span, "span", {"class": "wm-or", "hidden": "hidden"}).text = " / "
    SubElement(span, "span", {"class": "wm-us"}).text = value.us
    return span


def plain_value(values: Sequence[ShownValue]) -> str:
    """The values as plain text in SI, for a table of contents."""
    if len(values) == 1 and not values[0].label:
        return values[0].si
    return ", ".join(f"{value.si} ({value.label})" for value in values)
