"""The witness mark of a page: whether its words, values and maths are still those reviewed.

The mark is a line scribed across two blocks: in one piece on a signed page, broken where
something has moved since, and not yet there on an unsigned one. The word beside it says the
same, so that nothing hangs on shape or colour alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from typing import Any, Protocol

from witnessmark.page.elements import Html, element, join, text

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip

WORDS = {"signed": "Signed", "changed": "Changed since sign-off", "unsigned": "Not signed"}

_LEFT, _RIGHT = "M2 3h12v18H2z", "M18 3h12v18H18z"
_SHAPES = {
    "signed": (f"{_LEFT}{_RIGHT}", "M6 12h20"),
    "changed": ("M2 1h12v18H2zM18 5h12v18H18z", "M6 10h8M18 14h8"),
    "unsigned": (f"{_LEFT}{_RIGHT}", ""),
}
_ALOUD = {
    "signed": "Witness mark in line: signed",
    "changed": "Witness mark broken: changed since sign-off",
    "unsigned": "No witness mark: not signed",
}
_UNSIGNED = "The words and the maths of this page have not been reviewed together yet."
_HEADING = re.compile(r"</h1>")


class SignOff(Protocol):
    """One sign-off of a page."""

    @property
    def signed(self) -> str:
        """The day, such as 2025-11-25."""

    @property
    def role(self) -> str:
        """Who signed, by role."""

    @property
    def note(self) -> str:
        """The reviewer's own words."""

    @property
    def changed(self) -> str:
        """What was new against the sign-off before."""


class Change(Protocol):
    """One thing that differs from what was signed."""

    @property
    def kind(self) -> str:
        """Words, values, maths or pictures."""

    @property
    def text(self) -> str:
        """What has changed, in one line."""


class Standing(Protocol):
    """Where a page stands."""

    @property
    def uri(self) -> str:
        """Its source path."""

    @property
    def title(self) -> str:
        """Its title."""

    @property
    def state(self) -> str:
        """Signed, changed or unsigned."""

    @property
    def latest(self) -> SignOff | None:
        """The sign-off in question."""

    @property
    def review_by(self) -> str:
        """The day by which it is to be reviewed again, or empty."""

    @property
    def kinds(self) -> Sequence[str]:
        """What has changed, each kind once."""

    @property
    def changes(self) -> Sequence[Change]:
        """What has changed."""

    @property
    def history(self) -> Sequence[SignOff]:
        """The sign-offs before the latest, newest first."""

    @property
    def follows(self) -> bool:
        """Whether the page is made from a calculator and signed with it."""

    @property
    def through(self) -> str:
        """The page with which its calculator was signed, or empty."""


def day_text(day: str) -> str:
    """A day in words: ``25 November 2025``."""
    read = date.fromisoformat(day)
    return f"{read.day} {MONTHS[read.month - 1]} {read.year}"


def mark(state: str) -> Html:
    """The drawing of the mark, with its meaning for those who hear the page."""
    blocks, line = _SHAPES[state]
    return element(
        "svg",
        {
            "class": "wm-mark",
            "viewBox": "0 0 32 24",
            "role": "img",
            "aria-label": _ALOUD[state],
        },
        element("path", {"class": "wm-mark-blocks", "d": blocks}),
        element("path", {"class": "wm-mark-line", "d": line}) if line else None,
    )


def with_mark(html: str, standing: Standing, put: Callable[[str], str] = str) -> str:
    """The page's HTML with the mark under its title and its sign-offs at its foot.

    ``put`` may give something short that stands in for them until the page is written.
    """
    top, foot = (part and put(part) for part in (_mark_line(standing), history_html(standing)))
    title = _HEADING.search(html)
    at = title.end() if title else 0
    return f"{html[:at]}\n{top}\n{html[at:]}\n{foot}"


def _mark_line(standing: Standing) -> Html:
    word = element("b", {}, text(WORDS[standing.state]))
    drawn = mark(standing.state)
    if standing.latest is None:
        inside = element("p", {}, drawn, element("span", {}, word, text(f". {_UNSIGNED}")))
    elif standing.state == "changed":
        inside = element(
            "details",
            {},
            element(
                "summary",
                {},
                drawn,
                element(
                    "span", {}, word, text(f" ({', '.join(standing.kinds)}). "), _told(standing)
                ),
            ),
            changes_html(standing.changes),
        )
    else:
        inside = element("p", {}, drawn, element("span", {}, word, text(". "), _told(standing)))
    return element(
        "wm-sign-off",
        {"class": f"wm-sign-off wm-is-{standing.state}", "data-search-exclude": True},
        inside,
    )


def _told(standing: Standing) -> Html:
    """Who signed, when, with what words, and when it is due again."""
    latest = standing.latest
    if latest is None:
        return Html("")
    what = "Its calculator was signed" if standing.follows and standing.through else "Signed"
    if standing.state == "signed" and not standing.through:
        lead = text(f"By the {latest.role}, ")
    else:
        lead = text(f"{what} by the {latest.role}, ")
    return join(
        lead,
        day_html(latest.signed),
        text(f": {latest.note}" if latest.note else ""),
        text("" if latest.note.endswith((".", "!", "?")) else "."),
        join(text(" "), due_html(standing)) if standing.review_by else None,
    )


def day_html(day: str) -> Html:
    """A day as an element that carries its date."""
    return element("time", {"datetime": day}, text(day_text(day)))


def due_html(standing: Standing) -> Html:
    """By when the page is to be reviewed again; a script marks what is overdue."""
    return element(
        "span",
        {"class": "wm-due", "data-due": standing.review_by},
        text("To be reviewed again by "),
        day_html(standing.review_by),
        text("."),
    )


def changes_html(changes: Iterable[Change]) -> Html:
    """What has changed, a line each, under its kind."""
    lines = [
        element(
            "li", {}, element("b", {}, text(f"{change.kind.capitalize()}: ")), text(change.text)
        )
        for change in changes
    ]
    return element("ul", {}, *lines)


def history_html(standing: Standing) -> Html:
    """Every sign-off of the page behind a disclosure; nothing on a page without one of its own."""
    if standing.latest is None or standing.through:
        return Html("")
    sign_offs = (standing.latest, *standing.history)
    lines = [
        element(
            "li",
            {},
            day_html(each.signed),
            text(f", {each.role}: {each.note}"),
            element("span", {"class": "wm-new"}, text(f" Changed: {each.changed}.")),
        )
        for each in sign_offs
    ]
    count = "1 sign-off" if len(sign_offs) == 1 else f"{len(sign_offs)} sign-offs"
    return element(
        "wm-sign-off",
        {"class": "wm-sign-off wm-history", "data-search-exclude": True},
        element(
            "details",
            {},
            element("summary", {}, text(f"History of this page: {count}")),
            element("ol", {"reversed": True}, *lines),
        ),
    )


def release_html(notes: Mapping[str, Any], url_of: Callable[[str], str]) -> Html:
    """Which release this is and what has changed since the one before, page by page.

    ``notes`` hold version, day, note, the version before, and for each changed page its path,
    its title and lines of text.
    """
    since = f"Since release {notes['previous']}" if notes["previous"] else "All pages"
    pages = [
        element(
            "li", {}, _titled(each, url_of),
            element("ul", {}, *(element("li", {}, text(line)) for line in each["lines"])),
        )
        for each in notes["changes"]
    ]  # fmt: skip
    return element(
        "wm-release",
        {"data-search-exclude": True},
        element(
            "p",
            {},
            element("b", {}, text(f"Release {notes['version']}")),
            text(" of "),
            day_html(notes["day"]),
            text(f": {notes['note']}"),
        ),
        element(
            "details",
            {},
            element("summary", {}, text(f"{since}: {_pages_in_words(len(pages))}")),
            element("ul", {}, *pages),
        ),
    )


def _titled(each: Mapping[str, Any], url_of: Callable[[str], str]) -> Html:
    url = url_of(each["uri"])
    return element("a", {"href": url}, text(each["title"])) if url else text(each["title"])


def _pages_in_words(count: int) -> str:
    return {0: "no page has changed", 1: "1 page has changed"}.get(
        count, f"{count} pages have changed"
    )


def overview_html(pages: Iterable[Standing], url_of: Callable[[str], str]) -> Html:
    """Every page that carries a sign-off, as one table; a script adds the filters.

    ``url_of`` gives the address of a page, by source path, as seen from the overview.
    """
    rows = [_row(page, url_of) for page in pages]
    if not rows:
        return element("p", {}, text("No page of this handbook carries a sign-off."))
    head = ("Page", "Sign-off", "By", "To be reviewed again by")
    return element(
        "wm-sign-offs",
        {"data-search-exclude": True},
        element(
            "div",
            {"class": "wm-scroll"},
            element(
                "table",
                {},
                element("thead", {}, element(
                    "tr", {}, *(element("th", {"scope": "col"}, text(each)) for each in head)
                )),
                element("tbody", {}, *rows),
            ),
        ),
    )  # fmt: skip


def _row(page: Standing, url_of: Callable[[str], str]) -> Html:
    latest = page.latest
    return element(
        "tr",
        {
            "data-state": page.state,
            "data-kind": "calculator" if page.follows else "page",
            "data-due": page.review_by or None,
        },
        element("th", {"scope": "row"}, element("a", {"href": url_of(page.uri)}, text(page.title))),
        element(
            "td",
            {},
            element("span", {"class": "wm-state"}, mark(page.state), text(WORDS[page.state])),
            changes_html(page.changes) if page.changes else None,
        ),
        element(
            "td",
            {},
            join(text(f"{latest.role}, "), day_html(latest.signed)) if latest else text("–"),
        ),
        element("td", {}, day_html(page.review_by) if page.review_by else text("–")),
    )
