"""The page on speed, from the figures of a run."""

from __future__ import annotations

from pathlib import Path
from typing import Any

_HEAD = """\
---
title: Speed
description: Starts, entries and builds, measured side by side.
---
# Speed

{about}
"""

_ABOUT = (
    "Measured with `make bench` on {machine}. All variants of a table were measured in one run, "
    "in turn, in another order each time; figures of different runs or machines do not compare. "
    "Medians, with the least and the greatest in brackets."
)

_NAMES = {
    "site": "this site",
    "plain": "a plain page, as the runtime's documentation tells",
    "pyscript": "PyScript, served from the same host, same runtime and wheels",
    "floor": "the WebAssembly module alone: fetched, compiled, instantiated",
}


def write_page(told: dict[str, Any], path: Path) -> None:
    """Write the page; ``told`` holds every part."""
    machine = told["machine"]
    words = (
        f"{machine['processor']}, {machine['processors']} processors, {machine['system']}, "
        f"{machine['browser']}"
    )
    parts = [
        _HEAD.format(about=_ABOUT.format(machine=words)),
        _live(told),
        _entry(told["entry"]),
        _build(told["build"], told["serve"]),
    ]
    path.write_text("\n".join(parts), "utf-8")


def _live(told: dict[str, Any]) -> str:
    rows = []
    for name, title in _NAMES.items():
        cells = [_spread(told["live"][kind].get(name)) for kind in ("cold", "warm")]
        cells.append(_spread(told["line"].get(name)))
        sent, memory = told["bytes"].get(name), told["memory"].get(f"{name}_mb")
        cells.append(f"{sent / 1e6:.2f} MB" if sent else "–")
        cells.append(f"{memory:.0f} MB" if memory else "–")
        rows.append([title, *cells])
    cold, warm = (told["live"][kind]["plain_to_site"] for kind in ("cold", "warm"))
    return (
        "## From navigation to live\n\nUntil the first result that the reader's browser has "
        "worked out stands on the page. Cold: a fresh profile; warm: the same profile in a "
        "restarted browser. A plain static host without compression of its own.\n\n"
        + _table(
            ["variant", "cold", "warm", f"cold at {told['line']['mbit']} Mbit/s", "sent", "tab"],
            rows,
        )
        + f"\nThe plain page takes {cold['median']:.1f} times as long cold "
        f"({cold['least']} to {cold['most']}) and {warm['median']:.1f} times warm "
        f"({warm['least']} to {warm['most']}), from pairs.\n"
    )


def _entry(entry: dict[str, Any]) -> str:
    rows = [
        [f"`{name}`", f"{each['p50_ms']} ms", f"{each['p95_ms']} ms"]
        for name, each in sorted(entry.items())
    ]
    return (
        "## From entry to result\n\nUntil the results stand on the page, without the pause that "
        "the page makes while someone is typing. Half of the entries take no longer than the "
        "first figure, nineteen of twenty no longer than the second.\n\n"
        + _table(["calculator", "half", "19 of 20"], rows)
    )


def _build(build: dict[str, Any], serve: dict[str, Any]) -> str:
    rows = [
        [f"{int(pages):,}", f"{each['plain_s']} s", f"{each['plugin_s']} s", f"{each['added']:.0%}"]
        for pages, each in build.items()
    ]
    return (
        "## Building\n\nGenerated handbooks with three calculators a page, cache warm.\n\n"
        + _table(["pages", "MkDocs alone", "with the plugin", "added"], rows)
        + f"\nIn the live preview of this handbook a changed page is there {serve['page_s']} s "
        "after it was saved.\n"
    )


def _spread(each: dict[str, Any] | None) -> str:
    if not each:
        return "–"
    return f"{each['median']:.0f} ms ({each['least']:.0f} to {each['most']:.0f})"


def _table(head: list[str], rows: list[list[str]]) -> str:
    lines = [head, ["---"] + ["--:"] * (len(head) - 1), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)
