"""Reference pages say what the declaration says, and judge the check values."""

from __future__ import annotations

import dataclasses

from witnessmark.calc import (
    CheckValue,
    Formula,
    Length,
    Source,
    Symbol,
    calculator,
    choice,
    entry,
    result,
)
from witnessmark.databook import DataBook
from witnessmark.handbook import expanded
from witnessmark.page.reference import index_page, reference_page, reference_uri, sources_page

HANDBOOK = Source("hb", "A handbook of lengths", "table 3", kind="handbook")
HEARD = Source("cp", "What the bench says", kind="common practice")


@dataclasses.dataclass(frozen=True)
class Twice:
    out: Length = result("Twice as long", lead=True, help="Twice the entry.")


@calculator(
    name="twice-sample",
    title="Twice",
    topic="sums",
    purpose="Doubles a length | with a bar in its purpose.",
    formulas=[Formula(r"l' = 2\,l", "The result")],
    symbols=[Symbol("l", "length", "mm")],
    assumptions=["Rulers are straight."],
    sources=[HANDBOOK, HEARD],
    check_values=[
        CheckValue("right", {"size": "2 mm"}, {"out": "4 mm"}, source=HANDBOOK),
        CheckValue("wrong", {"size": "2 mm"}, {"out": "5 mm"}, source=HEARD),
    ],
)
def twice(
    *,
    size: Length = entry(
        "Size", "10 mm", above=0, most="1 m", usual=("1 mm", "500 mm"), tolerance="1 mm"
    ),
    way: str = choice("Way", {"a": "one way", "b": "the other"}, default="a"),
) -> Twice:
    return Twice(2 * size)


def test_limits_and_defaults_are_told_in_words():
    """Hard limits, usual range, tolerance, choices and accepted units stand in the table."""
    page = reference_page(twice)
    assert (
        "| Size | 10 mm ± 1 mm | more than 0\u202fmm, at most 1000\u202fmm; usually 1\u202fmm to "
        "500\u202fmm; in mm, µm, cm, m, in, thou, ft | – |" in page
    )
    assert "| Way | one way | one way, the other | – |" in page


def test_check_values_show_their_verdict():
    """A check value that differs is not hidden, and its source is named with its kind."""
    page = reference_page(twice)
    assert "Twice as long: 4 mm | 4 mm | agrees | A handbook of lengths, table 3 |" in page
    assert (
        "Twice as long: 5 mm | 4 mm | **differs** | What the bench says "
        "(common practice, no published source) |" in page
    )


def test_formulas_are_mathml_and_texts_cannot_break_a_table():
    """A bar in a text does not open a cell."""
    assert "<math " in reference_page(twice)
    assert "Doubles a length &#124; with a bar" in index_page([twice])


def test_the_widget_stands_on_the_page_through_its_block():
    """The page uses the same block as every other page."""
    assert "/// calculator | twice-sample\n///\n" in reference_page(twice)


def test_sources_are_listed_by_kind_with_who_cites_them():
    """Handbooks before common practice."""
    page = sources_page([twice], DataBook())
    assert page.index("## Handbook") < page.index("## Common practice")
    assert "- A handbook of lengths: [Twice](calculators/twice-sample.md)" in page


def test_a_star_in_the_navigation_stands_for_the_generated_pages():
    """``folder/*`` becomes the index and the pages with their titles; the rest stays."""
    uri = reference_uri("twice-sample")
    index = "reference/calculators/index.md"
    nav = [{"Start": "index.md"}, {"Reference": [{"Calculators": "reference/calculators/*"}]}]
    assert expanded(nav, [index, uri, "reference/sources.md"], {uri: "Twice"}) == [
        {"Start": "index.md"},
        {"Reference": [{"Calculators": [index, {"Twice": uri}]}]},
    ]
    assert expanded(None, [], {}) is None
