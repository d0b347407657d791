"""A calculator without end: it is stopped, said where, and nothing else suffers."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import live, until
from tests.browser.jobs_at_work import begin, kept, record

pytestmark = pytest.mark.browser

PAGE, FILE = "procedures/endless/", "procedures/endless.md"
SEARCH, FED, OTHER = "#wm-endless-search", "#wm-pin-shear", "#wm-other-pin"
TOLD = "does not come to an end"
STOPS_WITHIN = 60_000


def marked(page) -> list[str]:
    """The fields that are marked as wrong."""
    return page.evaluate(
        "[...document.querySelectorAll('[aria-invalid=true]')].map((field) => field.id)"
    )


def is_stopped(page) -> None:
    """The entry that does it is marked, and no other; results say that they are old."""
    wrong = page.locator(f"{SEARCH}-force-error")
    expect(wrong).to_contain_text(TOLD, timeout=STOPS_WITHIN)
    assert marked(page) == ["wm-endless-search-force"]
    stale = page.locator(f"{SEARCH} .wm-stale")
    expect(stale).to_contain_text("was stopped")
    expect(stale).to_contain_text("belong to the last entries that could be read")


def test_the_entry_is_marked_and_everything_else_is_intact(page, trial):
    """Figures, what it feeds, another calculator, a reading, ticks and the job; by a reload too."""
    begin(page, trial, "endless")
    page.goto(trial + PAGE)
    live(page)
    page.locator("input.wm-step-tick:visible").first.check()
    page.locator(f"{FED}-diameter").fill("10 mm")
    page.locator(f"{SEARCH}-spare").fill("20 N")
    found = page.locator(f'{SEARCH} [data-result="found"] .wm-figure')
    expect(found).to_have_text("520\u202fN")
    fed = page.locator(f'{FED} [data-result="shear"] .wm-figure')
    expect(fed).to_have_text("6.62\u202fMPa")  # 520 N over π/4 (10 mm)², by hand

    page.locator(f"{SEARCH}-force").fill("10 kN")
    is_stopped(page)
    expect(found).to_have_text("520\u202fN")
    expect(fed).to_have_text("6.62\u202fMPa")
    expect(page.locator(f"{FED}.wm-old")).to_have_count(1)
    live(page)  # a new worker has taken over
    page.locator(f"{OTHER}-diameter").fill("10 mm")
    expect(page.locator(f'{OTHER} [data-result="shear"] .wm-figure')).to_have_text("6.37\u202fMPa")
    reading = page.locator("wm-reading:visible input").first
    reading.fill("0.18")
    page.locator(".wm-verdict", has_text="limits").first.wait_for()
    kept(page)
    entered = record(page)["pages"][FILE]
    assert len(entered["ticks"]) == len(entered["readings"]) == 1
    endless = entered["calculators"]["wm-endless-search"]
    assert endless["typed"] == {"force": "10 kN", "spare": "20 N"}
    assert endless["outcome"] is None

    page.reload()
    is_stopped(page)
    expect(page.locator("input.wm-step-tick:visible").first).to_be_checked()
    expect(reading).to_have_value("0.18")

    page.locator(f"{SEARCH}-force").fill("600")
    expect(found).to_have_text("620\u202fN", timeout=STOPS_WITHIN)
    expect(fed).to_have_text("7.89\u202fMPa")
    assert marked(page) == []
    until(page, "document.querySelectorAll('.wm-old').length === 0")
