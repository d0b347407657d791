"""Reference pages made from declarations: one a calculator, an index, the sources.

They are written as Markdown so that headings, search and table of contents work as on any
other page. The calculator itself stands on its page through the same block as elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from itertools import groupby
from typing import Any

from witnessmark.calc import (
    Calculator,
    CheckOutcome,
    Column,
    Entry,
    ReferenceTable,
    read_quantity,
    run_check,
)
from witnessmark.calc.entries import bound_text
from witnessmark.databook import DataBook
from witnessmark.page.evaluations import EvaluationCache
from witnessmark.page.generated import (
    KIND_WORDS,
    front_matter,
    markdown_table,
    plain,
    source_list,
    source_text,
)
from witnessmark.page.mathml import mathml

FOLDER = "reference/calculators"

AnyCalculator = Calculator[..., Any]


def reference_uri(name: str) -> str:
    """Where the reference page of a calculator lies, as a source path."""
    return f"{FOLDER}/{name}.md"


def reference_page(calculator: AnyCalculator, evaluations: EvaluationCache | None = None) -> str:
    """The reference page of a calculator, as Markdown.

    Outcomes of check values come from ``evaluations``; without it they are worked out.
    """
    parts = [
        front_matter(calculator.title, calculator.purpose),
        f"# {calculator.title}\n\n{calculator.purpose}\n",
        f"/// calculator | {calculator.name}\n///\n",
        _formulas(calculator),
        "## Entries\n\n" + _entries(calculator),
        "## Results\n\n" + _results(calculator),
        _assumptions(calculator),
        "## Sources\n\n" + source_list(calculator.sources),
        "## Check values\n\n" + _check_values(calculator, evaluations or EvaluationCache()),
    ]
    return "\n".join(part for part in parts if part)


def index_page(calculators: Sequence[AnyCalculator]) -> str:
    """The list of all calculators by topic, as Markdown."""
    lines = [
        front_matter("Calculators", "Every calculator of this handbook."),
        "# Calculators\n",
        "Each has a page of its own that tells how it is worked out, from which sources, and "
        "how it compares with results known from elsewhere.\n",
    ]
    ordered = sorted(calculators, key=lambda item: item.topic)
    for topic, group in groupby(ordered, key=lambda item: item.topic):
        lines.append(f"## {topic[:1].upper()}{topic[1:]}\n")
        lines += [f"- [{item.title}]({item.name}.md): {plain(item.purpose)}" for item in group]
        lines.append("")
    return "\n".join(lines)


def sources_page(
    calculators: Sequence[AnyCalculator], book: DataBook, tables: Sequence[ReferenceTable] = ()
) -> str:
    """Every source that a calculator, a table or the data book names, as Markdown."""
    cited: dict[tuple[str, str], dict[str, None]] = {}
    for item in calculators:
        for source in (*item.sources, *(case.source for case in item.check_values)):
            cited.setdefault((source.kind, source.title), {})[
                f"[{item.title}](calculators/{item.name}.md)"
            ] = None
    for table in tables:
        for source in table.sources:
            cited.setdefault((source.kind, source.title), {})[
                f"[{table.title}](tables/{table.name}.md)"
            ] = None
    lines = [
        front_matter("Sources", "Where formulas, limits and figures come from."),
        "# Sources\n",
        "Formulas, limits and check values come from the works below. The maker's manual of the "
        "engine in hand stands above all of them.\n",
    ]
    order = list(KIND_WORDS)
    by_kind = sorted(cited, key=lambda key: (order.index(key[0]), key[1]))
    for kind, group in groupby(by_kind, key=lambda key: key[0]):
        words = KIND_WORDS[kind]
        lines.append(f"## {words[:1].upper()}{words[1:]}\n")
        lines += [f"- {plain(title)}: {', '.join(cited[of, title])}" for of, title in group]
        lines.append("")
    lines.append("## Data book\n")
    lines.append("Figures of the shop's own machines and tools come from these sheets.\n")
    values = [value for holders in book.values.values() for value in holders.values()]
    lines += [f"- {plain(sheet)}" for sheet in sorted({value.origin for value in values} - {""})]
    return "\n".join(lines) + "\n"


def _formulas(calculator: AnyCalculator) -> str:
    if not calculator.formulas:
        return ""
    lines = ["## How it is worked out\n"]
    lines += [
        f'<div class="wm-formula">{mathml(formula.latex)}'
        f"<p>{escape(formula.gives, quote=False)}</p></div>\n"
        for formula in calculator.formulas
    ]
    if calculator.symbols:
        rows = [
            (mathml(symbol.latex, "inline"), plain(symbol.meaning), plain(symbol.unit or "–"))
            for symbol in calculator.symbols
        ]
        lines.append(markdown_table(("Symbol", "Meaning", "Unit"), rows))
    return "\n".join(lines)


def _entries(calculator: AnyCalculator) -> str:
    rows = [
        (plain(item.label), _default(item), _accepted(item), plain(item.help or "–"))
        for item in calculator.entries.values()
    ]
    return markdown_table(("Entry", "Default", "Accepted", "What it is"), rows)


def _default(item: Entry) -> str:
    if item.form == "table":
        return f"{len(item.default)} rows"
    if item.form == "choice":
        return plain(item.choices[item.default])
    if not item.default:
        return "empty"
    entered = read_quantity(item.default, item.kind, item.unit) if item.kind else None
    usual = ""
    if entered and not entered.limits_typed:
        usual = item.usual_tolerance(entered.quantity)
    return plain(f"{item.default} ± {usual}" if usual else item.default)


def _accepted(item: Entry) -> str:
    """Limits and usual range of an entry in words."""
    if item.form == "choice":
        return plain(", ".join(item.choices.values()))
    if item.form == "table":
        columns = ", ".join(_column(column) for column in item.columns)
        return plain(f"{item.least_rows} to {item.most_rows} rows of {columns}")
    if item.kind is None:
        return "–"
    kind, unit = item.kind, item.unit
    words = []
    if item.above is not None:
        words.append(f"more than {bound_text(item.above, kind, unit)}")
    if item.least is not None:
        words.append(f"at least {bound_text(item.least, kind, unit)}")
    if item.most is not None:
        words.append(f"at most {bound_text(item.most, kind, unit)}")
    limits = ", ".join(words)
    if item.usual:
        low, high = (bound_text(limit, kind, unit) for limit in item.usual)
        limits = f"{limits}; usually {low} to {high}" if limits else f"usually {low} to {high}"
    units = ", ".join(name for name in item.units if name)
    return plain(
        "; ".join(part for part in (limits, f"in {units}" if units else "") if part) or "–"
    )


def _column(column: Column) -> str:
    unit = column.units[0] if column.units else ""
    return f"{column.label} ({unit})" if unit else column.label


def _results(calculator: AnyCalculator) -> str:
    rows: list[tuple[str, ...]] = []
    for item in calculator.results.values():
        unit = item.unit or (item.kind.own if item.kind else "")
        rows.append((plain(item.label), plain(unit or "–"), plain(item.help or "–")))
    return markdown_table(("Result", "Unit", "What it is"), rows)


def _assumptions(calculator: AnyCalculator) -> str:
    if not calculator.assumptions:
        return ""
    lines = [f"- {plain(assumption)}" for assumption in calculator.assumptions]
    return "## What is taken for granted\n\n" + "\n".join(lines) + "\n"


def _check_values(calculator: AnyCalculator, evaluations: EvaluationCache) -> str:
    intro = (
        "Results known from elsewhere, beside what this very version of the calculator gives. "
        "They are compared again whenever this page is built.\n"
    )
    rows: list[tuple[str, ...]] = []
    for case in calculator.check_values:
        outcome = evaluations.outcome(calculator, case.entries, drawings=False)
        rows += _case(run_check(calculator, case, outcome))
    head = ("Case", "Entries", "Known result", "This calculator", "Verdict", "Source")
    return intro + "\n" + markdown_table(head, rows)


def _case(checked: CheckOutcome) -> list[tuple[str, ...]]:
    case = checked.case
    rows: list[tuple[str, ...]] = []
    for number, result in enumerate(checked.results):
        verdict = "agrees" if result.agrees else "**differs**"
        first = number == 0
        rows.append(
            (
                plain(case.label) if first else "",
                _given(case.entries) if first else "",
                f"{plain(result.label)}: {plain(result.expected)}",
                plain(result.got),
                verdict,
                plain(source_text(case.source)) if first else "",
            )
        )
    return rows


def _given(entries: Mapping[str, Any]) -> str:
    """The entries as they would be typed on the command line."""
    words = [
        f"`{name}` {_typed(text)}" if isinstance(text, str) else f"`{name}` {len(text)} rows"
        for name, text in entries.items()
    ]
    return ", ".join(words) or "defaults"


def _typed(text: str) -> str:
    """A quantity, or a choice by its name."""
    return f"`{text}`" if text.isidentifier() else plain(text)
