"""The door of the browser's worker: a JSON request in, a JSON outcome out.

One calculator::

    {"calculator": name, "entries": {...}, "tools": {place: tool}, "units": "si" or "us",
     "drawings": true, "today": "2026-11-25"}

gives its outcome; all but the calculator may be left out. Several that feed one another::

    {"chain": {identity: {"calculator": name, "entries": {...},
                          "follows": {entry: [identity, result]}, "tools": ...}},
     "want": [identity, ...], "units": ..., "drawings": ..., "today": ...}

give {"outcomes": {identity: outcome or {"failure": message}}} for those wanted. Outcomes are
kept for a while; with "anew": true they are worked out all the same. A reading,
{"reading": name, …} as ``reading.judge_request`` takes it, gives its verdict.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from typing import Any

from witnessmark.calc.calculator import find_calculator
from witnessmark.calc.chain import Follow, Link, evaluate_chain
from witnessmark.calc.entries import Given, Withheld
from witnessmark.calc.evaluate import CalculatorFailedError, Outcome, evaluate
from witnessmark.calc.reading import judge_request

KEPT = 24
"""Outcomes kept, so that a source is not worked out anew for every key typed below it."""

_kept: OrderedDict[str, Outcome] = OrderedDict()


def evaluate_json(request: str) -> str:
    """The answer to a request; see the module's docstring for its forms."""
    asked = json.loads(request)
    if "chain" in asked:
        answer = _chain(asked)
    else:
        answer = judge_request(asked) if "reading" in asked else _one(asked)
    return json.dumps(answer, ensure_ascii=False, allow_nan=False)


def _one(asked: dict[str, Any]) -> Outcome:
    return evaluate(
        find_calculator(asked["calculator"]),
        asked.get("entries", {}),
        asked.get("units", "si"),
        drawings=asked.get("drawings", True),
        tools=asked.get("tools"),
        today=asked.get("today", ""),
    )


def _chain(asked: dict[str, Any]) -> dict[str, Any]:
    units, drawings = asked.get("units", "si"), asked.get("drawings", True)
    today, anew = asked.get("today", ""), asked.get("anew", False)

    def work_out(link: Link, entries: Given) -> Outcome:
        calculator, tools = link.calculator, link.tools
        plain = {
            name: {"withheld": text.message} if isinstance(text, Withheld) else text
            for name, text in entries.items()
        }
        key = json.dumps([calculator.name, plain, units, drawings, tools, today], sort_keys=True)
        if anew or key not in _kept:
            _kept[key] = evaluate(
                calculator, entries, units, drawings=drawings, tools=tools, today=today
            )
            while len(_kept) > KEPT:
                _kept.popitem(last=False)
        _kept.move_to_end(key)
        return _kept[key]

    links = {
        ident: Link(
            find_calculator(link["calculator"]),
            link.get("entries", {}),
            {name: Follow(*source) for name, source in link.get("follows", {}).items()},
            link.get("tools", {}),
        )
        for ident, link in asked["chain"].items()
    }
    wanted = asked.get("want", list(links))
    done = evaluate_chain(links, work_out, wanted)
    return {
        "outcomes": {
            ident: {"failure": str(done[ident])}
            if isinstance(done[ident], CalculatorFailedError)
            else done[ident]
            for ident in wanted
        }
    }
