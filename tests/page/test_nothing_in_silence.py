"""Whatever lines a page is made of: it converts, and nothing of ours is left in it as text."""

import re
from itertools import chain

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.page.builders import data_book, render

LINES = (
    "", "", "Text {nut.width} here.", "/// step | A", "//// step | B {nut.torque}", "/// note",
    "//// caution", "///", "////", "/////", "    indented", "  - two", "1. one", "- item",
    "    /// note", "    ///", "/// calculator | wrench", "target: nut.torque", "/// accept",
    "- what: x", "  limit: nut.width", "```", "~~~", "> quote", "> /// note",
    "| a | {nut.width} |", "|---|---|", "# H {nut.thread}", "<div>", "</div>",
    '<div markdown="1">', "<pre>", "</pre>", "<!--", "-->", "!!! tip", "Term", ":   def",
    "[^1]: foot", "x[^1]", "`{nut.torque}`", "`", "{nut", "torque}", "\\{",
    "{wrench.wrench | target:", "400 N·m}", "/// html | div", "$x_{a}$", "\ttab", "/// stop | x",
    "/// 1", "***", "<wm-x>", "{", "}", "&{nut.torque};", "// note",
)  # fmt: skip
_CODE = re.compile(r"<(pre|code|wm-calculator)\b.*?</\1>|<!--.*?-->", re.DOTALL)


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    """The invented data book."""
    return data_book(tmp_path_factory.mktemp("databook"))


@settings(
    max_examples=200,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.lists(st.sampled_from(LINES), min_size=1, max_size=14))
def test_a_page_without_a_fault_shows_no_mark_of_ours(book, lines):
    """No slashes, no braces, no private characters outside code."""
    page = render("\n".join(lines), book)
    text = _CODE.sub("", page.html)

    assert page.faults or not re.search(r"///|\{[^{}\n]*\}", text)
    assert "\ue0a0" not in page.html


def structure(depth: int) -> st.SearchStrategy[list[str]]:
    """Well-formed text: paragraphs, lists, code, and blocks nested with fewer slashes inside."""
    paragraph = st.just(["WORD {nut.width} WORD", "WORD", ""])
    code = st.just(["```", "WORD {a.b}", "", "/// note", "```", ""])
    table = st.just(["| a | b |", "|---|---|", "| WORD | {nut.torque} |", ""])
    if depth == 0:
        return st.one_of(paragraph, code, table)
    inner = st.lists(structure(depth - 1), min_size=1, max_size=2).map(lambda p: [*chain(*p)])
    fence = "/" * (2 + depth)
    return st.one_of(
        paragraph,
        table,
        inner.map(lambda body: [f"{fence} note", *body, fence, ""]),
        inner.map(lambda body: [f"{fence} caution", "", *body, "", fence, ""]),
        inner.map(lambda body: ["1. WORD", "", *(f"    {line}".rstrip() for line in body), ""]),
        inner.map(lambda body: ["- WORD", "", *(f"    {line}".rstrip() for line in body), ""]),
    )


@settings(
    max_examples=100,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.lists(st.tuples(st.booleans(), structure(3)), min_size=1, max_size=3))
def test_every_word_and_every_block_of_a_sound_page_arrives(book, parts):
    """No fault, each word once, each block as its element."""
    lines: list[str] = []
    for step, body in parts:
        lines += ["////// step | WORD", *body, "//////", ""] if step else body
    numbers = iter(range(10_000))
    source = re.sub("WORD", lambda _: f"word{next(numbers)}", "\n".join(lines))

    page = render(source, book)

    words = re.findall(r"word\d+", re.sub(r'id="[^"]*"', "", page.html))
    blocks = re.findall(
        r"^ *///+ (?:note|caution|step)", re.sub("```.*?```", "", source, flags=re.S), re.M
    )
    made = re.findall(r'class="wm-(?:finding wm-\w+|step)"', page.html)
    assert page.faults == []
    assert sorted(words) == sorted(re.findall(r"word\d+", source))
    assert len(made) == len(blocks)
