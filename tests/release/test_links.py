"""Every kind of link of a site is followed, and only those that lead nowhere are told."""

from __future__ import annotations

import pytest

from witnessmark.release import broken_links

GOOD = """\
<html><head><link rel="canonical" href="https://elsewhere.example/x/">
<link rel="stylesheet" href="../style.css"></head><body id="top">
<h2 id="ruling-1">1</h2><h2 id="größe">2</h2>
<a href="">self</a> <a href="#ruling-1">place</a> <a href="#gr%C3%B6%C3%9Fe">umlaut</a>
<a href="../">folder</a> <a href="../index.html#there">file</a> <a href="../a%20b.svg">blank</a>
<a href="https://elsewhere.example/">elsewhere</a> <a href="mailto:fitter@shop.example">mail</a>
<img src="../a b.svg" srcset="../a%20b.svg 1x, ../style.css 2x"> <a href="?q=1#top">query</a>
</body></html>
"""


@pytest.fixture
def site(tmp_path):
    """A page below the root with nothing but links that lead somewhere."""
    (tmp_path / "page").mkdir()
    (tmp_path / "page" / "index.html").write_text(GOOD, "utf-8")
    (tmp_path / "index.html").write_text('<a name="there" href="page/">page</a>', "utf-8")
    (tmp_path / "404.html").write_text('<a href="/anywhere/">root</a>', "utf-8")
    (tmp_path / "style.css").write_text("", "utf-8")
    (tmp_path / "a b.svg").write_text("<svg/>", "utf-8")
    return tmp_path


def test_links_that_lead_somewhere_are_not_told(site):
    """Folders, files, places on the page and on others, queries, other sites."""
    assert broken_links(site) == []


@pytest.mark.parametrize(
    "wrong",
    ['<a href="../missing/">', '<a href="#missing">', '<a href="../index.html#missing">',
     '<img src="missing.png">', '<a href="../../outside/">', '<a href="/rooted/">',
     '<script src="../missing.js">', '<script data-wm-later="../missing.js">',
     '<img srcset="../style.css 1x, missing.png 2x">', '<object data="missing.svg">'],
)  # fmt: skip
def test_links_that_lead_nowhere_are_told(site, wrong):
    """With the page they are on."""
    page = site / "page" / "index.html"
    page.write_text(GOOD.replace("</body>", f"{wrong}</body>"), "utf-8")
    (told,) = broken_links(site)
    assert told.startswith("page/index.html: ")
    assert told.split(": ")[1] in wrong
