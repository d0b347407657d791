"""The browser runtime: fetched once with npm, kept in the cache, checked at every build.

npm compares what it fetched with the integrity hash of the lock file. What it unpacked is
then written down file by file (SHA-256), so that a cache that was damaged later is noticed
and fetched again. With a good cache nothing here touches the network.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from witnessmark.bundle.cache import default_cache, place, scratch
from witnessmark.bundle.node import find_node
from witnessmark.bundle.pinned import DECODER, FILES, JOINER, MINIFIER, PACKAGE, Pin, runtime_pin
from witnessmark.faults import WitnessMarkError

STDLIB = "python_stdlib.zip"
BROWSER_FILES = ("pyodide.mjs", "pyodide.asm.js", "pyodide.asm.wasm", STDLIB)
LOCK = "pyodide-lock.json"
DIGESTS = "digests.json"

# What Node.js reads of the libraries that join and shorten scripts, and of those they need.
_CODE = {".js", ".cjs", ".mjs", ".json", ".wasm"}

Progress = Callable[[str], None]


class RuntimeUnavailable(WitnessMarkError):
    """The browser runtime is not in the cache and could not be fetched."""


@dataclass(frozen=True)
class Runtime:
    """The unpacked runtime: ``folder`` holds its files, ``version`` is the pinned one."""

    folder: Path
    version: str

    @property
    def minifier(self) -> Path:
        """The library that shortens scripts, which came along."""
        return self.folder.parent / MINIFIER / "main.js"

    @property
    def joiner(self) -> Path:
        """The library that makes one script of many, which came along."""
        return self.folder.parent / JOINER / "dist/es/rollup.js"

    @property
    def decoder(self) -> Path:
        """The library that decompresses what pages fetch, which came along."""
        return self.folder.parent / DECODER / "dist/zstddec-stream.mjs"

    def version_of(self, library: str) -> str:
        """Name and version of a library that came along."""
        about = self.folder.parent / library / "package.json"
        return f"{library} {json.loads(about.read_text('utf-8'))['version']}"

    @property
    def lock(self) -> Path:
        """The runtime's own lock file (all packages its makers host; we host none of them)."""
        return self.folder / LOCK


def to_stderr(message: str) -> None:
    """Show progress where it does not mix with output."""
    sys.stderr.write(f"{message}\n")


def get_runtime(cache: Path | None = None, progress: Progress = to_stderr) -> Runtime:
    """The pinned runtime from the cache, fetched first when it is absent or damaged.

    Raises ``RuntimeUnavailable`` when it has to be fetched and cannot be.
    """
    cache = cache or default_cache()
    pin = runtime_pin()
    entry = cache / f"runtime-{pin.version}-{_short(''.join(pin.integrities))}"
    if not is_good(entry):
        if entry.exists():
            progress(f"the cached browser runtime in {entry} is damaged; fetching it again")
        with scratch(cache) as at:
            made = at / entry.name
            _fetch(pin, made, progress)
            place(made, entry, is_good)
    return Runtime(entry / "node_modules" / PACKAGE, pin.version)


def is_good(entry: Path) -> bool:
    """Whether every file the build needs is there with the digest it was unpacked with."""
    try:
        digests: dict[str, str] = json.loads((entry / DIGESTS).read_text("utf-8"))
        return bool(digests) and all(
            _sha256(entry / name) == digest for name, digest in digests.items()
        )
    except (OSError, ValueError, AttributeError):
        return False


def _fetch(pin: Pin, folder: Path, progress: Progress) -> None:
    node = find_node()
    progress(
        f"fetching the browser runtime {PACKAGE} {pin.version} (about 6 MB, once) "
        f"with npm of {node.origin} …"
    )
    folder.mkdir()
    for name in FILES:
        shutil.copy(pin.folder / name, folder / name)
    answer = node.run(
        [
            *node.npm, "ci", "--omit=dev", "--omit=optional", "--ignore-scripts",
            "--prefer-offline", "--no-audit", "--no-fund", "--fetch-retries=2",
            "--fetch-retry-mintimeout=1000", "--fetch-retry-maxtimeout=5000",
        ],
        folder=folder,
    )  # fmt: skip
    unpacked = folder / "node_modules" / PACKAGE
    needed = [unpacked / name for name in (*BROWSER_FILES, LOCK)]
    made = Runtime(unpacked, pin.version)
    needed += [made.minifier, made.joiner, made.decoder]
    missing = [path.name for path in needed if not path.is_file()]
    if answer.returncode or missing:
        raise RuntimeUnavailable(_why(pin, answer.stderr, missing))
    others = [
        path
        for path in unpacked.parent.rglob("*")
        if path.suffix in _CODE and unpacked not in path.parents and path.is_file()
    ]
    digests = {
        path.relative_to(folder).as_posix(): _sha256(path) for path in sorted({*needed, *others})
    }
    (folder / DIGESTS).write_text(json.dumps(digests, indent=1), "utf-8")
    progress(f"the browser runtime {pin.version} is in the cache")


def _why(pin: Pin, said: str, missing: list[str]) -> str:
    if "EINTEGRITY" in said:
        reason = "what came is not what package-lock.json pins (its integrity hash differs)"
        remedy = "do not use it; look at the registry or mirror that npm is set to"
    elif missing and not said:
        reason = f"the package came without {', '.join(missing)}"
        remedy = "pin a version that has them in package.json and renew the lock"
    else:
        reason = "npm could not fetch it"
        remedy = (
            "build once on a machine with a network, or copy that machine's cache folder here "
            "and name it in WITNESSMARK_CACHE"
        )
    lines = [line for line in said.splitlines() if "ERR" in line or "error" in line][:4]
    return "\n".join(
        [f"The browser runtime {PACKAGE} {pin.version} is not in the cache, and {reason}.",
         f"What to do: {remedy}.", *(f"  npm: {line}" for line in lines)]
    )  # fmt: skip


def _sha256(path: Path) -> str:
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _short(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:12]
