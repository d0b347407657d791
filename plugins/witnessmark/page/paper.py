"""What a page carries on paper: its address and its revision, in words and as a QR code.

Whoever finds the paper later points a camera at it and is told by the page itself whether it has
changed since.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from urllib.parse import urljoin

import segno

from witnessmark.page.elements import Html, element, text
from witnessmark.remembered import Remembered

QUIET = 4
"""Modules of empty rim, as ISO/IEC 18004 wants them."""

_RUN = re.compile("1+")

PAPER = "paper"
"""The parameter of the address that tells the page which revision the paper shows."""

CODES_URI = "job-sheet/paper-codes.json"
"""The file in which the job sheet finds the codes of all pages."""

_CODE = re.compile(r"<svg.*?</svg>", re.DOTALL)


def paper_mark(site: str, url: str, revision: str) -> Html:
    """The mark of a page at ``url`` below the address ``site``; nothing where a site has none."""
    if not site:
        return Html("")
    address = urljoin(f"{site.rstrip('/')}/", url)
    return element(
        "aside",
        {"class": "wm-paper", "data-search-exclude": True},
        qr_code(f"{address}?{PAPER}={revision}"),
        element(
            "p",
            {},
            text("This page, as it is now: "),
            element("span", {"class": "wm-paper-address"}, text(address)),
        ),
        element("p", {}, text(f"Printed from revision {revision}")),
    )


def paper_codes(marks: Mapping[str, Html]) -> str:
    """JSON for the job sheet: the QR code of each page's mark, by the page's address."""
    found = {url: _CODE.search(mark) for url, mark in sorted(marks.items())}
    codes = {url: match[0] for url, match in found.items() if match}
    return json.dumps(codes, ensure_ascii=False, separators=(",", ":"))


def with_paper_mark(html: str, mark: Html) -> str:
    """The page's HTML with the mark under its title."""
    at = html.find("</h1>") + len("</h1>")
    return f"{html[:at]}{mark}{html[at:]}" if mark and at >= len("</h1>") else html


def qr_code(content: str) -> Html:
    """A QR code (ISO/IEC 18004, a quarter of it may be soiled) as a drawing without styles."""
    width, dark = _drawn(content)
    return element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "class": "wm-qr",
            "viewBox": f"0 0 {width} {width}",
            "shape-rendering": "crispEdges",
            "role": "img",
            "aria-label": "QR code of the page's address and revision",
        },
        element("path", {"d": dark}),
    )


def _code_of(content: str) -> tuple[int, str]:
    """The width of the code with its rim, in modules, and the path of the dark ones. Choosing the
    mask takes long."""
    code = segno.make(content, error="q", micro=False)
    rows = ["".join(map(str, row)) for row in code.matrix]
    return len(rows) + 2 * QUIET, _dark(rows)


_drawn = Remembered(_code_of)


def _dark(rows: Sequence[str]) -> str:
    """The dark modules as a path, a stroke of boxes for every run in a row."""
    return "".join(
        f"M{run.start() + QUIET} {y + QUIET}h{len(run[0])}v1h-{len(run[0])}z"
        for y, row in enumerate(rows)
        for run in _RUN.finditer(row)
    )
