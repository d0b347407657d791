"""The handbook opened from a folder, with no server: file: addresses in Chromium."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import live, until

pytestmark = pytest.mark.browser

MULTIPLIER = "#wm-planetary-multiplier"


@pytest.fixture(scope="module")
def folder(site_folder: Path, tmp_path_factory) -> Path:
    """The demo handbook, packed by the command; the name of the folder needs quoting."""
    out = tmp_path_factory.mktemp("shared") / "hand book #1"
    command = "import sys; from witnessmark.cli import main; sys.exit(main())"
    subprocess.run(
        [sys.executable, "-c", command, "pack", "--site-dir", str(site_folder), str(out)],
        check=True,
    )
    return out


def follow(page: Page, selector: str) -> None:
    """Follow a link as it stands, wherever it leads."""
    page.goto(page.locator(selector).first.evaluate("(link) => link.href"))


def test_pages_calculators_drawings_and_search_work(page, folder, watch):
    """From index.html by links to a procedure; an entry is computed, a word is found."""
    page.goto((folder / "index.html").as_uri())
    follow(page, "article a[href*='tightening-through-the-multiplier']")
    assert page.url.endswith("/tightening-through-the-multiplier/index.html")
    live(page)
    page.locator(f"{MULTIPLIER}-multiplier").select_option("")  # its factor is typed
    page.locator(f"{MULTIPLIER}-factor:enabled").fill("4")
    figure = f'{MULTIPLIER} [data-result="setting"] .wm-figure'
    until(page, f"document.querySelector('{figure}').textContent.startsWith('120')")
    assert page.locator(f"{MULTIPLIER} svg.wm-drawing").count() == 1

    page.locator(".md-search__input").press_sequentially("threadlocker")
    until(page, "document.querySelector('.md-search-result__link') !== null")
    follow(page, ".md-search-result__link")
    assert "/procedures/threadlocker/index.html" in page.url
    assert page.evaluate("document.title").startswith("Threadlocker")
    # Nothing is laid out for later: memory is all there is.
    assert [url for url in watch.requests if "python-plain" in url] == []
    assert page.evaluate("Object.keys(localStorage).some((key) => /prepared/.test(key))") is False
    # The theme asks for the site map, which a folder does not give; nothing else is amiss.
    own = [
        text for text in watch.troubles if "sitemap.xml" not in text and "ERR_FAILED" not in text
    ]
    assert own == []


def test_every_link_leads_to_a_file(page, folder):
    """No link of any page ends at a folder, which a browser would list, or at nothing."""
    for path in folder.rglob("*.html"):
        page.goto(path.as_uri())
        for link in page.evaluate(
            "[...document.querySelectorAll('a[href], link[href], script[src], img[src]')]"
            ".map((part) => part.href ?? part.src).filter((url) => url.startsWith('file:'))"
        ):
            assert Path(unquote(urlsplit(link).path)).is_file(), f"{path}: {link}"


def test_a_job_goes_on_from_file_to_file(page, folder):
    """Its sheet carries the code of the page, its list leads back to the page's own file."""
    jobs = (folder / "jobs/index.html").as_uri()
    page.goto(jobs)
    page.get_by_label("Job number").fill("26-031")
    page.locator(".wm-job-new select").select_option("LG2/canal")
    page.get_by_role("button", name="Open the job").click()
    page.locator(".wm-jobs-said", has_text="is open").wait_for()
    page.goto((folder / "procedures/threadlocker/index.html").as_uri())
    page.locator(".wm-job-line", has_text="Job 26-031").wait_for()
    page.get_by_label("Step 1 done").check()
    page.locator(".wm-job-line", has_text="Go on with step 2").wait_for()
    on_page = page.locator(".wm-paper .wm-qr").inner_html()
    follow(page, ".wm-job-line a:text('job sheet')")
    assert page.locator(".wm-sheet-code .wm-qr").inner_html() == on_page
    page.goto(jobs)
    follow(page, "section.wm-job li a")
    assert "/procedures/threadlocker/index.html?engine=" in page.url
    expect(page.get_by_label("Step 1 done")).to_be_checked()
