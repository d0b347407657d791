"""What tests in several folders share: the code of this checkout, the one browser of a run."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

# Programs that tests start, in whatever folder, run the code of this checkout.
os.environ["PYTHONPATH"] = str(Path(__file__).resolve().parents[1] / "plugins")

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Chromium as Debian packages it; Playwright runs once only in a process."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()
