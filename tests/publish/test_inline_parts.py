"""Inline scripts and styles leave the page and run as before."""

from __future__ import annotations

import pytest

from witnessmark.publish import handlers_in, move_inline_parts


def moved(html: str):
    return move_inline_parts(html, lambda uri: f"../{uri}")


def test_a_script_goes_into_a_file_named_by_its_content():
    """The page refers to it where it stood; the same script on another page is the same file."""
    first = moved("<p>a</p><script>one()</script><p>b</p>")
    ((uri, text),) = first.files.items()
    assert text == "one()"
    assert first.html == f'<p>a</p><script src="../{uri}"></script><p>b</p>'
    assert moved("<script>one()</script>").files == first.files
    assert moved("<script>two()</script>").files != first.files


def test_a_module_stays_a_module():
    """Attributes of the script are kept."""
    assert '<script type="module" src=' in moved('<script type="module">a</script>').html


@pytest.mark.parametrize(
    "html",
    [
        '<script src="a.js"></script>',
        '<script id="__config" type="application/json">{"a": "<script>"}</script>',
        "<!-- <script>a()</script> <p style='x'> -->",
        '<p title="a style=&quot;b&quot; > c">style="d"</p>',
        "<code>&lt;script&gt;a()&lt;/script&gt; style='x'</code>",
    ],
)
def test_what_is_no_inline_part_stays(html):
    """Files, data, comments and text that only looks like a tag."""
    assert moved(html) == type(moved(html))(html, {})


def test_style_elements_and_attributes_become_sheets():
    """An attribute becomes a rule that outranks any selector, as the attribute did."""
    page = moved(
        "<head><style>p { color: red }</style></head>"
        "<td style=\"text-align: right;\">1</td><td style='text-align: right;'>2</td>"
        "<i style=color:blue>3</i>"
    )
    assert "<style" not in page.html
    assert " style=" not in page.html
    assert page.html.count("data-wm-style=") == 3
    assert page.html.index('rel="stylesheet"') < page.html.index("</head>")
    own, rules = page.files.values()
    assert own == "p { color: red }"
    assert rules.count(":is(#wm-style, [data-wm-style=") == 2
    assert "{ text-align: right; }" in rules
    assert "{ color:blue }" in rules


def test_handlers_are_found():
    """What cannot be moved is named."""
    assert handlers_in('<p onclick="a()">x</p><a href="javascript:b()">y</a>') == [
        '<p onclick="a()">',
        '<a href="javascript:b()">',
    ]
    assert handlers_in("<p title='on time'>onclick=no</p><p data-on='x'>") == []
