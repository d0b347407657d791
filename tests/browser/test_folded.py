"""Fields that are folded away: put aside while the page arrives, and back when they can be met."""

from __future__ import annotations

import pytest

from tests.browser.conftest import IMPATIENT, held_back, let_go, live, until

pytestmark = pytest.mark.browser

LEVER = "procedures/lever/"
TWO = "procedures/two-engines/"
STARTING = """document.documentElement.dataset.wmRuntime === "starting"
    && document.readyState === "complete" """
FOLDED = "document.querySelectorAll('wm-calculator details:not([open]) input').length"
OWN = """document.querySelector("wm-calculator").fields
    .find(({ name }) => name === "play").value()"""


def test_folded_fields_are_back_with_the_first_result(page, trial, watch):
    """They count meanwhile, and what the reader then types into them is worked out."""
    page.add_init_script(IMPATIENT)
    waiting = held_back(page)
    page.goto(trial + LEVER)
    until(page, STARTING)
    assert page.evaluate(FOLDED) == 0
    assert page.evaluate(OWN) == "0.2 mm"
    let_go(page, waiting)
    live(page)
    until(page, f"{FOLDED} > 0")
    page.locator("wm-calculator .wm-seldom > summary").first.click()
    wrong = "document.querySelector('[data-entry=play].wm-wrong') !== null"
    page.locator("[data-entry='play'] input").first.fill("much")
    until(page, wrong)
    page.locator("[data-entry='play'] input").first.fill("9")
    until(page, f"{OWN} === '9 mm' && !({wrong})")
    assert watch.troubles == []


@pytest.mark.parametrize(
    "reach",
    [
        lambda page: page.keyboard.press("Tab"),
        lambda page: page.locator(".wm-seldom > summary").first.click(),
        lambda page: page.evaluate("dispatchEvent(new Event('beforeprint'))"),
    ],
)
def test_whoever_reaches_for_the_page_finds_everything(page, trial, reach):
    """Keyboard, finger and paper do not wait for Python."""
    page.add_init_script(IMPATIENT)
    held_back(page)
    page.goto(trial + LEVER)
    until(page, STARTING)
    assert page.evaluate(FOLDED) == 0
    reach(page)
    assert page.locator("wm-calculator .wm-seldom input").count() > 0


def test_a_part_that_the_page_opens_has_its_fields(page, trial):
    """As it does for the engine that was on the bench before."""
    page.add_init_script(IMPATIENT)
    held_back(page)
    page.goto(trial + TWO)
    until(page, STARTING)
    page.evaluate(
        "document.querySelector('details.wm-placed[open]').dispatchEvent(new Event('toggle'))"
    )
    part = "details.wm-placed:not([open])"
    inside = f"document.querySelectorAll('{part} form input').length"
    assert page.locator(part).count() > 0
    assert page.evaluate(inside) == 0
    page.evaluate(f"document.querySelectorAll('{part}').forEach((each) => (each.open = true))")
    until(
        page,
        "[...document.querySelectorAll('wm-calculator form')].every((form) => "
        "form.querySelector('input, select'))",
    )


def test_a_slow_start_does_not_keep_them_away(page, trial):
    """What somebody looks for with the browser's own search is there before Python is."""
    held_back(page)
    page.goto(trial + LEVER)
    until(page, f"{FOLDED} > 0", timeout=10_000)
    assert page.evaluate("document.documentElement.dataset.wmRuntime") == "starting"
