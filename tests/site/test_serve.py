"""Live preview: a change to a calculator or to the data book rebuilds the pages that use it."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

pytestmark = pytest.mark.site
PATIENCE_S = 60


@pytest.fixture
def served(project: Path) -> Iterator[str]:
    """The address of a page of the project under ``mkdocs serve``."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "-m", "mkdocs", "serve", "--dev-addr", f"127.0.0.1:{port}"],
        cwd=project, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    yield f"http://127.0.0.1:{port}/shop/pull/"
    process.terminate()
    process.wait(20)


def wait_for(address: str, text: str) -> None:
    """Until the page holds ``text``; fails after a minute."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        try:
            if text in urllib.request.urlopen(address, timeout=5).read().decode():
                return
        except OSError:
            pass
        time.sleep(0.3)
    pytest.fail(f"{text!r} did not come into {address}")


def test_changes_reach_the_page(project: Path, served: str) -> None:
    """First the data book, then the maths, then the words are changed under a running server."""
    wait_for(served, '<span class="wm-si">360\u202fN·m</span>')
    book = project / "docs/databook/shop.yml"
    book.write_text(book.read_text("utf-8").replace("1.2 m", "1.5 m"), "utf-8")
    wait_for(served, '<span class="wm-si">450\u202fN·m</span>')
    module = project / "calculators/lever.py"
    module.write_text(module.read_text("utf-8").replace("force * arm", "2 * force * arm"), "utf-8")
    wait_for(served, '<span class="wm-si">900\u202fN·m</span>')
    page = project / "docs/pull.md"
    page.write_text(page.read_text("utf-8").replace("Pull steadily.", "Pull slowly."), "utf-8")
    wait_for(served, "Pull slowly.")
    wait_for(served.replace("pull/", "reference/calculators/lever/"), "Force times arm.")


def test_a_broken_module_is_mended_under_the_server(project: Path, served: str) -> None:
    """While it cannot be imported the page stays as it was; what stood before comes back, too."""
    wait_for(served, '<span class="wm-si">360\u202fN·m</span>')
    module = project / "calculators/lever.py"
    text = module.read_text("utf-8")
    module.write_text(text + "\ndef broken(:\n", "utf-8")
    time.sleep(3)
    module.write_text(text.replace("force * arm", "3 * force * arm"), "utf-8")
    wait_for(served, '<span class="wm-si">1080\u202fN·m</span>')
    module.write_text(text, "utf-8")
    wait_for(served, '<span class="wm-si">360\u202fN·m</span>')


def test_a_preview_is_not_kept_on_devices(served: str) -> None:
    """No service worker is offered, and pages do not ask for one."""
    wait_for(served, "</html>")
    html = urllib.request.urlopen(served, timeout=5).read().decode()
    assert 'name="witnessmark-front"' in html
    assert "witnessmark-offline" not in html
    with pytest.raises(urllib.error.HTTPError):
        urllib.request.urlopen(served.replace("pull/", "sw.js"), timeout=5)
