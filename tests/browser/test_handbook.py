"""The built handbook as a fitter meets it."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

import pytest

from tests.browser.conftest import ROOT, live
from witnessmark.calc import evaluate
from witnessmark.collection import load_collection

pytestmark = pytest.mark.browser

TIGHTENING = "procedures/tightening-through-the-multiplier/"
MULTIPLIER = "#wm-planetary-multiplier"
FIGURE = f'{MULTIPLIER} [data-result="setting"] .wm-figure'


@pytest.fixture(scope="module")
def calculators():
    return load_collection(ROOT / "calculators").calculators


def page_entries(page, ident):
    """The texts that the widget hands to evaluate()."""
    return page.evaluate(
        "(ident) => Object.fromEntries(document.querySelector(ident).fields"
        ".map((field) => [field.name, field.value()]))",
        ident,
    )


def page_tools(page, ident):
    """The tools chosen in the widget."""
    return page.evaluate(
        "(ident) => Object.fromEntries(document.querySelector(ident).tools"
        ".map((tool) => [tool.name, tool.value()]).filter(([, tool]) => tool !== null))",
        ident,
    )


def expected(calculators, page, ident=MULTIPLIER, name="planetary-multiplier", result="setting"):
    """What CPython gives for what stands in the widget."""
    entries, tools = page_entries(page, ident), page_tools(page, ident)
    outcome = evaluate(calculators[name], entries, tools=tools)
    return next(part["display"] for part in outcome["results"] if part["name"] == result)


def test_without_scripts_the_page_is_complete(chromium, base):
    """Figures, results and drawings are in the HTML; fields are inert."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(base + TIGHTENING)
    assert page.locator(FIGURE).inner_text() == "104\u202fN·m"
    assert page.locator(f"{MULTIPLIER} svg.wm-drawing").count() == 1
    assert page.locator(f"{MULTIPLIER} input:not([disabled])").count() == 0
    context.close()


def test_entries_are_computed_as_under_cpython(page, base, watch, calculators):
    """A changed entry, a bad one, a mended one, another unit: on one page, by one runtime."""
    page.goto(base + TIGHTENING)
    arm = page.locator(f"{MULTIPLIER}-arm")
    arm.fill("0,3 m")  # typed before the runtime is there: kept, and computed when it is
    live(page)
    press = f'{MULTIPLIER} [data-result="press"] .wm-figure'
    page.wait_for_function(
        "([figure, text]) => document.querySelector(figure).innerText === text",
        arg=[press, expected(calculators, page, result="press")],
    )

    page.locator(f"{MULTIPLIER}-multiplier").select_option("")  # its factor is typed
    factor = page.locator(f"{MULTIPLIER}-factor:enabled")
    factor.fill("4.2 ± 0.1")
    page.wait_for_function(f"!document.querySelector('{FIGURE}').textContent.startsWith('104')")
    good = page.locator(FIGURE).inner_text()
    assert good == expected(calculators, page)

    factor.fill("9**9**9")
    page.wait_for_selector(f"{MULTIPLIER}.wm-old")
    assert "sums and powers" in page.locator(f"{MULTIPLIER}-factor-error").inner_text()
    assert factor.get_attribute("aria-invalid") == "true"
    assert page.locator(FIGURE).inner_text() == good
    factor.fill("4.2 ± 0.1")
    page.wait_for_selector(f"{MULTIPLIER}:not(.wm-old)")
    assert page.locator(f"{MULTIPLIER}-factor-error").inner_text() == ""

    unit = page.locator(f'{MULTIPLIER} [data-entry="arm"] select')
    before = page.locator(press).inner_text()
    unit.select_option("in")
    page.wait_for_timeout(1500)
    assert page.locator(press).inner_text() == before
    page.locator(f"{MULTIPLIER} .wm-back").click()
    page.wait_for_function(f"document.querySelector('{FIGURE}').textContent.startsWith('104')")
    assert watch.troubles == []


def test_the_keyboard_is_enough(page, base):
    """Tab reaches the field, typing changes the result, the focus is to be seen."""
    page.goto(base + TIGHTENING)
    live(page)
    page.locator(f"{MULTIPLIER}-multiplier").select_option("")
    page.locator(f"{MULTIPLIER}-factor:enabled").focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement.id") == "wm-planetary-multiplier-factor"
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert outline != "0px"
    page.keyboard.press("Control+A")
    page.keyboard.type("4")
    page.wait_for_function(f"document.querySelector('{FIGURE}').textContent.startsWith('120')")


def test_no_page_asks_another_origin_or_complains(page, base, site_folder, watch):
    """Every page of the handbook: requests stay at home, the console is silent."""
    pages = [
        path.parent.relative_to(site_folder).as_posix() for path in site_folder.rglob("index.html")
    ]
    assert len(pages) > 12
    for uri in pages:
        page.goto(f"{base}{uri}/" if uri != "." else base)
    home = urlsplit(base).netloc
    foreign = [url for url in watch.requests if urlsplit(url).netloc not in ("", home)]
    assert foreign == []
    assert watch.troubles == []


def test_a_start_that_fails_is_told_and_the_figures_stand(page, base):
    """With the runtime's files gone, the page says so and keeps its own results."""
    page.route(re.compile("/(runtime|image)-"), lambda route: route.abort())
    page.goto(base + TIGHTENING)
    page.locator(f"{MULTIPLIER}-arm").focus()
    page.wait_for_function("document.documentElement.dataset.wmRuntime === 'failed'")
    line = page.locator(f"{MULTIPLIER} .wm-runtime").inner_text()
    assert line.startswith("The calculator could not start")
    assert page.locator(FIGURE).inner_text() == "104\u202fN·m"


def test_build_and_browser_make_the_same_elements(page, base):
    """What the build printed and what the script renders for the same outcome are one DOM."""
    page.goto(base + TIGHTENING)
    built = page.locator(f"{MULTIPLIER} .wm-outcome").inner_html()
    drawn = page.locator(f"{MULTIPLIER} .wm-drawings").inner_html()
    page.evaluate(f"document.querySelector('{MULTIPLIER} .wm-outcome').dataset.old = ''")
    live(page)
    page.wait_for_timeout(500)
    assert page.locator(f"{MULTIPLIER} .wm-outcome").inner_html() == built
    assert page.locator(f"{MULTIPLIER} .wm-drawings").inner_html() == drawn
