"""Reference tables in the browser: sorted by keyboard, switched in units, complete in print."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

THREADS = "reference/tables/metric-threads/"
HEAD = "thead th:nth-child({})"


def column_of(page, place: int) -> list[str]:
    """The cells of a column from the top, as they are read."""
    return page.locator(f"tbody tr > :nth-child({place})").all_inner_texts()


def test_sorting_by_keyboard(page, base, watch):
    """Enter on a head sorts upward, once more downward; one column at a time is marked."""
    page.goto(base + THREADS)
    page.wait_for_selector("table[data-live]")
    written = column_of(page, 1)
    page.focus(HEAD.format(6) + " button")
    page.keyboard.press("Enter")
    areas = [float(text) for text in column_of(page, 6)]
    assert areas == sorted(areas)
    assert page.get_attribute(HEAD.format(6), "aria-sort") == "ascending"
    page.keyboard.press("Enter")
    assert [float(text) for text in column_of(page, 6)] == areas[::-1]
    assert page.get_attribute(HEAD.format(6), "aria-sort") == "descending"
    page.focus(HEAD.format(1) + " button")
    page.keyboard.press("Space")
    assert page.locator("th[aria-sort]").count() == 1
    assert column_of(page, 1)[0] == "M5×0.8"
    assert sorted(column_of(page, 1)) == sorted(written)
    assert watch.troubles == []


def test_empty_cells_stay_at_the_end(page, base):
    """Where a class ends there is no load, whichever way the column is sorted."""
    page.goto(base + THREADS)
    page.wait_for_selector("table[data-live]")
    for _ in range(2):
        page.click(HEAD.format(9) + " button")
        loads = column_of(page, 9)
        assert loads.index("–") == len(loads) - loads.count("–")


def test_units_follow_the_switch(page, base):
    """Loads and areas are shown in US customary units too; order and rows stay."""
    page.goto(base + THREADS)
    page.wait_for_selector("table[data-live]")
    assert "kN" in page.inner_text(HEAD.format(9))
    page.click('wm-unit-switch button[value="us"]')
    assert "lbf" in page.inner_text(HEAD.format(9))
    assert column_of(page, 6)[4] == "0.0899"


def test_without_scripts_the_table_is_complete(chromium, base):
    """Heads are plain text and nothing is missing."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(base + THREADS)
    assert page.locator("thead button").count() == 0
    assert "M30×2" in column_of(page, 1)
    context.close()
