"""The mark of a page says in words, shape and for the ear where the page stands."""

from __future__ import annotations

import re

import pytest

from witnessmark.page import overview_html, with_mark
from witnessmark.signoff import Change, SignOff, Standing

FIRST = SignOff("2025-09-01", "lead fitter", "Words & maths", "first sign-off")
LATEST = SignOff("2025-11-25", "reviewer", "After trial", "nut.torque: 480 → 500 N·m")
CHANGES = (Change("values", "nut.torque", "nut.torque: 500 → 510 N·m"),
           Change("values", "nut.width", "nut.width: 46 → 47 mm"),
           Change("maths", "lever", "A lever: code of calculators.lever"))  # fmt: skip
PAGES = {
    "signed": Standing("a.md", "A", "signed", LATEST, "2026-11-25", (), (FIRST,)),
    "changed": Standing("b.md", "B", "changed", LATEST, "2026-11-25", CHANGES, (FIRST,)),
    "unsigned": Standing("c.md", "C", "unsigned"),
}
PAGE = "<h1>Title</h1><p>Text</p>"


@pytest.mark.parametrize(
    ("state", "word", "aloud"),
    [
        ("signed", "Signed", "Witness mark in line: signed"),
        ("changed", "Changed since sign-off", "Witness mark broken: changed since sign-off"),
        ("unsigned", "Not signed", "No witness mark: not signed"),
    ],
)
def test_the_mark_stands_under_the_title(state, word, aloud):
    """Word, label for those who hear the page, and a drawing of its own for each state."""
    html = with_mark(PAGE, PAGES[state])
    assert html.index("</h1>") < html.index("<wm-sign-off") < html.index("<p>Text")
    assert f"<b>{word}</b>" in html
    assert f'role="img" aria-label="{aloud}"' in html


def test_the_three_drawings_differ():
    """One line across both blocks, two pieces out of line, none."""
    lines = {
        state: re.findall(r'wm-mark-line" d="([^"]*)"', with_mark(PAGE, page))
        for state, page in PAGES.items()
    }
    assert lines["signed"] == ["M6 12h20"]
    assert lines["changed"][0].count("M") == 2
    assert lines["unsigned"] == []


def test_a_changed_page_says_what():
    """Kinds in the line, each change behind it."""
    html = with_mark(PAGE, PAGES["changed"])
    assert "(values, maths)" in html
    assert "<li><b>Values: </b>nut.torque: 500 → 510 N·m</li>" in html


def test_who_when_and_what_is_told_and_escaped():
    """Role, day, note and history; texts are escaped."""
    html = with_mark(PAGE, PAGES["signed"])
    assert (
        'By the reviewer, <time datetime="2025-11-25">25 November 2025</time>: After trial.' in html
    )
    assert "History of this page: 2 sign-offs" in html
    assert "lead fitter: Words &amp; maths" in html
    assert "Changed: nut.torque: 480 → 500 N·m." in html
    assert "History" not in with_mark(PAGE, PAGES["unsigned"])


def test_a_page_without_a_title_has_its_mark_first():
    """The theme puts the title above the content then."""
    assert with_mark("<p>Text</p>", PAGES["signed"]).lstrip().startswith("<wm-sign-off")


def test_the_overview_has_a_row_a_page():
    """State, link and due date are there for the filters and for those without script."""
    html = overview_html(PAGES.values(), lambda uri: f"../{uri[0]}/")
    assert html.count("<tr data-state=") == 3
    assert '<tr data-state="changed" data-kind="page" data-due="2026-11-25">' in html
    assert '<a href="../c/">C</a>' in html
    assert "No page" in overview_html([], str)
