"""What is done to the pages of one build on their way into the site's folder."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol

from witnessmark.publish.inline_parts import handlers_in, has_inline_parts, move_inline_parts
from witnessmark.publish.offline import write_service_worker

EARLY = "early.js"
"""The script that a page runs first."""

_CALCULATOR = re.compile(r'<wm-calculator\s[^>]*?\bdata-calculator="([^"]*)"')
_PLACE = re.compile(r'<wm-calculator\s[^>]*?\bid="([^"]*)"')
_THEME = re.compile(
    r'<script src="([^"]*assets/javascripts/bundle\.[0-9a-f]{8}\.min\.js)"></script>'
    r'(?=\s*<script src="[^"]*/front-[0-9a-f]{12}/main\.js" type="module"></script>\s*</body>)'
)
_CONTENT = re.compile(r'<article class="md-content__inner md-typeset(?=")')
_STEP = '<section class="wm-step"'
_HEAD = re.compile(r"<head[^>]*>(?:\s*<meta charset[^>]*>)?", re.IGNORECASE)


class Parts(Protocol):
    """Finished parts of pages for which something stands in."""

    def on(self, html: str) -> Iterator[str]:
        """The parts that belong on a page."""

    def filled(self, html: str) -> str:
        """The page with the parts in their places."""


@dataclass(frozen=True)
class PublishedPage:
    """A page as it goes into the site, and the tags of it whose handlers no policy lets run."""

    html: str
    handlers: list[str]


@dataclass
class Publication:
    """One build.

    ``scripts`` is the site URI of the folder of its scripts, ``offline`` whether readers'
    devices may keep it.
    """

    scripts: str
    offline: bool
    moved: dict[str, str] = field(default_factory=dict)
    _clean: dict[str, bool] = field(default_factory=dict)

    def page(
        self,
        html: str,
        url_of: Callable[[str], str],
        stamp: str = "",
        parts: Parts | None = None,
    ) -> PublishedPage:
        """A finished page: it says what it was built from, is whole, and has no inline parts.

        ``url_of`` gives the address of a site URI as seen from this page, ``stamp`` the versions
        of program and data book. ``parts`` go in last where nothing in them has to be moved out,
        so that a part on many pages is looked through once.
        """
        said = {"witnessmark-front": self.scripts.rpartition("/")[2]}
        if stamp:
            said["witnessmark"] = stamp
        if self.offline:
            said["witnessmark-offline"] = "yes"
        tags = "".join(f'<meta name="{name}" content="{text}">' for name, text in said.items())
        html = html.replace("</head>", f"{tags}</head>", 1)
        last = parts if parts and all(map(self._is_clean, parts.on(html))) else None
        if parts and not last:
            html = parts.filled(html)
        done = move_inline_parts(html, url_of)
        self.moved |= done.files
        whole = last.filled(done.html) if last else done.html
        whole = _begun_early(_with_room_beside(whole), url_of(self.scripts))
        return PublishedPage(whole, handlers_in(html))

    def finish(self, site: Path, leave_out: Iterable[str]) -> None:
        """Write what was moved out of the pages and, last of all, the service worker."""
        for uri, text in self.moved.items():
            path = site / uri
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
        if self.offline:
            write_service_worker(site, leave_out)

    def _is_clean(self, part: str) -> bool:
        """Whether a part has nothing in it that would have to leave the page."""
        if part not in self._clean:
            self._clean[part] = not has_inline_parts(part) and not handlers_in(part)
        return self._clean[part]


def _begun_early(html: str, scripts: str) -> str:
    """The page with its first script above everything that a browser would wait for.

    Where there are calculators it is told the first of them, the worker's script comes along with
    it, and the theme's script leaves the start to them, unless other scripts count on it. Such a
    page is first shown when half of it has arrived (up to the end of a calculator): a browser
    starts no worker while it lays out a page, and to lay it out for every part that arrives takes
    as much of the device as Python does.
    """
    tag = f'<script src="{scripts}/{EARLY}"></script>'
    first = _CALCULATOR.search(html)
    if first:
        tag = (
            f'{_shown_from(html)}<link rel="modulepreload" href="{scripts}/worker.js">'
            f'<script src="{scripts}/{EARLY}" data-calculator="{first[1]}"></script>'
        )
        html = _THEME.sub(r'<script data-wm-later="\1"></script>', html, count=1)
    return _HEAD.sub(lambda head: head[0] + tag, html, count=1)


def _shown_from(html: str) -> str:
    """The tag that has a browser show nothing before the last calculator of the first half."""
    before = [place[1] for place in _PLACE.finditer(html, 0, len(html) // 2)]
    return f'<link rel="expect" href="#{before[-1]}" blocking="render">' if before else ""


def _with_room_beside(html: str) -> str:
    """The page, marked where its steps have calculators, which may stand beside the text.

    A style sheet could find that out itself (``:has``), but a browser would then style all that
    is there anew for every part of the page that arrives.
    """
    at = html.find(_STEP)
    while at >= 0:
        if html.find("<wm-calculator", at, html.find("</section>", at)) >= 0:
            return _CONTENT.sub(r"\g<0> wm-beside", html, count=1)
        at = html.find(_STEP, at + 1)
    return html
