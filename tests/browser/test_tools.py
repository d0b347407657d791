"""Tools of the shop in the browser: chosen, changed, put away, overdue (demonstration handbook)."""

from __future__ import annotations

import pytest

from tests.browser.conftest import live
from tests.browser.test_widget import field, figure, sent, shows

pytestmark = pytest.mark.browser

PAGE = "procedures/tightening-through-the-multiplier/"
PLANETARY = "#wm-planetary-multiplier"


def tool(page, place: str):
    return page.locator(f"{PLANETARY}-{place}")


@pytest.fixture
def tightening(page, base):
    """The page on tightening, on a day in the year before its certificates end."""
    page.clock.install(time="2026-11-25T10:00:00")
    page.goto(base + PAGE)
    live(page)
    page.evaluate("document.querySelectorAll('details').forEach((part) => (part.open = true))")
    return page


def test_the_chosen_tools_settle_their_entries(tightening):
    """Figures of the data book stand in fields that cannot be typed in; 480/4.62 on marks 2 N·m
    apart is 104 N·m."""
    assert tool(tightening, "multiplier").input_value() == "planetary_multiplier"
    assert tightening.locator(figure("setting", PLANETARY)).inner_text() == "104\u202fN·m"
    for entry, shown in (("factor", "4.62"), ("step", "2"), ("wrench_high", "300")):
        assert field(tightening, entry, PLANETARY).input_value() == shown
        assert field(tightening, entry, PLANETARY).is_disabled()
    by = tightening.locator(f'{PLANETARY} [data-entry="step"] .wm-by')
    assert by.inner_text() == "from torque wrench 60 to 300 N·m"
    assert tightening.locator(f"{PLANETARY} .wm-changed").count() == 0


def test_another_tool_and_none(tightening):
    """Another wrench brings its own scale; none gives the fields back as they were."""
    tool(tightening, "torque_wrench").select_option("wrench_20_120")
    shows(tightening, f'{PLANETARY} [data-entry="step"] .wm-by', "from torque wrench 20")
    assert field(tightening, "wrench_high", PLANETARY).input_value() == "120"
    tightening.locator('wm-unit-switch button[value="us"]').click()
    tightening.wait_for_function(
        "(ident) => document.querySelector(`${ident}-wrench_high`).value === '88.5075'",
        arg=PLANETARY,
    )
    tightening.locator('wm-unit-switch button[value="si"]').click()
    tool(tightening, "torque_wrench").select_option("")
    tightening.wait_for_function(
        "(ident) => document.querySelector(`${ident}-wrench_high`).disabled === false",
        arg=PLANETARY,
    )
    assert field(tightening, "wrench_high", PLANETARY).input_value() == ""
    assert tightening.locator(f'{PLANETARY} [data-entry="step"] .wm-by').count() == 0
    field(tightening, "step", PLANETARY).fill("5")
    shows(tightening, figure("setting", PLANETARY), "105")
    tightening.locator(f"{PLANETARY} .wm-back").click()
    shows(tightening, figure("setting", PLANETARY), "104")
    shows(tightening, f'{PLANETARY} [data-entry="step"] .wm-by', "from torque wrench 60")
    assert sent(tightening, PLANETARY)["step"] == "2 N·m"


def test_a_chosen_tool_is_kept_through_a_reload(tightening):
    """Like everything that is entered on the page."""
    tool(tightening, "torque_wrench").select_option("wrench_20_120")
    shows(tightening, f'{PLANETARY} [data-entry="step"] .wm-by', "from torque wrench 20")
    tightening.reload()
    live(tightening)
    shows(tightening, f'{PLANETARY} [data-entry="step"] .wm-by', "from torque wrench 20")
    assert tool(tightening, "torque_wrench").input_value() == "wrench_20_120"


def test_a_tool_out_of_its_range_is_told(tightening):
    """900 N·m through 4.62 is more than the small wrench has marks for."""
    tool(tightening, "torque_wrench").select_option("wrench_20_120")
    tool(tightening, "multiplier").select_option("")
    target = tightening.locator(f'{PLANETARY} [data-entry="target"]')
    assert "wm-fixed" in (target.get_attribute("class") or "")
    field(tightening, "factor", PLANETARY).fill("3")
    tightening.wait_for_selector(f'{PLANETARY} [data-code="setting-high"]')


def test_an_overdue_certificate_is_told_by_the_day_on_the_device(page, base):
    """The page was built before; the tablet knows what day it is."""
    page.clock.install(time="2029-01-15T10:00:00")
    page.goto(base + PAGE)
    live(page)
    page.wait_for_selector(f'{PLANETARY} [data-code="tool-overdue"]')
    told = page.locator(f'{PLANETARY} [data-code="tool-overdue"]').all_inner_texts()
    assert len(told) == 2
    assert any("torque wrench 60 to 300 N·m ran out on 2027-09-13" in text for text in told)
