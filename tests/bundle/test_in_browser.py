"""The worker and its client in a real browser, under the strictest policy it can run with."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping
from contextlib import suppress
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, Page

from tests.bundle.conftest import LEVER, MakeCollection
from witnessmark.bundle import Bundle, make_bundle

pytestmark = pytest.mark.browser

POLICY = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'"
START_MS = 120_000

ENDLESS = '''"""A calculator that never ends when it is asked for the impossible."""

from dataclasses import dataclass

from witnessmark.calc import Number, Rounding, calculator, entry, number, result


@dataclass(frozen=True)
class Wait:
    turns: Number = result("Turns", lead=True, rounding=Rounding(figures=3))


@calculator(name="endless", title="Endless", topic="trial", purpose="It waits.")
def endless(*, turns: Number = entry("Turns", "1")) -> Wait:
    while number(turns) > 1000:
        pass
    return Wait(turns)
'''

PROBE = """
import * as runtime from "./FRONT/runtime.js";
const seen = [runtime.state()];
runtime.onState((state) => seen.push(state));
const ask = (calculator, entries) =>
  runtime.evaluate({ calculator, entries, units: "si" }).then(
    (outcome) => outcome,
    (error) => ({ rejected: error.message }),
  );
const until = (wanted) =>
  new Promise((resolve) => {
    if (runtime.state() === wanted) resolve();
    runtime.onState((state) => state === wanted && resolve());
  });
Object.assign(window, { probe: { runtime, seen, ask, until } });
"""


class Site:
    """A static site of a bundle and a page that uses its client, with every request noted."""

    def __init__(self, files: Mapping[str, Path | bytes]) -> None:
        self.files = files
        self.asked: list[str] = []
        self.policy = POLICY
        self.types: Mapping[str, str] = {}
        self.server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Handler, site=self))
        self.url = f"http://127.0.0.1:{self.server.server_port}/"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()


class _Handler(SimpleHTTPRequestHandler):
    extensions_map: ClassVar = {
        "": "text/plain",
        ".html": "text/html",
        ".js": "text/javascript",
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
    }

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        self.site = site
        super().__init__(*args, **kwargs)

    def do_GET(self) -> None:
        name = unquote(urlsplit(self.path).path).lstrip("/") or "index.html"
        self.site.asked.append(name)
        found = self.site.files.get(name)
        body = found.read_bytes() if isinstance(found, Path) else found
        self.send_response(404 if body is None else 200)
        kind = self.site.types.get(Path(name).suffix) or self.guess_type(name)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Security-Policy", self.site.policy)
        self.send_header("Content-Length", str(len(body or b"")))
        self.end_headers()
        with suppress(ConnectionError):  # a worker that is ended takes no more
            self.wfile.write(body or b"")

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@pytest.fixture
def bundle(make_collection: MakeCollection, warm_cache: Path) -> Bundle:
    """Two calculators, one of which can hang."""
    changed = {"endless.py": ENDLESS, "lever.py": LEVER.format(package="trial")}
    modules = ["trial.lever", "trial.endless"]
    return make_bundle(make_collection(**changed), modules, warm_cache, lambda _: None)


@pytest.fixture
def site(bundle: Bundle) -> Iterator[Site]:
    """A page below a sub-path, so that no URI may count on the root."""
    probe = PROBE.replace("FRONT", bundle.front)
    html = '<!doctype html><script type="module" src="probe.js"></script>'
    files = {f"sub/{uri}": path for uri, path in bundle.files.items()}
    made = Site(files | {"sub/index.html": html.encode(), "sub/probe.js": probe.encode()})
    yield made
    made.server.shutdown()


@pytest.fixture
def page(chromium: Browser, site: Site) -> Iterator[Page]:
    """The page, with every message, violation and request to elsewhere kept."""
    context = chromium.new_context()
    context.set_default_timeout(START_MS)
    page = context.new_page()
    page.clock.install()
    troubles: list[str] = []
    page.on("console", lambda message: troubles.append(message.text))
    page.on("request", lambda request: _elsewhere(request.url, site, troubles))
    page.goto(f"{site.url}sub/index.html")
    page.wait_for_function("() => window.probe !== undefined")
    yield page
    context.close()
    if site.policy == POLICY:
        troubles = [each for each in troubles if "policy" in each.lower() or "elsewhere" in each]
        assert troubles == []


def _elsewhere(url: str, site: Site, troubles: list[str]) -> None:
    if not url.startswith((site.url, "data:", "blob:")):
        troubles.append(f"elsewhere: {url}")


def _ask(page: Page, calculator: str, **entries: str) -> Any:
    return page.evaluate("([name, entries]) => probe.ask(name, entries)", [calculator, entries])


def _starts(site: Site) -> int:
    return sum(name.endswith("worker.js") for name in site.asked)


def test_nothing_is_fetched_before_it_is_needed(page: Page, site: Site) -> None:
    """Loading the client starts nothing; the first request does."""
    assert page.evaluate("probe.runtime.state()") == "idle"
    assert [name for name in site.asked if "worker" in name or "wasm" in name] == []


def test_what_was_asked_before_the_start_is_computed(page: Page, site: Site) -> None:
    """Requests made while Python starts are answered in order; one worker serves them all."""
    first, second = page.evaluate(
        "() => Promise.all([probe.ask('lever', {force: '200 N'}), probe.ask('lever', {})])"
    )
    assert [each["results"][0]["value"] for each in (first, second)] == [200, 100]
    assert page.evaluate("probe.seen") == ["idle", "starting", "live"]
    assert page.evaluate("probe.runtime.startTime()") > 0
    assert _starts(site) == 1
    refused = _ask(page, "no-such-calculator")
    assert "no-such-calculator" in refused["rejected"]
    assert _ask(page, "lever", force="3 N")["results"][0]["value"] == 3
    assert page.evaluate("probe.runtime.state()") == "live"


def test_a_bad_entry_is_an_outcome(page: Page) -> None:
    """An entry that cannot be read is told in the outcome, not as a failure."""
    outcome = _ask(page, "lever", force="3 bananas")
    assert outcome["complete"] is False
    assert outcome["entries"]["force"]["error"]["message"]


def test_a_calculation_that_hangs_is_ended_and_the_next_one_answered(
    page: Page, site: Site
) -> None:
    """The worker that hangs is replaced; only the request that hung fails."""
    assert _ask(page, "lever")["complete"]
    page.evaluate("() => { window.hung = probe.ask('endless', {turns: '2000'}) }")
    page.evaluate("() => { window.after = probe.ask('lever', {force: '7 N'}) }")
    page.clock.run_for(30_000)
    assert page.evaluate("() => window.hung") == {"rejected": "the calculation took too long"}
    assert page.evaluate("() => window.after")["results"][0]["value"] == 7
    assert page.evaluate("probe.seen") == ["idle", "starting", "live", "starting", "live"]
    assert _starts(site) == 2


def test_a_server_that_does_not_know_wasm_serves_it_all_the_same(page: Page, site: Site) -> None:
    """The runtime starts whatever content type the server gives its module."""
    site.types = {".wasm": "text/plain"}
    assert _ask(page, "lever", force="9 N")["results"][0]["value"] == 9


def test_a_policy_that_forbids_wasm_is_a_start_that_fails(page: Page, site: Site) -> None:
    """Without 'wasm-unsafe-eval' nothing computes, and the page is told so."""
    site.policy = POLICY.replace(" 'wasm-unsafe-eval'", "")
    assert "Content Security Policy" in _ask(page, "lever")["rejected"]
    assert page.evaluate("probe.runtime.state()") == "failed"


@pytest.mark.parametrize(
    "missing",
    [
        "/worker.js", "/site.js", "/pyodide.mjs", "/pyodide.asm.wasm", "/python_stdlib.zip",
        "/pint-",
    ],
)  # fmt: skip
def test_a_start_that_fails_is_told_once(
    page: Page, site: Site, bundle: Bundle, missing: str
) -> None:
    """Whatever is missing, everything that waits is told why and nothing starts again."""
    site.files = {name: each for name, each in site.files.items() if missing not in name}
    first = _ask(page, "lever")
    assert first["rejected"]
    assert page.evaluate("probe.runtime.state()") == "failed"
    assert _ask(page, "lever") == {"rejected": page.evaluate("probe.runtime.failure()")}
    page.evaluate("() => probe.runtime.warm()")
    page.clock.run_for(60_000)
    assert page.evaluate("probe.seen") == ["idle", "starting", "failed"]
    assert _starts(site) == 1
