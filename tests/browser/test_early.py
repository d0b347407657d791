"""What a page begins before the rest of it has arrived, and what it leaves for later."""

from __future__ import annotations

import pytest

from tests.browser.conftest import live, until

pytestmark = pytest.mark.browser

LEVER = "procedures/lever/"
INDEX = "/search/search_index.json"


def test_python_is_started_before_the_theme_has_come(page, trial, watch):
    """The worker, once, and the page's modules are asked for above everything else."""
    page.goto(trial + LEVER)
    live(page)
    assert sum(url.endswith("/worker.js") for url in watch.requests) == 1
    assert len([worker for worker in page.workers if "/front-" in worker.url]) == 1
    assert page.evaluate("performance.getEntriesByName('first-paint').length") == 1
    started = """[...performance.getEntriesByType('resource')]
        .find(({ name }) => name.endsWith('/main.js')).startTime"""
    parsed = "performance.getEntriesByType('navigation')[0].domInteractive"
    assert page.evaluate(started) < page.evaluate(parsed)
    assert watch.troubles == []


def test_a_page_without_calculators_starts_no_python(page, trial, watch):
    """What cannot be used is not fetched."""
    page.goto(trial)
    page.locator("h1").first.wait_for()
    page.wait_for_timeout(1000)
    assert page.locator("wm-calculator").count() == 0
    assert [url for url in watch.requests if url.endswith("/worker.js")] == []


def test_the_index_of_the_search_comes_when_it_is_wanted(page, trial, watch):
    """Not with the page, but with the cursor in the field of the search."""
    page.goto(trial + LEVER)
    live(page)
    assert [url for url in watch.requests if INDEX in url] == []
    page.locator(".md-search__input").press_sequentially("lever")
    until(page, "document.querySelector('.md-search-result__link') !== null")
    assert len([url for url in watch.requests if INDEX in url]) == 1
    assert watch.troubles == []


def test_an_address_with_a_search_in_it_searches_at_once(page, trial, watch):
    """The theme itself puts the cursor there."""
    page.goto(f"{trial}{LEVER}?q=lever")
    until(page, "document.querySelector('.md-search-result__link') !== null")
    assert watch.troubles == []
