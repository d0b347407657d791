"""One job on one page in two tabs: what is entered in either is in both, and in the record."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import live, opened
from tests.browser.jobs_at_work import PATIENCE, READINGS, begin, kept, record
from tests.browser.test_chains import CHAIN, OTHER
from tests.browser.test_widget import field, figure

pytestmark = pytest.mark.browser

# The lever feeds the share, the share both shears (job of the second machine).
LEVER, SHARE, SHEAR, FIXED = OTHER


def two(page, trial, uri: str) -> tuple:
    """The page in two tabs of one job, both computing, every part unfolded."""
    begin(page, trial, "two tabs")
    other = opened(page.context)
    other.set_default_timeout(PATIENCE)
    tabs = (page, other)
    for tab in tabs:
        tab.goto(trial + uri)
        expect(tab.locator(".wm-job-line")).to_contain_text("two tabs")
        live(tab)
        tab.evaluate("document.querySelectorAll('details').forEach((part) => (part.open = true))")
    return tabs


def typed(tab) -> dict:
    """What the record has of each calculator's entries."""
    kept(tab)
    (entered,) = record(tab)["pages"].values()
    return {f"#{name}": each["typed"] for name, each in entered["calculators"].items()}


def lead(tab, ident: str) -> str:
    """What the record has of a calculator's first result."""
    (entered,) = record(tab)["pages"].values()
    return entered["calculators"][ident[1:]]["outcome"]["results"][0]["display"]


def shows(tab, place: str, start: str) -> None:
    """Wait until a text begins so."""
    expect(tab.locator(place).first).to_have_text(re.compile(f"^{start}"), timeout=PATIENCE)


def both_show(tabs, place: str, words: str) -> None:
    """Either tab shows the words."""
    for tab in tabs:
        shows(tab, place, words)


def test_what_feeds_does_not_take_back_what_it_feeds(page, trial):
    """The share is changed in one tab, then the lever that feeds it in the other: 960 N·m at 1 m
    press with three times 960 N, of which one pin of three has 960 N, by hand."""
    one, other = tabs = two(page, trial, CHAIN)
    field(one, "pins", SHARE).fill("3")
    shows(one, figure("share", SHARE), "0.250")
    field(other, "torque", LEVER).fill("960")
    both_show(tabs, figure("share", SHARE), "0.960")
    expect(field(other, "pins", SHARE)).to_have_value("3")
    one.wait_for_timeout(1000)
    assert typed(one)[SHARE] == {"pins": "3"}
    assert typed(one)[LEVER] == {"torque": "960 N·m"}
    assert lead(one, SHARE).startswith("0.960")


def test_entries_of_two_tabs_at_once(page, trial):
    """Nothing waits for anything: the feeding and the fed, and two that are no kin."""
    one, other = tabs = two(page, trial, CHAIN)
    field(one, "torque", LEVER).fill("960")
    field(other, "pins", SHARE).fill("3")
    field(one, "diameter", SHEAR).fill("12")
    field(other, "diameter", FIXED).fill("16")
    both_show(tabs, figure("share", SHARE), "0.960")
    # 960 N over 113.1 mm² and 201.1 mm².
    both_show(tabs, figure("shear", SHEAR), "8.49")
    both_show(tabs, figure("shear", FIXED), "4.77")
    one.wait_for_timeout(1000)
    assert typed(one) == {
        LEVER: {"torque": "960 N·m"}, SHARE: {"pins": "3"},
        SHEAR: {"diameter": "12 mm"}, FIXED: {"diameter": "16 mm"},
    }  # fmt: skip
    assert lead(one, SHARE).startswith("0.960")
    assert lead(one, SHEAR).startswith("8.49")
    assert lead(one, FIXED).startswith("4.77")


def test_back_to_the_figures_of_the_page_in_both(page, trial):
    """What is cleared in one tab does not come back out of the other."""
    one, other = tabs = two(page, trial, CHAIN)
    field(one, "pins", SHARE).fill("3")
    both_show(tabs, figure("share", SHARE), "0.250")
    other.locator(f"{SHARE} .wm-back").click()
    both_show(tabs, figure("share", SHARE), "0.375")
    expect(one.locator(f"{SHARE} .wm-back")).to_be_hidden()
    field(one, "torque", LEVER).fill("960")
    both_show(tabs, figure("share", SHARE), "1.44")
    one.wait_for_timeout(1000)
    assert typed(one)[SHARE] == {}


def test_a_reading_and_the_calculator_it_feeds(page, trial):
    """The float read in one tab stands in the other, with its verdict and in the calculator."""
    one, other = tabs = two(page, trial, READINGS)
    reading = "wm-reading:visible >> nth=0"
    play, lever = (f"wm-calculator:visible [data-entry={name}] input" for name in ("play", "lever"))
    for place, text in enumerate(("0.16", "0.18", "0.20")):
        one.locator(reading).locator("input").nth(place).fill(text)
    for tab in tabs:
        expect(tab.locator(reading).locator("input").last).to_have_value("0.20")
        expect(tab.locator(reading).locator(".wm-verdict")).to_contain_text("limit")
        expect(tab.locator(play)).to_have_value(re.compile("^0.18( mm)?$"))
    other.locator(lever).fill("40")
    expect(one.locator(lever)).to_have_value(re.compile("^40"))
    one.wait_for_timeout(1000)
    (entries,) = typed(one).values()
    assert entries == {"lever": "40 mm", "play": "0.18 mm"}
    other.locator(reading).locator("input").last.fill("0.19")
    expect(one.locator(reading).locator("input").last).to_have_value("0.19")


def test_ticks_are_those_of_the_other_tab(page, trial):
    """Made and taken back."""
    one, other = two(page, trial, CHAIN)
    here, there = (tab.locator("input.wm-step-tick:visible").first for tab in (one, other))
    here.check()
    expect(there).to_be_checked()
    expect(other.locator(".wm-ticks-count")).to_contain_text("1 of")
    there.uncheck()
    expect(here).not_to_be_checked()


def test_what_is_being_typed_stays(page, trial):
    """The other tab's entries come in beside the field that is written in, caret and all."""
    one, other = two(page, trial, CHAIN)
    writing = field(other, "torque", LEVER)
    writing.fill("")
    for number, digit in enumerate("00096"):
        writing.press("Home")
        writing.press(digit)
        field(one, "pins", SHARE).evaluate(
            "(field, text) => { field.value = text;"
            " field.dispatchEvent(new InputEvent('input', { bubbles: true })); }",
            str(2 + number % 3),
        )
    writing.press("ArrowRight")
    expect(field(other, "pins", SHARE)).to_have_value("3")
    other.wait_for_timeout(1000)
    assert writing.input_value() == "69000"
    assert writing.evaluate(
        "(field) => [document.activeElement === field, field.selectionStart]"
    ) == [True, 2]
    writing.fill("690")
    shows(other, figure("share", SHARE), "0.690")
    expect(field(one, "torque", LEVER)).to_have_value("690 N·m")
