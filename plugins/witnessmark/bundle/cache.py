"""The cache folder: where things that are slow to make are kept between builds.

Every entry is a folder made aside and then renamed into place, so that two builds at the
same time, or one that is interrupted, never leave half an entry behind. A file that changes
from build to build is renamed into its entry the same way, and begins with its own digest.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
import time
from collections.abc import Callable, Container, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import platformdirs

VARIABLE = "WITNESSMARK_CACHE"

KEPT_DAYS = 7
"""How long a file of an entry that no build asks for any more stays."""

MOST_BYTES = 64_000_000
"""What is kept from build to build in one file is not larger than this."""


def default_cache() -> Path:
    """The folder named by ``WITNESSMARK_CACHE``, else this user's cache folder."""
    named = os.environ.get(VARIABLE)
    return Path(named) if named else platformdirs.user_cache_path("witnessmark", appauthor=False)


@contextmanager
def scratch(cache: Path) -> Iterator[Path]:
    """An empty folder on the same disk as the cache, gone afterwards."""
    cache.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="making-", dir=cache, ignore_cleanup_errors=True) as at:
        yield Path(at)


def place(made: Path, entry: Path, good: Callable[[Path], bool]) -> Path:
    """Rename the finished folder ``made`` to ``entry``; a good ``entry`` stays as it is.

    A broken one is moved out of the way first. When another build was quicker, its entry
    is used and ``made`` is dropped with its scratch folder.
    """
    entry.parent.mkdir(parents=True, exist_ok=True)
    if entry.exists() and not good(entry):
        aside = Path(tempfile.mkdtemp(prefix="broken-", dir=entry.parent))
        os.replace(entry, aside / entry.name)
        shutil.rmtree(aside, ignore_errors=True)
    try:
        os.replace(made, entry)
    except OSError:
        if not good(entry):
            raise
    return entry


def handbook_entry(folder: Path, cache: Path | None = None, kind: str = "outcomes") -> Path:
    """The entry for what is kept from build to build of the handbook with the calculators in
    ``folder``."""
    name = hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:20]
    return (cache or default_cache()) / f"{kind}-{name}"


def keep_checked(path: Path, content: Any) -> bool:
    """Keep ``content`` as JSON in a file of an entry; whether that was done.

    A cache that cannot be written is no fault of a build.
    """
    text = json.dumps(content, ensure_ascii=False).encode()
    if len(text) > MOST_BYTES:
        return False
    with suppress(OSError), scratch(path.parent.parent) as at:
        (at / path.name).write_bytes(check_line(text) + text)
        path.parent.mkdir(exist_ok=True)
        os.replace(at / path.name, path)
        return True
    return False


def read_checked(path: Path) -> Any:
    """What ``keep_checked`` kept; None when the file is not there or not as it was written."""
    try:
        line, _, text = path.read_bytes().partition(b"\n")
        return json.loads(text) if line + b"\n" == check_line(text) else None
    except (OSError, ValueError):
        return None


def keep_text(path: Path, name: str, text: str) -> None:
    """Keep a text in a file of an entry under a name, in place of another that it held.

    A cache that cannot be written, or a text that is none, is no fault of a build.
    """
    with suppress(OSError, UnicodeEncodeError):
        data = text.encode()
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, prefix="making-", delete=False) as made:
            made.write(check_line(name.encode() + data) + data)
        os.replace(made.name, path)


def read_text(path: Path, name: str) -> str | None:
    """What ``keep_text`` kept; None when it is not there, has another name or is spoiled."""
    try:
        line, _, data = path.read_bytes().partition(b"\n")
        return data.decode() if line + b"\n" == check_line(name.encode() + data) else None
    except (OSError, UnicodeDecodeError):
        return None


def remove_old(folder: Path, wanted: Container[str]) -> None:
    """Remove the files of an entry that nobody wants and nobody has written in a long time."""
    oldest = time.time() - KEPT_DAYS * 86_400
    with suppress(OSError), os.scandir(folder) as files:
        for file in files:
            if file.name not in wanted and file.stat().st_mtime < oldest:
                os.unlink(file.path)


def check_line(text: bytes) -> bytes:
    """The first line of a kept file, by which it is known to be whole."""
    return f"{hashlib.sha256(text).hexdigest()}\n".encode()


def prune(cache: Path, days: float = 30) -> None:
    """Remove entries made more than ``days`` days ago, so that the cache does not grow for ever.

    The runtime stays: it is the one thing that needs a network. What is removed although it
    is still wanted is made again.
    """
    oldest = time.time() - days * 86_400
    for kind in (
        "bundle-*",
        "image-*",
        "start-*",
        "script-*",
        "wheel-*",
        "site-*",
        "outcomes-*",
        "pages-*",
        "rendered-*",
        "making-*",
        "broken-*",
    ):
        for entry in cache.glob(kind):
            try:
                if entry.stat().st_mtime < oldest:
                    shutil.rmtree(entry, ignore_errors=True)
            except FileNotFoundError:
                continue
