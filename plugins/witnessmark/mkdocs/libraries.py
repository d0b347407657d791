"""The libraries that make a page: what comes from them is kept for their versions only."""

from __future__ import annotations

import sys
from functools import lru_cache
from importlib.metadata import PackageNotFoundError, version

LIBRARIES = (
    "mkdocs", "properdocs", "mkdocs-material", "Markdown", "pymdown-extensions", "Pygments",
    "PyYAML", "latex2mathml", "Jinja2", "MarkupSafe",
)  # fmt: skip


@lru_cache(maxsize=1)
def versions() -> tuple[str, ...]:
    """Their versions as installed, empty for one that is not there, and Python's."""
    return (*map(_version, LIBRARIES), sys.implementation.name, sys.version)


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return ""
