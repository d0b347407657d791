"""From an entry to its result: five hundred entries for each calculator, on its own page."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Playwright

from bench.figures import share
from bench.host import Host
from bench.visits import browser, visit

# Types another figure into one field after the other and waits until the results stand. The
# pause that the page makes while someone is typing is left out: it is no work.
_TYPE = """
async ([from, to]) => {
  const widget = document.querySelector("wm-calculator");
  const fields = widget.fields.filter((each) => each.control?.matches("input") && !each.cells);
  const own = fields.map((each) => each.control.value);
  const took = [];
  for (let at = from; at < to && fields.length; at += 1) {
    const which = at % fields.length;
    const field = fields[which];
    const figure = own[which].match(/^[0-9]+(?:[.,][0-9]+)?/)?.[0] ?? "";
    const changed = Number(figure.replace(",", ".")) * (1 + (1 + (at % 97)) * 1e-5);
    const digits = Number.isInteger(changed) ? String(changed) : changed.toFixed(6);
    field.control.value = figure ? digits + own[which].slice(figure.length) : own[which];
    field.touch();
    const begun = performance.now();
    await widget.compute();
    took.push(performance.now() - begun);
    field.control.value = own[which];
    field.touch();
    clearTimeout(widget.drawing);
  }
  return took;
}
"""
PORTION = 50


def latencies(play: Playwright, host: Host, site: Path, entries: int) -> dict[str, Any]:
    """p50 and p95 in ms for every calculator that has a page of its own."""
    told: dict[str, Any] = {}
    pages = sorted((site / "reference/calculators").glob("*/index.html"))
    for path in pages:
        if "<wm-calculator" not in path.read_text("utf-8"):
            continue
        with (
            tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
            browser(play, Path(profile)) as context,
        ):
            page = context.pages[0]
            visit(page, host, path.parent.relative_to(site).as_posix() + "/")
            page.wait_for_timeout(1500)  # a reader reads first; the runtime practises meanwhile
            took: list[float] = []
            for begin in range(0, entries, PORTION):
                took += page.evaluate(_TYPE, [begin, min(entries, begin + PORTION)])
        if took:
            told[path.parent.name] = {
                "p50_ms": share(took, 0.5),
                "p95_ms": share(took, 0.95),
                "entries": len(took),
            }
    return told
