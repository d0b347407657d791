"""A handbook: its calculators, its data book and its pages, free of any site generator.

The MkDocs adapter and the command line both work through this: load, give each page its
context, make the reference pages, gather faults, and pack what the pages use.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from typing import Any

from witnessmark.answers import KeptAnswers
from witnessmark.bundle import Bundle, RuntimeUnavailable, make_bundle, notices, scripts_stamp
from witnessmark.collection import Collection, fingerprint_of, load_collection
from witnessmark.databook import DataBook, load_databook
from witnessmark.faults import Faults
from witnessmark.kept_pages import KeptPages
from witnessmark.outcomes import KeptOutcomes
from witnessmark.page import (
    EvaluationCache,
    PageContext,
    PageIndex,
    StandIns,
    finish_page,
    page_entry,
)
from witnessmark.page.elements import Html
from witnessmark.page.front_matter import ReadFront
from witnessmark.page.jobs_html import JOBS_URI, SHEET_URI, jobs_page, sheet_page, with_jobs
from witnessmark.page.kept import as_plain, take_plain
from witnessmark.page.licences import LICENCES_URI, licences_page
from witnessmark.page.paper import CODES_URI, paper_codes, paper_mark, with_paper_mark
from witnessmark.page.reference import (
    FOLDER,
    index_page,
    reference_page,
    reference_uri,
    sources_page,
)
from witnessmark.page.tables import TABLES_FOLDER, table_page, table_uri, tables_index
from witnessmark.record import SCHEMA_TEXT
from witnessmark.review import OVERVIEW, Review, load_ledger
from witnessmark.signoff import Archive, SignOffs

SOURCES_URI = "reference/sources.md"
OVERVIEW_URI = "reference/sign-off.md"
INDEX_URI = f"{FOLDER}/index.md"
RECORD_FORM_URI = "reference/job-record.schema.json"
TABLES_URI = f"{TABLES_FOLDER}/index.md"


@dataclass(frozen=True)
class Places:
    """Where the parts of a handbook lie. Paths in messages are relative to ``project``."""

    project: Path
    docs: Path
    calculators: Path
    databook: Path

    @property
    def ledger(self) -> Path:
        """The ledger of sign-offs."""
        return self.docs / "signoff.yml"

    @property
    def archive(self) -> Path:
        """The folder beside the ledger that keeps what was signed."""
        return self.docs / "signoff"

    def is_kept_back(self, uri: str) -> bool:
        """Whether a file of the documents folder is no part of the site."""
        path = str(self.docs / uri)
        return path == str(self.ledger) or path.startswith(self._kept_back)

    @cached_property
    def _kept_back(self) -> tuple[str, ...]:
        return tuple(os.path.join(folder, "") for folder in (self.databook, self.archive))

    def shown(self, path: Path) -> str:
        """A path as an author knows it."""
        try:
            return path.resolve().relative_to(self.project.resolve()).as_posix()
        except ValueError:
            return path.as_posix()


@dataclass
class Handbook:
    """One load of a handbook and what its pages were found to use."""

    places: Places
    faults: Faults = field(default_factory=Faults)
    outcomes: KeptOutcomes = field(default_factory=KeptOutcomes)
    answers: KeptAnswers = field(default_factory=KeptAnswers)
    kept_pages: KeptPages = field(default_factory=KeptPages)
    evaluations: EvaluationCache = field(init=False)
    collection: Collection = field(init=False)
    book: DataBook = field(init=False)
    index: PageIndex = field(default_factory=PageIndex)
    pages: dict[str, PageContext] = field(default_factory=dict)
    review: Review = field(init=False)
    stand_ins: StandIns = field(default_factory=StandIns)
    """The finished calculators of the pages; the adapter puts them in when a page is written."""
    theme: str = ""
    """The site generator's theme, whose licence the site carries."""
    address: str = ""
    """The address the site is made for; empty when it has none."""
    paper_marks: dict[str, Html] = field(default_factory=dict)
    """What pages carry on paper, by their address; fills up while pages are rendered."""
    _generated: tuple[str, dict[str, str]] = ("", {})
    _imported: str = ""
    _bundle: tuple[object, Bundle] | None = None
    _fronts: dict[str, ReadFront] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._docs = self.places.shown(self.places.docs).removesuffix(".")
        self.evaluations = EvaluationCache(kept=self.outcomes)

    def load(self) -> None:
        """Read calculators and data book afresh; evaluated results that still hold are kept."""
        self.faults = Faults()
        self.pages = {}
        self.stand_ins = StandIns()
        self.__dict__.pop("titles", None)
        self.paper_marks = {}
        self._load_collection()
        self.book = load_databook(self.places.databook, self.faults, self.places.project)
        self.evaluations.keep_for(self.digest, build_day())
        rests_on = (self.digest, folder_digest(self.places.databook))
        self.kept_pages.begin(self.places.calculators, rests_on)
        ledger = load_ledger(self.places.ledger, self.places.shown(self.places.ledger), self.faults)
        self.review = Review(
            self.places.docs,
            SignOffs(ledger, Archive(self.places.archive)),
            self.collection,
            self.book,
            self.evaluations,
            self.stand_ins,
        )

    def _load_collection(self) -> None:
        """Import the calculators afresh, unless nothing has changed since that went well."""
        before = fingerprint_of(self.places.calculators)
        if before != self._imported:
            self.answers.begin(self.places.calculators)
            self.collection = load_collection(self.places.calculators, self.faults)
            self.digest = self.collection.fingerprint()
            steady = before == self.digest
            self._imported = before if steady and not len(self.faults) else ""
            self.outcomes.keep_for(self.collection, steady=steady)

    def keep(self) -> None:
        """Keep for the next build what this one has worked out."""
        self.outcomes.save()
        self.answers.save()
        self.kept_pages.tidy()

    def know_pages(self, texts: Mapping[str, str]) -> None:
        """Take note of every page by source path, for links from one procedure to the next."""
        self._fronts = {uri: self._read_front(uri, text) for uri, text in texts.items()}
        entries = [page_entry(uri, text, self._fronts[uri].front) for uri, text in texts.items()]
        self.index = PageIndex.of(entries)

    def context(self, uri: str, source: str, reference_url: Callable[[str], str]) -> PageContext:
        """The context in which the page with the source path ``uri`` is rendered.

        ``source`` is the whole text of its file, front matter included. ``reference_url``
        gives the address of a calculator's reference page as seen from this page.
        """
        page = PageContext(
            book=self.book,
            collection=self.collection,
            faults=self.faults,
            file=self._shown(uri),
            source=source,
            uri=uri,
            evaluations=self.evaluations,
            pages=self.index,
            reference_url=reference_url,
            stand_ins=self.stand_ins,
            read=self._read_front(uri, source),
        )
        self.pages[uri] = page
        self.evaluations.requests.clear()
        self.index.looked_up.clear()
        return page

    def _read_front(self, uri: str, text: str) -> ReadFront:
        known = self._fronts.get(uri)
        return known if known and known.text == text else ReadFront.of(text, self._shown(uri))

    def _shown(self, uri: str) -> str:
        return f"{self._docs}/{uri}" if self._docs else uri

    def kept(self, uri: str, name: str) -> tuple[str, dict[str, Any]] | None:
        """The HTML of a page that an earlier build has converted, and what the adapter gave
        along; None when it has to be converted. ``name`` is that of ``KeptPages.name``."""
        found = self.kept_pages.get(name)
        if found is None or found[0]["day"] not in ("", self.evaluations.today):
            return None
        page, parts = found
        if not self.index.still_finds(page["looked_up"]):
            return None
        take_plain(self.pages[uri], page["context"])
        self.stand_ins.parts |= parts
        for calculator, request in page["requests"]:
            self.outcomes.still_wanted(calculator, request)
        return page["html"], page["adapter"]

    def converted(self, uri: str, html: str, name: str, adapter: Mapping[str, Any]) -> str:
        """The HTML of a page as Markdown left it, looked over; kept under ``name`` unless that
        is empty or a fault was found. ``adapter`` is plain data that comes back from ``kept``."""
        page = self.pages[uri]
        html = finish_page(html, page)
        if name and not len(self.faults):
            requests = self.evaluations.requests
            record = {
                "day": self.evaluations.today if any(requests.values()) else "",
                "html": html,
                "context": as_plain(page),
                "requests": list(requests),
                "looked_up": [[*asked, found] for asked, found in self.index.looked_up.items()],
                "adapter": adapter,
            }
            self.kept_pages.put(name, record, self.stand_ins.named_on(html))
        return html

    def finish(
        self, uri: str, html: str, url: str, link: Callable[[str], str] = lambda uri: ""
    ) -> str:
        """The HTML of a converted page with the mark of its sign-off.

        ``url`` is the address of the page below the site's root, ``link`` gives the address of
        another as seen from it. A calculator's page follows it, a table is signed like a page of
        words; pages that are made from the calculators as a whole carry no mark.
        """
        page = self.pages[uri]
        titles = self.titles
        if uri in self._generated[1] and uri not in titles:
            return with_jobs(html, uri, "", None, link)
        follows = uri in titles and not uri.startswith(f"{TABLES_FOLDER}/")
        html = self.review.marked(html, page, url, follows=follows)
        title, revision = self.review.revision(uri)
        if revision is not None and page.front.is_procedure:
            mark = self.paper_marks[url] = paper_mark(self.address, url, revision.page)
            html = with_paper_mark(html, mark and self.stand_ins.put(mark))
        return with_jobs(html, uri, title, revision, link)

    def hand_over(self, path: Path) -> None:
        """Write what the pages rest on to a file, for the command line to read."""
        path.write_text(json.dumps(self.review.basis.as_json()), "utf-8")

    def generated_pages(self) -> dict[str, str]:
        """Reference pages as Markdown, by source path; made anew only when they can differ."""
        key = f"{self.digest} {self.book.digest()}"
        if self._generated[0] != key:
            name = self.kept_pages.name("generated") if self._imported else ""
            pages = self._kept_reference(name) or self._reference(name)
            pages[OVERVIEW_URI] = OVERVIEW
            pages[JOBS_URI] = jobs_page(self.book.scopes())
            pages[SHEET_URI] = sheet_page()
            pages[LICENCES_URI] = licences_page(notices(self.theme))
            self._generated = (key, pages)
        return self._generated[1]

    def _reference(self, name: str) -> dict[str, str]:
        """Pages made from calculators, tables and data book; kept under ``name`` unless that is
        empty or a fault was found."""
        self.evaluations.requests.clear()
        calculators = list(self.collection.calculators.values())
        tables = list(self.collection.tables.values())
        pages = {INDEX_URI: index_page(calculators)}
        for item in calculators:
            pages[reference_uri(item.name)] = reference_page(item, self.evaluations)
        if tables:
            pages[TABLES_URI] = tables_index(tables)
            pages |= {table_uri(item.name): table_page(item) for item in tables}
        pages[SOURCES_URI] = sources_page(calculators, self.book, tables)
        if name and not len(self.faults):
            requests = self.evaluations.requests
            day = self.evaluations.today if any(requests.values()) else ""
            record = {"day": day, "pages": pages, "requests": list(requests)}
            self.kept_pages.put(name, record, {})
        return pages

    def _kept_reference(self, name: str) -> dict[str, str] | None:
        """Those pages as an earlier build made them; None when they have to be made."""
        found = self.kept_pages.get(name) if name else None
        if found is None or found[0]["day"] not in ("", self.evaluations.today):
            return None
        for calculator, request in found[0]["requests"]:
            self.outcomes.still_wanted(calculator, request)
        pages: dict[str, str] = found[0]["pages"]
        return pages

    @property
    def plain_files(self) -> dict[str, str]:
        """Files of the site that are no pages, by their address below its root."""
        return {RECORD_FORM_URI: SCHEMA_TEXT}

    def engine_index(self, address: Callable[[str], str]) -> str:
        """JSON for the search: for which engines a procedure, and a section of it, holds.

        Keys are addresses below the site's root, with ``#anchor`` for a section; values are
        the engines, each as one word, with blanks between. ``address`` gives a page's.
        """
        found: dict[str, str] = {}
        for uri, page in sorted(self.pages.items()):
            if page.front.is_procedure:
                found[address(uri)] = " ".join(scope.key for scope in page.scopes)
            found |= {f"{address(uri)}#{anchor}": keys for anchor, keys in page.sections.items()}
        return json.dumps(found, ensure_ascii=False, separators=(",", ":"))

    def found_files(self, address: Callable[[str], str]) -> dict[str, str]:
        """Files for scripts that are known only when every page is, by their address below the
        site's root. ``address`` gives a page's."""
        return {
            "search/engines.json": self.engine_index(address),
            CODES_URI: paper_codes(self.paper_marks),
        }

    @cached_property
    def titles(self) -> dict[str, str]:
        """Titles of the generated pages of calculators and tables, by source path."""
        named = {
            reference_uri(item.name): item.title for item in self.collection.calculators.values()
        }
        return named | {
            table_uri(item.name): item.title for item in self.collection.tables.values()
        }

    def used_modules(self) -> tuple[str, ...]:
        """The calculator modules that pages rendered so far really use."""
        return tuple(sorted({name for page in self.pages.values() for name in page.used.modules}))

    def bundle(self) -> Bundle:
        """Pack what the pages use. Raises RuntimeUnavailable when there is no runtime.

        A preview packs again only when calculators or scripts have changed.
        """
        key = self.digest, self.used_modules(), scripts_stamp()
        if self._bundle is None or self._bundle[0] != key or not self._bundle[1].is_there():
            self._bundle = key, make_bundle(self.collection, self.used_modules())
        return self._bundle[1]


def folder_digest(folder: Path) -> str:
    """SHA-256 over every file of a folder."""
    total = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            name = path.relative_to(folder).as_posix()
            total.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return total.hexdigest()


def build_day() -> str:
    """The day of the build (year-month-day); ``SOURCE_DATE_EPOCH`` sets it, as it does for other
    builds that are to be repeatable."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    day = datetime.fromtimestamp(int(epoch), UTC) if epoch.isdigit() else datetime.now()
    return day.date().isoformat()


def expanded(nav: object, generated: Iterable[str], titles: Mapping[str, str]) -> object:
    """A navigation in which ``folder/*`` stands for the generated pages of that folder."""
    if isinstance(nav, list):
        return [expanded(item, generated, titles) for item in nav]
    if isinstance(nav, dict):
        return {title: expanded(item, generated, titles) for title, item in nav.items()}
    if isinstance(nav, str) and nav.endswith("/*"):
        folder = nav.removesuffix("*")
        pages = [uri for uri in generated if uri.startswith(folder)]
        return [uri if uri.endswith("/index.md") else {titles[uri]: uri} for uri in pages]
    return nav


__all__ = [
    "OVERVIEW_URI",
    "Handbook",
    "Places",
    "RuntimeUnavailable",
    "expanded",
]
