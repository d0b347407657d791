"""What the search has read out of a page, kept for as long as the page is the same.

The search plugin takes every page apart again at every build. Its own code is asked here too,
but only for a page that it has not seen: it gets nothing of the page but what goes into the name
under which its entries are kept, so they cannot come from anything else.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mkdocs.structure.pages import Page

from witnessmark.answers import program_digest
from witnessmark.bundle.cache import keep_checked, read_checked
from witnessmark.mkdocs.libraries import versions
from witnessmark.mkdocs.toc import of_tokens, tokens

FILE = "search.json"
ADD = "add_entry_from_context"

# The lists in which they gather the entries of all pages.
_KNOWN = {
    "material.plugins.search.plugin": "entries",
    "mkdocs.contrib.search.search_index": "_entries",
    "properdocs.contrib.search.search_index": "_entries",
}


@dataclass
class SearchedPage:
    """All of a page that a search may know."""

    content: str
    title: str | None
    url: str
    meta: dict[str, Any]
    toc: Any


class Searched:
    """Entries of the search by the digest of all they come from, as JSON."""

    def __init__(self) -> None:
        self._kept: dict[str, str] = {}
        self._asked: set[str] = set()
        self._file: Path | None = None
        self._written: set[str] = set()

    def use_in(self, plugins: Iterable[object], entry: Path) -> None:
        """Let the searches among the plugins take their entries from here, in this one build.
        ``entry`` is the handbook's in the cache."""
        if entry / FILE != self._file:
            self._file = entry / FILE
            self._kept = _read(self._file)
            self._written = set(self._kept)
        self._asked = set()
        for plugin in plugins:
            index = getattr(plugin, "search_index", None)
            if _is_known(index):
                self._lead(index)

    def save(self) -> None:
        """Write the entries of this build's pages, if the file does not hold them."""
        self._kept = {name: self._kept[name] for name in sorted(self._asked)}
        if self._file is None or self._written == self._asked:
            return
        if keep_checked(self._file, [_basis(), self._kept]):
            self._written = set(self._asked)

    def _lead(self, index: Any) -> None:
        entries: list[Any] = getattr(index, _KNOWN[type(index).__module__])
        add = getattr(index, ADD)
        settings = f"{type(index).__module__} {json.dumps(index.config, default=repr)}"

        def add_page(page: Page) -> None:
            try:
                plain = [page.content, page.title, page.url, page.meta, tokens(page.toc)]
                text = json.dumps(plain)
            except TypeError:  # a date in the front matter, perhaps
                add(page)
                return
            name = hashlib.sha256(f"{settings} {text}".encode()).hexdigest()[:32]
            if name not in self._kept:
                # Read back from the text, so that nothing is seen that is not in it.
                content, title, url, meta, toc = json.loads(text)
                made = type(index)(**index.config)
                searched = SearchedPage(content, title, url, meta, of_tokens(toc, type(page)))
                getattr(made, ADD)(searched)
                self._kept[name] = json.dumps(getattr(made, _KNOWN[type(index).__module__]))
            self._asked.add(name)
            entries.extend(json.loads(self._kept[name]))

        setattr(index, ADD, add_page)


def _is_known(index: object) -> bool:
    """Whether it is a search as its maker has written it, which reads pages and nothing else."""
    kind = type(index)
    if kind.__module__ not in _KNOWN or kind.__qualname__ != "SearchIndex":
        return False
    add = getattr(index, ADD)
    if getattr(add, "__func__", None) is not vars(kind).get(ADD):
        return False
    # The library that parts Chinese words reads word lists of its own.
    return add.__module__ == kind.__module__ and not getattr(
        sys.modules[kind.__module__], "jieba", None
    )


def _basis() -> str:
    return json.dumps([program_digest(), *versions()])


def _read(file: Path) -> dict[str, str]:
    """Entries by name; empty when the file is of other programs, or spoiled."""
    with suppress(ValueError, TypeError, AttributeError):
        basis, kept = read_checked(file) or ("", {})
        if basis == _basis():
            return {str(name): str(text) for name, text in kept.items()}
    return {}
