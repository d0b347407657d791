"""Pages on their way into the site: stamped, whole, without inline parts."""

from __future__ import annotations

import re

import pytest

from witnessmark.page import StandIns
from witnessmark.publish import Publication

CLEAN = '<wm-calculator id="wm-lever"><p class="a">420</p></wm-calculator>'


SCRIPTS = "../assets/witnessmark/front-0123"
LEVER = '<wm-calculator id="wm-lever" data-calculator="lever"></wm-calculator>'
WEDGE = '<wm-calculator id="wm-wedge" data-calculator="wedge"></wm-calculator>'


def published(part: str) -> tuple[Publication, str, list[str]]:
    stand_ins = StandIns()
    page = f"<html><head></head><body><i style='color:red'>a</i>{stand_ins.put(part)}</body></html>"
    publication = Publication("assets/witnessmark/front-0123", offline=False)
    done = publication.page(page, lambda uri: f"../{uri}", "1 book 2", stand_ins)
    return publication, done.html, done.handlers


def test_a_part_goes_in_as_it_is() -> None:
    """What has nothing to be moved is on the page to the letter."""
    publication, html, handlers = published(CLEAN)
    assert CLEAN in html
    assert "data-wm-part" not in html
    assert '<meta name="witnessmark" content="1 book 2">' in html
    assert len(publication.moved) == 1
    assert handlers == []


@pytest.mark.parametrize("inline", ["<b style='x:y'>", "<script>a()</script>", "<style>b</style>"])
def test_inline_parts_of_a_part_leave_the_page_too(inline: str) -> None:
    """The policy knows no difference between a part and the page around it."""
    publication, html, _ = published(CLEAN.replace("<p", f"{inline}<p"))
    assert inline not in html
    assert " style=" not in html
    assert 'id="wm-lever"' in html
    assert len(publication.moved) == (1 if "b style" in inline else 2)


def test_handlers_in_a_part_are_found() -> None:
    """They are told like any other."""
    _, html, handlers = published(CLEAN.replace("<p ", '<p onclick="a()" '))
    assert handlers == ['<p onclick="a()" class="a">']
    assert "wm-lever" in html


@pytest.mark.parametrize(
    ("part", "first"),
    [
        (
            LEVER + WEDGE,
            [
                f'<link rel="modulepreload" href="{SCRIPTS}/worker.js">',
                f'<script src="{SCRIPTS}/early.js" data-calculator="lever">',
            ],
        ),
        ("<p>420</p>", [f'<script src="{SCRIPTS}/early.js">']),
    ],
)
def test_the_first_script_stands_above_whatever_a_browser_waits_for(
    part: str, first: list[str]
) -> None:
    """It is told the page's first calculator, for which Python is started, if there is one."""
    stand_ins = StandIns()
    page = (
        '<!doctype html><html><head>\n <meta charset="utf-8">\n'
        f'<link rel="stylesheet" href="a.css"></head><body>{stand_ins.put(part)}</body></html>'
    )
    publication = Publication("assets/witnessmark/front-0123", offline=False)
    html = publication.page(page, lambda uri: f"../{uri}", "", stand_ins).html
    assert re.findall(r"<(?:script|link|meta charset)[^>]*>", html) == [
        '<meta charset="utf-8">',
        *first,
        '<link rel="stylesheet" href="a.css">',
    ]


def test_a_page_is_first_shown_when_half_of_it_is_there() -> None:
    """From the last calculator that begins in the first half on; without one it is shown early."""
    text = f"<p>{'420 ' * 500}</p>"
    for body, shown in (
        (LEVER + text + WEDGE, ["#wm-lever"]),
        (LEVER + WEDGE + text, ["#wm-wedge"]),
        (text + LEVER + WEDGE, []),
        (text, []),
    ):
        stand_ins = StandIns()
        page = f"<!doctype html><html><head></head><body>{stand_ins.put(body)}</body></html>"
        publication = Publication("assets/witnessmark/front-0123", offline=False)
        html = publication.page(page, lambda uri: f"../{uri}", "", stand_ins).html
        assert re.findall(r'<link rel="expect" href="([^"]*)" blocking="render">', html) == shown


def test_a_page_says_whether_calculators_stand_in_its_steps() -> None:
    """The style sheet gives them room beside the text; elsewhere the text keeps its width."""
    step, other = '<section class="wm-step" id="s"><p>420</p>{}</section>', "<h2>4</h2>{}"
    for body, marked in (
        (step.format("") + step.format(LEVER), True),
        (step.format("") + other.format(LEVER), False),
        (other.format(LEVER) + step.format(""), False),
        (step.format(""), False),
    ):
        stand_ins = StandIns()
        page = (
            "<!doctype html><html><head></head><body>"
            f'<article class="md-content__inner md-typeset">{stand_ins.put(body)}</article>'
            "</body></html>"
        )
        publication = Publication("assets/witnessmark/front-0123", offline=False)
        html = publication.page(page, lambda uri: f"../{uri}", "", stand_ins).html
        assert ('class="md-content__inner md-typeset wm-beside"' in html) == marked


FOLDER = "assets/witnessmark/front-0123456789ab"
THEME = '<script src="../assets/javascripts/bundle.0123abcd.min.js"></script>'
MAIN = f'<script src="../{FOLDER}/main.js" type="module"></script>'
LATER = '<script data-wm-later="../assets/javascripts/bundle.0123abcd.min.js"></script>'


def with_scripts(part: str, *scripts: str) -> str:
    """A page with these scripts at its end, as published."""
    stand_ins = StandIns()
    page = (
        f"<html><head></head><body>{stand_ins.put(part)}"
        + "".join(f"\n  {script}" for script in scripts)
        + "\n</body></html>"
    )
    publication = Publication(FOLDER, offline=False)
    return publication.page(page, lambda uri: f"../{uri}", "", stand_ins).html


def test_the_script_of_the_theme_leaves_the_start_to_calculators() -> None:
    """It says where it is, and a page runs it later; the page's own script stays."""
    html = with_scripts(LEVER, THEME, MAIN)
    assert THEME not in html
    assert html.count(LATER) == 1
    assert html.count(MAIN) == 1


@pytest.mark.parametrize(
    ("part", "scripts"),
    [
        ("<p>420</p>", (THEME, MAIN)),
        (LEVER, (THEME, '<script src="../own.js"></script>', MAIN)),
        (LEVER, (THEME, MAIN, '<script src="../own.js"></script>')),
        (LEVER, (THEME,)),
    ],
)
def test_the_script_of_the_theme_stays_where_it_is(part: str, scripts: tuple[str, ...]) -> None:
    """On a page without calculators, where scripts of others count on it, without ours."""
    html = with_scripts(part, *scripts)
    assert html.count(THEME) == 1
    assert "data-wm-later" not in html
