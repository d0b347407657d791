"""The cache folder: where things that are slow to make are kept between builds.

Every entry is a folder made aside and then renamed into place, so that two builds at the
same time, or one that is interrupted, never leave half an entry behind.
"""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import platformdirs

VARIABLE = "WITNESSMARK_CACHE"


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
        "wheel-*",
        "site-*",
        "outcomes-*",
        "making-*",
        "broken-*",
    ):
        for entry in cache.glob(kind):
            try:
                if entry.stat().st_mtime < oldest:
                    shutil.rmtree(entry, ignore_errors=True)
            except FileNotFoundError:
                continue
