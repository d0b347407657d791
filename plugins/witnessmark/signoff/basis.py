"""What a page rests on, as plain data, and the facts a sign-off holds about it.

A fact is a name and a digest: ``words``, ``value flywheel.nut.torque``, ``code lip-seal-speed``,
``check values …``, ``results …``, ``picture images/arm.svg``. A page is signed when its facts
are those of the ledger.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from witnessmark.remembered import Remembered
from witnessmark.signoff.code_digest import code_digest
from witnessmark.signoff.digests import rows_digest, text_digest

Facts = dict[str, str]

ValueRow = tuple[str, str, str, str]
"""Whom a value holds for (empty: all the page covers), its text with unit and tolerance, its
kind, and its source with revision."""

WORDS, VALUE, PICTURE = "words", "value", "picture"
CODE, CHECKS, RESULTS = "code", "check values", "results"
SHORT = 12
"""Digits of a digest that a record of a job carries."""

CALCULATOR_FACTS = (CODE, CHECKS, RESULTS)

_code_digest = Remembered(code_digest)


@dataclass(frozen=True)
class CalculatorBasis:
    """A calculator as it was reviewed.

    ``modules`` maps the dotted names of its module and of all it imports of the handbook to
    their source. ``checks`` are its check values and ``results`` what it gives at its
    defaults, as rows of texts.
    """

    name: str
    title: str
    modules: Mapping[str, str]
    checks: tuple[tuple[Any, ...], ...] = ()
    results: tuple[tuple[str, str], ...] = ()

    def module_digests(self) -> dict[str, str]:
        """The digest of each module's code."""
        return {name: _code_digest(source) for name, source in sorted(self.modules.items())}

    @cached_property
    def facts(self) -> Facts:
        """The three facts about a calculator; worked out once, however many pages embed it."""
        return {
            f"{CODE} {self.name}": rows_digest(self.module_digests()),
            f"{CHECKS} {self.name}": rows_digest(self.checks),
            f"{RESULTS} {self.name}": rows_digest(self.results),
        }

    def as_json(self) -> dict[str, Any]:
        """Plain data for an archive."""
        return {
            "name": self.name,
            "title": self.title,
            "modules": dict(self.modules),
            "checks": self.checks,
            "results": self.results,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> CalculatorBasis:
        """The calculator that ``as_json`` wrote."""
        return cls(
            data["name"],
            data["title"],
            data["modules"],
            tuple(tuple(row) for row in data["checks"]),
            tuple((row[0], row[1]) for row in data["results"]),
        )


@dataclass(frozen=True)
class PageBasis:
    """What one page rests on.

    ``uri`` is its path below the documents folder, ``text`` its front matter and its text
    after includes, normalised. ``pictures`` maps paths to digests. A page that follows its
    calculator is generated from it: its words are the calculator's own.
    """

    uri: str
    title: str
    text: str
    values: Mapping[str, tuple[ValueRow, ...]] = field(default_factory=dict)
    calculators: tuple[str, ...] = ()
    pictures: Mapping[str, str] = field(default_factory=dict)
    is_procedure: bool = False
    follows: bool = False

    @property
    def rests_on_something(self) -> bool:
        """Whether the page must be signed: a procedure, or a page with a value or a calculator."""
        return self.is_procedure or bool(self.values) or bool(self.calculators)

    @cached_property
    def own_facts(self) -> Facts:
        """What is about this page alone; nothing where it follows its calculator."""
        if self.follows:
            return {}
        facts = {WORDS: text_digest(self.text)}
        facts |= {f"{VALUE} {name}": rows_digest(rows) for name, rows in self.values.items()}
        return facts | {f"{PICTURE} {path}": digest for path, digest in self.pictures.items()}

    def as_json(self) -> dict[str, Any]:
        """Plain data for an archive."""
        return {
            "uri": self.uri,
            "title": self.title,
            "text": self.text,
            "values": dict(self.values),
            "calculators": self.calculators,
            "pictures": dict(self.pictures),
            "procedure": self.is_procedure,
            "follows": self.follows,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> PageBasis:
        """The page that ``as_json`` wrote."""
        return cls(
            data["uri"],
            data["title"],
            data["text"],
            {
                name: tuple((row[0], row[1], row[2], row[3]) for row in rows)
                for name, rows in data["values"].items()
            },
            tuple(data["calculators"]),
            data["pictures"],
            data["procedure"],
            data["follows"],
        )


@dataclass(frozen=True)
class HandbookBasis:
    """All pages of a handbook that are written or follow a calculator, and the calculators.

    ``asked`` tells of each page, by the identities of its forms, what they ask; no sign-off
    depends on it, it only repeats what words, values and maths say.
    """

    pages: Mapping[str, PageBasis]
    calculators: Mapping[str, CalculatorBasis]
    asked: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    def calculators_of(self, page: PageBasis) -> list[CalculatorBasis]:
        """The calculators that a page embeds."""
        return [self.calculators[name] for name in page.calculators if name in self.calculators]

    def facts(self, uri: str) -> Facts:
        """The facts about the page at ``uri``."""
        page = self.pages[uri]
        return page_facts(page, self.calculators_of(page))

    def revision(self, uri: str) -> tuple[str, dict[str, str]]:
        """Short digests of all a page rests on, and of the code of each calculator on it."""
        code = {each.name: self.maths(each.name) for each in self.calculators_of(self.pages[uri])}
        return rows_digest(self.facts(uri))[:SHORT], code

    def maths(self, calculator: str) -> str:
        """Short digest of the code of a calculator."""
        return self.calculators[calculator].facts[f"{CODE} {calculator}"][:SHORT]

    def as_json(self) -> dict[str, Any]:
        """Plain data, to be handed from a build to the command line."""
        return {
            "pages": [page.as_json() for page in self.pages.values()],
            "calculators": [each.as_json() for each in self.calculators.values()],
            "asked": dict(self.asked),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> HandbookBasis:
        """The handbook that ``as_json`` wrote."""
        pages = [PageBasis.from_json(each) for each in data["pages"]]
        calculators = [CalculatorBasis.from_json(each) for each in data["calculators"]]
        return cls(
            {p.uri: p for p in pages}, {c.name: c for c in calculators}, data.get("asked", {})
        )


def page_facts(page: PageBasis, calculators: Iterable[CalculatorBasis]) -> Facts:
    """The facts about a page, sorted by name."""
    facts = dict(page.own_facts)
    for calculator in calculators:
        facts |= calculator.facts
    return dict(sorted(facts.items()))


def split_fact(name: str) -> tuple[str, str]:
    """The kind of a fact and what it is about: ``("check values", "lip-seal-speed")``."""
    for kind in (VALUE, PICTURE, *CALCULATOR_FACTS):
        if name.startswith(f"{kind} "):
            return kind, name.removeprefix(f"{kind} ")
    return name, ""
