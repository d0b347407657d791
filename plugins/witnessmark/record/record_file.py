"""A record read from a file that anybody may have written.

Size, depth and every field are bounded before anything is done with them; what cannot be taken is
refused with the file, the field, what was found and what would be right.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from witnessmark.faults import WitnessMarkError
from witnessmark.record.plain_text import harmless
from witnessmark.record.schema import NotOfTheFormError, hold

MOST_BYTES = 5_000_000
"""A job of many pages has a few hundred kilobytes."""

MOST_ENTRIES = 5_000
DEEPEST = 20
"""A record is nine tables and lists deep."""

Part = Literal["ticks", "readings", "calculators"]
PARTS: tuple[Part, ...] = ("ticks", "readings", "calculators")


class RecordError(WitnessMarkError):
    """A file is no job record; the message names the file and the field and is safe to print."""


@dataclass(frozen=True)
class Record:
    """A job record of the published form. ``shown`` is its file as it is named in messages."""

    shown: str
    data: Mapping[str, Any]

    @property
    def pages(self) -> Mapping[str, Any]:
        """What was entered, by the page's path in the handbook."""
        pages: Mapping[str, Any] = self.data["pages"]
        return pages

    def entries(self) -> Iterator[tuple[str, Part, str, Mapping[str, Any]]]:
        """Page, part, name and content of every entry."""
        for uri, page in self.pages.items():
            for part in PARTS:
                for name, content in page[part].items():
                    yield uri, part, name, content


def read_record(path: Path) -> Record:
    """The record in a file. Raises RecordError."""
    shown = harmless(str(path))
    try:
        with path.open("rb") as stream:
            held = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise RecordError(f"{shown}: {error.strerror or 'cannot be read'}") from error
    if len(held) > MOST_BYTES:
        raise RecordError(f"{shown}: too large for a job record (over {MOST_BYTES} bytes)")
    data = _parsed(held, shown)
    if not isinstance(data, dict) or data.get("format") != "witness-mark job record":
        raise RecordError(f"{shown}: no job record")
    try:
        hold(data)
    except NotOfTheFormError as error:
        raise RecordError(f"{shown}: {harmless(str(error))}") from None
    record = Record(shown, data)
    count = sum(1 for _ in record.entries())
    if count > MOST_ENTRIES:
        raise RecordError(f"{shown}: found {count} entries; expected at most {MOST_ENTRIES}")
    return record


def _parsed(held: bytes, shown: str) -> Any:
    try:
        text = held.decode("utf-8-sig")
        _not_deep(text)
        return json.loads(
            text,
            object_pairs_hook=_table,
            parse_constant=_no_number,
            parse_float=_number,
            parse_int=_whole,
        )
    except UnicodeDecodeError:
        raise RecordError(f"{shown}: no text in UTF-8") from None
    except json.JSONDecodeError as error:
        raise RecordError(f"{shown}:{error.lineno}: no JSON: {error.msg}") from None
    except (ValueError, RecursionError) as error:
        raise RecordError(f"{shown}: {harmless(str(error))}") from None


def _not_deep(text: str) -> None:
    """Refuse what is nested beyond reason before a parser follows it."""
    depth, inside, escaped = 0, False, False
    for mark in text:
        if inside:
            if escaped:
                escaped = False
            elif mark == "\\":
                escaped = True
            elif mark == '"':
                inside = False
        elif mark == '"':
            inside = True
        elif mark in "[{":
            depth += 1
            if depth > DEEPEST:
                raise ValueError(f"nested deeper than {DEEPEST}")
        elif mark in "]}":
            depth -= 1


def _table(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) != len(pairs):
        seen: set[str] = set()
        twice = next(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]
        raise ValueError(f"the name '{twice[:60]}' stands twice in one table")
    return table


def _no_number(text: str) -> float:
    raise ValueError(f"{text} is no number of JSON")


def _number(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(f"{text[:20]} is too large a number")
    return value


def _whole(text: str) -> int:
    if len(text) > 20:
        raise ValueError(f"{text[:20]}… is too large a number")
    return int(text)
