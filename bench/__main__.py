"""``python -m bench [live] [line] [entry] [memory] [build] [serve] [--repeats N] [--pages N …]``.

Without a part all are measured. A run writes its own figures into build/bench.json and nothing of
another run stays there; the page on speed is written from a run of all parts alone.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from bench.entries import latencies
from bench.figures import ratio, summary
from bench.handbooks import added, compare, serve_seconds
from bench.host import Host
from bench.record import PARTS, Run, lacks, load
from bench.report import write_page
from bench.variants import ROOT, Variants, lay_out
from bench.visits import Visit, cold, cold_and_warm, tab_memory

OUT = ROOT / "build/bench.json"
PAGE = ROOT / "docs/reference/speed.md"
IN_BROWSER = ("live", "line", "entry", "memory")
VARIANTS = ("site", "plain", "floor", "pyscript")
LINE_MBIT = 20


@dataclass
class Bench:
    """What the parts are measured with."""

    run: Run
    asked: argparse.Namespace
    place: Path

    @contextmanager
    def browsers(self) -> Iterator[tuple[Any, Host, Variants]]:
        """A driver of browsers, the host, and the pages that are compared."""
        self.run.say("building the handbook and the pages it is compared with")
        variants = lay_out(self.place / "site")
        self.run.told["missing"] = variants.missing
        for name, why in variants.missing.items():
            self.run.say(f"WITHOUT {name}: {why}")
        with Host(variants.folder) as host, sync_playwright() as play:
            yield play, host, variants


def main() -> int:
    """Measure the parts asked for; put the figures into OUT and, of a whole run, on PAGE."""
    asked = _arguments()
    run = Run(OUT, asked.parts, asked.repeats)
    with (
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place,
        ExitStack() as stack,
    ):
        bench = Bench(run, asked, Path(place))
        opened: tuple[Any, Host, Variants] | None = None
        for number, part in enumerate(asked.parts, 1):
            if part in IN_BROWSER and opened is None:
                opened = stack.enter_context(bench.browsers())
            run.say(f"part {number} of {len(asked.parts)}: {part}")
            began, load_then = time.monotonic(), load()
            run.measured(part, _MEASURE[part](bench, *(opened or ())), began, load_then)
    print(f"{OUT.relative_to(ROOT)} holds the figures")
    missed = lacks(run.told)
    if not missed:
        write_page(run.told, PAGE)
        print(f"{PAGE.relative_to(ROOT)} is written")
    else:
        print(f"{PAGE.relative_to(ROOT)} is left as it is: {'; '.join(missed)}")
    return 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m bench", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(PARTS)}")
    parser.add_argument("--repeats", type=int, default=7)
    parser.add_argument("--entries", type=int, default=500, help="entries for each calculator")
    parser.add_argument("--calculators", nargs="+", default=[], help="entries of these only")
    parser.add_argument("--pages", type=int, nargs="+", default=[100, 1000, 3000],
                        help="sizes of the handbooks that are built")  # fmt: skip
    parser.add_argument("--port", type=int, default=8765, help="of the live preview")
    asked = parser.parse_args()
    strange = sorted(set(asked.parts) - set(PARTS))
    if strange:
        parser.error(f"{strange[0]!r} is not one of {', '.join(PARTS)}")
    asked.parts = [part for part in PARTS if part in (asked.parts or PARTS)]
    return asked


def _live(bench: Bench, play: Any, host: Host, variants: Variants) -> dict[str, Any]:
    """Cold and warm starts of all variants, in turn, in another order each time."""
    visits: dict[str, dict[str, list[Visit]]] = {
        kind: {name: [] for name in variants.uris} for kind in ("cold", "warm")
    }
    for at in range(bench.asked.repeats):
        bench.run.say(f"  start {at + 1} of {bench.asked.repeats}")
        for name in _in_turn(variants):
            both = cold_and_warm(host, variants.uris[name])
            for kind, each in zip(visits, both, strict=True):
                visits[kind][name].append(each)
    told = {kind: _starts(visits[kind]) for kind in visits}
    sent = {name: each[0].bytes for name, each in visits["cold"].items()}
    return {"live": told, "bytes": {name: sent.get(name) for name in VARIANTS}}


def _line(bench: Bench, play: Any, host: Host, variants: Variants) -> dict[str, Any]:
    """Cold starts over a slow line."""
    visits: dict[str, list[Visit]] = {name: [] for name in variants.uris}
    host.line, host.compress = LINE_MBIT, True
    for at in range(bench.asked.repeats):
        bench.run.say(f"  start at {LINE_MBIT} Mbit/s {at + 1} of {bench.asked.repeats}")
        for name in _in_turn(variants):
            visits[name].append(cold(host, variants.uris[name]))
    host.line, host.compress = None, False
    return {"line": {"mbit": LINE_MBIT, **_starts(visits)}}


def _entry(bench: Bench, play: Any, host: Host, variants: Variants) -> dict[str, Any]:
    only = bench.asked.calculators
    bench.run.told["run"]["calculators"] = only
    return {"entry": latencies(play, host, variants.folder, bench.asked.entries, only)}


def _memory(bench: Bench, play: Any, host: Host, variants: Variants) -> dict[str, Any]:
    used: dict[str, list[float]] = {name: [] for name in variants.uris}
    for _ in range(min(bench.asked.repeats, 3)):
        for name in _in_turn(variants):
            used[name].append(tab_memory(host, variants.uris[name]))
    told: dict[str, Any] = {f"{name}_mb": None for name in VARIANTS}
    for name, values in used.items():
        told |= {f"{name}_mb": summary(values)["median"], name: summary(values)}
    return {"memory": told}


def _build(bench: Bench, *_: Any) -> dict[str, Any]:
    """Builds with the plugin and without; of a very large handbook once is enough."""
    told = {}
    for pages in bench.asked.pages:
        repeats = max(1, min(bench.asked.repeats, 3, 3000 // pages))
        bench.run.say(f"  handbooks of {pages} pages, {repeats} times")
        told[str(pages)] = added(compare(bench.place, pages, repeats), pages)
    return {"build": told}


def _serve(bench: Bench, *_: Any) -> dict[str, Any]:
    took = serve_seconds(bench.place, bench.asked.port, bench.asked.repeats)
    return {"serve": {"page_s": summary(took, 2)["median"], "page": summary(took, 2)}}


_MEASURE: dict[str, Callable[..., dict[str, Any]]] = {
    "live": _live, "line": _line, "entry": _entry, "memory": _memory, "build": _build,
    "serve": _serve,
}  # fmt: skip


def _in_turn(variants: Variants) -> list[str]:
    return random.sample(list(variants.uris), len(variants.uris))


def _starts(visits: dict[str, list[Visit]]) -> dict[str, Any]:
    """Medians by variant (None for one that is not there), spreads, and ratios from pairs."""
    times = {name: [each.ms for each in of] for name, of in visits.items()}
    told: dict[str, Any] = {f"{name}_ms": None for name in VARIANTS}
    for name, values in times.items():
        told |= {f"{name}_ms": summary(values)["median"], name: summary(values)}
        told[name]["requests"] = visits[name][-1].requests
    for name in times.keys() - {"site"}:
        told[f"{name}_to_site"] = ratio(times["site"], times[name])
    return told


if __name__ == "__main__":
    sys.exit(main())
