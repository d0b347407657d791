"""From an entry to its result, and to its drawing, for each calculator on its own page."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from playwright.sync_api import Playwright

from bench.figures import share
from bench.host import Host
from bench.visits import browser, live

# Types another figure into one field after the other and waits until the results stand. The
# pause that the page makes while someone is typing is left out: it is no work. Nobody types
# quicker than that pause, so the page has painted one result before the next entry comes.
_TYPE = """
async ([from, to]) => {
  const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
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
    widget.drawings.putOff();
    await painted();
  }
  return took;
}
"""
# The drawings of entries that follow one another; they are asked for when typing has stopped.
_DRAW = """
async (count) => {
  const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const widget = document.querySelector("wm-calculator");
  const field = widget.fields.find((each) => each.control?.matches("input") && !each.cells);
  const sheets = widget.querySelector(".wm-drawings");
  const own = field?.control.value ?? "";
  const figure = own.match(/^[0-9]+(?:[.,][0-9]+)?/)?.[0] ?? "";
  const took = [];
  for (let at = 1; at <= count && figure && sheets?.children.length; at += 1) {
    const changed = (Number(figure.replace(",", ".")) * (1 + at * 2e-5)).toFixed(6);
    field.control.value = changed + own.slice(figure.length);
    field.touch();
    await widget.compute();
    widget.drawings.putOff();
    await painted();
    const begun = performance.now();
    await widget.drawings.draw();
    took.push(performance.now() - begun);
    await painted();
  }
  if (field) {
    field.control.value = own;
    field.touch();
  }
  return took;
}
"""
PORTION = 50
DRAWINGS = 20


def latencies(
    play: Playwright, host: Host, site: Path, entries: int, only: Sequence[str] = ()
) -> dict[str, Any]:
    """p50 and p95 in ms for every calculator that has a page of its own, or for those named.

    Raises KeyError for a name without such a page.
    """
    told: dict[str, Any] = {}
    pages = {
        path.parent.name: path
        for path in sorted((site / "reference/calculators").glob("*/index.html"))
        if "<wm-calculator" in path.read_text("utf-8")
    }
    for path in [pages[name] for name in only or pages]:
        with (
            tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile,
            browser(play, Path(profile)) as context,
        ):
            page = context.pages[0]
            live(page, host, path.parent.relative_to(site).as_posix() + "/")
            page.wait_for_timeout(3000)  # a reader reads first; the runtime practises meanwhile
            took: list[float] = []
            for begin in range(0, entries, PORTION):
                took += page.evaluate(_TYPE, [begin, min(entries, begin + PORTION)])
            drawn: list[float] = page.evaluate(_DRAW, DRAWINGS)
        if took:
            told[path.parent.name] = {
                "p50_ms": share(took, 0.5),
                "p95_ms": share(took, 0.95),
                "entries": len(took),
                "drawing_p50_ms": share(drawn, 0.5) if drawn else None,
                "drawing_p95_ms": share(drawn, 0.95) if drawn else None,
            }
    return told
