"""What is put on a sheet: strokes by their role, hatching, lettering, each as its element.

A stroke has a role, not a style: the role becomes a class on a group, and the presentation
attributes beside it are what shows when the drawing is opened without a stylesheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from witnessmark.calc.drawing.letters import LINE_STEP, TYPE_SIZE
from witnessmark.calc.drawing.markup import escaped
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Loop, Point, segments
from witnessmark.calc.drawing.regions import Region

# Role -> (class, presentation attributes), in the order they are laid on the sheet.
ROLES: dict[str, tuple[str, str]] = {
    "band": ("wm-band", 'fill="currentColor" fill-opacity="0.12" stroke="none"'),
    "hatch": ("wm-hatch", 'fill="none" stroke="currentColor" stroke-width="0.6"'),
    "grid": (
        "wm-thin wm-grid",
        'fill="none" stroke="currentColor" stroke-width="0.5" stroke-opacity="0.4"',
    ),
    "thin": ("wm-thin", 'fill="none" stroke="currentColor" stroke-width="0.7"'),
    "centre": (
        "wm-thin wm-centre",
        'fill="none" stroke="currentColor" stroke-width="0.7" stroke-dasharray="10 2.5 1.5 2.5"',
    ),
    "hidden": (
        "wm-thin wm-hidden",
        'fill="none" stroke="currentColor" stroke-width="0.9" stroke-dasharray="4 2.5"',
    ),
    "part": (
        "wm-part",
        'fill="none" stroke="currentColor" stroke-width="1.6" stroke-linejoin="round" '
        'stroke-linecap="round"',
    ),
    "bar": ("wm-bar", 'fill="currentColor" stroke="none"'),
    "limit": (
        "wm-limit",
        'fill="none" stroke="currentColor" stroke-width="1.2" stroke-dasharray="7 3"',
    ),
    "curve": (
        "wm-curve",
        'fill="none" stroke="currentColor" stroke-width="1.9" stroke-linejoin="round"',
    ),
    "curve-dashed": (
        "wm-curve",
        'fill="none" stroke="currentColor" stroke-width="1.9" stroke-dasharray="2 2.5"',
    ),
    "dim": ("wm-dim", 'fill="none" stroke="currentColor" stroke-width="0.7"'),
    "dim-head": ("wm-dim-head", 'fill="currentColor" stroke="none"'),
    "drop": (
        "wm-mark wm-drop",
        'fill="none" stroke="currentColor" stroke-width="0.9" stroke-dasharray="3 2.5"',
    ),
    "mark": ("wm-mark", 'fill="none" stroke="currentColor" stroke-width="1.6"'),
    "dot": ("wm-mark-dot", 'fill="currentColor" stroke="none"'),
    "force": ("wm-force", 'fill="none" stroke="currentColor" stroke-width="2.2"'),
    "arrow": ("wm-arrow", 'fill="currentColor" stroke="none"'),
}
SOLID = ("arrow", "dim-head", "dot", "bar", "band")
# Lines that stop short of a text instead of running through it.
BROKEN = ("grid", "centre", "hidden", "drop", "limit", "dim")
# What it costs a text to cover a line of the role; roles not named here cost nothing.
WEIGHTS = {
    "part": 2.5,
    "limit": 1.0,
    "curve": 1.0,
    "curve-dashed": 1.0,
    "force": 2.5,
    "mark": 2.5,
    "dot": 2.5,
    "arrow": 2.5,
    "dim-head": 2.5,
    "bar": 1.5,
    "dim": 0.8,
    "drop": 0.6,
    "thin": 0.5,
    "hidden": 0.5,
    "centre": 0.25,
    "grid": 0.02,
}


@dataclass
class Stroke:
    """A line or outline: its points, and the element that draws it exactly."""

    role: str
    runs: list[list[Point]]
    shape: str = ""
    closed: bool = False

    def markup(self) -> str:
        """Return the element: the exact shape, or a path through the points."""
        if self.shape:
            return self.shape
        end = "Z" if self.closed else ""
        return f'<path d="{"".join(path_data(run) + end for run in self.runs)}"/>'


@dataclass
class Hatching:
    """Cut metal: the loops to fill, and what later covered parts of it."""

    loops: list[Loop]
    rising: bool
    spacing: float
    covers: list[Region] = field(default_factory=list)


@dataclass
class Lettering:
    """A text waiting for its place."""

    text: str
    places: Sequence[Place]
    strong: bool = False
    size: float = TYPE_SIZE
    leader_role: str = "dim"
    leader_head: bool = False


def path_data(points: Sequence[Point]) -> str:
    """Return an open path through points as SVG path data."""
    return "".join(
        f"{'L' if index else 'M'}{fixed(x)} {fixed(y)}" for index, (x, y) in enumerate(points)
    )


def outside(stroke: Stroke, region: Region) -> list[list[Point]] | None:
    """Return the runs of a stroke outside a region, or None when the region hides none of it."""
    if all(_beside(run, region) for run in stroke.runs):
        return None
    pieces: list[list[Point]] = []
    hidden = 0.0
    for run in stroke.runs:
        for segment in segments(run, closed=stroke.closed):
            hidden += math.dist(segment[:2], segment[2:])
            for x1, y1, x2, y2 in region.cut(segment, keep_inside=False):
                hidden -= math.hypot(x2 - x1, y2 - y1)
                if pieces and math.dist(pieces[-1][-1], (x1, y1)) < 1e-6:
                    pieces[-1].append((x2, y2))
                else:
                    pieces.append([(x1, y1), (x2, y2)])
    return pieces if hidden > 1e-6 else None


def _beside(run: Sequence[Point], region: Region) -> bool:
    """Return whether a run lies beside a region, seen from above or the side."""
    across, up = zip(*run, strict=True)
    return bool(
        max(across) < region.left
        or min(across) > region.right
        or max(up) < region.top
        or min(up) > region.bottom
    )


def text_markup(lettering: Lettering, place: Place) -> str:
    """Write one text into its box; the base line stands a third of the size below the middle."""
    box, size = place.box, lettering.size
    lines = lettering.text.split("\n")
    x = {"start": box.x - box.width / 2, "end": box.x + box.width / 2}.get(place.anchor, box.x)
    y = box.y + 0.36 * size - (len(lines) - 1) * LINE_STEP * size / 2
    attributes = f'x="{fixed(x)}" y="{fixed(y)}"'
    if place.anchor != "middle":
        attributes += f' text-anchor="{place.anchor}"'
    if box.angle:
        attributes += f' transform="rotate({fixed(box.angle)} {fixed(box.x)} {fixed(box.y)})"'
    if lettering.strong:
        attributes += ' class="wm-strong" font-weight="600"'
    if size != TYPE_SIZE:
        attributes += f' font-size="{fixed(size)}"'
    if len(lines) == 1:
        return f"<text {attributes}>{escaped(lines[0])}</text>"
    spans = "".join(
        f'<tspan x="{fixed(x)}"{f" dy={chr(34)}{fixed(LINE_STEP * size)}{chr(34)}" if n else ""}>'
        f"{escaped(line)}</tspan>"
        for n, line in enumerate(lines)
    )
    return f"<text {attributes}>{spans}</text>"
