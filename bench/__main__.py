"""``python -m bench [live] [line] [entry] [memory] [build] [serve] [--repeats N]``."""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from bench.entries import latencies
from bench.figures import ratio, summary
from bench.handbooks import added, compare, serve_seconds
from bench.host import Host
from bench.report import write_page
from bench.variants import ROOT, Variants, lay_out
from bench.visits import CHROMIUM, Visit, cold, cold_and_warm, tab_memory

OUT = ROOT / "build/bench.json"
PAGE = ROOT / "docs/reference/speed.md"
PARTS = ("live", "line", "entry", "memory", "build", "serve")
IN_BROWSER = {"live", "line", "entry", "memory"}
VARIANTS = ("site", "plain", "floor", "pyscript")
LINE_MBIT = 20
# Above this load per processor before the run, figures say more about what else is running.
QUIET = 0.25


def main() -> int:
    """Measure the parts asked for; put the figures into OUT and, of a quiet machine, on PAGE."""
    asked = _arguments()
    load = os.getloadavg()[0] / (os.cpu_count() or 1)
    told: dict[str, Any] = json.loads(OUT.read_text("utf-8")) if OUT.is_file() else {}
    told["machine"] = _machine()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place:
        if IN_BROWSER & set(asked.parts):
            _say("building the handbook and the pages it is compared with")
            variants = lay_out(Path(place) / "site")
            with Host(variants.folder) as host, sync_playwright() as play:
                for part in ("live", "line", "entry", "memory"):
                    if part not in asked.parts:
                        continue
                    found = _BROWSER_PARTS[part](play, host, variants, asked)
                    if part == "entry" and asked.calculators:
                        print(json.dumps(found, indent=1))  # a part of the part is not kept
                        continue
                    told |= found
                    _keep(told, part, asked, load)
        if "build" in asked.parts:
            told["build"] = {}
            for pages in asked.pages:
                _say(f"building handbooks of {pages} pages")
                told["build"][str(pages)] = added(
                    compare(Path(place), pages, min(asked.repeats, 3))
                )
                _keep(told, "build", asked, load)
        if "serve" in asked.parts:
            _say("live preview")
            took = serve_seconds(Path(place), asked.port, asked.repeats)
            told["serve"] = {"page_s": summary(took)["median"], "page": summary(took)}
            _keep(told, "serve", asked, load)
    print(f"{OUT.relative_to(ROOT)} holds the figures")
    runs = [told["runs"].get(part, {}) for part in PARTS]
    if all(run.get("load", 9) <= QUIET and run.get("repeats", 0) >= 7 for run in runs):
        write_page(told, PAGE)
        print(f"{PAGE.relative_to(ROOT)} is written")
    else:
        print(
            f"{PAGE.relative_to(ROOT)} is left as it is: that wants every part from a quiet "
            f"machine (load up to {QUIET} a processor; it was {load:.2f}) and 7 repeats"
        )
    return 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m bench", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(PARTS)}")
    parser.add_argument("--repeats", type=int, default=7)
    parser.add_argument("--entries", type=int, default=500, help="entries for each calculator")
    parser.add_argument("--calculators", nargs="+", default=[], help="entries of these only")
    parser.add_argument("--pages", type=int, nargs="+", default=[100, 1000, 3000])
    parser.add_argument("--port", type=int, default=8765, help="of the live preview")
    asked = parser.parse_args()
    strange = sorted(set(asked.parts) - set(PARTS))
    if strange:
        parser.error(f"{strange[0]!r} is not one of {', '.join(PARTS)}")
    asked.parts = asked.parts or list(PARTS)
    return asked


def _live(play: Any, host: Host, variants: Variants, asked: argparse.Namespace) -> dict[str, Any]:
    """Cold and warm starts of all variants, in turn, in another order each time."""
    visits: dict[str, dict[str, list[Visit]]] = {
        kind: {name: [] for name in variants.uris} for kind in ("cold", "warm")
    }
    for at in range(asked.repeats):
        for name in _in_turn(variants):
            _say(f"start {at + 1} of {asked.repeats}: {name}")
            for kind, each in zip(
                visits, cold_and_warm(play, host, variants.uris[name]), strict=True
            ):
                visits[kind][name].append(each)
    told = {kind: _starts(visits[kind]) for kind in visits}
    sent = {name: each[0].bytes for name, each in visits["cold"].items()}
    return {"live": told, "bytes": {name: sent.get(name) for name in VARIANTS}}


def _line(play: Any, host: Host, variants: Variants, asked: argparse.Namespace) -> dict[str, Any]:
    """Cold starts over a slow line."""
    visits: dict[str, list[Visit]] = {name: [] for name in variants.uris}
    host.line = LINE_MBIT
    for at in range(asked.repeats):
        for name in _in_turn(variants):
            _say(f"start at {LINE_MBIT} Mbit/s {at + 1} of {asked.repeats}: {name}")
            visits[name].append(cold(play, host, variants.uris[name]))
    host.line = None
    return {"line": {"mbit": LINE_MBIT, **_starts(visits)}}


def _entry(play: Any, host: Host, variants: Variants, asked: argparse.Namespace) -> dict[str, Any]:
    _say(f"entries of {', '.join(asked.calculators) or 'every calculator'}")
    return {"entry": latencies(play, host, variants.folder, asked.entries, asked.calculators)}


def _memory(play: Any, host: Host, variants: Variants, asked: argparse.Namespace) -> dict[str, Any]:
    used: dict[str, list[float]] = {name: [] for name in variants.uris}
    for _ in range(min(asked.repeats, 3)):
        for name in _in_turn(variants):
            _say(f"memory: {name}")
            used[name].append(tab_memory(play, host, variants.uris[name]))
    return {"memory": {f"{name}_mb": summary(values)["median"] for name, values in used.items()}}


_BROWSER_PARTS: dict[str, Callable[..., dict[str, Any]]] = {
    "live": _live, "line": _line, "entry": _entry, "memory": _memory,
}  # fmt: skip


def _in_turn(variants: Variants) -> list[str]:
    return random.sample(list(variants.uris), len(variants.uris))


def _starts(visits: dict[str, list[Visit]]) -> dict[str, Any]:
    """Medians by variant (None for one that is not there), spreads, and paired ratios."""
    times = {name: [each.ms for each in of] for name, of in visits.items()}
    told: dict[str, Any] = {f"{name}_ms": None for name in VARIANTS}
    for name, values in times.items():
        told |= {f"{name}_ms": summary(values)["median"], name: summary(values)}
        told[name]["requests"] = visits[name][-1].requests
    told["plain_to_site"] = ratio(times["site"], times["plain"])
    return told


def _machine() -> dict[str, Any]:
    model = "unknown processor"
    if sys.platform == "linux":
        lines = Path("/proc/cpuinfo").read_text().splitlines()
        model = next((line.partition(":")[2].strip() for line in lines if "model name" in line), "")
    with os.popen(f"{CHROMIUM} --version") as answer:
        chromium = answer.read().strip()
    return {
        "processor": model,
        "processors": os.cpu_count(),
        "system": platform.system(),
        "python": platform.python_version(),
        "browser": chromium,
    }


def _keep(told: dict[str, Any], part: str, asked: argparse.Namespace, load: float) -> None:
    runs = told.setdefault("runs", {})
    runs[part] = {"load": round(load, 2), "repeats": asked.repeats}
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(json.dumps(told, indent=1) + "\n", "utf-8")


def _say(words: str) -> None:
    print(words, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
