"""The engine on the bench: chosen once, and the page shows what holds for it."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

PAGE = "procedures/two-engines/"
FIELD = "Engine on the bench"


def seen(page) -> str:
    """What is to be read in the text of the page, in one line."""
    return " ".join(page.locator(".md-content__inner").inner_text().split())


def steps(page) -> list[str]:
    """Number and title of the steps that are shown."""
    shown = [step for step in page.locator(".wm-step").all() if step.is_visible()]
    return [
        f"{step.locator('.wm-step-number').inner_text()} {step.locator('h2').inner_text()}"
        for step in shown
    ]


def contents(page) -> list[str]:
    """The steps in the list of contents."""
    links = page.locator(".md-nav--secondary .md-nav__link, .md-nav--primary .md-nav__link")
    texts = [link.inner_text().strip() for link in links.all() if link.is_visible()]
    return [text for text in texts if text[:1].isdigit()]


def test_without_a_choice_every_engine_is_shown_with_its_name(page, trial):
    """Values and passages carry the engine they are for."""
    page.goto(trial + PAGE)
    assert "480\u202fN·m ± 4\u202f% (T1), 250\u202fN·m (T2)".replace("\u202f", " ") in seen(
        page
    ).replace("\u202f", " ")
    assert "Only for T2 wet" in seen(page)
    assert steps(page) == ["1 Look", "2 Seat the ring", "3 Pull"]
    assert page.locator("details.wm-placed > summary").count() == 2


def test_a_choice_leaves_the_others_out(page, trial):
    """Figures without labels, one calculator, steps counted through; remembered; undone."""
    page.goto(trial + PAGE)
    page.get_by_label(FIELD).select_option("T2 dry")
    text = seen(page).replace("\u202f", " ")
    assert "takes 250 N·m." in text
    assert "The face has a gasket." in text
    assert "Only for" not in text
    assert "Seat the ring" not in text
    assert steps(page) == ["1 Look", "2 Pull"]
    assert contents(page) == ["1. Look", "2. Pull"]
    shown = page.locator("wm-calculator:visible")
    assert shown.count() == 1
    assert "250" in shown.locator(".wm-entry", has_text="Torque").first.inner_text()
    assert page.locator(".wm-ticks").inner_text().startswith("0 of 2 steps")

    page.reload()
    assert page.get_by_label(FIELD).input_value() == "T2/dry"
    assert "Seat the ring" not in seen(page)

    page.get_by_label(FIELD).select_option("every engine")
    assert contents(page) == ["1. Look", "2. Seat the ring", "3. Pull"]


def test_a_link_brings_the_engine(page, trial):
    """A link chooses; instant navigation keeps the choice."""
    page.goto(trial + "?engine=T2/wet")
    page.get_by_role("link", name="Two engines").first.click()
    page.wait_for_url("**/two-engines/")
    page.get_by_label(FIELD).wait_for()
    assert steps(page) == [
        "1 Look",
        "2 Seat the ring",
        "3 Pull",
    ]
    assert "The face has a ring." in seen(page)


def test_a_page_for_another_engine_says_so(page, trial):
    """Nothing is left out where the page does not cover the engine."""
    page.goto(trial + PAGE + "?engine=T9")
    assert "This page is not for T9: every engine is shown." in seen(page)
    assert "Only for T2 wet" in seen(page)


def test_a_tick_of_a_step_left_out_is_kept(page, trial):
    """Another engine's view does not lose what was ticked."""
    page.goto(trial + PAGE)
    page.get_by_label("Step 2 done").check()
    page.get_by_label(FIELD).select_option("T1")
    page.locator("[id=step-3-done][aria-label='Step 2 done']").check()
    page.get_by_label(FIELD).select_option("every engine")
    assert [page.get_by_label(f"Step {n} done").is_checked() for n in (1, 2, 3)] == [
        False, True, True,
    ]  # fmt: skip


def test_the_search_leaves_out_what_is_for_other_engines(page, trial):
    """A passage for another engine is not found, and the list says that something was."""
    page.goto(trial + "?engine=T2/dry")
    box = page.get_by_role("textbox", name="Search")
    box.click()
    box.press_sequentially("ring")
    page.locator(".wm-left-out", has_text="not for T2 dry").wait_for()
    assert page.locator("a.md-search-result__link[href*='#seat-the-ring']").is_hidden()
    page.goto(trial + "?engine=T2/wet")
    box.click()
    box.press_sequentially("ring")
    page.locator("a.md-search-result__link[href*='#seat-the-ring']").wait_for()
    assert page.locator(".wm-left-out", has_text="not for").count() == 0
