"""A job record of the invented handbook of the sign-off tests, as a browser would have written it.

The figures are worked by hand: 300 N on a bar of 1.2 m is 360 N·m; 0.08 mm leaves 0.02 mm of 0.10.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

from tests.signoff.shop import Shop
from witnessmark.signoff import HandbookBasis

AT = "2026-03-02T09:14:00.000Z"

READING_BLOCK = """\
Seat the bar square.

/// reading | Play of the bar
most: 0.10 mm
kind: length
///
"""

TICK = {"title": "Pull", "done": True, "at": AT}
READING = {
    "title": "Play of the bar",
    "limits": "Accept at most 0.10 mm",
    "places": [],
    "request": {"reading": "reading-play-of-the-bar", "kind": "length", "unit": "mm",
                "most": "0.10 mm"},
    "texts": ["0.08"],
    "units": "si",
    "outcome": {
        "reading": "reading-play-of-the-bar",
        "units": "si",
        "complete": True,
        "readings": [{"text": "0.08", "error": None, "verdict": "in",
                      "said": "In: 0.020\u202fmm left to the upper limit.",
                      "value": 0.08, "unit": "mm"}],
        "verdict": "in",
        "limits": "at most 0.1\u202fmm",
        "spread": "",
        "given": {"each": ["0.08 mm"], "mean": "0.08 mm"},
    },
    "at": AT,
}  # fmt: skip
CALCULATOR = {
    "calculator": "lever",
    "title": "A lever",
    "typed": {"force": "300 N"},
    "units": "si",
    "outcome": {
        "complete": True,
        "entries": {
            "force": {"label": "Force", "text": "300 N", "display": "300\u202fN", "active": True},
            "arm": {"label": "Arm", "text": "1.2 m", "display": "1.2\u202fm", "active": True},
        },
        "results": [{"name": "torque", "label": "Torque at the nut", "display": "360\u202fN·m",
                     "value": 360, "unit": "N·m", "lead": True, "seldom": False}],
        "findings": [],
    },
    "at": AT,
}  # fmt: skip


def with_reading(shop: Shop) -> Shop:
    """The handbook with a reading on the page of the lever."""
    shop.replace("docs/pull.md", "Seat the bar square.\n", READING_BLOCK)
    return shop


def job(basis: HandbookBasis) -> dict[str, Any]:
    """A record with a tick, a reading and a calculator on one page."""
    revision, maths = basis.revision("pull.md")
    page = {
        "title": "Pull on the bar", "url": "pull/", "steps": 1, "last": "step-1",
        "ticks": {"step-1": {**TICK, "revision": revision}},
        "readings": {"reading-play-of-the-bar": {**READING, "revision": revision}},
        "calculators": {"wm-lever": {**CALCULATOR, "revision": revision, "maths": maths["lever"]}},
    }  # fmt: skip
    return copy.deepcopy({
        "format": "witness-mark job record", "version": 1,
        "id": "0123456789abcdef0123456789abcdef", "number": "26-017", "engine": "LG2/canal",
        "serial": "4711", "notes": "", "begun": AT, "changed": AT, "pages": {"pull.md": page},
    })  # fmt: skip


def write(folder: Path, data: object, name: str = "job.json") -> Path:
    """The record as a file."""
    path = folder / name
    path.write_text(data if isinstance(data, str) else json.dumps(data), "utf-8")
    return path
