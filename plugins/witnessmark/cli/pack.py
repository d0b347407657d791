"""``witnessmark pack``: a copy of the built site for a shared folder without a server."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from witnessmark.publish import PackError, pack_site


def add_pack(commands: Any) -> None:
    """Declare the command."""
    parser = commands.add_parser(
        "pack",
        help="copy the built site so that it works from a folder, without a server",
        description="Copy a built site into a new folder in which index.html can be opened from "
        "a shared disk or a stick, calculators and search included.",
    )
    parser.add_argument("out", type=Path, metavar="OUT", help="the new folder")
    parser.add_argument(
        "--site-dir", type=Path, default=None, metavar="FOLDER",
        help="the built site (default: site/ of the project)",
    )  # fmt: skip
    parser.set_defaults(run=pack)


def pack(options: argparse.Namespace) -> int:
    """Run the command."""
    try:
        first = pack_site(options.site_dir or options.project / "site", options.out)
    except PackError as error:
        print(error, file=sys.stderr)
        return 2
    print(f"packed; open {first}")
    return 0
