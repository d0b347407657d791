"""Handbooks, each built once, served by nginx as the handbook's own page on publishing shows it
(sub-path, strict policy, compression), opened in Debian's Chromium.

The demo handbook shows what readers get; the trial handbook beside this file has one invented
calculator with everything a widget can hold.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Route

from tests.browser.nginx import ROOT, Nginx

START_MS = 120_000


TRIAL = Path(__file__).parent / "trial"


def build(project: Path, folder: Path, **environment: str) -> Path:
    """The strictly built handbook of a project."""
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "-q", "--strict", "--site-dir", str(folder)],
        cwd=project, check=True, env={**os.environ, **environment, "NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    return folder


@pytest.fixture(scope="session")
def nginx(tmp_path_factory) -> Iterator[Nginx]:
    """The demo handbook, built for the address at which it is served."""
    server = Nginx(tmp_path_factory.mktemp("site"))
    build(ROOT, server.folder, HANDBOOK_ADDRESS=server.url)
    server.start()
    yield server
    server.close()


@pytest.fixture(scope="session")
def site_folder(nginx: Nginx) -> Path:
    """The demo handbook as files."""
    return nginx.folder


@pytest.fixture(scope="session")
def base(nginx: Nginx) -> str:
    """The address of the demo handbook."""
    return nginx.url


@pytest.fixture(scope="session")
def trial_server(tmp_path_factory) -> Iterator[Nginx]:
    """The trial handbook on its server."""
    server = Nginx(tmp_path_factory.mktemp("trial"))
    build(TRIAL, server.folder, TRIAL_ADDRESS=server.url)
    server.start()
    yield server
    server.close()


@pytest.fixture(scope="session")
def trial(trial_server: Nginx) -> str:
    """The address of the trial handbook."""
    return trial_server.url


@pytest.fixture
def shop(tmp_path) -> Iterator[Nginx]:
    """A handbook of one's own, on its server, for a test that publishes a new release of it."""
    shutil.copytree(TRIAL, tmp_path / "shop")
    (tmp_path / "site").mkdir()
    server = Nginx(tmp_path / "site")
    build(tmp_path / "shop", server.folder, TRIAL_ADDRESS=server.url)
    server.start()
    yield server
    server.close()


@dataclass
class Watch:
    """What a context asked for and complained of."""

    requests: list[str] = field(default_factory=list)
    troubles: list[str] = field(default_factory=list)

    def over(self, context: BrowserContext) -> None:
        context.on("request", lambda request: self.requests.append(request.url))
        context.on(
            "console",
            lambda message: self.troubles.append(message.text) if message.type == "error" else None,
        )
        context.on("weberror", lambda error: self.troubles.append(str(error.error)))


@pytest.fixture
def watch() -> Watch:
    """Requests and complaints of the test's page."""
    return Watch()


@pytest.fixture
def page(chromium: Browser, watch: Watch) -> Iterator[Page]:
    """A page in a fresh profile."""
    context = chromium.new_context(viewport={"width": 1280, "height": 900}, service_workers="block")
    watch.over(context)
    yield opened(context)
    context.close()


def opened(context: BrowserContext) -> Page:
    """A new page on which one can wait under a policy that refuses eval."""
    page = context.new_page()
    page.set_default_timeout(START_MS)
    page.wait_for_function = partial(until, page)  # type: ignore[method-assign]
    return page


def until(page: Page, expression: str, *, arg: object = None, timeout: float = START_MS) -> None:
    """Wait until an expression is true, asking from outside: the policy lets no page do it."""
    end = time.monotonic() + timeout / 1000
    while not _holds(page, expression, arg):
        if time.monotonic() > end:
            raise TimeoutError(f"not within {timeout / 1000:.0f} s: {expression}")
        page.wait_for_timeout(40)


def _holds(page: Page, expression: str, arg: object) -> bool:
    """Whether an expression is true now; a page that is just giving way to another says no."""
    try:
        return bool(page.evaluate(expression, arg))
    except Error as error:
        if "Execution context was destroyed" not in str(error):
            raise
        return False


def live(page: Page) -> None:
    """Wait until the calculators of the page compute."""
    until(
        page,
        "document.documentElement.dataset.wmRuntime === 'live' && "
        "[...document.querySelectorAll('wm-calculator .wm-runtime')]"
        ".every((line) => line.textContent.startsWith('Live'))",
        timeout=START_MS,
    )


IMPATIENT = """(() => {
  const own = window.setTimeout;
  window.setTimeout = (go, ms, ...more) => own(go, ms === 2500 ? 600_000 : ms, ...more);
  new MutationObserver(() => {
    const line = document.querySelector("wm-calculator .wm-runtime");
    if (line?.textContent.startsWith("Live")) { window.liveAt ??= performance.now(); }
  }).observe(document, { childList: true, subtree: true, characterData: true });
})()"""
"""What waits for its time is not brought by the clock; when the first result was there is noted."""


def held_back(page) -> list[Route]:
    """Requests for the image, which wait until somebody lets them go on."""
    waiting: list[Route] = []
    page.route(re.compile("/image-"), lambda route: waiting.append(route))
    return waiting


def let_go(page, waiting: list[Route]) -> None:
    """Let those that wait go on; the first may be still to come."""
    while not waiting:
        page.wait_for_timeout(50)
    for route in waiting:
        route.continue_()
