"""Site URIs with a digest in them, so that a browser may keep what it has for ever.

A changed file gets a new URI; an unchanged one keeps its own, and every URI of a folder
changes together, because its files refer to each other by relative names.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path

from witnessmark.bundle.runtime import BROWSER_FILES, Runtime

ROOT = "assets/witnessmark"
LICENCES = Path(__file__).resolve().parent / "licences"


def runtime_files(runtime: Runtime) -> dict[str, Path]:
    """The files of the runtime that a browser loads, and the licences they come under."""
    files = {name: runtime.folder / name for name in BROWSER_FILES}
    return files | {path.name: path for path in sorted(LICENCES.iterdir())}


def folder_files(folder: Path) -> dict[str, Path]:
    """Every file of a folder by its relative name, less what only a developer needs."""
    return {
        path.relative_to(folder).as_posix(): path
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.name.endswith(".d.ts") and not path.name.startswith(".")
    }


def placed(kind: str, files: Mapping[str, Path]) -> tuple[str, dict[str, Path]]:
    """The URI of a folder ``kind-<digest>`` and the URIs of its files."""
    total = hashlib.sha256()
    for name, path in sorted(files.items()):
        with path.open("rb") as stream:
            total.update(f"{name}\0{hashlib.file_digest(stream, 'sha256').hexdigest()}\n".encode())
    uri = f"{ROOT}/{kind}-{total.hexdigest()[:12]}"
    return uri, {f"{uri}/{name}": path for name, path in files.items()}
