"""Tools of the shop in the widget: offered by kind, and what the chosen one settles."""

from __future__ import annotations

import json
import re

import pytest

from tests.page.builders import data_book, render


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The invented data book: two multipliers, one of them overdue since January 2026."""
    return data_book(tmp_path_factory.mktemp("databook"))


def _page(book, head: str, today: str = "2026-11-25") -> str:
    source = f"/// calculator | geared\n{head}///\n\n{{geared.total | tool: gear}}\n"
    page = render(source, book, today=today)
    assert page.faults == []
    return page.html.replace("\u202f", " ")


def _entry(html: str, name: str) -> str:
    match = re.search(rf'<div class="wm-entry[^>]*data-entry="{name}".*?</div></div>', html)
    assert match is not None
    return match[0]


def test_the_chosen_tool_settles_its_entry(book):
    """10 mm times 4: the figure in the field, the tool under it, the page's own kept for later;
    a value in a sentence takes the same tool."""
    html = _page(book, "tool: gear\n")
    assert html.count("40.00 mm") == 1  # in the sentence; the widget sets the unit apart
    entry = _entry(html, "ratio")
    assert "wm-by-tool" in entry
    assert 'data-text="5"' in entry
    assert 'value="4"' in entry
    assert '<p class="wm-by">from geared multiplier</p>' in html
    assert "4 (3.9 … 4.1)" in html
    assert "Certificate up to 2027-09-13" in html


def test_the_tools_of_the_kind_are_offered(book):
    """Both multipliers, no bar, and no list where the shop has none of the kind."""
    html = _page(book, "")
    assert re.findall(r'data-place="(\w+)"', html) == ["tool"]
    options = re.findall(r'<option value="(\w*)"( selected)?>[^<]*multiplier|below', html)
    assert len(options) == 3
    (records,) = re.findall(r'data-tools="([^"]*)"', html)
    tools = json.loads(records.replace("&quot;", '"'))
    assert tools["small"] == {
        "name": "small", "title": "small multiplier", "kind": "torque multiplier",
        "values": {"ratio": "3"}, "due": "2026-01-31",
    }  # fmt: skip
    assert "wm-by-tool" not in html


@pytest.mark.parametrize(("today", "overdue"), [("2026-01-31", False), ("2026-02-01", True)])
def test_an_overdue_certificate_is_told_by_the_day_of_the_build(book, today, overdue):
    """The finding is in the page before any script."""
    assert ('data-code="tool-overdue"' in _page(book, "tool: small\n", today)) is overdue


def test_values_of_a_chosen_tool_are_used_by_the_page(book):
    """For telling what a review covered."""
    page = render("/// calculator | geared\ntool: gear\n///\n", book)
    assert "tools.gear.ratio" in page.context.used.values
