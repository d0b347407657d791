"""What is done to the pages of one build on their way into the site's folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark.publish.inline_parts import move_inline_parts
from witnessmark.publish.offline import write_service_worker


@dataclass
class Publication:
    """One build.

    ``scripts`` is the site URI of the folder of its scripts, ``offline`` whether readers'
    devices may keep it.
    """

    scripts: str
    offline: bool
    moved: dict[str, str] = field(default_factory=dict)

    def page(self, html: str, url_of: Callable[[str], str], stamp: str = "") -> str:
        """A finished page: it says what it was built from, and has no inline parts left.

        ``url_of`` gives the address of a site URI as seen from this page, ``stamp`` the versions
        of program and data book.
        """
        said = {"witnessmark-front": self.scripts.rpartition("/")[2]}
        if stamp:
            said["witnessmark"] = stamp
        if self.offline:
            said["witnessmark-offline"] = "yes"
        tags = "".join(f'<meta name="{name}" content="{text}">' for name, text in said.items())
        done = move_inline_parts(html.replace("</head>", f"{tags}</head>", 1), url_of)
        self.moved |= done.files
        return done.html

    def finish(self, site: Path, leave_out: Iterable[str]) -> None:
        """Write what was moved out of the pages and, last of all, the service worker."""
        for uri, text in self.moved.items():
            path = site / uri
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, "utf-8")
        if self.offline:
            write_service_worker(site, leave_out)
