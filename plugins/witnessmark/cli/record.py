"""``witnessmark record check``: exported job records, worked out again."""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from pathlib import Path
from typing import Any

from witnessmark.cli.review_state import places_of
from witnessmark.cli.site_build import BuildFailedError, read_basis
from witnessmark.record import (
    CheckedEntry,
    Record,
    RecordError,
    Workshop,
    WorkshopError,
    check_record,
    read_record,
)
from witnessmark.record.plain_text import harmless

ALL_AGREE, SOMETHING_DIFFERS, UNREADABLE = 0, 1, 2


def add_record(commands: Any) -> None:
    """Declare the command and its part."""
    parser = commands.add_parser("record", help="look over exported job records")
    parts = parser.add_subparsers(dest="part", required=True)
    check = parts.add_parser(
        "check",
        help="work a record's results and verdicts out again",
        description="Work every result and every verdict of exported job records out again with "
        "the handbook as it stands, and say which pages and which maths have changed since. "
        "Exit status: 0 when all agree, 1 when something differs or has changed, 2 when a file "
        "is no job record.",
    )
    check.add_argument("files", nargs="+", type=Path, metavar="FILE")
    check.add_argument("--json", action="store_true", help="print what was found as JSON")
    check.set_defaults(run=check_records)


def check_records(options: argparse.Namespace) -> int:
    """``check``: read all files, then ask the handbook once."""
    records: list[Record] = []
    status = ALL_AGREE
    for path in options.files:
        try:
            records.append(read_record(path))
        except RecordError as error:
            print(error, file=sys.stderr)
            status = UNREADABLE
    told = []
    try:
        basis = read_basis(options.project) if records else None
        with Workshop(places_of(options.project).calculators) as workshop:
            for record in records:
                assert basis is not None
                entries = list(check_record(record, basis, workshop.answer))
                if not all(entry.agrees for entry in entries):
                    status = max(status, SOMETHING_DIFFERS)
                told.append(_as_json(record, entries))
                if not options.json:
                    _print(record, entries)
    except (BuildFailedError, WorkshopError) as error:
        print(f"the handbook cannot be asked\n{error}", file=sys.stderr)
        return UNREADABLE
    if options.json:
        print(json.dumps({"records": told}, indent=2))
    return status


def _print(record: Record, entries: list[CheckedEntry]) -> None:
    job = record.data
    engine = job["engine"].replace("/", " ")
    print(f"{record.shown}: job {harmless(job['number'])}, {harmless(engine)}")
    page = None
    for entry in entries:
        if entry.page != page:
            page = entry.page
            print(f"  {harmless(page)}")
        title = harmless(entry.title, 80) or harmless(entry.name)
        print(f"    {entry.part.removesuffix('s')} {title}: {', '.join(entry.found)}")
        for each in entry.differences:
            where, was, now = harmless(each.where), harmless(each.recorded), harmless(each.now)
            print(f"      {where}: in the record {was}; now {now}")
    print(f"  {_counted(entries)}")


def _counted(entries: list[CheckedEntry]) -> str:
    if not entries:
        return "nothing is entered in it"
    counts = Counter(state for entry in entries for state in entry.found)
    noun = "entry" if len(entries) == 1 else "entries"
    return f"{len(entries)} {noun}: " + ", ".join(f"{n} {state}" for state, n in counts.items())


def _as_json(record: Record, entries: list[CheckedEntry]) -> dict[str, Any]:
    return {
        "file": record.shown,
        "job": {key: record.data[key] for key in ("id", "number", "engine", "serial")},
        "agrees": all(entry.agrees for entry in entries),
        "entries": [
            {
                "page": entry.page,
                "part": entry.part,
                "name": entry.name,
                "title": entry.title,
                "found": entry.found,
                "differences": [vars(each) for each in entry.differences],
            }
            for entry in entries
        ],
    }
