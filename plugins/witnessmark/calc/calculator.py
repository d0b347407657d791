"""A calculator: a plain function with its declaration, known by name."""

from __future__ import annotations

import dataclasses
import inspect
import re
from collections.abc import Callable, Iterable, Sequence
from types import ModuleType, UnionType
from typing import Any, ParamSpec, TypeVar, Union, get_args, get_origin, get_type_hints

from witnessmark.calc.declaration import (
    SOURCE_KINDS,
    CheckValue,
    DeclarationError,
    Entry,
    Formula,
    Result,
    Source,
    Symbol,
)
from witnessmark.calc.later import settled
from witnessmark.calc.tools import ToolPlace
from witnessmark.calc.units import Kind

P = ParamSpec("P")
R = TypeVar("R")
Draw = Callable[[Any, Any], Any]

_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


class RefusedError(ValueError):
    """Raised by a calculator when entries contradict each other.

    ``entry`` names the entry to mend, ``message`` says what is wrong and what would be right.
    """

    def __init__(self, entry: str, message: str) -> None:
        super().__init__(message)
        self.entry = entry
        self.message = message


class Calculator[**P, R]:
    """A declared calculator. Calling it runs the plain function on quantities.

    ``function`` is that function itself; what it leaves for later is not made yet.
    """

    def __init__(
        self,
        function: Callable[P, R],
        *,
        name: str,
        title: str,
        topic: str,
        purpose: str,
        formulas: Sequence[Formula],
        symbols: Sequence[Symbol],
        assumptions: Sequence[str],
        sources: Sequence[Source],
        check_values: Sequence[CheckValue],
        tools: Sequence[ToolPlace],
    ) -> None:
        if not _NAME.fullmatch(name):
            raise DeclarationError(f"calculator {name!r}: a name is lower-case words with hyphens")
        self.function = function
        self.name = name
        self.title = title
        self.topic = topic
        self.purpose = purpose
        self.formulas = tuple(formulas)
        self.symbols = tuple(symbols)
        self.assumptions = tuple(assumptions)
        self.sources = tuple(sources)
        self.check_values = tuple(check_values)
        self.tools = {place.name: place for place in tools}
        self.entries = _entries(name, function)
        self.results = _results(name, function)
        self.drawings: list[tuple[str, Draw]] = []
        self.module = function.__module__
        self.__doc__ = function.__doc__
        self._check_names()

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        return settled(self.function(*args, **kwargs))

    def __repr__(self) -> str:
        return f"<calculator {self.name}>"

    def drawing(self, title: str) -> Callable[[Draw], Draw]:
        """Decorator for a function of (entries, results) that draws the situation."""

        def register(draw: Draw) -> Draw:
            self.drawings.append((title, draw))
            return draw

        return register

    def _check_names(self) -> None:
        for case in self.check_values:
            for label, given, known in (
                ("entry", (*case.entries, *case.refused), self.entries),
                ("result", case.expected, self.results),
            ):
                unknown = [item for item in given if item not in known]
                if unknown:
                    raise DeclarationError(
                        f"calculator {self.name!r}: check value {case.label!r} names the {label} "
                        f"{unknown[0]!r}; it has {', '.join(known)}"
                    )
        for place in self.tools.values():
            unknown = [entry for entry in place.gives if entry not in self.entries]
            if unknown or place.name in self.entries:
                raise DeclarationError(
                    f"calculator {self.name!r}: tool {place.name!r} "
                    + (f"gives the entry {unknown[0]!r}" if unknown else "is an entry too")
                    + f"; its entries are {', '.join(self.entries)}"
                )
        for source in (*self.sources, *(case.source for case in self.check_values)):
            if source.kind not in SOURCE_KINDS or not source.title:
                raise DeclarationError(
                    f"calculator {self.name!r}: source {source.key!r} needs a title and a kind "
                    f"out of {', '.join(SOURCE_KINDS)}"
                )


_CATALOGUE: dict[str, Calculator[..., Any]] = {}


def calculator(
    *,
    name: str,
    title: str,
    topic: str,
    purpose: str,
    formulas: Sequence[Formula] = (),
    symbols: Sequence[Symbol] = (),
    assumptions: Sequence[str] = (),
    sources: Sequence[Source] = (),
    check_values: Sequence[CheckValue] = (),
    tools: Sequence[ToolPlace] = (),
) -> Callable[[Callable[P, R]], Calculator[P, R]]:
    """Declare a function as a calculator and enter it into the catalogue under ``name``.

    The function takes keyword-only entries and returns a frozen dataclass of results. ``tools``
    are the places for tools of the shop that settle some of the entries.
    Raises DeclarationError when the declaration contradicts itself.
    """

    def declare(function: Callable[P, R]) -> Calculator[P, R]:
        made = Calculator(
            function, name=name, title=title, topic=topic, purpose=purpose, formulas=formulas,
            symbols=symbols, assumptions=assumptions, sources=sources, check_values=check_values,
            tools=tools,
        )  # fmt: skip
        _CATALOGUE[name] = made
        return made

    return declare


def find_calculator(name: str) -> Calculator[..., Any]:
    """The calculator called ``name``; KeyError when no imported module declares it."""
    return _CATALOGUE[name]


def calculators_of(module: ModuleType) -> list[Calculator[..., Any]]:
    """The calculators that a module declares itself, in the order they stand there."""
    return [
        item
        for item in vars(module).values()
        if isinstance(item, Calculator) and item.module == module.__name__
    ]


def _kind(annotation: Any) -> Kind | None:
    for part in _parts(annotation):
        for extra in getattr(part, "__metadata__", ()):
            if isinstance(extra, Kind):
                return extra
    return None


def _parts(annotation: Any) -> Iterable[Any]:
    if get_origin(annotation) in (Union, UnionType):
        return get_args(annotation)
    return (annotation,)


def _entries(name: str, function: Callable[..., Any]) -> dict[str, Entry]:
    hints = get_type_hints(function, include_extras=True)
    entries: dict[str, Entry] = {}
    for parameter in inspect.signature(function).parameters.values():
        place = f"calculator {name!r}, entry {parameter.name!r}"
        if parameter.kind is not parameter.KEYWORD_ONLY:
            raise DeclarationError(f"{place}: entries are keyword-only; put them after a *")
        declared = parameter.default
        if not isinstance(declared, Entry):
            raise DeclarationError(
                f"{place}: give it a default made by entry(), choice() or table()"
            )
        entries[parameter.name] = _complete(place, parameter.name, declared, hints[parameter.name])
    for item in entries.values():
        for other in item.when:
            if other not in entries or entries[other].form != "choice":
                raise DeclarationError(
                    f"calculator {name!r}: {item.name!r} waits for no choice {other!r}"
                )
    return entries


def _complete(place: str, name: str, declared: Entry, annotation: Any) -> Entry:
    if declared.form == "choice":
        if declared.default not in declared.choices:
            raise DeclarationError(
                f"{place}: the default {declared.default!r} is not one of its options"
            )
        return dataclasses.replace(declared, name=name)
    if declared.form == "table":
        return dataclasses.replace(declared, name=name)
    kind = _kind(annotation)
    if kind is None:
        raise DeclarationError(f"{place}: annotate it with a kind such as Torque or Length")
    if kind.name == "count":
        return dataclasses.replace(declared, name=name, kind=kind, units=("",), form="count")
    units = declared.units or kind.units
    stray = [unit for unit in units if unit not in kind.units]
    if stray:
        raise DeclarationError(f"{place}: {stray[0]!r} is not a unit of {kind.label}")
    return dataclasses.replace(declared, name=name, kind=kind, units=units)


def _results(name: str, function: Callable[..., Any]) -> dict[str, Result]:
    outcome = get_type_hints(function, include_extras=True).get("return")
    if not (isinstance(outcome, type) and dataclasses.is_dataclass(outcome)):
        raise DeclarationError(f"calculator {name!r}: it must return a dataclass of results")
    hints = get_type_hints(outcome, include_extras=True)
    results: dict[str, Result] = {}
    for item in dataclasses.fields(outcome):
        declared = item.metadata.get("witnessmark")
        if declared is None:
            continue
        kind = _kind(hints[item.name])
        if declared.form == "quantity" and kind is None:
            raise DeclarationError(
                f"calculator {name!r}, result {item.name!r}: annotate it with a kind"
            )
        form = "count" if kind is not None and kind.name == "count" else declared.form
        results[item.name] = dataclasses.replace(declared, name=item.name, kind=kind, form=form)
    if not results:
        raise DeclarationError(f"calculator {name!r}: its dataclass declares no result()")
    return results
