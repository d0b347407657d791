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
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bench.figures import ratio, summary
from bench.invented import databook, procedure
from bench.variants import ROOT
from witnessmark.bundle.cache import handbook_entry

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


@dataclass(frozen=True)
class Took:
    """Seconds of one build: by the clock, and of the processors."""

    clock: float
    processor: float


def build_seconds(project: Path) -> Took:
    """A clean build in a process of its own."""
    begun = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "mkdocs", "build", "-q", "--clean", "--site-dir", project / "site"],
        cwd=project, env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"the build of {project.name} ended with {process.returncode}")
    return Took(time.perf_counter() - begun, used.ru_utime + used.ru_stime)


def compare(place: Path, pages: int, repeats: int) -> dict[str, list[Took]]:
    """Builds with and without the plugin, in turn, each first every other time; the cache is
    warm and no page has changed. Under ``first`` stands the build that warmed it, under
    ``retitled`` one for which a page has got another title, so that the navigation of all pages
    is another."""
    projects = {}
    for kind in ("plain", "plugin"):
        projects[kind] = place / f"{kind}-{pages}"
        write_handbook(projects[kind], pages, plugin=kind == "plugin")
    took: dict[str, list[Took]] = {kind: [] for kind in projects}
    took["first"] = [build_seconds(projects["plugin"])]  # the cache belongs to one handbook
    for at in range(repeats):
        for kind in list(projects)[:: 1 if at % 2 else -1]:
            took[kind].append(build_seconds(projects[kind]))
    page = projects["plugin"] / "docs/part-00/page-0001.md"
    page.write_text(page.read_text("utf-8").replace("Nut 1\n", "Another nut\n"), "utf-8")
    took["retitled"] = [build_seconds(projects["plugin"])]
    for project in projects.values():
        shutil.rmtree(project)
        for kind in ("outcomes", "pages", "rendered"):
            shutil.rmtree(handbook_entry(project / "calculators", kind=kind), ignore_errors=True)
    return took


def added(took: dict[str, list[Took]], pages: int) -> dict[str, Any]:
    """Medians by the clock and of the processors, and the share that the plugin adds."""
    told: dict[str, Any] = {}
    for kind, each in took.items():
        told[f"{kind}_s"] = summary([one.clock for one in each], 2)["median"]
        told[kind] = summary([one.clock for one in each], 2)
        told[f"{kind}_processor_s"] = summary([one.processor for one in each], 2)["median"]
    pairs = list(zip(took["plain"], took["plugin"], strict=True))
    told["plugin_to_plain"] = ratio(*([one.clock for one in of] for of in zip(*pairs, strict=True)))
    told["processor_plugin_to_plain"] = ratio(
        *([one.processor for one in of] for of in zip(*pairs, strict=True))
    )
    told["added"] = round(told["plugin_to_plain"]["median"] - 1, 3)
    more = told["plugin_processor_s"] - told["plain_processor_s"]
    return told | {"added_ms_a_page": round(1000 * more / pages, 1)}


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
