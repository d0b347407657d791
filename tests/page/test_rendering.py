"""Blocks and values become HTML, and leave alone what is not theirs."""

import re
from pathlib import Path

import pytest
import yaml

from tests.page.builders import THEME_EXTENSIONS, Rendered, data_book, render

CASES = yaml.safe_load((Path(__file__).parent / "rendering.yml").read_text(encoding="utf-8"))
_CALCULATOR = re.compile(r"<wm-calculator\b.*?</wm-calculator>", re.DOTALL)


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The invented data book."""
    return data_book(tmp_path_factory.mktemp("databook"))


def told(page: Rendered) -> str:
    """The HTML as the cases write it."""
    return _CALCULATOR.sub("[calculator]", page.html).replace("\u202f", "~").strip()


def contents(tokens: list[dict]) -> list[str]:
    """The names in a table of contents, in order."""
    return [name for token in tokens for name in (token["name"], *contents(token["children"]))]


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_a_page_becomes_its_html(case, book):
    """The HTML and the table of contents of the case, without a fault."""
    page = render(case["page"], book)

    assert page.faults == []
    assert told(page) == case["html"].strip()
    assert contents(page.md.toc_tokens) == case.get("contents", [])


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_the_place_in_the_list_of_extensions_does_not_matter(case, book):
    """First or last, the outcome is the same."""
    page = render(case["page"], book, ours_first=True)

    assert page.faults == []
    assert told(page) == case["html"].strip()


def test_without_a_page_set_the_extension_says_so():
    """A build that forgets the context gets a clear error, not an empty page."""
    import markdown

    from witnessmark.page import makeExtension

    with pytest.raises(RuntimeError, match="before converting a page"):
        markdown.markdown("Text", extensions=[*THEME_EXTENSIONS, makeExtension()])


def test_one_extension_serves_page_after_page(book):
    """Numbering and marks begin anew with every page."""
    page = "/// step | One\nText.\n///\n"

    first, second = render(page, book), render(page, book)
    first.md.reset()
    again = first.md.convert(page)

    assert first.html == second.html == again


def test_included_text_is_read_too(book, tmp_path):
    """A block in an included file is a block, its faults stand where it is included."""
    (tmp_path / "shared.md").write_text("/// note\n{nut.torqe}\n///\n", encoding="utf-8")
    page = '# Title\n\n--8<-- "shared.md"\n\nText {nut.widht}.\n'

    rendered = render(page, book, **{"pymdownx.snippets": {"base_path": [str(tmp_path)]}})

    assert "wm-finding wm-note" in rendered.html
    assert [fault.split(":")[0] for fault in rendered.faults] == ["3", "5"]


def test_carriage_returns_and_a_byte_order_mark_do_no_harm(book):
    """A page saved by a plain editor gives the same HTML and the same lines."""
    page = (
        "---\ntitle: Page\n---\n\n/// note\nRatio {tools.multiplier.ratio}.\n///\n\n{nut.torqe}\n"
    )

    plain, other = render(page, book), render("\ufeff" + page.replace("\n", "\r\n"), book)

    assert other.html == plain.html
    assert other.faults == plain.faults
    assert plain.faults[0].startswith("9: {nut.torqe}")
