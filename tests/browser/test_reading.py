"""Readings in the page: judged by Python at once, kept through a reload."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

PAGE = "procedures/readings/?engine=T2/dry"
SECOND = "wm-reading:visible"


def verdicts(page) -> list[str]:
    """What stands below each field of the reading that is shown."""
    reading = page.locator(SECOND).first
    return [said.inner_text() for said in reading.locator(".wm-repeat-said").all()]


def fill(page, *texts: str) -> None:
    """Write into the fields of the first reading."""
    fields = page.locator(SECOND).first.locator("input")
    for place, text in enumerate(texts):
        fields.nth(place).fill(text)


def test_each_engine_has_its_limits(page, trial):
    """Without a choice both are there, labelled; with one, its own."""
    page.goto(trial + "procedures/readings/")
    labels = page.locator("wm-reading .wm-whose")
    assert [label.inner_text() for label in labels.all()] == ["T1", "T2"]
    page.goto(trial + PAGE)
    accepted = page.locator(SECOND).first.locator(".wm-accepts")
    assert accepted.inner_text() == "Accept 0.10 … 0.25\u202fmm"


def test_readings_are_judged_as_they_are_typed_and_kept(page, trial):
    """Words for each repeat and for all; what to do comes forward; a reload loses nothing."""
    page.goto(trial + PAGE)
    fill(page, "0.18", "240 µm", "0,3")
    reading = page.locator(SECOND).first
    reading.locator(".wm-verdict", has_text="Out of limits. Spread 0.12\u202fmm.").wait_for(
        timeout=60_000
    )
    assert verdicts(page) == [
        "In: 0.070\u202fmm left to the upper limit.",
        "In, but near the upper limit: 0.010\u202fmm left.",
        "Out: 0.050\u202fmm over the limit.",
    ]
    assert reading.get_attribute("data-verdict") == "out"
    page.reload()
    reading = page.locator(SECOND).first
    assert [field.input_value() for field in reading.locator("input").all()] == [
        "0.18", "240 µm", "0,3",
    ]  # fmt: skip
    reading.locator(".wm-verdict", has_text="Out of limits").wait_for(timeout=60_000)
    fill(page, "0.18", "0.17", "much")
    reading.locator("[aria-invalid]").wait_for()
    assert reading.get_attribute("data-verdict") == "in"


def test_a_reading_follows_the_unit_switch(page, trial):
    """Limits and words in inches."""
    page.goto(trial + PAGE)
    fill(page, "0.30")
    page.locator(".wm-repeat-said", has_text="mm over").wait_for(timeout=60_000)
    page.get_by_role("button", name="US").click()
    page.locator(".wm-repeat-said", has_text="0.0020\u202fin over").wait_for()
    assert "in" in page.locator(SECOND).first.locator(".wm-accepts").inner_text()


def test_a_reading_without_limits_is_written_down(page, trial):
    """Nothing to judge, and it says so."""
    page.goto(trial + PAGE)
    page.get_by_label("Temperature of the bench").fill("16 °C")
    said = page.locator(".wm-repeat-said", has_text="no limit")
    said.wait_for(timeout=60_000)
    assert page.locator("wm-reading:visible .wm-verdict").last.inner_text() == "Read."


def test_a_reading_feeds_a_calculator(page, trial):
    """Once all repeats are there, their mean is in the entry, as if typed."""
    page.goto(trial + PAGE)
    entry = page.locator("wm-calculator:visible [data-entry=play] input")
    before = entry.input_value()
    fill(page, "0.18", "240 µm")
    page.locator(".wm-repeat-said", has_text="near the upper").wait_for(timeout=60_000)
    assert entry.input_value() == before
    fill(page, "0.18", "240 µm", "0,12 mm")
    page.wait_for_function(
        "document.querySelector('[data-wm-one-engine] .wm-placed:not([data-wm-off])"
        " [data-entry=play] input').value === '0.18 mm'"
    )
