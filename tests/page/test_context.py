"""A page knows its front matter, its neighbours, and what it rests on."""

import pytest

from tests.page.builders import SHELF, context_of, data_book, render, stack, wrench
from witnessmark.faults import Faults
from witnessmark.page import EvaluationCache, PageEntry, PageIndex, page_entry, read_front_matter
from witnessmark.page.line_map import line_map


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The invented data book."""
    return data_book(tmp_path_factory.mktemp("databook"))


PAGE = """\
---
title: Page
machines: [LG2, LG3]
tools: [bar]
---
{wrench.wrench | target: nut.torque}

/// calculator | stack
///

/// accept
- what: Width
  limit: nut.width
///
"""


def test_a_page_tells_what_it_rests_on(book):
    """Values, calculators and their modules: for the bundle and for a review."""
    used = render(PAGE, book).context.used

    assert set(used.values) == {"tools.bar.title", "nut.torque", "nut.width"}
    assert used.calculators == {"wrench", "stack"}
    assert used.modules == {"calculators.wrench", "calculators.stack"}


def test_the_scopes_of_a_page_are_its_machines_in_their_variants(book):
    """A page without machines covers all of them."""
    procedure = context_of("---\nmachines: [LG3]\nvariants: [canal]\n---\n", book)

    assert [str(scope) for scope in procedure.scopes] == ["LG3 canal"]
    assert len(context_of("Text.", book).scopes) == 4


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("Text", 1),
        ("---\ntitle: A\n---\nText", 4),
        ("---\ntitle: A\n---\n\n\nText", 6),
        ("---\n---\nText", 3),
        ("---\ntitle: A\n...\nText", 4),
        ("---\n\nText under a rule", 1),
    ],
)
def test_the_text_begins_where_the_site_generator_lets_it_begin(text, line):
    """The head and the empty lines behind it are cut off."""
    faults = Faults()

    assert read_front_matter(text, "page.md", faults).body_line == line
    assert list(faults) == []


def test_the_cache_works_out_each_case_once(monkeypatch):
    """The same entries in the same unit system are one evaluation."""
    calls = []
    monkeypatch.setattr(
        "witnessmark.page.evaluations.evaluate",
        lambda calculator, entries, units, **_: calls.append(units) or {"complete": True},
    )
    cache = EvaluationCache()

    for units in ("si", "us", "si"):
        cache.outcome(wrench, {"target": "400 N·m"}, units)
    cache.outcome(stack, {}, "si")

    assert calls == ["si", "us", "si"]


def test_the_cache_lasts_as_long_as_the_calculators_are_the_same(monkeypatch):
    """A changed calculator is worked out anew at the next rebuild."""
    calls = []
    monkeypatch.setattr(
        "witnessmark.page.evaluations.evaluate",
        lambda *_, **__: calls.append(1) or {"complete": True},
    )
    cache = EvaluationCache()
    for digest in ("a", "a", "b"):
        cache.keep_for(digest, "2026-11-25")
        cache.outcome(SHELF.calculators["wrench"], {})

    assert len(calls) == 2


INDEX = PageIndex.of(
    [
        PageEntry("procedures/runout.md", "Runout"),
        PageEntry("procedures/index.md", "Procedures"),
        PageEntry("index.md", "Home"),
        PageEntry("reference/units.md", "Units"),
    ]
)


@pytest.mark.parametrize(
    ("name", "found", "link"),
    [
        ("runout", "procedures/runout.md", "runout.md"),
        ("runout.md", "procedures/runout.md", "runout.md"),
        ("procedures/runout", "procedures/runout.md", "runout.md"),
        ("index", "procedures/index.md", "index.md"),
        ("../index", "index.md", "../index.md"),
        ("units", "reference/units.md", "../reference/units.md"),
    ],
)
def test_a_page_is_found_beside_the_one_that_names_it_first(name, found, link):
    """Then by its whole path, then by a name that only one page has."""
    page = INDEX.find(name, "procedures/page.md")

    assert page is not None
    assert page.uri == found
    assert INDEX.link(page, "procedures/page.md") == link


def test_a_name_that_two_other_pages_share_is_not_guessed():
    """Neither of two pages is meant more than the other."""
    twins = PageIndex.of([PageEntry("a/seal.md", "One"), PageEntry("b/seal.md", "Other")])

    assert twins.find("seal", "page.md") is None
    assert twins.find("seal", "b/page.md") == twins.pages["b/seal"]


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("---\ntitle: From the head\n---\n# Heading\n", "From the head"),
        ("Text.\n\n# Heading #\n", "Heading"),
        ("Text.\n", "runout"),
    ],
)
def test_the_title_of_a_page(text, title):
    """The front matter's, else the first heading, else the file's name."""
    assert page_entry("procedures/runout.md", text).title == title


def test_lines_that_were_put_in_count_as_the_line_they_replace():
    """An include of two lines on line 3 moves nothing below it."""
    source = "---\nt: a\n---\nA\n--8<--\nB\n"
    line_of = line_map(["A", "x", "y", "z", "B", ""], source, 4)

    assert [line_of(index) for index in range(6)] == [4, 5, 5, 5, 6, 7]
