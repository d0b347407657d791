"""What a page is made with and what it used: passed to everything that makes a part of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol

from witnessmark.calc import Calculator
from witnessmark.databook import DataBook, Scope, UnknownEngineError, scopes_called
from witnessmark.faults import Faults, nearest
from witnessmark.page.braces import mark_text
from witnessmark.page.evaluations import EvaluationCache
from witnessmark.page.front_matter import FrontMatter, ReadFront
from witnessmark.page.page_index import PageIndex
from witnessmark.page.source import PageSource, SourceBlock, SourceReference
from witnessmark.page.stand_ins import StandIns


class Collection(Protocol):
    """The calculators of the handbook and the modules they come from."""

    @property
    def calculators(self) -> Mapping[str, Calculator[..., Any]]:
        """Calculators by name."""

    def module_of(self, name: str) -> str:
        """The name of the module that declares the calculator ``name``."""


@dataclass
class Used:
    """What a page rests on: for the runtime bundle, and for telling what a review covered.

    ``values`` are names of the data book with the scopes for which the page shows them.
    """

    values: dict[str, set[Scope]] = field(default_factory=dict)
    calculators: set[str] = field(default_factory=set)
    modules: set[str] = field(default_factory=set)


@dataclass
class PageContext:
    """One page on its way to HTML.

    ``file`` is the page's path as faults name it, ``source`` its whole text with front
    matter, ``uri`` its path below the documents folder. ``reference_url`` gives the address
    of a calculator's reference page as seen from this page. With ``stand_ins`` finished
    calculators are kept there and a stand-in is put on the page. ``front`` is read from
    ``source``, which ``read`` has perhaps done; ``text`` (what Markdown is given, after
    includes), ``parsed`` and ``used`` fill up while the page is converted.
    ``placed_calculators`` are kept by ``blocks/placed.py``.
    """

    book: DataBook
    collection: Collection
    faults: Faults
    file: str
    source: str
    uri: str = ""
    evaluations: EvaluationCache = field(default_factory=EvaluationCache)
    pages: PageIndex = field(default_factory=PageIndex)
    reference_url: Callable[[str], str] = lambda name: ""
    stand_ins: StandIns | None = None
    read: ReadFront | None = None
    front: FrontMatter = field(init=False)
    used: Used = field(default_factory=Used, init=False)
    text: str = field(default="", init=False)
    parsed: PageSource = field(default_factory=PageSource, init=False)
    steps: int = field(default=0, init=False)
    placed: dict[str, int] = field(default_factory=dict, init=False)
    narrowed: dict[int, tuple[Scope, ...]] = field(default_factory=dict, init=False)
    """The scopes that each ``only`` block names, by the number of the block."""
    sections: dict[str, str] = field(default_factory=dict, init=False)
    """Keys of the scopes of each section that holds for some engines only, by its anchor."""
    placed_calculators: dict[int, Any] | None = field(default=None, init=False)
    readings: dict[str, Mapping[str, str]] = field(default_factory=dict, init=False)
    """What each reading is judged by (``calc.reading.judge_request``), by its identity."""
    asked: dict[str, dict[str, Any]] | None = field(default=None, init=False)
    """What the forms of a page ask that was not converted anew (``asked.asked_on``)."""

    def __post_init__(self) -> None:
        self.source = self.source.removeprefix("\ufeff").replace("\r\n", "\n")
        read = self.read or ReadFront.of(self.source, self.file)
        self.front = read.front
        self.faults.extend(read.faults)

    @property
    def scopes(self) -> tuple[Scope, ...]:
        """The machines and variants that the page covers; all of them when it names none."""
        return self.book.scopes(self.front.machine_names, self.front.variant_names)

    def fault(
        self, line: int, field: str, found: str, expected: str, *, code: str, nearest: str = ""
    ) -> None:
        """Note a fault of this page."""
        self.faults.add(self.file, line, field, found, expected, nearest=nearest, code=code)

    def restart(self) -> None:
        """Forget numbering and marks, before the page's text is read."""
        self.parsed, self.steps, self.placed, self.narrowed = PageSource(), 0, {}, {}
        self.placed_calculators, self.readings = None, {}

    def scopes_within(self, block: SourceBlock | None) -> tuple[Scope, ...]:
        """The scopes that a passage holds for: the page's, less what ``only`` blocks around
        ``block`` (itself included) leave out."""
        scopes = self.scopes
        while block is not None:
            kept = self.narrowed.get(block.index) if block.name == "only" else None
            scopes = scopes if kept is None else tuple(s for s in scopes if s in kept)
            block = block.parent
        return scopes

    def scopes_called(self, text: str, line: int, field: str) -> tuple[Scope, ...]:
        """The scopes of the page that ``text`` names; none after a fault."""
        try:
            return scopes_called(text, self.scopes)
        except UnknownEngineError as error:
            words = {word for each in self.scopes for word in (each.machine, each.variant) if word}
            self.fault(
                line, field, f"'{error}', no engine of this page",
                f"machine, variant or both: {', '.join(map(str, self.scopes))}",
                nearest=nearest(str(error), words), code="unknown-engine",
            )  # fmt: skip
            return ()

    def scopes_of(self, reference: SourceReference) -> tuple[Scope, ...]:
        """The scopes that a value in braces is wanted for."""
        within = reference.within
        return self.scopes_within(None if within is None else self.parsed.blocks[within])

    def marked(self, text: str, line: int, within: int | None) -> str:
        """A text out of a block's head or body with its values in braces replaced by marks.

        ``within`` is the number of the block.
        """
        return mark_text(text, line, within, self.parsed.token, self.stray_braces)

    def stray_braces(self, text: str, line: int) -> None:
        """Note braces that look like a value and are none."""
        self.fault(
            line, f"{{{text}}}", "braces around no name of a value",
            "{name.of.value}, {calculator.result | entry: value}, or \\{ for a brace in the text",
            code="stray-braces",
        )  # fmt: skip

    def next_step(self) -> int:
        """The number of the step that begins now."""
        self.steps += 1
        return self.steps

    def identity(self, calculator: str) -> str:
        """An identity for a calculator's place on the page: ``name``, ``name-2`` …"""
        while True:
            count = self.placed[calculator] = self.placed.get(calculator, 0) + 1
            made = calculator if count == 1 else f"{calculator}-{count}"
            if made == calculator or made not in self.placed:  # an author may have named one so
                return made

    def uses_value(self, name: str, scopes: Iterable[Scope]) -> None:
        """Note that the page rests on a value of the data book."""
        self.used.values.setdefault(name, set()).update(scopes)

    def uses_calculator(self, name: str) -> None:
        """Note that the page rests on a calculator and its module."""
        self.used.calculators.add(name)
        self.used.modules.add(self.collection.module_of(name))
