"""The one place that pins the browser runtime: package.json and its lock file.

They stand at the root of the repository, where npm expects them. An installed package
carries copies in ``pinned/`` beside this module (see ``force-include`` in pyproject.toml).
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from witnessmark.faults import WitnessMarkError

PACKAGE = "pyodide"
MINIFIER = "terser"
JOINER = "@rollup/wasm-node"
DECODER = "zstddec"
FILES = ("package.json", "package-lock.json")


class PinMissing(WitnessMarkError):
    """The files that pin the browser runtime are not where they should be."""


@dataclass(frozen=True)
class Pin:
    """Version and integrity hash (SHA-512, as npm writes it) of the browser runtime.

    ``integrities`` are those of all that is fetched: of the runtime, of the libraries that
    join and shorten scripts, of the decoder of what is compressed, and of what those need.
    """

    version: str
    integrity: str
    integrities: tuple[str, ...]
    folder: Path


def pinned_folder() -> Path:
    """The folder that holds package.json and package-lock.json."""
    here = Path(__file__).resolve()
    for folder in (here.parent / "pinned", here.parents[3]):
        if all((folder / name).is_file() for name in FILES):
            return folder
    raise PinMissing(
        f"{' and '.join(FILES)} were not found beside {here.parent.name}/ nor at the root of the "
        "repository; install witnessmark again or restore the files"
    )


@cache
def runtime_pin() -> Pin:
    """What the lock file says about the browser runtime.

    Raises ``PinMissing`` when the files are absent or do not lock the runtime.
    """
    folder = pinned_folder()
    wanted = json.loads((folder / "package.json").read_text("utf-8"))["dependencies"]
    locked = json.loads((folder / "package-lock.json").read_text("utf-8"))["packages"]
    entry = locked.get(f"node_modules/{PACKAGE}", {})
    if wanted.get(PACKAGE) != entry.get("version") or "integrity" not in entry:
        raise PinMissing(
            f"package-lock.json locks {PACKAGE} {entry.get('version')!r}, package.json asks for "
            f"{wanted.get(PACKAGE)!r}; write one exact version and renew the lock (make lock)"
        )
    fetched = [
        each
        for name, each in locked.items()
        if name and not (each.get("dev") or each.get("optional") or each.get("devOptional"))
    ]
    integrities = tuple(each["integrity"] for each in fetched)
    return Pin(entry["version"], entry["integrity"], integrities, folder)
