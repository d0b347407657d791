"""Pages of tables hold every figure in both unit systems and what to sort by."""

from __future__ import annotations

from witnessmark.calc import Force, Length, Q, Rounding, Source, column, reference_table
from witnessmark.databook import DataBook
from witnessmark.page.reference import sources_page
from witnessmark.page.tables import table_html, table_page, table_uri, tables_index

RODS = reference_table(
    name="rods",
    title="Rods",
    purpose="What rods bear | with {braces}.",
    columns=(
        column("Rod"),
        column("Length", Length, unit="mm", rounding=Rounding(decimals=1, us_decimals=3)),
        column("Load", Force, unit="kN"),
    ),
    rows=[("thin_one", Q(25.4, "mm"), Q(1000.0, "N")), ("<lost>", Q(50.8, "mm"), None)],
    sources=(Source("shop", "What the bench says", kind="common practice"),),
    notes=("Rods bend.",),
)


def test_figures_stand_in_both_unit_systems():
    """The style sheet shows one of them; the head has the unit."""
    html = table_html(RODS)
    assert '<span class="wm-si">25.4</span><span class="wm-us">1.000</span>' in html
    assert '<span class="wm-si">1.00</span><span class="wm-us">225</span>' in html
    assert '<span class="wm-unit"><span class="wm-si">kN</span><span class="wm-us">lbf</span>' in (
        html
    )


def test_sorting_goes_by_one_unit():
    """What a cell is sorted by is in the column's own unit; an empty cell has nothing."""
    html = table_html(RODS)
    assert 'data-value="25.4"' in html
    assert 'data-value="1"' in html
    assert '<td class="wm-num">–</td>' in html


def test_words_cannot_break_the_page():
    """Marks of HTML, Markdown and the data book are written as text; the table is one line."""
    page = table_page(RODS)
    assert '<th scope="row">&lt;lost&gt;</th>' in page
    assert "thin&#95;one" in page
    assert "{" not in page.split("---\n", 2)[2]
    assert "\n" not in table_html(RODS)


def test_page_index_and_sources():
    """Notes and sources stand under the table; the index and the list of sources link to it."""
    page = table_page(RODS)
    assert page.index("<table") < page.index("- Rods bend.") < page.index("## Sources")
    assert "What the bench says (common practice, no published source)" in page
    assert "- [Rods](rods.md): What rods bear &#124; with &#123;braces&#125;." in tables_index(
        [RODS]
    )
    assert "[Rods](tables/rods.md)" in sources_page([], DataBook(), [RODS])
    assert table_uri("rods") == "reference/tables/rods.md"
