"""What a page begins before the rest of it has arrived, and what it leaves for later."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread

import pytest

from tests.browser.conftest import IMPATIENT, held_back, let_go, live, until

pytestmark = pytest.mark.browser

LEVER = "procedures/lever/"
INDEX = "/search/search_index.json"


def test_python_is_started_before_the_theme_has_come(page, trial, watch):
    """The worker, once, and the page's modules are asked for above everything else."""
    page.goto(trial + LEVER)
    live(page)
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


THEME = """performance.getEntriesByType("resource")
  .find(({ name }) => /\\/bundle\\.[0-9a-f]{8}\\.min\\.js$/.test(name))"""


PLACES = """[...document.querySelectorAll(
    ".md-search, .md-header, wm-unit-switch, .md-sidebar__scrollwrap, .md-content :is(h1, h2), "
    + "wm-calculator")]
  .map((part) => [part.className, ...["x", "y", "width"].map((side) =>
    Math.round(part.getBoundingClientRect()[side]))])"""
"""Where things are on the page."""


def test_the_script_of_the_theme_comes_after_the_first_result(page, trial, watch):
    """And then searches, and changes pages without a reload."""
    page.add_init_script(IMPATIENT)
    page.goto(trial + LEVER)
    live(page)
    until(page, f"{THEME} !== undefined && document.querySelector('[data-wm-later]') === null")
    assert page.evaluate(f"window.liveAt <= {THEME}.startTime")
    until(page, "document.documentElement.classList.contains('js')")
    page.locator(".md-search__input").press_sequentially("wedge")
    until(page, "document.querySelector('.md-search-result__link') !== null")
    page.evaluate("window.same = true")
    page.locator(".md-search-result__link").first.click()
    page.wait_for_url("**/wedge/**")
    live(page)
    assert page.evaluate("window.same") is True
    assert watch.troubles == []


def test_a_reader_who_wants_to_search_does_not_wait_for_python(page, trial, watch):
    """The theme's script comes with the cursor in the field of the search."""
    page.add_init_script(IMPATIENT)
    waiting = held_back(page)
    page.goto(trial + LEVER)
    until(page, "document.documentElement.dataset.wmRuntime === 'starting'")
    assert page.evaluate(f"{THEME} === undefined")
    places = page.evaluate(PLACES)
    page.locator(".md-search__input").press_sequentially("lever")
    until(page, "document.querySelector('.md-search-result__link') !== null")
    assert page.evaluate("document.documentElement.dataset.wmRuntime") == "starting"
    page.keyboard.press("Escape")
    until(page, "!document.querySelector('#__search').checked")
    page.wait_for_timeout(500)
    assert page.evaluate(PLACES) == places
    let_go(page, waiting)
    live(page)
    assert watch.troubles == []


def test_a_slow_start_does_not_keep_the_theme_waiting(page, trial):
    """It comes after a while all the same."""
    waiting = held_back(page)
    page.goto(trial + LEVER)
    until(page, f"{THEME} !== undefined", timeout=30_000)
    assert page.evaluate("document.documentElement.dataset.wmRuntime") == "starting"
    assert page.evaluate(f"{THEME}.startTime") >= 2_500
    let_go(page, waiting)


def test_a_start_that_fails_does_not_keep_the_theme_waiting(page, trial):
    """There will be no first result."""
    page.add_init_script(IMPATIENT)
    page.route(re.compile("/(bundle|image)-"), lambda route: route.abort())
    page.goto(trial + LEVER)
    until(page, "document.documentElement.dataset.wmRuntime === 'failed'")
    until(page, f"{THEME} !== undefined", timeout=30_000)


def test_without_our_script_the_theme_comes_all_the_same(page, trial):
    """The search works where nothing is worked out."""
    page.route(re.compile(r"/main\.js$"), lambda route: route.abort())
    page.goto(trial + LEVER)
    until(page, f"{THEME} !== undefined", timeout=30_000)
    page.locator(".md-search__input").press_sequentially("wedge")
    until(page, "document.querySelector('.md-search-result__link') !== null")


def test_a_page_without_calculators_has_its_theme_at_once(page, trial):
    """Its tag is the theme's own."""
    page.goto(trial)
    assert page.evaluate("document.querySelector('[data-wm-later]') === null")
    assert page.evaluate(f"{THEME} !== undefined")


class _Slowly(SimpleHTTPRequestHandler):
    """Hands a page over up to so many bytes behind some text of it; the rest when it is let."""

    def __init__(self, *args, slug: str, text: bytes, beyond: int, go_on: Event, **kwargs) -> None:
        self.slug = slug
        self.text = text
        self.beyond = beyond
        self.go_on = go_on
        super().__init__(*args, **kwargs)

    def do_GET(self) -> None:
        if not self.path.endswith(self.slug):
            super().do_GET()
            return
        data = Path(self.translate_path(self.path), "index.html").read_bytes()
        end = data.index(self.text) + self.beyond
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data[:end])
        self.wfile.flush()
        self.go_on.wait(120)
        self.wfile.write(data[end:])

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def in_two_parts(
    folder: Path, slug: str, text: bytes, beyond: int = 200
) -> Iterator[tuple[str, Event]]:
    """The address of a page that stops behind a text, and what lets it go on."""
    go_on = Event()
    handler = partial(
        _Slowly, directory=str(folder), slug=slug, text=text, beyond=beyond, go_on=go_on
    )
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    server.daemon_threads = True
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/{slug}", go_on
    finally:
        go_on.set()
        server.shutdown()
        server.server_close()


def test_the_first_calculator_computes_before_the_page_is_whole(page, trial_server, watch):
    """The server pauses behind it; entries are taken, and the rest joins in later."""
    with in_two_parts(trial_server.folder, LEVER, b"</wm-calculator>") as (url, go_on):
        page.goto(url, wait_until="commit")
        live(page)
        page.locator("#wm-long-lever-teeth").wait_for(state="attached")
        assert page.evaluate("document.readyState") == "loading"
        assert page.locator("wm-calculator").count() == 1
        assert page.evaluate("document.querySelector('wm-calculator').dataset.state") == "live"
        go_on.set()
        until(page, "document.readyState === 'complete'")
        assert page.locator("wm-calculator").count() == 2
        live(page)
        page.locator("#wm-long-lever-2-torque").fill("200")
        figure = '#wm-long-lever-2 [data-result="pull"] .wm-figure'
        until(page, f"document.querySelector('{figure}').textContent.startsWith('20')")
    assert watch.troubles == []


@pytest.mark.parametrize("beyond", [0, 200])
def test_a_fed_calculator_waits_for_its_source(page, trial, trial_server, watch, beyond):
    """The server pauses before what feeds it, or in the middle of that; nothing changes by it."""
    results = "document.querySelector('#wm-pin-shear .wm-outcome').innerText"
    held_back(page)
    page.goto(f"{trial}procedures/chain/")
    own = page.evaluate(results)
    page.unroute_all()
    source = b'<wm-calculator id="wm-pin-share"'
    slug = "procedures/chain/"
    with in_two_parts(trial_server.folder, slug, source, beyond) as (url, go_on):
        page.goto(url, wait_until="commit")
        until(page, "document.documentElement.dataset.wmRuntime === 'live'")
        page.wait_for_timeout(1000)
        assert page.evaluate(results) == own
        go_on.set()
        until(page, "document.readyState === 'complete'")
        until(page, "[...document.querySelectorAll('wm-calculator')].every((e) => !e.waiting)")
        assert page.evaluate(results) == own
        live(page)
        page.locator("#wm-first-lever-torque").fill("500")
        until(page, f"{results} !== {json.dumps(own)}")
    assert watch.troubles == []


def test_results_that_are_what_the_page_has_stay_where_they_are(page, trial):
    """Whoever has put the cursor in them, or opened something, is not disturbed by the start."""
    waiting = held_back(page)
    page.goto(trial + LEVER)
    until(page, "document.documentElement.dataset.wmRuntime === 'starting'")
    page.evaluate("window.parts = [...document.querySelectorAll('.wm-outcome > *')]")
    assert page.evaluate("window.parts.length") > 1
    let_go(page, waiting)
    live(page)
    assert page.evaluate("window.parts.every((part) => part.isConnected)")
