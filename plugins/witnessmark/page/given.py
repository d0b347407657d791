"""What an author gives a calculator: texts and names of the data book, resolved per scope.

Used by the calculator block and by computed values inside a sentence.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.calc import Calculator, CalculatorFailedError, Entry, Outcome, may_stand_for
from witnessmark.calc.tools import given_by_tools
from witnessmark.databook import Scope, Tool, Value, label_of
from witnessmark.databook.shown import show_value
from witnessmark.faults import nearest
from witnessmark.page.braces import DOTTED
from witnessmark.page.context import PageContext

EntryText = str | list[list[str]]


@dataclass(frozen=True)
class Given:
    """One entry as the author wrote it, with its line."""

    name: str
    written: EntryText
    line: int


@dataclass
class Setting:
    """The entries of a calculator for the scopes that agree in them.

    ``origins`` tells of each entry that comes from the data book where it comes from; ``tools``
    are the tools that the page chooses, by their place in the calculator.
    """

    scopes: list[Scope]
    entries: dict[str, EntryText] = field(default_factory=dict)
    origins: dict[str, str] = field(default_factory=dict)
    label: str = ""
    tools: dict[str, Tool] = field(default_factory=dict)


def known_calculator(context: PageContext, name: str, line: int) -> Calculator[Any, Any] | None:
    """The calculator called ``name``, noted as used; None after a fault when there is none."""
    calculators = context.collection.calculators
    if name not in calculators:
        context.fault(
            line, name, f"the calculator '{name}'", "the name of a calculator",
            nearest=nearest(name, calculators), code="unknown-calculator",
        )  # fmt: skip
        return None
    context.uses_calculator(name)
    return calculators[name]


def settings(
    context: PageContext,
    calculator: Calculator[Any, Any],
    given: Sequence[Given],
    scopes: Sequence[Scope],
    apart: Callable[[Scope], object] = lambda scope: None,
) -> list[Setting]:
    """The entries for each of ``scopes``, those with the same entries taken together.

    Scopes for which ``apart`` gives different answers are kept apart all the same.
    An entry at fault is noted and left out, so that the others are still looked at. Scopes
    for which the data book lacks a value are a fault on a procedure and left out elsewhere.
    """
    usable: list[Given] = []
    tools = _tools(context, calculator, given, scopes)
    known = [*calculator.entries, *calculator.tools]
    for item in given:
        if item.name in calculator.tools:
            continue
        if item.name not in calculator.entries:
            context.fault(
                item.line, f"{calculator.name}.{item.name}", f"the entry '{item.name}'",
                f"an entry of the calculator: {', '.join(known)}",
                nearest=nearest(item.name, known), code="unknown-entry",
            )  # fmt: skip
        elif all(
            _check_value(context, calculator.entries[item.name], item, name, scopes)
            for name in _names_in(item.written)
        ):
            usable.append(item)
    made: list[Setting] = []
    for scope in scopes:
        setting = _for_scope(context, usable, scope)
        if setting is None:
            continue
        alike = [
            other
            for other in made
            if other.entries == setting.entries and apart(other.scopes[0]) == apart(scope)
        ]
        if alike:
            alike[0].scopes.append(scope)
            for name, origin in setting.origins.items():
                alike[0].origins[name] = _joined(alike[0].origins.get(name, ""), origin)
        else:
            made.append(setting)
    for setting in made:
        setting.label = label_of(setting.scopes, scopes)
        setting.tools = tools
    return made


def _tools(
    context: PageContext,
    calculator: Calculator[Any, Any],
    given: Sequence[Given],
    scopes: Sequence[Scope],
) -> dict[str, Tool]:
    """The tools that the page chooses for the calculator; what does not fit is a fault."""
    chosen: dict[str, Tool] = {}
    for item in given:
        place = calculator.tools.get(item.name)
        if place is None:
            continue
        field_name = f"{calculator.name}.{item.name}"
        named = item.written if isinstance(item.written, str) else "a table"
        tool = context.book.tools.get(named)
        if tool is None or tool.kind != place.kind:
            fitting = [each.name for each in context.book.tools.values() if each.kind == place.kind]
            found = f"the {tool.kind} '{named}'" if tool else f"the tool '{named}'"
            expected = f"a {place.kind} of the data book: {', '.join(fitting) or 'it has none yet'}"
            context.fault(
                item.line, field_name, found, expected, nearest=nearest(named, fitting),
                code="unknown-tool",
            )  # fmt: skip
            continue
        chosen[item.name] = tool
        for name in place.fields & set(tool.values):
            context.uses_value(f"tools.{tool.name}.{name}", scopes)
    settled = given_by_tools(
        calculator.tools.values(), {name: tool.record for name, tool in chosen.items()}
    )
    for item in given:
        if item.name in settled:
            context.fault(
                item.line, f"{calculator.name}.{item.name}", "an entry that a tool settles",
                f"the tool ({settled[item.name].title}) or the entry, not both",
                code="tool-and-entry",
            )  # fmt: skip
    return chosen


def _joined(first: str, second: str) -> str:
    return first if second in first.split("; ") else f"{first}; {second}"


def _names_in(written: EntryText) -> list[str]:
    cells = [written] if isinstance(written, str) else [cell for row in written for cell in row]
    return [cell for cell in cells if DOTTED.fullmatch(cell)]


def _check_value(
    context: PageContext, entry: Entry, item: Given, name: str, scopes: Sequence[Scope]
) -> bool:
    """Whether a name of the data book can be given to an entry."""
    book, field_name = context.book, f"{item.name}: {name}"
    held = book.across(name, scopes)
    missing = book.missing(name, scopes)
    if not held or (missing and context.front.is_procedure):
        _no_value(context, name, item.line, field_name, scopes)
        return False
    context.uses_value(name, scopes)
    for part in held:
        value = part.value
        if value.is_quantity and entry.kind and not may_stand_for(value.kind, entry.kind.name):
            context.fault(
                item.line, field_name, f"a {value.kind} ({show_value(value)})",
                f"a {entry.kind.name}, as the entry '{entry.name}' wants", code="wrong-kind",
            )  # fmt: skip
            return False
    return True


def _no_value(
    context: PageContext, name: str, line: int, field_name: str, scopes: Sequence[Scope]
) -> None:
    """The fault for a name without a value, somewhere or everywhere."""
    missing = context.book.missing(name, scopes)
    known = name in context.book.values
    whom = ", ".join(str(scope) for scope in missing if str(scope))
    context.fault(
        line, field_name,
        f"no value of '{name}' for {whom}" if known and whom else f"the name '{name}'",
        "a value for every machine the page covers" if known else "a name of the data book",
        nearest="" if known else context.book.nearest(name),
        code="no-value-for-machine" if known else "unknown-value",
    )  # fmt: skip


def lookup(context: PageContext, name: str, line: int, scopes: Sequence[Scope]) -> bool:
    """Whether the data book has ``name`` for ``scopes``, noted as used; a fault otherwise."""
    missing = context.book.missing(name, scopes)
    lacking = len(missing) == len(scopes) or (missing and context.front.is_procedure)
    if lacking:
        _no_value(context, name, line, f"{{{name}}}", scopes)
        return False
    context.uses_value(name, scopes)
    return True


def _for_scope(context: PageContext, given: Sequence[Given], scope: Scope) -> Setting | None:
    """The entries for one scope; None when the data book lacks one of the values for it."""
    setting = Setting([scope])
    for item in given:
        rows = [[item.written]] if isinstance(item.written, str) else item.written
        cells = [[_resolved(context, cell, scope) for cell in row] for row in rows]
        if any(cell is None for row in cells for cell in row):
            return None
        texts = [[c.text if isinstance(c, Value) else str(c) for c in row] for row in cells]
        setting.entries[item.name] = texts[0][0] if isinstance(item.written, str) else texts
        values = [cell for row in cells for cell in row if isinstance(cell, Value)]
        if values:
            origins = [value.origin or f"data book, {value.name}" for value in values]
            setting.origins[item.name] = "; ".join(dict.fromkeys(origins))
    return setting


def _resolved(context: PageContext, written: str, scope: Scope) -> Value | str | None:
    if not DOTTED.fullmatch(written):
        return written
    return context.book.resolve(written, scope.machine, scope.variant)


def evaluated(
    context: PageContext,
    calculator: Calculator[Any, Any],
    setting: Setting,
    given: Sequence[Given],
    line: int,
    units: str = "si",
) -> Outcome | None:
    """The outcome of a setting, or None after a fault for every entry that was refused."""
    try:
        tools = {name: tool.record for name, tool in setting.tools.items()}
        outcome = context.evaluations.outcome(calculator, setting.entries, units, tools)
    except CalculatorFailedError as error:
        context.fault(
            line, calculator.name, f"a calculator that fails ({error})",
            "results for these entries; mend the calculator", code="calculator-failed",
        )  # fmt: skip
        return None
    if outcome["complete"]:
        return outcome
    lines = {item.name: item.line for item in given}
    for name, part in outcome["entries"].items():
        if part["error"]:
            text = f"'{part['text']}'" if isinstance(part["text"], str) else "a table"
            whom = f" for {setting.label}" if setting.label else ""
            context.fault(
                lines.get(name, line), f"{calculator.name}.{name}", text + whom,
                f"an entry that is accepted: {part['error']['message'].rstrip('.')}",
                code=part["error"]["code"],
            )  # fmt: skip
    return None
