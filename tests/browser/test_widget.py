"""The widget of the trial handbook: what each kind of entry does under a fitter's hands."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Route

from tests.browser.conftest import TRIAL, live, until
from witnessmark.calc import evaluate
from witnessmark.collection import load_collection
from witnessmark.page.results_html import drawings_html, render_outcome

pytestmark = pytest.mark.browser

LEVER = "procedures/lever/"
FIXED, FREE = "#wm-long-lever", "#wm-long-lever-2"


@pytest.fixture(scope="module")
def lever():
    return load_collection(TRIAL / "calculators").calculators["long-lever"]


def figure(result: str, ident: str = FREE) -> str:
    return f'{ident} [data-result="{result}"] .wm-figure'


def shows(page, selector: str, start: str) -> None:
    """Wait until an element's text begins so."""
    page.wait_for_function(
        "([selector, start]) => document.querySelector(selector)?.textContent.startsWith(start)",
        arg=[selector, start],
    )


def sent(page, ident: str = FREE) -> dict:
    """The texts that the widget hands to Python."""
    return page.evaluate(
        "(ident) => Object.fromEntries(document.querySelector(ident).fields"
        ".map((field) => [field.name, field.value()]))",
        ident,
    )


def field(page, name: str, ident: str = FREE):
    return page.locator(f"{ident}-{name}")


def unit(page, name: str, ident: str = FREE):
    return page.locator(f'{ident} [data-entry="{name}"] select.wm-unit-list')


CASES = [
    {},
    {"torque": "480 N·m ± 4 %", "lever": "39 in"},
    {"torque": "900 N·m", "hold": "bar"},
    {"torque": "100 N·m ± 1 N·m", "lever": "1 m", "angle": "10 deg ± 2 deg"},
    {"pins": [["<b>", "2"]]},
    {"pins": [["1", "2"], ["3", "4"], ["5", "6"]], "torque": "10 kgf·m"},
]


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("entries", CASES)
def test_script_and_build_make_one_dom(page, trial, lever, entries, units):
    """For any outcome the script makes the elements that the build writes."""
    outcome = evaluate(lever, entries, units)
    page.goto(trial)
    written, made = page.evaluate(
        """async ([outcome, results, drawings]) => {
          const main = document.querySelector('script[src*="/front-"]').src;
          const { results: script } = await import(new URL("main.js", main).href);
          const parse = (html) => new DOMParser().parseFromString(html, "text/html").body;
          const holder = document.createElement("div");
          holder.append(...script.outcomeParts(outcome));
          const sheets = document.createElement("div");
          sheets.className = "wm-drawings";
          sheets.append(...script.drawingParts(outcome, "wm-x"));
          return [
            [parse(results).innerHTML, parse(drawings).innerHTML],
            [holder.innerHTML, sheets.outerHTML],
          ];
        }""",
        [outcome, render_outcome(outcome), drawings_html(outcome["drawings"], "wm-x")],
    )
    assert made == written
    assert outcome["complete"] == ("pins" not in entries or entries["pins"][0][0] != "<b>")


def test_fields_hand_over_the_texts_of_the_page(page, trial, lever):
    """Untouched, a widget sends exactly what the build has computed with, in either system."""
    page.goto(trial + LEVER)
    assert sent(page, FIXED)["torque"] == "480 N·m ± 4 %"
    assert sent(page)["lever"] == "39 in"
    assert sent(page)["pins"] == [list(row) for row in lever.entries["pins"].default]
    page.locator('wm-unit-switch button[value="us"]').click()
    assert sent(page)["lever"] == "39 in"
    assert sent(page)["torque"] == "400 N·m"
    assert field(page, "torque").input_value() == "295.025"
    live(page)
    shows(page, figure("pull"), evaluate(lever, sent(page), "us")["results"][0]["display"])
    assert page.locator(f"{figure('pull')} .wm-unit").inner_text() == "lbf"
    assert page.locator(f'{FIXED} [data-entry="torque"] .wm-fixed-value').inner_text() == (
        "354\u202flbf·ft ± 4\u202f%"
    )
    page.reload()
    assert page.locator('wm-unit-switch button[aria-pressed="true"]').inner_text() == "US"
    page.locator('wm-unit-switch button[value="si"]').click()
    assert field(page, "torque").input_value() == "400"


@pytest.mark.parametrize(
    ("typed", "chosen", "text"),
    [
        ("420", "N·m", "420 N·m"),
        ("310", "lbf·ft", "310 lbf·ft"),
        ("420 ± 4 %", "N·m", "420 N·m ± 4 %"),
        ("75 +0.1/-0.2", "mm", "75 mm +0.1/-0.2"),
        ("0.10 … 0.25", "mm", "0.10 … 0.25 mm"),
        ("0.10..0.25", "mm", "0.10..0.25 mm"),
        ("1 7/16", "in", "1 7/16 in"),
        ("1½", "in", "1½ in"),
        ("1e3", "mm", "1e3 mm"),
        ("0,12", "mm", "0,12 mm"),
        ("-0.005", "mm", "-0.005 mm"),
        ("10 in", "mm", "10 in"),
        ("12 thou ± 1 thou", "mm", "12 thou ± 1 thou"),
        ("abc", "mm", "abc"),
        ("", "mm", ""),
        ("5", "", "5"),
    ],
)
def test_number_and_chosen_unit_become_one_text(page, trial, typed, chosen, text):
    """The unit goes behind the number, before the tolerance; a unit that is typed wins."""
    page.goto(trial)
    assert (
        page.evaluate(
            """async ([typed, unit]) => {
              const main = document.querySelector('script[src*="/front-"]').src;
              const { entryText } = await import(new URL("main.js", main).href);
              return entryText.withUnit(typed, unit);
            }""",
            [typed, chosen],
        )
        == text
    )


def test_a_chosen_unit_converts_until_a_number_is_typed(page, trial):
    """An untyped number keeps its quantity; a number typed since the choice keeps its digits."""
    page.goto(trial + LEVER)
    live(page)
    unit(page, "torque").select_option("lbf·ft")
    assert field(page, "torque").input_value() == "295.025"
    assert sent(page)["torque"] == "400 N·m"
    unit(page, "torque").select_option("N·m")
    assert field(page, "torque").input_value() == "400"

    field(page, "torque").fill("300")
    unit(page, "torque").select_option("lbf·ft")
    assert field(page, "torque").input_value() == "300"
    assert sent(page)["torque"] == "300 lbf·ft"
    echo = page.locator(f"{FREE}-torque-echo")
    shows(page, f"{FREE}-torque-echo", "= 406.745 N·m")
    unit(page, "torque").select_option("N·m")
    assert field(page, "torque").input_value() == "406.745"
    assert sent(page)["torque"] == "300 lbf·ft"
    unit(page, "lever").select_option("mm")
    field(page, "lever").fill("40 in")
    shows(page, f"{FREE}-lever-echo", "= 1016 mm")
    assert unit(page, "lever").input_value() == "in"
    unit(page, "lever").select_option("mm")
    assert field(page, "lever").input_value() == "1016"
    assert sent(page)["lever"] == "40 in"
    assert "usual tolerance" in echo.inner_text()


def test_tables_grow_and_shrink_and_point_at_the_bad_cell(page, trial):
    """Rows come and go within the limits; a bad cell is marked, the message names it."""
    page.goto(trial + LEVER)
    live(page)
    rows = page.locator(f'{FREE} [data-result="pins"] tbody tr')
    add, remove = page.locator(f"{FREE} .wm-add-row"), page.locator(f"{FREE} .wm-remove-row")
    add.click()
    page.keyboard.type("5")
    page.keyboard.press("Tab")
    page.keyboard.type("six")
    shows(page, f"{FREE}-pins-error", "Row 3, y:")
    assert page.locator(f"{FREE}-pins [aria-invalid]").get_attribute("aria-label") == (
        "Pins, row 3, y (mm)"
    )
    assert rows.count() == 2
    assert "entries that could be read" in page.locator(f"{FREE} .wm-stale").inner_text()
    page.keyboard.press("Control+A")
    page.keyboard.type("6")
    page.wait_for_function(
        "(row) => document.querySelectorAll(row).length === 3",
        arg=f'{FREE} [data-result="pins"] tbody tr',
    )
    assert add.get_attribute("aria-disabled") == "true"
    remove.click()
    remove.click()
    assert remove.get_attribute("aria-disabled") == "true"
    assert len(sent(page)["pins"]) == 1
    page.locator(f"{FREE} .wm-back").click()
    assert len(sent(page)["pins"]) == 2
    assert page.locator(f"{FREE} .wm-changed").count() == 0


def test_an_entry_that_does_not_count_is_hidden(page, trial):
    """The teeth are asked for only with the tool that engages them."""
    page.goto(trial + LEVER)
    live(page)
    teeth = page.locator(f'{FREE} [data-entry="teeth"]')
    assert teeth.is_visible()
    page.get_by_role("group", name="Pull at a long lever").nth(1).get_by_label("bar across").check()
    teeth.wait_for(state="hidden")
    assert sent(page)["hold"] == "bar"


def test_what_is_refused_keeps_the_rest(page, trial):
    """A contradiction is told at its entry; the old results stand, marked as old."""
    page.goto(trial + LEVER)
    live(page)
    before = page.locator(figure("pull")).inner_text()
    field(page, "torque").fill("6000")
    shows(page, f"{FREE}-torque-error", "Must be at most 5000 N·m.".replace(" N", "\u202fN"))
    described = field(page, "torque").get_attribute("aria-describedby")
    assert f"{FREE}-torque-error".removeprefix("#") in described.split()
    field(page, "torque").fill("4000")
    field(page, "lever").fill("0.5 m")
    shows(page, f"{FREE}-lever-error", "No hand pulls that")
    assert page.locator(figure("pull")).inner_text() == before
    assert page.locator(f"{FREE}.wm-old").count() == 1
    assert page.locator(f"{FIXED}.wm-old").count() == 0


def test_a_change_is_told_once_the_typing_has_stopped(page, trial):
    """The live region stays silent at the start and then says the leading result."""
    page.goto(trial + LEVER)
    live(page)
    said = page.locator(f"{FREE} .wm-said")
    page.wait_for_timeout(1200)
    assert said.inner_text() == ""
    field(page, "torque").fill("700")
    shows(page, f"{FREE} .wm-said", "Pull at the lever: ")
    assert "One stop." in said.inner_text()


def test_a_failed_start_puts_entries_back(page, trial):
    """Entries and results must belong together when nothing can be computed any more."""
    page.route(re.compile("/(bundle|image)-"), lambda route: route.abort())
    page.goto(trial + LEVER)
    field(page, "torque").fill("77")
    page.wait_for_function("document.documentElement.dataset.wmRuntime === 'failed'")
    assert field(page, "torque").input_value() == "400"
    assert field(page, "torque").is_disabled()
    line = page.locator(f"{FREE} .wm-runtime").inner_text()
    assert "The page's own figures stand." in line
    assert line.endswith("Your entries were put back.")
    assert page.locator(f"{FREE}.wm-old").count() == 0


def test_entries_wait_for_the_runtime(page, trial):
    """Until it has started the results are marked as not those of the entries."""
    held: list[Route] = []
    page.route(re.compile("/image-"), lambda route: held.append(route))
    page.goto(trial + LEVER)
    field(page, "torque").fill("100")
    assert page.locator(f"{FREE} .wm-stale").inner_text().startswith("Not yet your entries")
    until(page, "document.documentElement.dataset.wmRuntime === 'starting'")
    for route in held:
        route.continue_()
    live(page)
    shows(page, figure("pull"), "100\u202fN")
    assert page.locator(f"{FREE} .wm-stale").is_hidden()


def test_ticks_stay_in_the_tab_until_cleared(page, trial):
    """A tick survives a reload, belongs to its page, and can be cleared."""
    page.goto(trial + LEVER)
    page.get_by_label("Step 2 done").check()
    page.reload()
    assert page.get_by_label("Step 2 done").is_checked()
    assert page.locator(".wm-ticks").inner_text().startswith("1 of 3 steps ticked")
    page.goto(trial + "procedures/wedge/")
    assert not page.get_by_label("Step 1 done").is_checked()
    page.goto(trial + LEVER)
    page.get_by_role("button", name="clear the ticks").click()
    page.reload()
    assert not page.get_by_label("Step 2 done").is_checked()


def test_instant_navigation_keeps_the_runtime(page, trial, watch):
    """The theme swaps the content; widgets, ticks and switch work on, on the same Python."""
    page.goto(trial + LEVER)
    live(page)
    page.evaluate("window.same = true")
    page.get_by_label("Step 1 done").check()
    page.locator(".wm-ready a", has_text="Driving the wedge").click()
    page.wait_for_url("**/wedge/")
    live(page)
    assert page.evaluate("window.same") is True
    assert len([worker for worker in page.workers if "/front-" in worker.url]) == 1
    field(page, "torque", FIXED).fill("200")
    shows(page, figure("pull", FIXED), "200\u202fN")
    assert page.locator("wm-unit-switch").count() == 1
    page.go_back()
    page.wait_for_url("**/lever/")
    live(page)
    page.locator("#step-1-done:checked").wait_for()
    assert page.locator(".wm-ticks").count() == 1
    assert watch.troubles == []


def test_on_paper_there_is_nothing_to_press(page, trial):
    """Print shows each entry with whose figure it is, and no control."""
    page.goto(trial + LEVER)
    live(page)
    field(page, "lever").fill("800 mm")
    shows(page, figure("pull"), "500\u202fN")
    page.emulate_media(media="print")
    for control in (".wm-back", ".wm-add-row", "wm-unit-switch", ".wm-clear-ticks", ".md-header"):
        assert not page.locator(control).first.is_visible(), control
    whose = page.evaluate(
        """(ident) => [...document.querySelectorAll(`${ident} .wm-front > .wm-entry .wm-named`)]
          .map((named) => getComputedStyle(named, "::after").content)""",
        FREE,
    )
    assert whose[:2] == ['" (page)"', '" (reader’s own)"']


@pytest.mark.parametrize(("width", "beside"), [(1440, True), (1024, False), (820, False)])
def test_the_calculator_stands_beside_or_under_its_step(page, trial, width, beside):
    """Wide: level with the step, the next step not pushed down; else under the text."""
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(trial + LEVER)
    tops = page.evaluate(
        """() => {
          const box = (selector) => document.querySelector(selector).getBoundingClientRect();
          return {
            step: box("#step-1").top, panel: box("#step-1 .wm-panel").top,
            end: box("#step-1 .wm-panel").bottom, next: box("#step-2").top,
            left: box("#step-1 .wm-panel").left, right: box("#step-1 .wm-step-text").right,
          };
        }"""
    )
    assert (abs(tops["panel"] - tops["step"]) < 4) is beside
    assert (tops["next"] < tops["end"]) is beside
    assert (tops["left"] > tops["right"]) is beside
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_everything_a_widget_holds_is_accessible(page, trial, scheme):
    """axe-core finds nothing, in either colour scheme, nor with an error shown."""
    page.emulate_media(color_scheme=scheme)
    page.goto(trial + LEVER)
    live(page)
    field(page, "torque").fill("9000")
    shows(page, f"{FREE}-torque-error", "Must")
    axe = TRIAL.parents[2] / "node_modules/axe-core/axe.min.js"
    page.evaluate(axe.read_text("utf-8"))
    found = page.evaluate(
        "axe.run({include: ['.md-content', 'wm-unit-switch']}).then(({violations}) => violations)"
    )
    assert [(each["id"], [node["html"][:160] for node in each["nodes"]]) for each in found] == []
