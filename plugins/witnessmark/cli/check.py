"""``witnessmark check``: the quick checks an author runs before asking for a review."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from witnessmark.calc import run_check
from witnessmark.collection import Collection, load_collection
from witnessmark.databook import load_databook
from witnessmark.faults import Faults
from witnessmark.page import check_figures


def add_check(commands: Any) -> None:
    """Declare the command."""
    parser = commands.add_parser(
        "check",
        help="read the data book and the pages' words, run every calculator's check values",
        description="Read the data book and the calculators, run every check value, and look for "
        "figures that are typed in a page's words. "
        "Exit status: 0, 1 when a check value differs, 2 when a file is at fault.",
    )
    parser.set_defaults(run=check)


def check(options: argparse.Namespace) -> int:
    """Run the command."""
    faults = Faults()
    collection = load_collection(options.project / "calculators", faults)
    load_databook(options.project / "docs" / "databook", faults, options.project)
    check_words(options.project, faults)
    failing = _failing(collection)
    for lines in failing:
        print("\n".join(lines))
    faults.raise_if_any()
    calculators = collection.calculators.values()
    cases = sum(len(calculator.check_values) for calculator in calculators)
    print(f"{len(calculators)} calculators, {cases - len(failing)} of {cases} check values agree")
    return 1 if failing else 0


def check_words(project: Path, faults: Faults) -> None:
    """Look for typed figures in every page below ``docs``."""
    docs = project / "docs"
    for path in sorted(docs.rglob("*.md")):
        if docs / "signoff" not in path.parents:  # the archive is what was signed, as it was
            check_figures(path.read_text("utf-8"), path.relative_to(project).as_posix(), faults)


def failing_check_values(project: Path) -> list[str]:
    """A line for every expectation of a check value that is not met. Raises FaultsFound."""
    return [line for lines in _failing(load_collection(project / "calculators")) for line in lines]


def _failing(collection: Collection) -> list[list[str]]:
    """The check values that differ, each as the lines that tell in which results."""
    found = []
    for calculator in collection.calculators.values():
        for case in calculator.check_values:
            outcome = run_check(calculator, case)
            if not outcome.passed:
                found.append(
                    [
                        f"{calculator.name}, check value '{case.label}', {result.label}: "
                        f"found {result.got}; expected {result.expected}"
                        for result in outcome.results
                        if not result.agrees
                    ]
                )
    return found
