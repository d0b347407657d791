"""``witnessmark check``: the quick checks an author runs before asking for a review."""

from __future__ import annotations

import argparse
from typing import Any

from witnessmark.calc import run_check
from witnessmark.collection import load_collection
from witnessmark.databook import load_databook
from witnessmark.faults import Faults


def add_check(commands: Any) -> None:
    """Declare the command."""
    parser = commands.add_parser(
        "check",
        help="read the data book and run every calculator's check values",
        description="Read the data book and the calculators and run every check value. "
        "Exit status: 0, 1 when a check value differs, 2 when a file is at fault.",
    )
    parser.set_defaults(run=check)


def check(options: argparse.Namespace) -> int:
    """Run the command."""
    faults = Faults()
    collection = load_collection(options.project / "calculators", faults)
    load_databook(options.project / "docs" / "databook", faults, options.project)
    cases = differing = 0
    for calculator in collection.calculators.values():
        for case in calculator.check_values:
            cases += 1
            outcome = run_check(calculator, case)
            if not outcome.passed:
                differing += 1
                for result in outcome.results:
                    if not result.agrees:
                        print(
                            f"{calculator.name}, check value '{case.label}', {result.label}: "
                            f"found {result.got}; expected {result.expected}"
                        )
    faults.raise_if_any()
    agreeing = cases - differing
    print(f"{len(collection.calculators)} calculators, {agreeing} of {cases} check values agree")
    return 1 if differing else 0
