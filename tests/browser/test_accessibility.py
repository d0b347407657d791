"""axe-core finds nothing to object to on the jobs page and the sheet with a job in them."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import ROOT
from tests.browser.jobs_at_work import begin

pytestmark = pytest.mark.browser

AXE = (ROOT / "node_modules/axe-core/axe.min.js").read_text("utf-8")
RUN = """(rules) => axe.run(".md-content", { resultTypes: ["violations"], ...rules })
  .then(({ violations }) => violations.map(({ id, nodes }) =>
    [id, nodes.slice(0, 3).map(({ html }) => html.slice(0, 200))]))"""
RULES = {"light": {}, "dark": {"runOnly": ["color-contrast"]}}
"""In the dark nothing but colours is another."""


def objections(page: Page, scheme: str) -> list:
    """What axe-core finds in the content of the page that is open."""
    page.evaluate(AXE)
    return page.evaluate(RUN, RULES[scheme])


@pytest.mark.parametrize("scheme", RULES)
def test_jobs_and_their_sheet_have_no_accessibility_violation(page, base, scheme):
    """With a job in them, a tick and the warning that asks before deletion."""
    page.emulate_media(color_scheme=scheme)
    begin(page, base, "26-050", "LG2/canal")
    page.goto(f"{base}procedures/receiving-and-identification/")
    expect(page.locator(".wm-job-line")).to_contain_text("26-050")
    page.get_by_label("Step 1 done").check()
    expect(page.locator(".wm-job-next")).to_be_visible()
    assert objections(page, scheme) == []
    page.goto(f"{base}job-sheet/")
    expect(page.locator(".wm-sheet-table").first).to_be_visible()
    assert objections(page, scheme) == []
    page.goto(f"{base}jobs/")
    page.get_by_role("button", name="delete").click()
    assert objections(page, scheme) == []
