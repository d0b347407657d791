"""The calculators of a page and what feeds what: found, checked and worked out in order.

A fed entry may stand above its source on the page, so all calculators are worked out together,
sources first, before any of them is written. Each machine's calculator is fed by that machine's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.calc import Calculator, Outcome, Withheld, can_feed, fed_entry, told_of_stops
from witnessmark.databook import Scope
from witnessmark.faults import nearest
from witnessmark.page.blocks.calculator_head import Followed, Head, read_head
from witnessmark.page.blocks.only import narrow
from witnessmark.page.context import PageContext
from witnessmark.page.given import Given, Setting, evaluated, known_calculator, settings
from witnessmark.page.source import SourceBlock


@dataclass(frozen=True)
class Fed:
    """A result of a placed calculator, worked out for one set of values, that feeds an entry."""

    source: Placed
    place: Worked
    result: str

    @property
    def words(self) -> str:
        """Where the figure comes from, for the reader: calculator, step and result."""
        step = f", step {self.source.step}" if self.source.step else ""
        return f"{self.source.calculator.title}{step}"

    @property
    def label(self) -> str:
        """What the figure is called there."""
        return self.source.calculator.results[self.result].label


@dataclass
class Worked:
    """A calculator for one set of values: its place on the page and what came out."""

    setting: Setting
    outcome: Outcome
    fed: Mapping[str, Fed] = field(default_factory=dict)
    ident: str = ""


@dataclass
class Placed:
    """One calculator block. ``step`` is the number of the step it stands in, 0 in none."""

    block: SourceBlock
    calculator: Calculator[Any, Any]
    head: Head
    step: int
    follows: dict[str, tuple[Placed, Followed]] = field(default_factory=dict)
    worked: list[Worked] = field(default_factory=list)

    @property
    def name(self) -> str:
        """What it is called in the ids of the page."""
        return self.head.name or self.calculator.name

    def for_scope(self, scope: Scope) -> Worked | None:
        """Its set of values for a machine in a variant."""
        return next((each for each in self.worked if scope in each.setting.scopes), None)


def placed_calculators(page: PageContext) -> dict[int, Placed]:
    """The calculators of the page by the index of their block, worked out once."""
    if page.placed_calculators is None:
        for block in page.parsed.blocks:
            if block.name == "only":
                narrow(block, page)
        placed = list(_found(page))
        _check_names(placed, page)
        for each in placed:
            _connect(each, placed, page)
        ordered = _in_order(placed, page)
        for each in ordered:
            _work_out(each, page)
        for each in placed:
            for worked in each.worked:
                worked.ident = page.identity(each.name)
        page.placed_calculators = {each.block.index: each for each in placed}
    return page.placed_calculators


def _found(page: PageContext) -> Iterator[Placed]:
    step = 0
    for block in page.parsed.blocks:
        if block.name == "step":
            step += 1
        if block.name != "calculator" or not block.argument:  # told by the reader of the source
            continue
        calculator = known_calculator(page, block.argument, block.line)
        if calculator is not None:
            inside = _inside_step(block)
            yield Placed(block, calculator, read_head(block, calculator, page), step * inside)


def _inside_step(block: SourceBlock) -> bool:
    above = block.parent
    while above is not None and above.name != "step":
        above = above.parent
    return above is not None


def _check_names(placed: Sequence[Placed], page: PageContext) -> None:
    """An own name must tell one calculator of the page from all others."""
    seen: dict[str, Placed] = {}
    for each in placed:
        name = each.head.name
        if not name:
            continue
        other = seen.get(name) or next(
            (o for o in placed if o.calculator.name == name and o is not each), None
        )
        if other is not None:
            page.fault(
                each.head.name_line, "name",
                f"the name '{name}', which the calculator of line {other.block.line} has",
                "a name of its own", code="name-twice",
            )  # fmt: skip
        seen.setdefault(name, each)


def _connect(placed: Placed, all_placed: Sequence[Placed], page: PageContext) -> None:
    """Find the source of every entry that follows one; what does not fit is a fault."""
    for followed in placed.head.follows:
        place = f"{placed.calculator.name}.{followed.entry}"
        entry = placed.calculator.entries.get(followed.entry)
        if entry is None:
            known = placed.calculator.entries
            page.fault(
                followed.line, place, f"the entry '{followed.entry}'",
                f"an entry of the calculator: {', '.join(known)}",
                nearest=nearest(followed.entry, known), code="unknown-entry",
            )  # fmt: skip
            continue
        source = _source(followed, place, all_placed, page)
        if source is None:
            continue
        results = source.calculator.results
        result = results.get(followed.result)
        if result is None:
            page.fault(
                followed.line, place, f"the result '{followed.result}'",
                f"a result of '{source.calculator.name}': {', '.join(results)}",
                nearest=nearest(followed.result, results), code="unknown-result",
            )  # fmt: skip
        elif not can_feed(result, entry):
            kind = result.kind.label if result.kind else result.form
            wanted = entry.kind.label if entry.kind else entry.form
            page.fault(
                followed.line, place, f"a {kind} ('{source.calculator.name}.{followed.result}')",
                f"a {wanted}, as the entry '{followed.entry}' wants", code="wrong-kind",
            )  # fmt: skip
        else:
            placed.follows[followed.entry] = (source, followed)


def _source(
    followed: Followed, place: str, all_placed: Sequence[Placed], page: PageContext
) -> Placed | None:
    """The calculator of the page that is called so, or is the only one of that kind.

    Without a name of its own a calculator goes by the name all of its kind have.
    """
    named = [each for each in all_placed if each.name == followed.of]
    found = named or [each for each in all_placed if each.calculator.name == followed.of]
    if len(found) == 1:
        return found[0]
    names = list(dict.fromkeys(each.name for each in all_placed))
    if found:
        lines = " and ".join(str(each.block.line) for each in found)
        page.fault(
            followed.line, place, f"'{followed.of}', which stands on lines {lines}",
            "one of them, told apart by 'name: …' in its block", code="several-sources",
        )  # fmt: skip
    else:
        page.fault(
            followed.line, place, f"the calculator '{followed.of}'",
            f"a calculator placed on this page: {', '.join(names)}",
            nearest=nearest(followed.of, names), code="unknown-source",
        )  # fmt: skip
    return None


def _in_order(placed: Sequence[Placed], page: PageContext) -> list[Placed]:
    """Sources before what they feed; a ring is a fault and is cut where it closes."""
    ordered: list[Placed] = []

    def visit(each: Placed, above: tuple[Placed, ...]) -> None:
        if any(each is done for done in ordered):
            return
        for entry, (source, followed) in list(each.follows.items()):
            ring = (*above, each)
            if any(source is one for one in ring):
                start = next(number for number, one in enumerate(ring) if one is source)
                way = " from ".join([*(one.name for one in ring[start:]), source.name])
                page.fault(
                    followed.line, f"{each.calculator.name}.{entry}",
                    f"calculators that wait for each other: {way}",
                    "a figure that does not come from its own result", code="ring",
                )  # fmt: skip
                del each.follows[entry]
            else:
                visit(source, ring)
        ordered.append(each)

    for each in placed:
        visit(each, ())
    return ordered


def _fed_for(placed: Placed, scope: Scope) -> dict[str, Fed] | None:
    """What feeds a calculator for a machine; None where a source has nothing for it, which has
    been told there."""
    fed: dict[str, Fed] = {}
    for name, (source, followed) in placed.follows.items():
        place = source.for_scope(scope)
        if place is None:
            return None
        fed[name] = Fed(source, place, followed.result)
    return fed


def _work_out(placed: Placed, page: PageContext) -> None:
    """Work a calculator out for every set of values that the machines of the page need."""
    head, calculator = placed.head, placed.calculator

    def places(scope: Scope) -> list[int]:
        return [id(fed.place) for fed in (_fed_for(placed, scope) or {}).values()]

    scopes = page.scopes_within(placed.block)
    _check_scopes(placed, scopes, page)
    lines = [*head.given, *(Given(f.entry, "", f.line) for _, f in placed.follows.values())]
    for setting in settings(page, calculator, head.given, scopes, places):
        fed = _fed_for(placed, setting.scopes[0])
        texts = None if fed is None else _fed_texts(placed, fed, page)
        if fed is None or texts is None:
            continue
        setting.entries |= texts
        outcome = evaluated(page, calculator, setting, lines, placed.block.line)
        if outcome is not None:
            sources = {name: (f.source.calculator, f.place.outcome) for name, f in fed.items()}
            placed.worked.append(Worked(setting, told_of_stops(outcome, sources), fed))


def _check_scopes(placed: Placed, scopes: Sequence[Scope], page: PageContext) -> None:
    """A source inside an ``only`` block stands for fewer machines than it may be wanted for."""
    for name, (source, followed) in placed.follows.items():
        held = page.scopes_within(source.block)
        lacking = [str(scope) for scope in scopes if scope not in held]
        if lacking:
            page.fault(
                followed.line, f"{placed.calculator.name}.{name}",
                f"no calculator '{source.name}' for {', '.join(lacking)}",
                f"one that stands for every engine this one is for (see line {source.block.line})",
                code="source-for-fewer",
            )  # fmt: skip


def _fed_texts(placed: Placed, fed: Mapping[str, Fed], page: PageContext) -> dict[str, str] | None:
    """The texts of the fed entries; None after a fault when a source has no such result."""
    texts: dict[str, str] = {}
    for name, each in fed.items():
        given = fed_entry(
            each.source.calculator, each.place.outcome, each.result, placed.calculator.entries[name]
        )
        if isinstance(given, Withheld):
            page.fault(
                placed.follows[name][1].line, f"{placed.calculator.name}.{name}",
                f"no '{each.result}'",
                f"a result that “{each.source.calculator.title}” gives for the entries it has here",
                code="no-result-here",
            )  # fmt: skip
        else:
            texts[name] = given
    return texts if len(texts) == len(fed) else None
