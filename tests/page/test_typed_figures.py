"""Figures with a unit belong to the data book; what is typed in the words is found."""

from pathlib import Path

import pytest

from witnessmark.calc.units import UNITS
from witnessmark.faults import Faults
from witnessmark.page import check_figures
from witnessmark.page.typed_figures import figures_in

ROOT = Path(__file__).resolve().parents[2]

PAGE = """\
---
title: Page
summary: Less than 3 mm of it.
machines: [LG2]
time: 20 min
---
# Page

Pull until 480 N·m are reached, that is {nut.torque | 2 mm}.

//// step | Heat to 180 °C
/// accept | Look
- what: gap
  limit: none over 0,05 mm
///

/// calculator | lever
force: 250 N
///
////

`12 mm` and

    45 mm
"""


def found(page: str) -> list[str]:
    """Line and figure of every fault."""
    faults = Faults()
    check_figures(page, "page.md", faults)
    return [f"{fault.line} {fault.field}" for fault in faults]


def test_every_place_with_words_is_read_and_no_other():
    """Sentences, titles, summaries and accept rows; not entries, values, code or the plate."""
    assert found(PAGE) == ["3 '3 mm'", "9 '480 N·m'", "11 '180 °C'", "14 '0,05 mm'"]


def test_a_reference_page_is_read_like_a_procedure():
    """With its own exemptions; a designation is one of them."""
    page = "---\ntitle: T\nfigures: [6g]\n---\n# T\n\nClass 6g is 11.76 mm.\n\n- under 45 MPa\n"
    assert found(page) == ["7 '11.76 mm'", "9 '45 MPa'"]
    assert found(page.replace("6g is", "H is")) == ["3 figures", "7 '11.76 mm'", "9 '45 MPa'"]
    assert found("# Without a head\n\nIt is 12 mm.\n") == ["3 '12 mm'"]


@pytest.mark.parametrize("unit", [text for text in UNITS if text])
def test_every_unit_of_the_shop_is_known(unit):
    """With a blank, a thin space or none between number and unit."""
    for gap in (" ", "\u202f", ""):
        assert figures_in(f"It is 12.5{gap}{unit}.") == [f"12.5{gap}{unit}"]


@pytest.mark.parametrize(
    "words",
    ["M30x2 and M12", "in 3 in a row", "step 4 on page 2", "drawing LG2-031", "12 o'clock",
     "class 10.9 heads", "a 75 x 95 x 10 seal", "5 minds", "ISO 286-1:2010 says",
     "[a page](12%20mm.md)"],
)  # fmt: skip
def test_numbers_without_a_unit_are_no_figures(words):
    """Names, counts, sizes and words that begin like a unit."""
    assert figures_in(words) == []


@pytest.mark.parametrize(
    ("words", "figures"),
    [("1 7/16 in, or so", ["1 7/16 in"]), ("-5 °C to +40 °C", ["-5 °C", "+40 °C"]),
     ("some 10 % of it", ["10 %"]), ("after 30 minutes or 2 hours", ["30 minutes", "2 hours"]),
     ("0.10 mm … 0.25 mm", ["0.10 mm", "0.25 mm"])],
)  # fmt: skip
def test_figures_are_told_as_they_are_written(words, figures):
    """Fractions, signs, decimals."""
    assert figures_in(words) == figures


def test_a_figure_that_is_no_data_is_named_in_the_head():
    """Such a figure passes; one that is named and stands nowhere is a fault itself."""
    named = PAGE.replace("time:", "figures: [480 N·m, 180°C, 3 mm, '0,05 mm']\ntime:")
    assert found(named) == []
    assert found(named.replace("480 N·m are", "it is")) == ["5 figures"]


def test_the_demonstration_types_no_figure():
    """Every page of this repository: procedures, reference, the start."""
    pages = sorted((ROOT / "docs").rglob("*.md"))
    assert len(pages) > 20
    faults = Faults()
    for page in pages:
        check_figures(page.read_text("utf-8"), page.name, faults)
    assert list(map(str, faults)) == []
