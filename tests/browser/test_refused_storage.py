"""A database that refuses: what is entered stays in the tab and goes into the job later."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import until
from tests.browser.jobs_at_work import ENGINES, PATIENCE, READINGS, begin, kept, record

pytestmark = pytest.mark.browser

BLOCKED = """indexedDB.open = () => {
  throw new DOMException("storage is switched off", "SecurityError");
};"""


def test_storage_that_refuses_is_told(page, trial):
    """With a job open, and without: entries stay in the tab, and the page says so."""
    begin(page, trial, "lost")
    page.add_init_script(BLOCKED)
    page.goto(trial + ENGINES)
    expect(page.locator(".wm-job-warns")).to_contain_text("no access to its jobs")
    page.get_by_label("Step 1 done").check()
    expect(page.locator(".wm-job-warns")).to_contain_text("It stays in this tab")
    page.reload()
    expect(page.get_by_label("Step 1 done")).to_be_checked()
    page.goto(trial + "jobs/")
    expect(page.locator(".wm-jobs-said")).to_contain_text("storage is switched off")
    page.get_by_label("Job number").fill("new")
    page.locator(".wm-job-new select").select_option("T2/dry")
    page.get_by_role("button", name="Open the job").click()
    expect(page.locator(".wm-jobs-said")).to_contain_text("could not be kept")


WAITING = """Object.keys(sessionStorage).filter((key) => key.includes("unkept"))
  .map((key) => sessionStorage.getItem(key))"""
# As a browser does it on a full disk: what is written breaks the transaction off.
FULL = """const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (value) {
  const asked = put.call(this, value);
  Object.defineProperty(this.transaction, "error", {
    value: new DOMException("no room", "QuotaExceededError"),
  });
  this.transaction.abort();
  return asked;
};"""
REFUSALS = {
    "full": (FULL, "the storage of this device is full"),
    "blocked": (BLOCKED, "the browser refuses to keep it"),
}


@pytest.mark.parametrize("why", REFUSALS)
def test_what_is_taken_away_meanwhile_stays_away(page, trial, why):
    """A tick and a reading that are cleared while nothing can be kept do not come back: not by
    a reload, not when the storage takes things again; what was ticked meanwhile is in the job."""
    begin(page, trial, "cleared")
    refusal, told = REFUSALS[why]
    page.add_init_script(f"if (sessionStorage.getItem('refuse')) {{ {refusal} }}")
    page.goto(trial + ENGINES)
    page.get_by_label("Step 1 done").check()
    page.goto(trial + READINGS)
    field = page.locator("wm-reading:visible input").first
    field.fill("0.18")
    page.locator(".wm-verdict", has_text="limits").first.wait_for(timeout=PATIENCE)
    kept(page)
    assert record(page)["pages"]["procedures/readings.md"]["readings"] != {}

    page.evaluate("sessionStorage.setItem('refuse', 'yes')")
    page.reload()
    if why == "blocked":
        field.fill("0.2")  # what is in the job cannot be seen
    expect(field).not_to_have_value("")
    field.fill("")
    expect(page.locator(".wm-job-warns", has_text=told)).to_be_visible()
    page.reload()
    expect(page.locator(".wm-job-line")).not_to_be_empty()
    expect(field).to_have_value("")
    page.goto(trial + ENGINES)
    first, second = (page.locator("input.wm-step-tick:visible").nth(place) for place in (0, 1))
    if why == "blocked":
        first.check()
    expect(first).to_be_checked()
    first.uncheck()
    second.check()
    until(page, f"{WAITING}.some((text) => text.includes('step-3'))")
    page.reload()
    expect(second).to_be_checked()
    expect(first).not_to_be_checked()

    page.evaluate("sessionStorage.removeItem('refuse')")
    page.goto(trial + ENGINES)
    expect(page.locator(".wm-job-line")).to_contain_text("Job cleared")
    expect(second).to_be_checked()
    expect(first).not_to_be_checked()
    kept(page)
    pages = record(page)["pages"]
    assert list(pages["procedures/two-engines.md"]["ticks"]) == ["step-3"]
    assert pages["procedures/readings.md"]["readings"] == {}
    assert page.evaluate(WAITING) == []
