"""The sheet: strokes, hatching, arrow heads and texts in paper units, written out as SVG.

Paper units are those of the view box; y runs down. A stroke has a role, not a style: the role
becomes a class on a group, and the presentation attributes beside it are what shows when the
drawing is opened without a stylesheet. No ``style`` attribute, no colour but ``currentColor``.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

from witnessmark.calc.drawing.letters import LINE_STEP, TYPE_SIZE
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.placing import Extent, Ground, Place
from witnessmark.calc.drawing.plane import Box, Loop, Point, Segment, clip, hatch_lines, segments

HATCH_SPACING = 5.0
EDGE = 4.0

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
_SOLID = ("arrow", "dim-head", "dot", "bar", "band")
# Lines that stop short of a text instead of running through it.
_BROKEN = ("grid", "centre", "hidden", "drop", "limit", "dim")
# What it costs a text to cover a line of the role; roles not named here cost nothing.
_WEIGHTS = {
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
    covers: list[Loop] = field(default_factory=list)


@dataclass
class Lettering:
    """A text waiting for its place."""

    text: str
    places: list[Place]
    strong: bool = False
    size: float = TYPE_SIZE
    leader_role: str = "dim"
    leader_head: bool = False


def path_data(points: Sequence[Point]) -> str:
    """Return an open path through points as SVG path data."""
    return "".join(
        f"{'L' if index else 'M'}{fixed(x)} {fixed(y)}" for index, (x, y) in enumerate(points)
    )


class Paper:
    """One sheet under the pencil."""

    def __init__(
        self, limits: Segment | None = None, room: tuple[float, float] = (1e9, 1e9)
    ) -> None:
        self.ground = Ground(limits=limits, room=room)
        self.parts = Extent()
        self._strokes: list[Stroke] = []
        self._hatchings: list[Hatching] = []
        self._waiting: list[Lettering] = []
        self._first: list[Lettering] = []
        self._written: list[str] = []

    @property
    def extent(self) -> Extent:
        """The edge of everything on the sheet."""
        return self.ground.extent

    def fits(self, room: tuple[float, float]) -> bool:
        """Return whether everything drawn keeps within a width and a height."""
        return self.extent.width <= room[0] + 1e-6 and self.extent.height <= room[1] + 1e-6

    def stroke(
        self, role: str, points: list[Point], *, closed: bool = False, shape: str = ""
    ) -> None:
        """Draw a line or outline; ``shape`` is the exact element where points only approach it."""
        self._strokes.append(Stroke(role, [points], shape, closed))
        self.extent.take(points)
        if role in ("part", "hidden", "thin", "centre"):
            self.parts.take(points)

    def head(self, role: str, tip: Point, toward: Point, length: float, width: float) -> None:
        """Draw a filled arrow head with its point at ``tip``, flying along ``toward``."""
        ux, uy = toward
        back = (tip[0] - ux * length, tip[1] - uy * length)
        half = width / 2
        points = [
            tip,
            (back[0] - uy * half, back[1] + ux * half),
            (back[0] + uy * half, back[1] - ux * half),
        ]
        self.stroke(role, points, closed=True)

    def hatch(self, loops: list[Loop], *, rising: bool, spacing: float = HATCH_SPACING) -> None:
        """Hatch cut metal inside the loops (even-odd)."""
        self._hatchings.append(Hatching(loops, rising, spacing))

    def cover(self, loop: Loop) -> None:
        """Take away everything drawn so far that lies inside the loop: a part is in front."""
        for hatching in self._hatchings:
            hatching.covers.append(loop)
        kept: list[Stroke] = []
        for stroke in self._strokes:
            runs = _outside(stroke, loop)
            if runs is None or stroke.role in _SOLID:
                kept.append(stroke)
            elif runs:
                kept.append(Stroke(stroke.role, runs))
        self._strokes = kept

    def want(self, lettering: Lettering, *, first: bool = False) -> None:
        """Queue a text; texts are placed in the order they were queued, ``first`` ones before."""
        firm = lettering.places[0].firm
        (self._first if first or firm else self._waiting).append(lettering)

    def settle(self, *, trial: bool = False) -> None:
        """Give every queued text its place, once all lines are on the sheet.

        With ``trial`` the texts not queued ``first`` are also tried in the opposite order.
        """
        for stroke in self._strokes:
            weight = _WEIGHTS.get(stroke.role, 0.0)
            if weight:
                for run in stroke.runs:
                    for piece in segments(run, closed=stroke.closed):
                        self.ground.add_line(piece, weight)
                        if stroke.role in ("force", "arrow"):
                            self.ground.forces.append(piece)
        waiting = [*self._first, *self._waiting]
        places = [self.ground.settle(lettering.places) for lettering in self._first]
        places += self.ground.settle_all([text.places for text in self._waiting], trial=trial)
        for lettering, place in zip(waiting, places, strict=True):
            for x1, y1, x2, y2 in place.leader:
                self._strokes.append(Stroke(lettering.leader_role, [[(x1, y1), (x2, y2)]]))
                if lettering.leader_head:
                    reach = math.hypot(x2 - x1, y2 - y1)
                    way = ((x1 - x2) / reach, (y1 - y2) / reach)
                    self.head("dim-head", (x1, y1), way, 6.0, 2.6)
            self._written.append(_text(lettering, place))
        self._first.clear()
        self._waiting.clear()

    def svg(
        self,
        title: str,
        description: str,
        *,
        prefix: str | None,
        width: float,
        fixed_height: float | None = None,
    ) -> str:
        """Return the finished drawing; the view box holds everything and is ``width`` or wider."""
        edge = self.extent
        left, right = edge.left - EDGE, edge.right + EDGE
        top, bottom = edge.top - EDGE, edge.bottom + EDGE
        if self.ground.limits is not None:
            left, right = min(left, self.ground.limits[0]), max(right, self.ground.limits[2])
            top = min(top, self.ground.limits[1])
        if fixed_height is not None:
            bottom = max(bottom, top + fixed_height)
        if right - left < width:
            left -= (width - (right - left)) / 2
            right = left + width
        body = self._body()
        box = " ".join(fixed(value) for value in (left, top, right - left, bottom - top))
        if prefix is None:
            content = f"{title}\n{description}\n{box}\n{body}"
            prefix = "wm-d" + hashlib.sha256(content.encode()).hexdigest()[:12]
        name, told = f"{prefix}-title", f"{prefix}-desc"
        labelled = f"{name} {told}" if description else name
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="wm-drawing" viewBox="{box}" '
            f'role="img" aria-labelledby={quoteattr(labelled)}>'
            f"<title id={quoteattr(name)}>{escape(title)}</title>"
        )
        if description:
            head += f"<desc id={quoteattr(told)}>{escape(description)}</desc>"
        return f"{head}{body}</svg>"

    def _body(self) -> str:
        groups: dict[str, list[str]] = {role: [] for role in ROLES}
        for hatching in self._hatchings:
            drawn = self._hatch_markup(hatching)
            if drawn:
                groups["hatch"].append(drawn)
        for stroke in self._strokes:
            groups[stroke.role].append(self._broken(stroke).markup())
        parts = [
            f'<g class="{name}" {attributes}>{"".join(groups[role])}</g>'
            for role, (name, attributes) in ROLES.items()
            if groups[role]
        ]
        if self._written:
            parts.append(
                f'<g class="wm-text" font-family="system-ui, sans-serif" '
                f'font-size="{fixed(TYPE_SIZE)}" fill="currentColor" stroke="none" '
                f'text-anchor="middle">{"".join(self._written)}</g>'
            )
        return "".join(parts)

    def _broken(self, stroke: Stroke) -> Stroke:
        """Return a light line broken around the texts; other lines as they are."""
        if stroke.role not in _BROKEN:
            return stroke
        for box in self.ground.texts:
            runs = _outside(stroke, box.corners(0.5))
            if runs is not None:
                stroke = Stroke(stroke.role, runs)
        return stroke

    def _hatch_markup(self, hatching: Hatching) -> str:
        """Write the hatch lines, broken around texts and around whatever lies in front."""
        lines = hatch_lines(hatching.loops, hatching.spacing, rising=hatching.rising)
        for loop in [*hatching.covers, *(box.corners(1.5) for box in self.ground.texts)]:
            lines = [piece for line in lines for piece in clip(line, [loop], keep_inside=False)]
        if not lines:
            return ""
        data = "".join(path_data([line[:2], line[2:]]) for line in lines)
        return f'<path d="{data}"/>'


def _outside(stroke: Stroke, loop: Loop) -> list[list[Point]] | None:
    """Return the runs of a stroke outside a loop, or None when the loop hides none of it."""
    pieces: list[list[Point]] = []
    hidden = 0.0
    for run in stroke.runs:
        for segment in segments(run, closed=stroke.closed):
            hidden += math.dist(segment[:2], segment[2:])
            for x1, y1, x2, y2 in clip(segment, [loop], keep_inside=False):
                hidden -= math.hypot(x2 - x1, y2 - y1)
                if pieces and math.dist(pieces[-1][-1], (x1, y1)) < 1e-6:
                    pieces[-1].append((x2, y2))
                else:
                    pieces.append([(x1, y1), (x2, y2)])
    return pieces if hidden > 1e-6 else None


def _text(lettering: Lettering, place: Place) -> str:
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
        return f"<text {attributes}>{escape(lines[0])}</text>"
    spans = "".join(
        f'<tspan x="{fixed(x)}"{f" dy={chr(34)}{fixed(LINE_STEP * size)}{chr(34)}" if n else ""}>'
        f"{escape(line)}</tspan>"
        for n, line in enumerate(lines)
    )
    return f"<text {attributes}>{spans}</text>"


def text_box(x: float, y: float, size: tuple[float, float], angle: float = 0.0) -> Box:
    """Return the box of a text of ``size`` centred on a point."""
    return Box(x, y, size[0], size[1], angle)
