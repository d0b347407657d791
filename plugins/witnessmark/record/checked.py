"""What became of the entries of a record, worked out again with the handbook as it stands."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from witnessmark.record.record_file import Part, Record
from witnessmark.signoff import HandbookBasis

AGREES = "agrees"
DIFFERS = "differs"
NO_RESULT = "no result in the record"
PAGE_CHANGED = "page changed since"
MATHS_CHANGED = "maths changed since"
UNKNOWN_PAGE = "unknown page"
UNKNOWN_CALCULATOR = "unknown calculator"

CLOSE = 1e-12
"""Two C maths libraries do not share the last bit of a value."""

OF_THE_DAY = ("tool-overdue",)
"""Codes of findings that an evaluation makes only when it is told the day."""

PATIENCE_S = 300.0
"""For one record as a whole; what is not reached by then is said to differ."""

Answer = Callable[[Mapping[str, Any]], dict[str, Any]]


@dataclass(frozen=True)
class Difference:
    """One thing that is not what it was: ``where``, in the record, and now."""

    where: str
    recorded: str
    now: str


@dataclass
class CheckedEntry:
    """An entry with all that was found about it; ``found`` is only AGREES where all is well."""

    page: str
    part: Part
    name: str
    title: str
    found: list[str] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)

    @property
    def agrees(self) -> bool:
        """Whether nothing differs and nothing has changed."""
        return self.found == [AGREES]

    def differ(self, differences: Iterable[Difference]) -> None:
        """Take note of differences, if there are any."""
        more = list(differences)
        self.differences += more
        if more and DIFFERS not in self.found:
            self.found.append(DIFFERS)


def check_record(
    record: Record, basis: HandbookBasis, answer: Answer, patience: float = PATIENCE_S
) -> Iterator[CheckedEntry]:
    """Each entry of a record against the handbook ``basis`` and what ``answer`` works out now.

    ``answer`` takes the request of a reading or of a calculator, as ``Workshop.answer`` does.
    """
    end = time.monotonic() + patience
    revisions = {uri: basis.revision(uri) for uri in record.pages if uri in basis.pages}
    for uri, part, name, content in record.entries():
        entry = CheckedEntry(uri, part, name, content["title"])
        page, maths = revisions.get(uri, ("", {}))
        if uri not in revisions:
            entry.found.append(UNKNOWN_PAGE)
        elif content["revision"] != page:
            entry.found.append(PAGE_CHANGED)
            entry.differences.append(Difference("page revision", content["revision"], page))
        elif part != "ticks":
            entry.differ(_otherwise_asked(part, content, basis.asked.get(uri, {}).get(name)))
        if part == "calculators":
            _maths(entry, content, maths, basis)
        if part != "ticks" and UNKNOWN_CALCULATOR not in entry.found:
            if content["outcome"] is None:
                entry.found.append(NO_RESULT)
            elif time.monotonic() > end:
                entry.differ([Difference("time", "worked out", "not reached within the time")])
            else:
                entry.differ(_worked_out_again(part, content, answer))
        entry.found = entry.found or [AGREES]
        yield entry


def _maths(
    entry: CheckedEntry, content: Mapping[str, Any], maths: Mapping[str, str], basis: HandbookBasis
) -> None:
    name = content["calculator"]
    if name not in basis.calculators:
        entry.found.append(UNKNOWN_CALCULATOR)
        return
    now = maths.get(name) or basis.maths(name)
    if content["maths"] != now:
        entry.found.append(MATHS_CHANGED)
        entry.differences.append(Difference("maths", content["maths"], now))


def _otherwise_asked(
    part: Part, content: Mapping[str, Any], asked: Mapping[str, Any] | None
) -> Iterator[Difference]:
    """Where an unchanged page asks something else: other limits, another figure of its own."""
    if asked is None:
        yield Difference("place on the page", "there", "not there")
    elif part == "readings":
        yield from _compared("limits", content["request"], dict(asked))
    else:
        yield from _compared("calculator", content["calculator"], asked.get("calculator"))
        for name in content["typed"]:
            if name in asked.get("fixed", ()):
                yield Difference(f"entry {name}", "the reader's own", "fixed by the page")
        for name, text in asked.get("entries", {}).items():
            used = ((content["outcome"] or {}).get("entries", {}).get(name) or {}).get("text")
            if used is not None and name not in content["typed"]:
                yield from _compared(f"entry {name} of the page", _squeezed(used), _squeezed(text))


def _worked_out_again(
    part: Part, content: Mapping[str, Any], answer: Answer
) -> Iterator[Difference]:
    was = content["outcome"]
    if part == "readings":
        asked = {**content["request"], "texts": content["texts"], "units": content["units"]}
    else:
        asked = {
            "calculator": content["calculator"],
            "entries": {name: each["text"] for name, each in was["entries"].items()},
            "units": content["units"],
        }
    now = answer(asked)
    if "failure" in now:
        yield Difference("all of it", "worked out", now["failure"])
    elif part == "readings":
        now = {key: part for key, part in now.items() if key in was or key != "given"}
        yield from _compared("", was, now)
    else:
        yield from _entries(content["typed"], was["entries"], now["entries"])
        yield from _compared("complete", was["complete"], now["complete"])
        yield from _results(was["results"], now["results"])
        yield from _compared("findings", _findings(was), _findings(now))


def _findings(outcome: Mapping[str, Any]) -> list[dict[str, str]]:
    """What was found, less what hangs on the day and on the tools' certificates."""
    return [
        {key: each[key] for key in ("level", "code", "text")}
        for each in outcome["findings"]
        if each["code"] not in OF_THE_DAY
    ]


def _entries(
    typed: Mapping[str, Any], was: Mapping[str, Any], now: Mapping[str, Any]
) -> Iterator[Difference]:
    """What the reader typed is what was worked with, and is said as it is said now."""
    for name, text in typed.items():
        entry = was.get(name, {})
        used = None if "tool" in entry else entry.get("text")
        if used is not None and _squeezed(used) != _squeezed(text):
            yield Difference(f"entry {name}", f"typed {said(text)}", f"worked with {said(used)}")
    for name, part in was.items():
        yield from _compared(f"entry {name}", part["display"], now[name].get("display", ""))
    for name in now:
        if name not in was:
            yield Difference(f"entry {name}", "not there", "an entry of the calculator")


def _results(was: list[dict[str, Any]], now: list[dict[str, Any]]) -> Iterator[Difference]:
    """Every figure and text that a record holds of a result; by name, in any order."""
    after = {each["name"]: each for each in now}
    before = {each["name"]: each for each in was}
    for name in [*before, *(name for name in after if name not in before)]:
        if name not in after or name not in before:
            where = ("there", "not there")
            yield Difference(f"result {name}", *(where if name in before else where[::-1]))
            continue
        for key in ("label", "display", "value", "unit", "columns", "rows"):
            if key in before[name] or key in after[name]:
                yield from _compared(
                    f"result {name}, {key}", before[name].get(key), after[name].get(key)
                )


def _compared(where: str, was: Any, now: Any) -> Iterator[Difference]:
    """The places at which two pieces of plain data are not the same."""
    if isinstance(was, dict) and isinstance(now, dict):
        for key in [*was, *(key for key in now if key not in was)]:
            yield from _compared(f"{where} {key}".strip(), was.get(key), now.get(key))
    elif isinstance(was, list) and isinstance(now, list) and len(was) == len(now):
        for place, (one, other) in enumerate(zip(was, now, strict=True)):
            yield from _compared(f"{where} {place + 1}", one, other)
    elif not _same(was, now):
        yield Difference(where, said(was), said(now))


def _same(was: Any, now: Any) -> bool:
    numbers = all(isinstance(each, (int, float)) and not isinstance(each, bool)
                  for each in (was, now))  # fmt: skip
    if numbers:
        return math.isclose(was, now, rel_tol=CLOSE, abs_tol=CLOSE)
    return bool(was == now)


def _squeezed(text: Any) -> Any:
    return " ".join(text.split()) if isinstance(text, str) else text


def said(value: Any) -> str:
    """A value in the words of a report."""
    if value is None or value == "":
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(said(each) for each in value) or "nothing"
    if isinstance(value, dict):
        return ", ".join(f"{key} {said(each)}" for key, each in value.items())
    return repr(value) if isinstance(value, float) else str(value)
