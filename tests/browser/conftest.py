"""Handbooks, each built once, served under a sub-path, opened in Debian's Chromium.

The demo handbook shows what readers get; the trial handbook beside this file has one invented
calculator with everything a widget can hold.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

ROOT = Path(__file__).resolve().parents[2]
SUBPATH = "/shop/handbook/"
START_MS = 120_000


TRIAL = Path(__file__).parent / "trial"


def build(project: Path, folder: Path, **environment: str) -> Path:
    """The strictly built handbook of a project."""
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "-q", "--strict", "--site-dir", str(folder)],
        cwd=project, check=True, env={**os.environ, **environment, "NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    return folder


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a folder under a sub-path."""

    class Handler(SimpleHTTPRequestHandler):
        def translate_path(self, path: str) -> str:
            rest = path.split("?")[0].split("#")[0].removeprefix(SUBPATH)
            return super().translate_path("/" + rest)

        def log_message(self, *_: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), lambda *a: Handler(*a, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}{SUBPATH}"
    server.shutdown()


@pytest.fixture(scope="session")
def site_folder(tmp_path_factory) -> Path:
    """The demo handbook."""
    return build(ROOT, tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="session")
def base(site_folder: Path) -> Iterator[str]:
    """The address of the demo handbook."""
    with served(site_folder) as address:
        yield address


@pytest.fixture(scope="session")
def trial(tmp_path_factory) -> Iterator[str]:
    """The address of the trial handbook."""
    folder = tmp_path_factory.mktemp("trial")
    with served(folder) as address:
        build(TRIAL, folder, TRIAL_ADDRESS=address)
        yield address


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
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    watch.over(context)
    yield context.new_page()
    context.close()


def live(page: Page) -> None:
    """Wait until the calculators of the page compute."""
    page.wait_for_function(
        "document.documentElement.dataset.wmRuntime === 'live' && "
        "[...document.querySelectorAll('wm-calculator .wm-runtime')]"
        ".every((line) => line.textContent.startsWith('Live'))",
        timeout=START_MS,
    )
