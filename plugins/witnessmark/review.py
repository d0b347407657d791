"""The review of a handbook: what each rendered page rests on, held against the ledger.

It joins the pages, which know what they used, with the sign-offs, which know neither HTML nor
Markdown. The overview page holds a place that is filled in when every page is known.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from witnessmark.collection import Collection
from witnessmark.databook import DataBook, Scope, read_text
from witnessmark.faults import Faults
from witnessmark.page import (
    EvaluationCache,
    PageContext,
    StandIns,
    overview_html,
    pictures_in,
    release_html,
    with_mark,
)
from witnessmark.page.asked import Asked, asked_on
from witnessmark.page.elements import join
from witnessmark.page.jobs_html import Revision
from witnessmark.signoff import (
    CalculatorBasis,
    HandbookBasis,
    Ledger,
    PageBasis,
    SignOffs,
    Standing,
    Standings,
    ValueRow,
    bytes_digest,
    calculator_basis,
    read_ledger,
    words,
)

PLACE = '<div class="wm-sign-offs-place"></div>'
"""Stands in the overview until every page has been rendered."""

OVERVIEW = f"""\
---
title: Sign-off
description: "Which pages of this handbook were reviewed, by which role, when, and what has changed since."
---
# Sign-off

A page is signed when a reviewer has read its words and its maths together: the text, every value of the data book in it, and every calculator with the code under it and its check values. From then on the handbook watches over it. The mark under a page's title tells:

- **Signed**: the scribed line runs across both blocks. Words, values and maths are those that were reviewed.
- **Changed since sign-off**: the line is broken. Something has moved; the page says what.
- **Not signed**: there is no line yet.

A calculator's reference page follows its calculator: it is signed with the page on which the calculator was reviewed.

{PLACE}
"""  # noqa: E501 - a paragraph of Markdown is a line


def load_ledger(path: Path, shown: str, faults: Faults) -> Ledger:
    """The ledger in a file, empty when there is none; faults are named ``shown``."""
    text = read_text(path, shown, faults) if path.is_file() else None
    return Ledger() if text is None else read_ledger(text, shown, faults)


@dataclass
class Review:
    """One build's pages against the ledger.

    ``pages``, ``calculators`` and ``asked`` (the forms of each page) fill up while pages are
    rendered.
    """

    docs: Path
    sign_offs: SignOffs
    collection: Collection
    book: DataBook
    evaluations: EvaluationCache
    stand_ins: StandIns
    pages: dict[str, PageBasis] = field(default_factory=dict)
    calculators: dict[str, CalculatorBasis] = field(default_factory=dict)
    release: Mapping[str, Any] = field(default_factory=dict)
    """What the overview tells of a release; empty for any other build."""
    asked: dict[str, Asked] = field(default_factory=dict)
    _known_rows: dict[tuple[str, tuple[Scope, ...]], tuple[ValueRow, ...]] = field(
        default_factory=dict, init=False
    )

    @cached_property
    def basis(self) -> HandbookBasis:
        """What the pages rendered so far rest on."""
        return HandbookBasis(self.pages, self.calculators, self.asked)

    def marked(self, html: str, page: PageContext, url: str, *, follows: bool) -> str:
        """The HTML of a page with its mark and its history.

        ``url`` is the address of the page below the site's root. A page that ``follows`` its
        calculator is generated from it.
        """
        self.pages[page.uri] = self._page_basis(html, page, url, follows=follows)
        self.asked[page.uri] = asked_on(page)
        for name in page.used.calculators:
            self._know(name)
        standing = self.sign_offs.standing(self.basis, page.uri)
        return html if standing is None else with_mark(html, standing, self.stand_ins.put)

    def revision(self, uri: str) -> tuple[str, Revision | None]:
        """The title of a page, and the digests that entries on it are made under; None where
        nothing can be entered."""
        page = self.pages[uri]
        revision = Revision(*self.basis.revision(uri)) if page.rests_on_something else None
        return page.title, revision

    def standings(self) -> Standings:
        """Where every page stands; to be asked when all pages are rendered."""
        return self.sign_offs.standings(self.basis)

    def overview(self, html: str, url_of: Callable[[str], str]) -> str:
        """The overview's HTML with the release, if it is one, and the table in its place."""
        filled = overview_html(_in_order(self.standings()), url_of)
        if self.release:
            filled = join(release_html(self.release, url_of), filled)
        return html.replace(PLACE, filled, 1)

    def _page_basis(self, html: str, page: PageContext, url: str, *, follows: bool) -> PageBasis:
        head = page.source.split("\n")[: page.front.body_line - 1]
        entry = page.pages.pages.get(page.uri.removesuffix(".md"))
        all_scopes = page.scopes
        return PageBasis(
            page.uri,
            entry.title if entry else page.front.title or page.uri,
            words("\n".join([*head, page.text])),
            {
                name: self._rows(name, tuple(each for each in all_scopes if each in scopes))
                for name, scopes in sorted(page.used.values.items())
            },
            tuple(sorted(page.used.calculators)),
            self._pictures(html, url),
            page.front.is_procedure,
            follows,
        )

    def _rows(self, name: str, scopes: tuple[Scope, ...]) -> tuple[ValueRow, ...]:
        """The rows of a value for some engines; most pages ask for the same."""
        if (name, scopes) not in self._known_rows:
            self._known_rows[name, scopes] = tuple(
                (part.label, " ".join(part.value.text.split()), part.value.kind, part.origin)
                for part in self.book.across(name, scopes)
            )
        return self._known_rows[name, scopes]

    def _pictures(self, html: str, url: str) -> Mapping[str, str]:
        """Digests of the pictures of a page that lie in the documents folder."""
        found: dict[str, str] = {}
        for address in pictures_in(html):
            uri = posixpath.normpath(posixpath.join(url, address))
            path = self.docs / uri
            if not uri.startswith("..") and path.is_file():
                data = path.read_bytes()
                if path.suffix == ".svg":  # a text: a checkout may change its line endings
                    data = data.replace(b"\r\n", b"\n")
                found[uri] = bytes_digest(data)
        return dict(sorted(found.items()))

    def _know(self, name: str) -> None:
        if name not in self.calculators:
            self.calculators[name] = calculator_basis(
                self.collection.calculators[name], self.collection, self.evaluations.outcome
            )


def _in_order(standings: Standings) -> list[Standing]:
    """What asks for attention first: changed, unsigned, signed; pages before calculators."""
    order = ("changed", "unsigned", "signed")
    pages = standings.pages.values()
    return sorted(pages, key=lambda page: (page.follows, order.index(page.state), page.uri))
