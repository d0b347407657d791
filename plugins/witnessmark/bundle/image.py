"""The heap image: Python's memory after everything has been imported and called once.

Node.js starts the runtime, imports the bundle, calls every calculator and writes the memory
down. A browser puts it in place of all that work. Made anew only when something that goes
in has changed.
"""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from witnessmark.bundle.archives import digest
from witnessmark.bundle.cache import place, prune, scratch
from witnessmark.bundle.held_back import FILE as TABLES
from witnessmark.bundle.held_back import tables
from witnessmark.bundle.lock import runtime_info
from witnessmark.bundle.node import find_node
from witnessmark.bundle.packing import Packed
from witnessmark.bundle.runtime import STDLIB, Progress, Runtime, RuntimeUnavailable
from witnessmark.bundle.squeeze import RECIPE as SQUEEZED
from witnessmark.bundle.squeeze import squeezed
from witnessmark.bundle.trim import Trimmed
from witnessmark.bundle.wheels import WheelSource

HERE = Path(__file__).resolve().parent
MAKER, SCRIPT, INSIDE = (HERE / name for name in ("image.mjs", "script.mjs", "inside.py"))
PYTHON = HERE.parent / "page" / "front" / "python.js"

# Where Python opens the tables that were held back.
TABLES_PATH = "/lib/tables.bin"

IMAGE = "image.zst"
PLAIN = "image"
MANIFEST = "image.json"
SECONDS = 600

# Column numbers of instructions serve tracebacks only, and are a tenth of the image.
ENVIRONMENT = {"PYTHONNODEBUGRANGES": "1", "PYTHON_COLORS": "0"}


class ImageFailed(RuntimeUnavailable):
    """The runtime did not start under Node.js, or a calculator did not load in it."""


@dataclass(frozen=True)
class HeapImage:
    """The folder with the compressed image and its manifest."""

    folder: Path

    @property
    def wheels(self) -> list[str]:
        """The paths at which Python looks for its wheels."""
        wheels: list[str] = self._manifest()["wheels"]
        return wheels

    def about(self, archives: Mapping[str, str]) -> dict[str, Any]:
        """What ``front/restore.js`` wants to know; ``archives`` gives their URIs by path."""
        manifest = self._manifest()
        told = {
            name: manifest[name] for name in ("stamp", "heap", "runs", "answer", "awake", "tables")
        }
        return told | {"archives": dict(archives), "held": TABLES_PATH}

    def _manifest(self) -> dict[str, Any]:
        manifest: dict[str, Any] = json.loads((self.folder / MANIFEST).read_text("utf-8"))
        return manifest


def make_image(
    runtime: Runtime,
    trim: Trimmed,
    sources: Sequence[WheelSource],
    packed: Callable[[], Sequence[Packed]],
    modules: Sequence[str],
    cache: Path,
    progress: Progress,
) -> HeapImage:
    """The heap image of a bundle, from the cache when nothing that goes in has changed.

    ``sources`` and ``packed`` are the wheels, the shop's calculators first; ``packed`` is
    called only when the image has to be made. ``modules`` are the calculator modules to
    import. Raises ``ImageFailed``.
    """
    stdlib = runtime.folder / STDLIB
    held = tables(runtime.folder / "pyodide.asm.wasm")
    inputs = {
        "runtime": runtime.version,
        "made by": _digests(MAKER, SCRIPT, INSIDE, PYTHON),
        "started with": _digests(trim.with_data, trim.script, stdlib),
        "compressed": SQUEEZED,
        "environment": ENVIRONMENT,
        "held back": held,
        "calculators": list(modules),
        "modules": {
            name: digest(data)
            for source in sources
            for name, data in sorted(source.contents.items())
        },
    }
    entry = cache / f"image-{digest(json.dumps(inputs, sort_keys=True).encode())[:24]}"
    if not _is_whole(entry):
        progress("making the heap image: every calculator is called in the browser's Python …")
        wheels = {archive_path(each): str(each.source) for each in packed()}
        request = {
            "script": str(trim.script),
            "module": str(trim.with_data),
            "files": {stdlib_path(runtime_info(runtime)): str(stdlib)} | wheels,
            "inside": str(INSIDE),
            "environment": ENVIRONMENT,
            "modules": list(modules),
            "archives": list(wheels),
            "shop": list(wheels)[:1],
            "tables": held,
            "held": TABLES_PATH,
        }
        with scratch(cache) as at:
            made = at / entry.name
            made.mkdir()
            _run(request | {"out": str(made)}, at / "request.json")
            manifest = json.loads((made / MANIFEST).read_text("utf-8"))
            plain = made / PLAIN
            (made / IMAGE).write_bytes(squeezed(plain.read_bytes()))
            plain.unlink()
            manifest |= {
                "image": digest((made / IMAGE).read_bytes()),
                TABLES: digest((made / TABLES).read_bytes()),
                "wheels": list(wheels),
                "inputs": inputs,
            }
            (made / MANIFEST).write_text(json.dumps(manifest, indent=1) + "\n", "utf-8")
            place(made, entry, _is_whole)
        prune(cache)
    return HeapImage(entry)


def archive_path(packed: Packed) -> str:
    """Where Python looks for a wheel, in the image and when something is imported later."""
    return f"/lib/wheels/{packed.travels.name}"


def stdlib_path(info: Mapping[str, Any]) -> str:
    """Where Python looks for its library."""
    return f"/lib/python{''.join(str(info['python']).split('.')[:2])}.zip"


def _digests(*paths: Path) -> dict[str, str]:
    return {path.name: digest(path.read_bytes()) for path in paths}


def _run(request: Mapping[str, Any], file: Path) -> None:
    file.write_text(json.dumps(request), "utf-8")
    command = [*find_node().command, str(MAKER), str(file)]
    # The same clock everywhere, so that the same inputs give the same image.
    environment = os.environ | {"TZ": "UTC", "LC_ALL": "C"}
    try:
        answer = subprocess.run(
            command, env=environment, capture_output=True, text=True, check=False, timeout=SECONDS
        )
    except subprocess.TimeoutExpired as error:
        raise ImageFailed(f"the heap image was not made within {SECONDS} s") from error
    if answer.returncode:
        lines = answer.stderr.strip().splitlines()
        raise ImageFailed(
            "\n".join(
                [
                    "The calculators do not start in the browser's Python; what it said:",
                    *(f"  {line}" for line in lines[-12:] if len(line) < 400),
                ]
            )
        )


def _is_whole(entry: Path) -> bool:
    try:
        manifest = json.loads((entry / MANIFEST).read_text("utf-8"))
        return all(
            manifest[key] == digest((entry / file).read_bytes())
            for key, file in (("image", IMAGE), (TABLES, TABLES))
        )
    except (OSError, ValueError, KeyError):
        return False
