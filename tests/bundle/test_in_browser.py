"""The worker and its client in a real browser, under the strictest policy it can run with."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import suppress
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, Page

from tests.bundle.conftest import small_files
from witnessmark.bundle import Bundle, get_runtime, make_bundle, squeeze
from witnessmark.bundle.build import FRONT
from witnessmark.collection import load_collection

pytestmark = pytest.mark.browser

POLICY = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'"
START_MS = 120_000

CHANCE = '''"""A calculator that looks at the clock and draws lots, as none should."""

import random
import time
from dataclasses import dataclass
from datetime import datetime

from witnessmark.calc import Number, Rounding, calculator, entry, result


@dataclass(frozen=True)
class Chance:
    drawn: Number = result("Drawn", lead=True, rounding=Rounding(figures=3))
    now: Number = result("Seconds", rounding=Rounding(figures=12))
    hour: Number = result("Hour of noon in Greenwich", rounding=Rounding(figures=3))


@calculator(name="chance", title="Chance", topic="trial", purpose="It draws.")
def chance(*, turns: Number = entry("Turns", "1")) -> Chance:
    noon = datetime.fromtimestamp(1782907200)
    return Chance(random.random(), time.time(), noon.hour)
'''

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
        self.declared = False  # whether .zst files are declared as compressed on the way
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
        if self.site.declared and name.endswith(".zst"):
            self.send_header("Content-Encoding", "zstd")
        self.send_header("Content-Length", str(len(body or b"")))
        self.end_headers()
        with suppress(ConnectionError):  # a worker that is ended takes no more
            self.wfile.write(body or b"")

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="session")
def bundle(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """A calculator as it should be, one that can hang, one that draws lots; their heap image."""
    root = tmp_path_factory.mktemp("bundle")
    folder = root / "trial"
    folder.mkdir()
    for name, text in (small_files("trial") | {"endless.py": ENDLESS, "chance.py": CHANCE}).items():
        (folder / name).write_text(text, "utf-8")
    runtime = get_runtime().folder.parents[1]
    (root / "cache").mkdir()
    (root / "cache" / runtime.name).symlink_to(runtime)
    modules = ["trial.lever", "trial.endless", "trial.chance"]
    return make_bundle(load_collection(folder), modules, root / "cache", lambda _: None)


@pytest.fixture
def site(bundle: Bundle) -> Iterator[Site]:
    """A page below a sub-path, so that no URI may count on the root."""
    probe = PROBE.replace("FRONT", bundle.front)
    html = '<!doctype html><script type="module" src="probe.js"></script>'
    files = {f"sub/{uri}": path for uri, path in bundle.files.items()}
    # The page's own are joined in main.js; the probe has the parts, with the worker of the site.
    parts = {f"sub/{bundle.front}/{part.name}": part for part in FRONT.glob("*.js")}
    files = parts | files
    made = Site(files | {"sub/index.html": html.encode(), "sub/probe.js": probe.encode()})
    yield made
    made.server.shutdown()


@pytest.fixture
def consoled() -> list[str]:
    """What the page and its worker write on the console."""
    return []


@pytest.fixture
def page(chromium: Browser, site: Site, consoled: list[str]) -> Iterator[Page]:
    """The page, with every message, violation and request to elsewhere kept."""
    context = chromium.new_context(timezone_id="Asia/Kathmandu")
    context.set_default_timeout(START_MS)
    page = context.new_page()
    page.clock.install()
    troubles: list[str] = []
    page.on("console", lambda message: troubles.append(message.text))
    page.on("console", lambda message: consoled.append(message.text))
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


def _starts(site: Site, awaited: int = 0) -> int:
    """How many workers were started; ``awaited`` of them may be on their way."""
    end = time.monotonic() + 60
    while True:
        count = sum(name.endswith("worker.js") for name in site.asked)
        if count >= awaited or time.monotonic() > end:
            return count
        time.sleep(0.05)


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


TOO_LONG = {"rejected": "it takes more than 2 seconds and was stopped"}


def _hang(page: Page, turns: int) -> Any:
    """Ask for what never ends, and something behind it; let the clock of the page run on."""
    page.evaluate("(turns) => { window.hung = probe.ask('endless', {turns}) }", str(turns))
    page.evaluate("() => { window.after = probe.ask('lever', {force: '7 N'}) }")
    page.clock.run_for(2_500)
    return page.evaluate("() => window.hung")


def test_a_calculation_that_hangs_is_ended_and_the_next_one_answered(
    page: Page, site: Site
) -> None:
    """The worker that hangs is replaced; only the request that hung fails, as often as it is."""
    assert _ask(page, "lever")["complete"]
    for count in range(1, 6):
        assert _hang(page, 2000 + count) == TOO_LONG
        assert page.evaluate("() => window.after")["results"][0]["value"] == 7
        assert _starts(site, 1 + count) == 1 + count
    seen = page.evaluate("probe.seen")
    assert seen == ["idle", *["starting", "live"] * 6]


def test_what_hung_once_is_not_tried_again(page: Page, site: Site) -> None:
    """The same request is refused at once; the runtime goes on."""
    assert _ask(page, "lever")["complete"]
    assert _hang(page, 2000) == TOO_LONG
    assert page.evaluate("() => window.after")["complete"]
    assert _ask(page, "endless", turns="2000") == TOO_LONG
    assert _ask(page, "endless", turns="2")["results"][0]["value"] == 2
    assert _starts(site, 2) == 2


def test_the_first_calculation_after_a_start_may_take_longer(page: Page, site: Site) -> None:
    """Two seconds end nothing as long as the engine still translates; ten do."""
    page.evaluate("() => { window.hung = probe.ask('endless', {turns: '2000'}) }")
    page.evaluate("() => probe.until('live')")
    page.clock.run_for(5_000)
    assert page.evaluate("probe.runtime.state()") == "live"
    page.clock.run_for(6_000)
    assert page.evaluate("() => window.hung") == TOO_LONG
    assert _starts(site, 2) == 2


def test_the_image_starts_without_a_file_of_the_long_way(
    page: Page, site: Site, bundle: Bundle
) -> None:
    """What the bundle calls start files is all that is asked for, and enough."""
    assert _ask(page, "lever", force="9 N")["results"][0]["value"] == 9
    assert page.evaluate("probe.runtime.tookLong()") == ""
    asked = {name.removeprefix("sub/") for name in site.asked}
    asked -= {"index.html", "probe.js", "favicon.ico"}
    asked -= {f"{bundle.front}/{part.name}" for part in FRONT.glob("*.js")} - set(bundle.files)
    asked = {name for name in asked if not name.endswith("/python-plain.wasm")}  # for later visits
    assert asked <= set(bundle.start_files)
    assert asked.isdisjoint(bundle.fallback_files)
    assert any(name.endswith("image.zst") for name in asked)


@pytest.mark.parametrize("damage", ["missing", "cut short", "of another build", "no module"])
def test_without_its_image_a_page_starts_from_the_wheels(
    page: Page, site: Site, bundle: Bundle, damage: str, consoled: list[str]
) -> None:
    """Whatever is wrong with the image, results are the same, and the reason is told."""
    ending = "python.wasm.zst" if damage == "no module" else "image.zst"
    (name,) = [each for each in site.files if each.endswith(ending)]
    content = site.files[name]
    assert isinstance(content, Path)
    image = squeeze.zstd.decompress(content.read_bytes())
    files = dict(site.files)
    if damage in ("missing", "no module"):
        del files[name]
    elif damage == "cut short":
        files[name] = squeeze.zstd.compress(image[:-65536], 1)
    else:
        files[name] = squeeze.zstd.compress(b"0" * 64 + image[64:], 1)
    site.files = files
    assert _ask(page, "lever", force="9 N")["results"][0]["value"] == 9
    why = page.evaluate("probe.runtime.tookLong()")
    assert why
    assert any("The heap image could not be used" in line and why in line for line in consoled)
    # Tables held back from the image are only for imports after a start from it, the plain module
    # for visits after one; the scripts for a host without a page are for none.
    others = ("/tables.bin", "/python-plain.wasm", "/pageless.js")
    needed = {each for each in bundle.fallback_files if not each.endswith(others)}
    assert needed <= {each.removeprefix("sub/") for each in site.asked}


def test_no_file_passes_for_another_compressed_beforehand(bundle: Bundle) -> None:
    """Hosts send name.gz for name, and no copy of a site keeps both."""
    assert bundle.files.keys().isdisjoint({f"{uri}.gz" for uri in bundle.files})


def test_every_visit_has_its_own_clock_and_chance(page: Page, site: Site, bundle: Bundle) -> None:
    """Time is the reader's, and random numbers are others in every worker."""
    drawn = []
    for _ in range(2):
        page.reload()
        page.wait_for_function("() => window.probe !== undefined")
        results = _ask(page, "chance")["results"]
        drawn.append(next(each["value"] for each in results if each["name"] == "drawn"))
        now = next(each["value"] for each in results if each["name"] == "now")
        assert abs(now - time.time()) < 60
        hour = next(each["value"] for each in results if each["name"] == "hour")
        assert hour == page.evaluate("new Date(Date.UTC(2026, 6, 1, 12)).getHours()")
    assert drawn[0] != drawn[1]


def test_a_host_that_declares_the_compression_serves_it_all_the_same(
    page: Page, site: Site
) -> None:
    """Where the browser has undone the compression, the page does not undo it again."""
    site.declared = True
    assert _ask(page, "lever", force="9 N")["results"][0]["value"] == 9
    assert page.evaluate("probe.runtime.tookLong()") == ""


def test_a_server_that_does_not_know_wasm_serves_it_all_the_same(page: Page, site: Site) -> None:
    """The runtime starts whatever content type the server gives its module, the long way too."""
    site.types = {".wasm": "text/plain", ".zst": "text/plain"}
    site.files = {name: each for name, each in site.files.items() if "/image.zst" not in name}
    assert _ask(page, "lever", force="9 N")["results"][0]["value"] == 9


def test_a_policy_that_forbids_wasm_is_a_start_that_fails(page: Page, site: Site) -> None:
    """Without 'wasm-unsafe-eval' nothing computes, and the page is told so."""
    site.policy = POLICY.replace(" 'wasm-unsafe-eval'", "")
    assert "Content Security Policy" in _ask(page, "lever")["rejected"]
    assert page.evaluate("probe.runtime.state()") == "failed"


@pytest.mark.parametrize(
    "missing",
    [
        "/worker.js", "/pyodide.mjs", "/pyodide.asm.wasm", "/python_stdlib.zip",
        "/pint-",
    ],
)  # fmt: skip
def test_a_start_that_fails_is_told_once(page: Page, site: Site, missing: str) -> None:
    """When neither way leads to Python, all that waits is told why and nothing starts again."""
    gone = (missing, "/image.zst")
    site.files = {
        name: each for name, each in site.files.items() if not any(part in name for part in gone)
    }
    first = _ask(page, "lever")
    assert first["rejected"]
    assert page.evaluate("probe.runtime.state()") == "failed"
    assert _ask(page, "lever") == {"rejected": page.evaluate("probe.runtime.failure()")}
    page.evaluate("() => probe.runtime.warm()")
    page.clock.run_for(60_000)
    assert page.evaluate("probe.seen") == ["idle", "starting", "failed"]
    assert _starts(site) == 1
