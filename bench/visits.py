"""Visits of a page by a real Chromium: until a result is there, cold and warm."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Playwright

from bench.host import Host

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update",
]  # fmt: skip
PATIENCE_S = 300

# Notes the moment at which the page has a result that was worked out in this browser.
_WATCH = """
(() => {
  const live = () =>
    document.documentElement?.dataset.live ||
    [...document.querySelectorAll("wm-calculator .wm-runtime")]
      .some((line) => line.textContent.startsWith("Live"));
  const watcher = new MutationObserver(() => {
    if (live()) {
      watcher.disconnect();
      window.liveAt = performance.now();
    }
  });
  const all = { subtree: true, childList: true, attributes: true, characterData: true };
  watcher.observe(document, all);
})();
"""


@dataclass(frozen=True)
class Visit:
    """Navigation to live in milliseconds, and what the host sent meanwhile."""

    ms: float
    bytes: int
    requests: int


@contextmanager
def browser(play: Playwright, profile: Path) -> Iterator[BrowserContext]:
    """A browser with a profile of its own; offline copies are not made during a run."""
    context = play.chromium.launch_persistent_context(
        str(profile), executable_path=CHROMIUM, args=FLAGS, service_workers="block",
        viewport={"width": 1280, "height": 900},
    )  # fmt: skip
    context.add_init_script(_WATCH)
    try:
        yield context
    finally:
        context.close()


def visit(page: Page, host: Host, uri: str) -> Visit:
    """Open a page and wait until it is live."""
    host.reset()
    page.goto(host.url + uri, wait_until="commit")
    end = time.monotonic() + PATIENCE_S
    while not (ms := page.evaluate("window.liveAt ?? 0")):
        if time.monotonic() > end:
            raise TimeoutError(f"{uri} was not live within {PATIENCE_S} s")
        page.wait_for_timeout(50)
    return Visit(round(float(ms), 1), host.bytes, host.requests)


def cold_and_warm(play: Playwright, host: Host, uri: str) -> tuple[Visit, Visit]:
    """A visit with a fresh profile, and one with the same profile in a restarted browser."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        visits = []
        for _ in range(2):
            with browser(play, Path(profile)) as context:
                page = context.pages[0]
                visits.append(visit(page, host, uri))
                page.wait_for_timeout(1000)  # time to keep translated code
        return visits[0], visits[1]


def cold(play: Playwright, host: Host, uri: str) -> Visit:
    """A visit with a fresh profile."""
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
        browser(play, Path(profile)) as context,
    ):
        return visit(context.pages[0], host, uri)


def tab_memory(play: Playwright, host: Host, uri: str) -> float:
    """Megabytes that the tab's own process holds for itself a while after it is live."""
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
        browser(play, Path(profile)) as context,
    ):
        page = context.pages[0]
        visit(page, host, uri)
        page.wait_for_timeout(3000)
        return max(_private_mb(profile), default=float("nan"))


def _private_mb(profile: str) -> list[float]:
    """Private memory of the processes that render pages of a profile (Linux)."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            command = (folder / "cmdline").read_bytes()
            if b"--type=renderer" not in command or profile.encode() not in command:
                continue
            rollup = (folder / "smaps_rollup").read_text()
        except OSError:
            continue
        kb = sum(int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Private"))
        found.append(round(kb / 1024, 1))
    return found
