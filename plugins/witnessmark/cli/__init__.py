"""The command line: the services of the handbook without a site generator."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from witnessmark import __version__
from witnessmark.cli.check import add_check
from witnessmark.cli.compute import add_compute
from witnessmark.cli.pack import add_pack
from witnessmark.cli.record import add_record
from witnessmark.cli.release import add_release
from witnessmark.cli.signoff import add_signoff
from witnessmark.faults import FaultsFound


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status.

    0: all well. 1: a stop finding was raised, or a check failed. 2: an entry, a name or a
    file is at fault.
    """
    parser = argparse.ArgumentParser(
        prog="witnessmark", description="Workshop procedures with tested calculators beside them."
    )
    parser.add_argument("--version", action="version", version=f"witnessmark {__version__}")
    parser.add_argument(
        "--project", type=Path, default=Path(), metavar="FOLDER",
        help="folder with docs/ and calculators/ (default: this one)",
    )  # fmt: skip
    commands = parser.add_subparsers(dest="command", required=True)
    add_compute(commands)
    add_check(commands)
    add_pack(commands)
    add_signoff(commands)
    add_release(commands)
    add_record(commands)
    options = parser.parse_args(arguments)
    try:
        status: int = options.run(options)
    except FaultsFound as found:
        print(found, file=sys.stderr)
        return 2
    except BrokenPipeError:
        return 0
    return status
