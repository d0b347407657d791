"""The pictures that a page includes, as the addresses its HTML gives them."""

from __future__ import annotations

from html.parser import HTMLParser
from urllib.parse import unquote, urlsplit

_WHERE = {"img": "src", "source": "src", "embed": "src", "object": "data", "image": "href"}


def pictures_in(html: str) -> tuple[str, ...]:
    """Relative addresses of pictures, each once, without those inside data or elsewhere."""
    if not any(f"<{tag}" in html for tag in _WHERE):
        return ()
    reader = _Pictures()
    reader.feed(html)
    reader.close()
    return tuple(dict.fromkeys(reader.found))


class _Pictures(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        address = dict(attrs).get(_WHERE.get(tag, ""))
        if address:
            parts = urlsplit(address)
            if not parts.scheme and not parts.netloc and parts.path:
                self.found.append(unquote(parts.path))
