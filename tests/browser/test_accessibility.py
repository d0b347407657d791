"""axe-core finds nothing to object to: on any page that is built, nor with a job in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import ROOT
from tests.browser.jobs_at_work import begin

pytestmark = pytest.mark.browser

AXE = (ROOT / "node_modules/axe-core/axe.min.js").read_text("utf-8")
RUN = """(rules) => axe.run(
    { include: [".md-content"], exclude: ["tbody tr:nth-child(n + 9)"] },
    { resultTypes: ["violations"], ...rules })
  .then(({ violations }) => violations.map(({ id, nodes }) =>
    [id, nodes.slice(0, 3).map(({ html }) => html.slice(0, 200))]))"""
RULES = {"light": {}, "dark": {"runOnly": ["color-contrast"]}}
"""In the dark nothing but colours is another. Of a long table the first rows stand for all."""


def objections(page: Page, scheme: str) -> list:
    """What axe-core finds in the content of the page that is open."""
    page.evaluate(AXE)
    return page.evaluate(RUN, RULES[scheme])


@pytest.mark.parametrize("scheme", RULES)
@pytest.mark.parametrize("part", ["procedures", "calculators", "tables", "rest"])
def test_no_page_has_an_accessibility_violation(page, base, site_folder, part, scheme):
    """Every page that is built, before anything is worked out, in either colour scheme."""
    page.emulate_media(color_scheme=scheme)
    page.route(re.compile("/image-"), lambda route: None)  # the calculators stand, and wait
    pages = [uri for uri in addresses(site_folder) if part_of(uri) == part]
    assert pages
    found = {}
    for uri in pages:
        page.goto(base + uri, wait_until="domcontentloaded")
        found[uri] = objections(page, scheme)
    assert {uri: each for uri, each in found.items() if each} == {}


def addresses(site: Path) -> list[str]:
    """The pages of a built handbook, by their addresses below its root."""
    folders = (path.parent.relative_to(site) for path in site.rglob("index.html"))
    return sorted("" if folder == Path() else f"{folder.as_posix()}/" for folder in folders)


def part_of(uri: str) -> str:
    """Which of the test's parts a page belongs to."""
    kinds = ("procedures", "calculators", "tables")
    return next((kind for kind in kinds if f"{kind}/" in uri), "rest")


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
