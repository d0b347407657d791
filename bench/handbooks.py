"""What the plugin adds to a build: invented handbooks of many pages, with it and without."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import Any

from bench.figures import summary
from bench.invented import databook, procedure
from bench.variants import ROOT

PATIENCE_S = 600


def write_handbook(project: Path, pages: int, *, plugin: bool) -> None:
    """A project with this many procedures of three calculators each."""
    docs = project / "docs"
    (docs / "databook").mkdir(parents=True)
    shutil.copytree(ROOT / "calculators", project / "calculators")
    (docs / "databook/shop.yml").write_text(databook(pages), "utf-8")
    for at in range(pages):
        folder = docs / f"part-{at // 100:02}"
        folder.mkdir(exist_ok=True)
        (folder / f"page-{at:04}.md").write_text(procedure(at), "utf-8")
    (docs / "index.md").write_text("# Trial\n\nA handbook made to be measured.\n", "utf-8")
    (project / "mkdocs.yml").write_text(
        "site_name: Trial\nsite_url: https://trial.example/\n"
        "theme: {name: material, font: false, features: [navigation.prune]}\n"
        "plugins: [search" + (", witnessmark" if plugin else "") + "]\n",
        "utf-8",
    )


def build_seconds(project: Path) -> float:
    """A clean build in a process of its own."""
    begun = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "-q", "--clean", "--site-dir", project / "site"],
        cwd=project, check=True, env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    return time.perf_counter() - begun


def compare(place: Path, pages: int, repeats: int) -> dict[str, list[float]]:
    """Seconds of builds with and without the plugin, in turn; the cache is warm."""
    projects = {}
    for kind in ("plain", "plugin"):
        projects[kind] = place / f"{kind}-{pages}"
        write_handbook(projects[kind], pages, plugin=kind == "plugin")
    build_seconds(projects["plugin"])  # what is kept of outcomes belongs to one handbook
    seconds: dict[str, list[float]] = {kind: [] for kind in projects}
    for _ in range(repeats):
        for kind, project in projects.items():
            seconds[kind].append(build_seconds(project))
    for project in projects.values():
        shutil.rmtree(project)
    return seconds


def serve_seconds(place: Path, port: int, repeats: int) -> list[float]:
    """From saving a page of the demonstration to its new words under the live preview."""
    project = place / "serve"
    project.mkdir()
    for name in ("docs", "calculators"):
        shutil.copytree(ROOT / name, project / name)
    shutil.copy(ROOT / "mkdocs.yml", project / "mkdocs.yml")
    page = project / "docs/procedures/bar-on-the-nut.md"
    if not page.is_file():
        page = sorted((project / "docs/procedures").glob("*.md"))[-1]
    text = page.read_text("utf-8")
    command = [sys.executable, "-m", "mkdocs", "serve", "-q", "--dev-addr", f"127.0.0.1:{port}"]
    process = subprocess.Popen(
        command, cwd=project, env=os.environ | {"NO_MKDOCS_2_WARNING": "1"}, start_new_session=True
    )
    url = f"http://127.0.0.1:{port}/procedures/{page.stem}/"
    try:
        _wait_for(url, "<h1", process)
        took = []
        for at in range(repeats):
            word = f"Trialword{at}"
            begun = time.perf_counter()
            page.write_text(f"{text}\n\n{word}\n", "utf-8")
            _wait_for(url, word, process)
            took.append(time.perf_counter() - begun)
        return took
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGTERM)
        process.wait(30)


def _wait_for(url: str, word: str, process: subprocess.Popen[bytes]) -> None:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and process.poll() is None:
        try:
            with urllib.request.urlopen(url, timeout=PATIENCE_S) as answer:
                if re.search(word, answer.read().decode()):
                    return
        except OSError:
            pass
        time.sleep(0.05)
    raise RuntimeError(f"the live preview never showed {word!r} at {url}")


def added(seconds: dict[str, list[float]]) -> dict[str, Any]:
    """Medians, and the share that the plugin adds."""
    plain, plugin = summary(seconds["plain"]), summary(seconds["plugin"])
    return {
        "plain_s": plain["median"],
        "plugin_s": plugin["median"],
        "plain": plain,
        "plugin": plugin,
        "added": round(plugin["median"] / plain["median"] - 1, 3),
    }
