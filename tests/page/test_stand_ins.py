"""A calculator stays out of the way until its page is written, and is then there to the letter."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.page.builders import data_book, render
from witnessmark.databook import DataBook
from witnessmark.page import StandIns
from witnessmark.page.elements import Html

PAGE = """\
---
machines: [LG2, LG3]
---
# Two calculators

{nut.torque} in all.

/// calculator | wrench
target: nut.torque
///

/// calculator | geared
tool: gear
///
"""


@pytest.fixture
def book(tmp_path: Path) -> DataBook:
    return data_book(tmp_path / "book")


def test_a_filled_page_is_the_page(book: DataBook) -> None:
    """Byte for byte, with several machines and tools on it; before that nothing of it is there."""
    stand_ins = StandIns()
    whole = render(PAGE, book).html
    short = render(PAGE, book, stand_ins=stand_ins).html
    assert stand_ins.filled(short) == whole
    assert whole.count("wm-panel") == 3
    assert "wm-panel" not in short
    assert short.count("data-search-exclude") == 3
    assert len(list(stand_ins.on(short))) == 3


@pytest.mark.parametrize(
    "change",
    [
        lambda page: page.replace("target: nut.torque", "target: 300 N·m"),
        lambda page: page.replace("target: nut.torque", "open: [target]\ntarget: nut.torque"),
        lambda page: page.replace("tool: gear", "tool: multiplier").replace("tool: mult", "#"),
        lambda page: page.replace("/// calculator | wrench", "/// calculator | wrench\nname: w"),
        lambda page: page.replace("machines: [LG2, LG3]", "machines: [LG3]"),
    ],
    ids=["entry", "open", "tool", "name", "machines"],
)
def test_what_differs_does_not_share_a_part(book: DataBook, change: Callable[[str], str]) -> None:
    """Pages of one build that differ in what they give a calculator each get their own."""
    stand_ins = StandIns()
    for page in (PAGE, change(PAGE), PAGE):
        assert (
            stand_ins.filled(render(page, book, stand_ins=stand_ins).html)
            == render(page, book).html
        )


def test_what_is_alike_is_made_once() -> None:
    """The same key and the same outcome give the same part; another outcome gives another."""
    stand_ins, made = StandIns(), []

    def make() -> Html:
        made.append(len(made))
        return Html(f"<p>{len(made)}</p>")

    outcomes = [{"complete": True}, {"complete": True}]
    first, again, other = (stand_ins.of("key", outcomes[at], make) for at in (0, 0, 1))
    assert first == again != other
    assert made == [0, 1]
    assert stand_ins.filled(f"{first}{other}") == "<p>1</p><p>2</p>"


def test_what_stands_in_for_nothing_stays() -> None:
    """A page may show such an element in its words."""
    text = '<wm-calculator data-wm-part="0123" data-search-exclude></wm-calculator>'
    assert StandIns().filled(text) == text
    assert list(StandIns().on(text)) == []
