"""The pages of the handbook by name, for the links before and after a procedure."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable
from dataclasses import dataclass, field

from witnessmark.faults import Faults, nearest
from witnessmark.page.front_matter import FrontMatter, read_front_matter


@dataclass(frozen=True)
class PageEntry:
    """A page: its path below the documents folder (``procedures/runout.md``) and its title.

    ``machines`` and ``variants`` are those its front matter names; a page that is no procedure
    names none.
    """

    uri: str
    title: str
    machines: tuple[str, ...] = ()
    variants: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The path without its ending."""
        return self.uri.removesuffix(".md")


def page_entry(uri: str, text: str, front: FrontMatter | None = None) -> PageEntry:
    """The entry of the page at ``uri`` with the whole text ``text``; ``front`` if it is read.

    Its title is that of the front matter, else its first heading, else its file's name.
    """
    front = front or read_front_matter(text, uri, Faults())
    lines = text.split("\n")[front.body_line - 1 :]
    heading = next((line[2:].strip(" #") for line in lines if line.startswith("# ")), "")
    stem = posixpath.basename(uri).removesuffix(".md")
    title = front.title or heading or stem
    return PageEntry(uri, title, front.machine_names, front.variant_names)


@dataclass
class PageIndex:
    """Pages found by the last part of their path, or by the whole path.

    ``looked_up`` tells what was found for which name as seen from which page, as texts: what a
    page has looked up it depends on.
    """

    pages: dict[str, PageEntry] = field(default_factory=dict)
    looked_up: dict[tuple[str, str], str] = field(default_factory=dict, compare=False)

    @classmethod
    def of(cls, entries: Iterable[PageEntry]) -> PageIndex:
        """The index of ``entries``."""
        return cls({entry.name: entry for entry in entries})

    def find(self, name: str, seen_from: str) -> PageEntry | None:
        """The page called ``name``, looked for beside the page ``seen_from`` first."""
        found = self._found(name, seen_from)
        self.looked_up[name, seen_from] = repr(found)
        return found

    def still_finds(self, looked_up: Iterable[tuple[str, str, str]]) -> bool:
        """Whether lookups of an earlier build would find the same."""
        return all(repr(self._found(name, at)) == found for name, at, found in looked_up)

    def _found(self, name: str, seen_from: str) -> PageEntry | None:
        name = name.removesuffix(".md")
        beside = posixpath.normpath(posixpath.join(posixpath.dirname(seen_from), name))
        for path in (beside, name):
            if path in self.pages:
                return self.pages[path]
        alike = [entry for path, entry in self.pages.items() if posixpath.basename(path) == name]
        return alike[0] if len(alike) == 1 else None

    def nearest(self, name: str) -> str:
        """The page's name most like ``name``."""
        return nearest(name, [posixpath.basename(path) for path in self.pages])

    @staticmethod
    def link(entry: PageEntry, seen_from: str) -> str:
        """The address of a page's source relative to the page ``seen_from``."""
        return posixpath.relpath(entry.uri, posixpath.dirname(seen_from) or ".")
