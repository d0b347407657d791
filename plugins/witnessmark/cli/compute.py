"""``witnessmark compute``: the evaluation of the page, on the command line."""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import IO, Any

from witnessmark.calc import Calculator, Outcome, evaluate
from witnessmark.collection import Collection, load_collection
from witnessmark.faults import nearest

OK, STOPPED, REFUSED = 0, 1, 2


def add_compute(commands: Any) -> None:
    """Declare the command and its options."""
    parser = commands.add_parser(
        "compute",
        help="work out one case, or a CSV file of cases",
        description="Work out a calculator as the handbook's pages do. Entries left out take "
        "their defaults. Exit status: 0, or 1 when a stop is raised, 2 when an entry is refused.",
    )
    parser.add_argument("name", nargs="?", help="the calculator; --list shows all")
    parser.add_argument("entries", nargs="*", metavar="entry=value", help='for example arm="0.3 m"')
    parser.add_argument(
        "--list", action="store_true", help="show every calculator, or NAME's entries"
    )
    parser.add_argument("--json", action="store_true", help="print the whole outcome as JSON")
    parser.add_argument("--csv", type=Path, metavar="FILE", help="a case a row, entries as columns")
    parser.add_argument("--units", choices=("si", "us"), default="si", help="units of the results")
    parser.set_defaults(run=compute)


def compute(options: argparse.Namespace) -> int:
    """Run the command."""
    collection = load_collection(options.project / "calculators")
    if options.list or options.name is None:
        return _list(collection, options)
    calculator = collection.calculators.get(options.name)
    if calculator is None:
        return _refuse(_unknown("calculator", options.name, collection.calculators))
    given = {}
    for pair in options.entries:
        name, equals, text = pair.partition("=")
        if not equals:
            return _refuse(f"found '{pair}'; expected entry=value, such as {_example(calculator)}")
        given[name] = text
    if options.csv:
        return _cases(calculator, given, options)
    unknown = [name for name in given if name not in calculator.entries]
    if unknown:
        return _refuse(_unknown("entry", unknown[0], calculator.entries))
    outcome = evaluate(calculator, given, options.units, drawings=options.json)
    if options.json:
        print(json.dumps(outcome, ensure_ascii=False, indent=2))
    else:
        _print(calculator, outcome)
    return _status(outcome)


def _example(calculator: Calculator[..., Any]) -> str:
    entry = next(iter(calculator.entries.values()))
    return f'{entry.name}="{entry.default}"'


def _unknown(what: str, name: str, names: Mapping[str, Any]) -> str:
    hint = nearest(name, names)
    meant = f"; did you mean '{hint}'?" if hint else ""
    return f"there is no {what} '{name}'{meant} ({', '.join(names)})"


def _refuse(message: str) -> int:
    print(f"witnessmark compute: {message}", file=sys.stderr)
    return REFUSED


def _status(outcome: Outcome) -> int:
    if not outcome["complete"]:
        return REFUSED
    stopped = any(finding["level"] == "stop" for finding in outcome["findings"])
    return STOPPED if stopped else OK


def _print(calculator: Calculator[..., Any], outcome: Outcome) -> None:
    for name, part in outcome["entries"].items():
        if part["error"]:
            print(f"{name}: {part['error']['message']}", file=sys.stderr)
    for result in outcome["results"]:
        if result["kind"] == "table":
            print(f"{result['label']}:")
            heads = [_head(column) for column in result["columns"]]
            for row in [heads, *result["rows"]]:
                print("  " + "\t".join(row))
            continue
        print(f"{result['label']}: {result['display']}")
        if result["band"]:
            print(f"  worst case {result['band']['worst']['display']}", end="; ")
            print(f"root sum square {result['band']['rss']['display']}")
    for finding in outcome["findings"]:
        print(f"{finding['level'].upper()}: {finding['text']}")


def _head(column: Mapping[str, str]) -> str:
    return f"{column['label']} ({column['unit']})" if column["unit"] else column["label"]


def _cases(
    calculator: Calculator[..., Any], common: Mapping[str, str], options: argparse.Namespace
) -> int:
    """A row of results for every row of entries, in the same order, to standard output."""
    plain = [item.name for item in calculator.results.values() if item.form != "table"]
    status = OK
    try:
        with options.csv.open(encoding="utf-8-sig", newline="") as stream:
            reader = csv.DictReader(stream, strict=True)
            heads = list(reader.fieldnames or [])
            unknown = [name for name in (*heads, *common) if name not in calculator.entries]
            if unknown:
                return _refuse(
                    f"{options.csv}:1: {_unknown('entry', unknown[0], calculator.entries)}"
                )
            outcomes = []
            for line, row in _rows(reader):
                outcome = evaluate(
                    calculator, {**common, **row}, options.units, drawings=options.json
                )
                status = max(status, _status(outcome))
                outcomes.append((line, row, outcome))
    except (OSError, csv.Error, UnicodeDecodeError) as error:
        return _refuse(f"{options.csv}: {error}")
    if options.json:
        print(json.dumps([outcome for _, _, outcome in outcomes], ensure_ascii=False, indent=2))
        return status
    _write(sys.stdout, heads, plain, outcomes)
    for line, _, outcome in outcomes:
        for name, part in outcome["entries"].items():
            if part["error"]:
                print(f"{options.csv}:{line}: {name}: {part['error']['message']}", file=sys.stderr)
    return status


def _rows(reader: csv.DictReader[str]) -> Iterator[tuple[int, dict[str, str]]]:
    """Rows with their line; empty cells take the default."""
    for row in reader:
        if None in row or None in row.values():
            raise csv.Error(f"line {reader.line_num}: not as many cells as there are columns")
        yield reader.line_num, {name: text for name, text in row.items() if text.strip()}


def _write(
    stream: IO[str],
    heads: list[str],
    results: list[str],
    outcomes: list[tuple[int, dict[str, str], Outcome]],
) -> None:
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow([*heads, *results, "findings"])
    for _, row, outcome in outcomes:
        got = {
            result["name"]: result["display"]
            for result in outcome["results"]
            if "display" in result
        }
        found = " ".join(f"{finding['level']}:{finding['code']}" for finding in outcome["findings"])
        writer.writerow(
            [row.get(name, "") for name in heads]
            + [got.get(name, "") for name in results]
            + [found]
        )


def _list(collection: Collection, options: argparse.Namespace) -> int:
    chosen = list(collection.calculators.values())
    if options.name is not None:
        chosen = [item for item in chosen if item.name == options.name]
        if not chosen:
            return _refuse(_unknown("calculator", options.name, collection.calculators))
    if options.json:
        print(json.dumps([_declaration(item) for item in chosen], ensure_ascii=False, indent=2))
        return OK
    for item in chosen:
        print(f"{item.name}: {item.title}")
        if options.name is not None:
            for entry in item.entries.values():
                print(f"  {entry.name}: {entry.label} [{_default(entry.default)}]")
    return OK


def _default(default: Any) -> str:
    return default if isinstance(default, str) else "; ".join(" ".join(row) for row in default)


def _declaration(item: Calculator[..., Any]) -> dict[str, Any]:
    """A calculator's declaration as plain JSON: entries, results, check values."""
    return {
        "name": item.name,
        "title": item.title,
        "topic": item.topic,
        "purpose": item.purpose,
        "entries": [
            {
                "name": entry.name,
                "label": entry.label,
                "form": entry.form,
                "kind": entry.kind.name if entry.kind else None,
                "units": list(entry.units),
                "default": entry.default,
                "least": entry.least,
                "above": entry.above,
                "most": entry.most,
                "choices": dict(entry.choices),
                "help": entry.help,
            }
            for entry in item.entries.values()
        ],
        "results": [
            {
                "name": result.name,
                "label": result.label,
                "form": result.form,
                "kind": result.kind.name if result.kind else None,
            }
            for result in item.results.values()
        ],
        "check_values": [
            {
                "label": case.label,
                "entries": dict(case.entries),
                "expected": dict(case.expected),
                "findings": list(case.findings),
                "refused": list(case.refused),
                "source": {"title": case.source.title, "clause": case.source.clause,
                           "kind": case.source.kind},
            }
            for case in item.check_values
        ],
    }  # fmt: skip
