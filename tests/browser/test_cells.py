"""Tables of entries under the hands: the real clipboard, keys from cell to cell, undo, a phone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import live
from tests.browser.test_widget import FREE, LEVER, sent, shows

pytestmark = pytest.mark.browser


@pytest.fixture
def page(chromium: Browser, watch):
    """A page that may use the clipboard."""
    context = chromium.new_context(
        viewport={"width": 1280, "height": 900}, permissions=["clipboard-read", "clipboard-write"]
    )
    watch.over(context)
    yield context.new_page()
    context.close()


@pytest.fixture
def table(page: Page, trial: str) -> Page:
    """The trial's page with a table of pins: x and y, one to three rows, two by default."""
    page.goto(trial + LEVER)
    live(page)
    return page


def cell(page: Page, row: int, column: int):
    """The cell in a row and column, counted from 1."""
    return page.locator(f"{FREE}-pins tbody tr:nth-child({row}) td:nth-child({column}) input")


def paste(page: Page, row: int, column: int, text: str) -> None:
    """Put a text on the clipboard and paste it into a cell with the keys."""
    page.evaluate("(text) => navigator.clipboard.writeText(text)", text)
    cell(page, row, column).click()
    page.keyboard.press("Control+A")
    page.keyboard.press("Control+V")


def place(page: Page) -> str | None:
    """The name of the cell that has the focus."""
    return page.evaluate("document.activeElement.getAttribute('aria-label')")


@pytest.mark.parametrize(
    "text",
    [
        "1,5\t2,5\n3,5\t4,5\n5,5\t6,5\n",  # from a spreadsheet with decimal commas
        "1,5\t2,5\r\n3,5\t4,5\r\n5,5\t6,5\r\n",  # the same from another system
        "1,5;2,5\n3,5;4,5\n5,5;6,5",  # from a text file
        '"1,5"\t"2,5"\n3,5\t4,5\n5,5\t 6,5 ',  # with quotation marks and stray blanks
    ],
)
def test_a_block_fills_rows_and_columns_and_adds_rows(table: Page, text: str) -> None:
    """Three rows go into a table of two, and Python reads them."""
    paste(table, 1, 1, text)
    assert sent(table)["pins"] == [["1,5", "2,5"], ["3,5", "4,5"], ["5,5", "6,5"]]
    table.wait_for_function(
        "(row) => document.querySelectorAll(row).length === 3",
        arg=f'{FREE} [data-result="pins"] tbody tr',
    )
    assert place(table) == "Pins, row 1, x (mm)"


def test_a_block_begins_at_the_cell_it_is_pasted_into(table: Page) -> None:
    """A column copied from a spreadsheet goes down from the second row's y."""
    paste(table, 2, 2, "7\n8\n")
    assert sent(table)["pins"] == [["27.010", "-0.005"], ["0", "7"], ["", "8"]]
    shows(table, f"{FREE}-pins-error", "Row 3, x:")


def test_inch_marks_are_no_quotation_marks(table: Page) -> None:
    """1 7/16" stays what it is; a cell that a spreadsheet has quoted loses its quotes."""
    paste(table, 1, 1, '1 7/16"\t1/2"\n"1 1/4"""\t0.5')
    assert sent(table)["pins"] == [['1 7/16"', '1/2"'], ['1 1/4"', "0.5"]]
    assert table.locator(f"{FREE}-pins-error").inner_text() == ""


def test_one_number_is_pasted_by_the_browser(table: Page) -> None:
    """Within the text of a cell, at the caret, nothing else touched."""
    table.evaluate("() => navigator.clipboard.writeText('9')")
    cell(table, 1, 1).click()
    table.keyboard.press("End")
    table.keyboard.press("Control+V")
    assert sent(table)["pins"][0] == ["27.0109", "-0.005"]


def test_nothing_pasted_is_lost(table: Page) -> None:
    """Rows beyond the most and cells beyond the last column stay, and are told."""
    paste(table, 1, 1, "1\t2\n3\t4\n5\t6\n7\t8\n")
    shows(table, f"{FREE}-pins-error", "At most 3 rows; there are 4.")
    assert len(sent(table)["pins"]) == 4
    table.locator(f"{FREE} .wm-remove-row").click()
    paste(table, 1, 1, "1\t2\t3")
    shows(table, f"{FREE}-pins-error", "Row 1, y:")
    assert sent(table)["pins"][0] == ["1", "2; 3"]


def test_undo_takes_the_pasted_cells_back(table: Page) -> None:
    """The browser's own undo, cell by cell, down to what the page gave."""
    paste(table, 1, 1, "1\t2\n3\t4")
    assert sent(table)["pins"] == [["1", "2"], ["3", "4"]]
    for _ in range(4):
        table.keyboard.press("Control+Z")
    assert sent(table)["pins"] == [["27.010", "-0.005"], ["0", "27.000"]]
    assert table.locator(f"{FREE} .wm-changed").count() == 0


def test_each_wrong_cell_is_marked_and_named(table: Page) -> None:
    """The message names row and column of each; the cells tell it too."""
    paste(table, 1, 1, "a\t2\n3\tb")
    shows(table, f"{FREE}-pins-error", "Row 1, x:")
    message = table.locator(f"{FREE}-pins-error").inner_text()
    assert "Row 2, y:" in message
    wrong = table.locator(f"{FREE}-pins [aria-invalid]")
    assert [each.get_attribute("aria-label") for each in wrong.all()] == [
        "Pins, row 1, x (mm)", "Pins, row 2, y (mm)",
    ]  # fmt: skip
    assert "Write a number" in (wrong.first.get_attribute("title") or "")


def test_enter_goes_down_and_makes_a_row(table: Page) -> None:
    """Across with Tab, down with Enter from the last column to the next row's first."""
    cell(table, 2, 1).click()
    table.keyboard.press("Enter")
    assert place(table) == "Pins, row 3, x (mm)"
    table.keyboard.press("Enter")  # the last row is empty: no further row
    assert place(table) == "Pins, row 3, x (mm)"
    table.keyboard.type("1")
    table.keyboard.press("Tab")
    table.keyboard.type("2")
    table.keyboard.press("Shift+Enter")
    assert place(table) == "Pins, row 2, y (mm)"
    table.keyboard.press("Enter")
    table.keyboard.press("Enter")  # three rows are the most
    assert place(table) == "Pins, row 3, x (mm)"
    assert sent(table)["pins"][2] == ["1", "2"]
    cell(table, 1, 2).click()
    table.keyboard.press("Enter")
    assert place(table) == "Pins, row 2, x (mm)"


def test_arrows_go_from_cell_to_cell(table: Page) -> None:
    """Up and down always; across only where the caret has nothing to step over."""
    cell(table, 1, 1).click()
    table.keyboard.press("End")
    table.keyboard.press("ArrowRight")
    assert place(table) == "Pins, row 1, y (mm)"
    table.keyboard.press("ArrowDown")
    assert place(table) == "Pins, row 2, y (mm)"
    table.keyboard.press("ArrowLeft")
    assert place(table) == "Pins, row 2, x (mm)"
    cell(table, 1, 1).click()
    table.keyboard.press("End")
    table.keyboard.press("ArrowLeft")
    assert place(table) == "Pins, row 1, x (mm)"
    table.keyboard.press("ArrowUp")
    assert place(table) == "Pins, row 1, x (mm)"


def test_rows_go_by_the_keyboard_and_come_back(table: Page) -> None:
    """Backspace takes an empty row, never a full one; a row removed by its button comes back."""
    cell(table, 2, 2).click()
    table.keyboard.press("Control+A")
    table.keyboard.press("Backspace")
    table.keyboard.press("Backspace")
    assert sent(table)["pins"][1] == ["0", ""]
    table.keyboard.press("ArrowLeft")
    table.keyboard.press("Backspace")
    table.keyboard.press("Backspace")
    assert sent(table)["pins"] == [["27.010", "-0.005"]]
    assert place(table) == "Pins, row 1, x (mm)"
    table.locator(f"{FREE} .wm-add-row").focus()
    table.keyboard.press("Enter")
    table.keyboard.type("5")
    back = table.get_by_role("button", name="put the row back")
    assert back.count() == 0
    table.locator(f"{FREE} .wm-remove-row").press("Enter")
    assert len(sent(table)["pins"]) == 1
    back.press("Enter")
    assert sent(table)["pins"][1] == ["5", ""]
    assert place(table) == "Pins, row 2, x (mm)"
    assert back.count() == 0


def test_rows_keep_their_numbers(table: Page) -> None:
    """When a row in the middle goes, the names of the cells below follow."""
    paste(table, 1, 1, "1\t2\n\t\n5\t6")
    cell(table, 2, 1).click()
    table.keyboard.press("Backspace")
    assert sent(table)["pins"] == [["1", "2"], ["5", "6"]]
    assert cell(table, 2, 2).get_attribute("aria-label") == "Pins, row 2, y (mm)"


def test_on_a_phone_the_cells_are_large_and_nothing_sticks_out(table: Page) -> None:
    """At 390 px every cell is at least 44 px high, and the page does not scroll sideways."""
    table.set_viewport_size({"width": 390, "height": 844})
    paste(table, 1, 1, "31,012\t0,021\n-0,009\t31,010\n-30,991\t-0,014")
    box = cell(table, 3, 2).bounding_box()
    assert box is not None
    assert box["height"] >= 40
    assert box["x"] + box["width"] <= 390
    assert table.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert cell(table, 1, 1).get_attribute("enterkeyhint") == "next"
