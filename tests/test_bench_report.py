"""The bench's file holds one run, and the page on speed is one that the handbook may carry."""

from __future__ import annotations

import json
import re
import time
from pathlib import Path
from typing import Any

import pytest

from bench import __main__ as bench
from bench.figures import ratio, summary
from bench.handbooks import Took, added
from bench.record import PARTS, QUIET, Run, lacks
from bench.report import page
from bench.variants import ROOT
from tests.site.conftest import run_build
from witnessmark.page.typed_figures import figures_in


def starts(site: list[float], **others: list[float]) -> dict[str, Any]:
    """Figures of starts as the bench writes them."""
    told: dict[str, Any] = {f"{name}_ms": None for name in bench.VARIANTS}
    for name, values in {"site": site, **others}.items():
        told |= {f"{name}_ms": summary(values)["median"], name: summary(values)}
        if name != "site":
            told[f"{name}_to_site"] = ratio(site, values)
    return told


@pytest.fixture
def told() -> dict[str, Any]:
    """A whole run with invented figures, without PyScript."""
    figures = starts([500.0, 510.0, 520.0], plain=[2000.0, 2040.0, 2600.0], floor=[300.0] * 3)
    took = {
        "plain": [Took(10.0, 9.0), Took(11.0, 9.5), Took(12.0, 9.8)],
        "plugin": [Took(11.0, 10.0), Took(12.1, 10.2), Took(13.2, 10.4)],
        "first": [Took(40.0, 38.0)],
        "retitled": [Took(20.0, 19.0)],
    }
    return {
        "run": {
            "begun": "2026-11-25 18:00 UTC", "source": "0123456789", "repeats": 7,
            "load_before": 0.1, "asked": list(PARTS), "seconds": 900,
            "done": {part: {"load_before": 0.5, "seconds": 60} for part in PARTS},
        },
        "machine": {
            "processor": "An invented processor", "processors": 2, "system": "Linux",
            "python": "3.13.0", "browser": "Chromium 142",
        },
        "missing": {},
        "live": {"cold": figures, "warm": figures},
        "bytes": {"site": 4_250_000, "plain": 13_000_000, "floor": 8_000_000, "pyscript": None},
        "line": {"mbit": 20, **figures},
        "memory": {"site": summary([55.0, 56.0, 57.0]), "plain": summary([80.0, 81.0, 85.0])},
        "entry": {
            f"calculator-{at:02}": {"p50_ms": 2.0 + at, "p95_ms": 4.0 + at, "entries": 500}
            for at in range(9)
        },
        "build": {"1000": added(took, 1000), "100": added(took, 100)},
        "serve": {"page_s": 1.2, "page": summary([1.1, 1.2, 1.4], 2)},
    }  # fmt: skip


def test_the_page_shows_the_figures(told: dict[str, Any]) -> None:
    """Medians with their spread, ratios from pairs; reckoned by hand from the invented ones."""
    text = page(told)
    assert "| This site | 510 (500 to 520) |" in text
    assert "| Plain page | 4.00 (4.00 to 5.00) |" in text
    assert "| This site | 4.25 | 56 (55 to 57) |" in text
    assert "| PyScript | – |" in text
    assert "| 1,000 | 3 | 11.0 (10.0 to 12.0) | 12.1 (11.0 to 13.2) | 1.10 | 20.0 | 40.0 |" in text
    assert text.index("| 100 |") < text.index("| 1,000 |")
    assert "| one page | 1.20 (1.10 to 1.40) |" in text
    slowest = re.findall(r"^\| `calculator-(\d+)`", text, re.MULTILINE)
    assert slowest[:5] == ["08", "07", "06", "05", "04"]
    assert slowest[5:] == [f"{at:02}" for at in range(9)]
    assert "| *the middle of all* | 6.0 | 8.0 |" in text
    assert "2026-11-25 18:00 UTC" in text
    assert "An invented processor with 2 processors" in text


def test_the_page_types_no_figures_with_units(told: dict[str, Any]) -> None:
    """What the handbook asks of its procedures it keeps itself: units stand in the heads."""
    assert [figures_in(line) for line in page(told).split("\n") if figures_in(line)] == []


def test_the_page_is_built_strictly(told: dict[str, Any], tmp_path: Path) -> None:
    """With the Markdown extensions of this handbook; its tables become tables."""
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs/index.md").write_text(page(told), "utf-8")
    config = (ROOT / "mkdocs.yml").read_text("utf-8")
    extensions = re.search(r"^markdown_extensions:\n(?: .*\n)+", config, re.MULTILINE)
    assert extensions
    (tmp_path / "mkdocs.yml").write_text(
        f"site_name: Trial\ntheme: mkdocs\nplugins: []\n{extensions[0]}", "utf-8"
    )
    done = run_build(tmp_path, "mkdocs", "--strict")
    assert done.returncode == 0, done.stderr
    html = (tmp_path / "site/index.html").read_text("utf-8")
    assert html.count("<table>") == 7
    assert "<summary>All calculators</summary>" in html
    assert "| " not in re.sub(r"<title>.*?</title>", "", html)


def test_a_file_holds_one_run(tmp_path: Path) -> None:
    """A later run of one part leaves nothing of the earlier one; each part tells how it went."""
    file = tmp_path / "build/bench.json"
    for parts in (["live", "serve"], ["serve"]):
        run = Run(file, parts, 7)
        for part in parts:
            run.measured(part, {part: {"of": len(parts)}}, time.monotonic(), 0.2)
    told = json.loads(file.read_text("utf-8"))
    assert "live" not in told
    assert told["serve"] == {"of": 1}
    assert told["run"]["done"] == {"serve": {"load_before": 0.2, "seconds": 0}}
    assert re.fullmatch(r"[0-9a-f]{10}( with changes)?|unknown", told["run"]["source"])
    assert [path.name for path in file.parent.iterdir()] == ["bench.json"]


def test_a_page_wants_a_whole_run_of_a_quiet_machine(told: dict[str, Any]) -> None:
    """Otherwise it is told what is missing, PyScript and how to get it among it."""
    assert lacks(told) == []
    run = told["run"]
    for change, word in (
        ({"repeats": 3}, "3 repeats"),
        ({"load_before": QUIET + 0.1}, "busy"),
        ({"calculators": ["lever"]}, "some calculators only"),
        ({"done": {"live": {}}}, "not measured: line, entry, memory, build, serve"),
    ):
        (why,) = lacks(told | {"run": run | change})
        assert word in why
    (why,) = lacks(told | {"missing": {"pyscript": "npm ci fetches it"}})
    assert why == "no pyscript: npm ci fetches it"


def test_what_the_plugin_adds(told: dict[str, Any]) -> None:
    """By hand: 11/10, 12.1/11 and 13.2/12 are 1.1 each; (10.2 - 9.5) s over 100 pages are 7 ms."""
    build = told["build"]["100"]
    assert (build["plain_s"], build["plugin_s"], build["first_s"]) == (11.0, 12.1, 40.0)
    assert build["plugin_to_plain"]["median"] == 1.1
    assert build["added"] == 0.1
    assert build["added_ms_a_page"] == 7.0


def test_pyscript_is_not_left_out_in_silence(monkeypatch, tmp_path: Path) -> None:
    """Where its package is not there, the reason stands where its figures would."""
    from bench import variants

    runtime = tmp_path / "runtime"
    runtime.mkdir()
    (runtime / "pyodide.asm.wasm").write_bytes(b"")
    monkeypatch.setattr(variants, "PYSCRIPT", ROOT / "node_modules/@pyscript/not-there")
    monkeypatch.setattr(
        variants, "build_site", lambda folder: (folder / "assets/witnessmark/bundle-1").mkdir(
            parents=True
        ),
    )  # fmt: skip
    monkeypatch.setattr(variants, "module_imports", lambda module: iter(()))
    monkeypatch.setattr(
        variants, "get_runtime", lambda *_: type("Runtime", (), {"folder": runtime})
    )
    found = variants.lay_out(tmp_path / "site")
    assert set(found.uris) == {"site", "plain", "floor"}
    assert "npm ci" in found.missing["pyscript"]
    assert "make bench" in found.missing["pyscript"]
