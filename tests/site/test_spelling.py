"""Every page is spelt as British English is; words of the trade are in one list."""

from __future__ import annotations

import re

import pytest

from tests.site.spelling import (
    ROOT,
    TRADE_WORDS,
    in_dictionary,
    misspelt_in_markdown,
    misspelt_on_page,
)

pytestmark = pytest.mark.site

PAGE = """\
<nav>Thier way</nav><article><h1>The colour<a title="Link to this heading">¶</a></h1>
<p>Recieve the flywheel, 12 mm from the rim, to 480 N·m; <code>thier</code>
<span class="arithmatex">\\(recieve\\)</span> <span translate="no">recieve</span>
<svg><title>The leverr</title></svg><img alt="a wrrench"></p>
<h2>Color</h2><p>It isn’t re-tightened with a torque-wrnch.</p></article><footer>Thier</footer>
"""


def test_wrong_words_are_told_with_page_and_place():
    """Prose, captions of drawings, texts for those who hear; not code, formulas or what is marked
    as not to be translated, nor the frame of the page."""
    found = misspelt_on_page(PAGE, "a/index.html")
    assert [each.word for each in found] == ["Recieve", "leverr", "wrrench", "Color", "wrnch"]
    assert str(found[0]).startswith(
        "a/index.html, under “The colour”, in “Recieve the flywheel, 12 mm from the rim, to 480"
    )
    assert "(perhaps Receive" in str(found[0])


def test_markdown_is_told_by_line():
    """Fences, code, addresses and values between braces are no prose."""
    text = "A word\n```\nrecieve\n```\n`recieve` {recieve.it} [x](recieve.md)\nand recieve\n"
    assert [each.place for each in misspelt_in_markdown(text, "a.md")] == ["line 6"]


def test_every_page_of_the_handbook_is_spelt_right(demo_site):
    """The built pages, so labels, findings and generated texts count."""
    wrong = [
        each
        for path in sorted(demo_site.rglob("*.html"))
        for each in misspelt_on_page(
            path.read_text("utf-8"), path.relative_to(demo_site).as_posix()
        )
    ]
    assert sorted({str(each) for each in wrong}) == []


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "CHANGELOG.md"])
def test_every_text_about_the_program_is_spelt_right(name):
    """The pages beside the code."""
    found = misspelt_in_markdown((ROOT / name).read_text("utf-8"), name)
    assert list(map(str, found)) == []


def test_the_list_of_trade_words_is_in_order():
    """Sorted, each once, none that the dictionary has."""
    lines = TRADE_WORDS.read_text("utf-8").split("\n")[:-1]
    assert lines == sorted(set(lines), key=lambda word: (word.lower(), word))
    assert all(re.fullmatch(r"[^\W\d_]+", word) for word in lines)
    assert [word for word in lines if in_dictionary(word)] == []
