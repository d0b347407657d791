"""Calculators that feed one another, under a fitter's hands (trial handbook)."""

from __future__ import annotations

import pytest

from tests.browser.conftest import live
from tests.browser.test_widget import field, figure, sent, shows, unit

pytestmark = pytest.mark.browser

CHAIN = "procedures/chain/"
# The first machine's calculators, and the second machine's.
LEVER, SHARE, SHEAR, FIXED = "#wm-first-lever", "#wm-pin-share", "#wm-pin-shear", "#wm-fixed-shear"
OTHER = tuple(f"{ident}-2" for ident in (LEVER, SHARE, SHEAR, FIXED))


@pytest.fixture
def chain(page, trial):
    """The page of the chain, its calculators working; every part unfolded."""
    page.goto(trial + CHAIN)
    live(page)
    page.evaluate("document.querySelectorAll('details').forEach((part) => (part.open = true))")
    return page


def test_a_figure_runs_down_the_chain(chain):
    """960 N·m at 1 m is 960 N; the press is three times that, the share half of it, the shear
    1440 N over 50.27 mm² (8 mm) and 78.54 mm² (10 mm), by hand."""
    assert chain.locator(figure("shear", SHEAR)).inner_text() == "14.3\u202fMPa"
    field(chain, "torque", LEVER).fill("960")
    shows(chain, figure("shear", SHEAR), "28.6")
    shows(chain, figure("share", SHARE), "1.44")
    shows(chain, figure("shear", FIXED), "18.3")
    assert field(chain, "force", SHARE).input_value() == "2880"
    assert field(chain, "load", SHEAR).input_value() == "1440"
    fixed = chain.locator(f'{FIXED} [data-entry="load"] .wm-fixed-value')
    assert fixed.inner_text() == "1440\u202fN"
    assert chain.locator(f"{SHARE} .wm-changed").count() == 0


def test_the_band_runs_down_the_chain(chain):
    """±4 % of torque and 10 mm of 1 m of lever, the worst ends by hand: 0.96 · 960/1.01 and
    1.04 · 960/0.99 times 3/2."""
    field(chain, "torque", LEVER).fill("960 ± 4 %")
    shows(chain, f"{SHEAR}-load-echo", "1440\u202fN (1369 … 1513")
    shows(chain, f"{SHEAR} .wm-band-limits", "27.2 … 30.1")


def test_each_machine_has_a_chain_of_its_own(chain):
    """What is typed for one machine leaves the other's figures alone."""
    lever, share, shear, _ = OTHER
    before = chain.locator(figure("shear", SHEAR)).inner_text()
    field(chain, "torque", lever).fill("1000")
    shows(chain, figure("share", share), "1.50")
    assert field(chain, "load", shear).input_value() == "1500"
    assert chain.locator(figure("shear", SHEAR)).inner_text() == before


def test_a_fed_entry_is_typed_over_and_follows_again(chain):
    """Typed over, it stands still; put back, it has what its source gives now."""
    again = chain.locator(f"{SHARE} .wm-follow")
    assert again.is_hidden()
    field(chain, "force", SHARE).fill("2000")
    shows(chain, figure("shear", SHEAR), "19.9")
    assert again.is_visible()
    assert "Yours, in place of" in chain.locator(f"{SHARE} [data-follows] .wm-origin").inner_text()
    field(chain, "torque", LEVER).fill("960")
    shows(chain, figure("pull", LEVER), "960")
    chain.wait_for_timeout(400)
    assert sent(chain, SHARE)["force"] == "2000 N"
    assert chain.locator(figure("share", SHARE)).inner_text() == "1.00\u202fkN"
    again.click()
    shows(chain, figure("shear", SHEAR), "28.6")
    assert field(chain, "force", SHARE).input_value() == "2880"
    assert again.is_hidden()
    field(chain, "pins", SHARE).fill("3")
    field(chain, "force", SHARE).fill("1000")
    shows(chain, figure("shear", SHEAR), "6.63")
    chain.locator(f"{SHARE} .wm-back").click()
    shows(chain, figure("shear", SHEAR), "28.6")


def test_a_source_without_a_result_is_told_all_the_way_down(chain):
    """The last figures stay to be seen, marked as old, with the reason at the fed entry."""
    shear = chain.locator(figure("shear", SHEAR)).inner_text()
    field(chain, "torque", LEVER).fill("nonsense")
    for ident, source in ((SHARE, "Pull at a long lever"), (SHEAR, "Share of a pin")):
        shows(chain, f"{ident} [data-follows] .wm-error", f"Nothing comes from “{source}”")
        assert chain.locator(f"{ident}.wm-old").count() == 1
    shows(chain, f"{FIXED} [data-follows] .wm-error", "Nothing comes from")
    assert chain.locator(figure("shear", SHEAR)).inner_text() == shear
    assert field(chain, "load", SHEAR).input_value() == "720"
    field(chain, "load", SHEAR).fill("1000")
    shows(chain, figure("shear", SHEAR), "19.9")
    assert chain.locator(f"{SHEAR}.wm-old").count() == 0
    field(chain, "torque", LEVER).fill("960")
    shows(chain, figure("shear", FIXED), "18.3")
    assert chain.locator(f"{FIXED} [data-follows] .wm-error").inner_text() == ""


def test_what_a_fed_entry_refuses_is_told_there(chain):
    """More than 4 kN is no entry of the share: the lever itself goes on."""
    field(chain, "torque", LEVER).fill("2000")
    shows(chain, f"{SHARE} [data-follows] .wm-error", "Must be at most 4000")
    shows(chain, figure("pull", LEVER), "2000")
    shows(chain, f"{SHEAR} [data-follows] .wm-error", "Nothing comes from")


def test_a_stop_above_is_told_below(chain):
    """A source that says stop is told of where its figure is used."""
    field(chain, "torque", LEVER).fill("960")
    code = f'{SHARE} [data-code="source-stopped"]'
    chain.wait_for_selector(code)
    field(chain, "torque", LEVER).fill("300")
    chain.wait_for_selector(code, state="detached")


def test_units_turn_along_the_chain(chain):
    """The switch turns fed fields; a unit chosen by hand stays when the figure changes."""
    chain.locator('wm-unit-switch button[value="us"]').click()
    shows(chain, f"{SHARE} .wm-figure .wm-unit", "lbf")
    assert unit(chain, "force", SHARE).input_value() == "lbf"
    assert field(chain, "force", SHARE).input_value() == "323.725"
    unit(chain, "load", SHEAR).select_option("kN")
    field(chain, "torque", LEVER).fill("960 N·m")
    shows(chain, f"{FIXED} [data-entry=load] .wm-us", "323.725")
    assert field(chain, "load", SHEAR).input_value() == "1.44"
    chain.locator('wm-unit-switch button[value="si"]').click()
    assert field(chain, "force", SHARE).input_value() == "2880"


def test_one_answer_changes_all(chain):
    """Nothing on the page is ever ahead of its source: one task of the page changes all three."""
    chain.evaluate(
        """(idents) => {
          window.turns = [];
          const seen = (ident) => () => window.turns.push([ident, performance.now()]);
          for (const ident of idents) {
            new MutationObserver(seen(ident)).observe(
              document.querySelector(`${ident} .wm-outcome`), { childList: true });
          }
        }""",
        [LEVER, SHARE, SHEAR],
    )
    field(chain, "torque", LEVER).fill("960")
    shows(chain, figure("shear", SHEAR), "28.6")
    turns = chain.evaluate("window.turns")
    assert sorted(ident for ident, _ in turns) == sorted((LEVER, SHARE, SHEAR))
    assert max(at for _, at in turns) - min(at for _, at in turns) < 50
    assert len([worker for worker in chain.workers if "/front-" in worker.url]) == 1


def test_without_script_the_chain_is_complete(chromium, trial):
    """Figures, origin and link are in the HTML of the build; nothing offers to be pressed."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(trial + CHAIN)
    assert page.locator(figure("shear", SHEAR)).inner_text() == "14.3\u202fMPa"
    origin = page.locator(f"{SHEAR} [data-follows] .wm-origin")
    assert origin.inner_text() == "Force on the pin, from Share of a pin, step 2"
    assert origin.locator("a").get_attribute("href") == SHARE
    assert page.locator(".wm-follow").first.is_hidden()
    context.close()


def test_drawings_come_after_the_figures(chain):
    """The drawing shows the figure that was typed, once the typing has stopped."""
    before = chain.locator(f"{LEVER} .wm-drawings").inner_html()
    field(chain, "torque", LEVER).fill("960")
    shows(chain, figure("pull", LEVER), "960")
    chain.wait_for_function(
        "([place, before]) => document.querySelector(place).innerHTML !== before",
        arg=[f"{LEVER} .wm-drawings", before],
    )
    assert "960" in chain.locator(f"{LEVER} .wm-drawings svg").text_content()
