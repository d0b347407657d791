"""Visits of a page by a real Chromium: until a result is there, cold and warm."""

from __future__ import annotations

import os
import queue
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Playwright

from bench.host import TOLD, WAIT, Host

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update",
]  # fmt: skip
PATIENCE_S = 300

STAY_S = 10.0
"""How long a first visit lasts: browsers write down only after some seconds what a page stores,
and no reader is gone sooner."""

# Tells the host at which moment the page has a result that was worked out in this browser.
WATCHER = """
(() => {
  const live = () =>
    document.documentElement?.dataset.live ||
    [...document.querySelectorAll("wm-calculator .wm-runtime")]
      .some((line) => line.textContent.startsWith("Live"));
  const watcher = new MutationObserver(() => {
    if (live()) {
      watcher.disconnect();
      navigator.sendBeacon("TOLD", String(performance.now()));
    }
  });
  const all = { subtree: true, childList: true, attributes: true, characterData: true };
  watcher.observe(document, all);
})();
""".replace("TOLD", TOLD)


@dataclass(frozen=True)
class Visit:
    """Navigation to live in milliseconds, and what the host sent meanwhile."""

    ms: float
    bytes: int
    requests: int


@contextmanager
def visited(host: Host, profile: str, uri: str) -> Iterator[Visit]:
    """A page in a browser of its own, which nobody looks into, from the moment it is live.

    The browser first has time to settle on a page of another site, then goes to this one.
    """
    with suppress(queue.Empty):
        while True:
            host.told.get_nowait()  # of a page that has been closed since
    host.watcher = WATCHER
    start = f"{host.url.replace('127.0.0.1', 'localhost')}{WAIT[1:]}#{host.url}{uri}"
    command = [CHROMIUM, "--headless", *FLAGS, "--window-size=1280,900"]
    process = subprocess.Popen(
        [*command, f"--user-data-dir={profile}", start],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        ms = float(host.told.get(timeout=PATIENCE_S))
        yield Visit(round(ms, 1), host.bytes, host.requests)
    except queue.Empty:
        raise TimeoutError(f"{uri} was not live within {PATIENCE_S} s") from None
    finally:
        host.watcher = ""
        process.terminate()  # it then writes down what it keeps
        try:
            process.wait(30)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def cold_and_warm(host: Host, uri: str) -> tuple[Visit, Visit]:
    """A visit with a fresh profile, and one with the same profile in a restarted browser."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        with visited(host, profile, uri) as first:
            time.sleep(STAY_S)
        with visited(host, profile, uri) as second:
            pass
        return first, second


def cold(host: Host, uri: str) -> Visit:
    """A visit with a fresh profile."""
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
        visited(host, profile, uri) as visit,
    ):
        return visit


def tab_memory(host: Host, uri: str) -> float:
    """Megabytes that the tab's own process holds for itself a while after it is live."""
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
        visited(host, profile, uri),
    ):
        time.sleep(STAY_S)
        return max(_private_mb(profile), default=float("nan"))


@contextmanager
def browser(play: Playwright, profile: Path) -> Iterator[BrowserContext]:
    """A browser to be driven, with a profile of its own; nothing is kept on the device."""
    context = play.chromium.launch_persistent_context(
        str(profile), executable_path=CHROMIUM, args=FLAGS, service_workers="block",
        viewport={"width": 1280, "height": 900},
    )  # fmt: skip
    try:
        yield context
    finally:
        context.close()


def live(page: Page, host: Host, uri: str) -> None:
    """Open a page and wait until it has a result of its own."""
    page.goto(host.url + uri, wait_until="commit")
    page.locator("wm-calculator .wm-runtime", has_text="Live").first.wait_for(
        timeout=PATIENCE_S * 1000
    )


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
