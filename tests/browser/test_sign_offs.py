"""The overview of sign-offs: its filters, and what is overdue on the reader's day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

OVERVIEW = "reference/sign-off/"
ROWS = """[...document.querySelectorAll("wm-sign-offs tbody tr")].map((row) => ({
  state: row.dataset.state, kind: row.dataset.kind, due: row.dataset.due ?? "",
  shown: row.checkVisibility(), said: row.textContent }))"""

Row = dict[str, Any]


def shows(page: Page, rule: Callable[[Row], bool]) -> None:
    """Those rows are shown that the rule wants, and their number is told."""
    rows = page.evaluate(ROWS)
    assert [row["shown"] for row in rows] == [rule(row) for row in rows]
    wanted = sum(map(rule, rows))
    expect(page.locator(".wm-shown")).to_have_text(f"{wanted} of {len(rows)} pages shown.")


def test_each_filter_leaves_out_what_it_says(page, base):
    """By state, by kind, and together; what is left out comes back."""
    page.goto(base + OVERVIEW)
    shows(page, lambda row: True)
    page.get_by_label("Calculators too").uncheck()
    shows(page, lambda row: row["kind"] != "calculator")
    for label, state in (("Changed", "changed"), ("Not signed", "unsigned"), ("Signed", "signed")):
        page.get_by_label(label, exact=True).uncheck()
        shows(page, lambda row: row["kind"] != "calculator" and row["state"] != state)  # noqa: B023
        page.get_by_label(label, exact=True).check()
    page.get_by_label("Calculators too").check()
    shows(page, lambda row: True)


def test_what_is_due_and_overdue_goes_by_the_readers_day(page, base):
    """Due within thirty days, the thirtieth included; overdue from the day after."""
    page.goto(base + OVERVIEW)
    first = min(row["due"] for row in page.evaluate(ROWS) if row["due"])
    due = datetime.fromisoformat(first).replace(hour=12, tzinfo=UTC)
    for days, seen, overdue in ((31, False, False), (30, True, False), (0, True, False),
                                (-1, True, True)):  # fmt: skip
        page.clock.set_fixed_time(due - timedelta(days=days))
        page.reload()
        page.get_by_label("Only what is due within 30 days").check()
        last = (due - timedelta(days=days - 30)).date().isoformat()
        shows(page, lambda row: row["due"] != "" and row["due"] <= last)  # noqa: B023
        rows = [row for row in page.evaluate(ROWS) if row["due"] == first]
        assert {row["shown"] for row in rows} == {seen}
        assert {"Overdue." in row["said"] for row in rows} == {overdue}
