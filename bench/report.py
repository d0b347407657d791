"""The page on speed, from the figures of a run."""

from __future__ import annotations

import statistics
from pathlib import Path
from typing import Any

_HEAD = """\
---
title: Speed
description: Starts, entries and builds, measured side by side.
---
# Speed

Measured by `make bench` in one run: {begun}, source {source}, on {machine}. Whatever stands in one table was measured in turn, in another order each time. Figures of different runs or machines do not compare; the ratios of one run do.

A figure is the median of {repeats} repeats unless another number is given; the least and the greatest stand behind it.
"""  # noqa: E501 - a paragraph of Markdown is a line

_NAMES = {
    "site": "This site",
    "plain": "Plain page",
    "pyscript": "PyScript",
    "floor": "Module alone",
}

_WHAT = """\
- *This site*: a procedure with a calculator, as a reader opens it.
- *Plain page*: the same calculator, started as the documentation of the runtime tells.
- *PyScript*: the same again with PyScript, from the same host, with the same runtime and wheels.
- *Module alone*: the WebAssembly module of the runtime, fetched, compiled and made an instance of, and nothing else. No page that runs Python from that module is live sooner.
"""  # noqa: E501 - a paragraph of Markdown is a line


def write_page(told: dict[str, Any], path: Path) -> None:
    """Write the page; ``told`` holds every part."""
    path.write_text(page(told), "utf-8")


def page(told: dict[str, Any]) -> str:
    """The page as Markdown. Units stand in the heads of the tables."""
    run, machine = told["run"], told["machine"]
    words = (
        f"{machine['processor']} with {machine['processors']} processors, {machine['system']}, "
        f"Python {machine['python']}, {machine['browser']}"
    )
    parts = [
        _HEAD.format(
            begun=run["begun"], source=f"`{run['source']}`", machine=words, repeats=run["repeats"]
        ),
        _live(told),
        _entry(told["entry"]),
        _build(told["build"]),
        _serve(told["serve"]),
    ]
    return "\n".join(parts)


def _live(told: dict[str, Any]) -> str:
    live, line = told["live"], told["line"]
    rows = [
        [title, *(_spread(of.get(name)) for of in (live["cold"], live["warm"], line))]
        for name, title in _NAMES.items()
    ]
    weights = [
        [title, _megabytes(told["bytes"].get(name)), _spread(told["memory"].get(name))]
        for name, title in _NAMES.items()
    ]
    ratios = [
        [title, *(_ratio(of.get(f"{name}_to_site")) for of in (live["cold"], live["warm"], line))]
        for name, title in _NAMES.items()
        if name != "site"
    ]
    slow = f"cold, {line['mbit']} Mbit/s"
    missing = "".join(f"\nNot measured: {_NAMES[name]}.\n" for name in told["missing"])
    return (
        "## From opening a page to its first result\n\nUntil the first result that the reader's "
        "own browser has worked out stands on the page. Cold is a browser that has never been "
        "there; warm is the same one, closed ten seconds later and opened again. The browser has "
        "had time to settle, and nobody looks into it. The host is a plain one on the same "
        "machine and compresses nothing by itself; over the slow line it compresses texts and "
        f"modules for all pages alike.\n\n{_WHAT}\n"
        + _table(["milliseconds", "cold", "warm", slow], rows)
        + missing
        + "\nHow many times as long the others take as this site, from pairs that were measured "
        "one after the other:\n\n"
        + _table(["times this site", "cold", "warm", slow], ratios)
        + "\nWhat the host sends at a cold start, and what the tab's own process holds for itself "
        "once it is live:\n\n" + _table(["megabytes", "sent", "tab"], weights)
    )


def _entry(entry: dict[str, Any]) -> str:
    rows = {
        name: [f"`{name}`", f"{each['p50_ms']:.1f}", f"{each['p95_ms']:.1f}"]
        for name, each in sorted(entry.items())
    }
    slowest = sorted(entry, key=lambda name: -float(entry[name]["p95_ms"]))[:5]
    middle = ["*the middle of all*"] + [
        f"{statistics.median(each[key] for each in entry.values()):.1f}"
        for key in ("p50_ms", "p95_ms")
    ]
    typed = {each["entries"] for each in entry.values()}
    head = ["milliseconds", "half", "19 of 20"]
    return (
        f"## From an entry to its results\n\n{max(typed)} entries were typed into each of the "
        f"{len(entry)} calculators, on its own page, without the pause that the page makes while "
        "someone is typing. Half of the entries took no longer than the first figure, nineteen "
        "of twenty no longer than the second. These five take longest:\n\n"
        + _table(head, [*(rows[name] for name in slowest), middle])
        + '\n<details markdown="1"><summary>All calculators</summary>\n\n'
        + _table(head, list(rows.values()))
        + "\n</details>\n"
    )


def _build(build: dict[str, Any]) -> str:
    rows = [
        [
            f"{int(pages):,}",
            str(each["plain"]["repeats"]),
            _spread(each["plain"], 1),
            _spread(each["plugin"], 1),
            f"{each['plugin_to_plain']['median']:.2f}",
            f"{each['retitled_s']:.1f}",
            f"{each['first_s']:.1f}",
        ]
        for pages, each in sorted(build.items(), key=lambda item: int(item[0]))
    ]
    return (
        "## Building\n\nInvented handbooks of procedures as long as this handbook's, with three "
        "calculators a page, built by MkDocs with this theme: without the plugin, where blocks "
        "and values stay text, and with it, where the reference pages of all calculators come on "
        "top. Cache warm and no page changed: what an earlier build has made of a page is taken as "
        "it was. Beside it a build after one page has got another title, for which the theme "
        "renders all pages again; the very first build with the plugin, which fills the cache, "
        "stands last.\n\n"
        + _table(
            [
                "pages",
                "repeats",
                "MkDocs alone, seconds",
                "with the plugin, seconds",
                "ratio",
                "a title changed, seconds",
                "first build, seconds",
            ],
            rows,
        )
    )


def _serve(serve: dict[str, Any]) -> str:
    return (
        "## Live preview\n\nFrom saving a page of this handbook to its new words from the "
        "preview's address. MkDocs looks for changed files twice a second; that wait is in it.\n\n"
        + _table(["seconds", "saved to served"], [["one page", _spread(serve["page"], 2)]])
    )


def _spread(each: dict[str, Any] | None, digits: int = 0) -> str:
    if not each:
        return "–"
    median, least, most = (f"{each[key]:,.{digits}f}" for key in ("median", "least", "most"))
    return median if each["repeats"] == 1 else f"{median} ({least} to {most})"


def _ratio(each: dict[str, Any] | None) -> str:
    return _spread(each, 2)


def _megabytes(count: int | None) -> str:
    return f"{count / 1e6:.2f}" if count else "–"


def _table(head: list[str], rows: list[list[str]]) -> str:
    lines = [head, ["---"] + ["--:"] * (len(head) - 1), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)
