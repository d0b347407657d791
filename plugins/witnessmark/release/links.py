"""Links of a built site that lead nowhere: missing files and missing places on a page."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

_ADDRESSES = {
    "a": ("href",), "link": ("href",), "area": ("href",), "img": ("src", "srcset"),
    "script": ("src", "data-wm-later"), "source": ("src", "srcset"), "iframe": ("src",),
    "object": ("data",), "embed": ("src",), "image": ("href",), "use": ("href",),
}  # fmt: skip
_NOT_FOR_FILES = frozenset({"canonical", "alternate", "preconnect", "dns-prefetch"})


@dataclass
class _Page(HTMLParser):
    """The addresses on a page and the places on it that a link may name."""

    addresses: dict[str, None] = field(default_factory=dict)
    places: set[str] = field(default_factory=set)
    base: str = ""

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.places |= {given[name] for name in ("id", "name") if given.get(name)}
        if tag == "link" and _NOT_FOR_FILES & set(given.get("rel", "").split()):
            return
        for name in _ADDRESSES.get(tag, ()):
            for part in given.get(name, "").split(",") if name == "srcset" else [given.get(name)]:
                address = (part or "").strip().split(" ")[0] if name == "srcset" else part
                if address:
                    self.addresses[address] = None


def broken_links(site: Path) -> list[str]:
    """``page: address`` for every link of a site to a file or place of its own that is not there.

    Links to other sites are not followed. The page of the server for what is missing (404.html)
    is shown at any address; its links begin at the server's root and are left out.
    """
    pages: dict[str, _Page] = {}
    for path in sorted(site.rglob("*.html")):
        page = _Page()
        page.feed(path.read_text("utf-8"))
        page.close()
        pages[path.relative_to(site).as_posix()] = page
    broken = []
    for uri, page in pages.items():
        if uri != "404.html":
            broken += [f"{uri}: {a}" for a in page.addresses if not _leads(site, pages, uri, a)]
    return broken


def _leads(site: Path, pages: dict[str, _Page], uri: str, address: str) -> bool:
    parts = urlsplit(address)
    if parts.scheme or parts.netloc:
        return True
    target = uri
    if parts.path:
        folder = posixpath.dirname(uri)
        target = posixpath.normpath(posixpath.join(folder, unquote(parts.path)))
        if target.startswith(("..", "/")):
            return False
        if (site / target).is_dir():
            target = posixpath.normpath(posixpath.join(target, "index.html"))
        if not (site / target).is_file():
            return False
    place = unquote(parts.fragment)
    if not place or place.startswith(":~:") or target not in pages:
        return True
    return place in pages[target].places or place == "top"
