"""The sheet: strokes, hatching, arrow heads and texts in paper units, written out as SVG.

Paper units are those of the view box; y runs down. No ``style`` attribute, no colour but
``currentColor``.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence

from witnessmark.calc.drawing.ink import (
    BROKEN,
    ROLES,
    SOLID,
    WEIGHTS,
    Hatching,
    Lettering,
    Stroke,
    outside,
    path_data,
    text_markup,
)
from witnessmark.calc.drawing.letters import TYPE_SIZE
from witnessmark.calc.drawing.markup import escaped, quoted
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.placing import Extent, Ground
from witnessmark.calc.drawing.plane import Loop, Point, Segment, segments
from witnessmark.calc.drawing.regions import Region, hatch_lines

HATCH_SPACING = 5.0
EDGE = 4.0


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
        region = Region([loop])
        for hatching in self._hatchings:
            hatching.covers.append(region)
        kept: list[Stroke] = []
        for stroke in self._strokes:
            runs = outside(stroke, region)
            if runs is None or stroke.role in SOLID:
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
            weight = WEIGHTS.get(stroke.role, 0.0)
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
            self._written.append(text_markup(lettering, place))
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
            f'role="img" aria-labelledby={quoted(labelled)}>'
            f"<title id={quoted(name)}>{escaped(title)}</title>"
        )
        if description:
            head += f"<desc id={quoted(told)}>{escaped(description)}</desc>"
        return f"{head}{body}</svg>"

    def _body(self) -> str:
        groups: dict[str, list[str]] = {role: [] for role in ROLES}
        for hatching in self._hatchings:
            drawn = self._hatch_markup(hatching)
            if drawn:
                groups["hatch"].append(drawn)
        gaps = [Region([box.corners(0.5)]) for box in self.ground.texts]
        for stroke in self._strokes:
            groups[stroke.role].append(_broken(stroke, gaps).markup())
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

    def _hatch_markup(self, hatching: Hatching) -> str:
        """Write the hatch lines, broken around texts and around whatever lies in front."""
        lines = hatch_lines(hatching.loops, hatching.spacing, rising=hatching.rising)
        for region in [
            *hatching.covers,
            *(Region([box.corners(1.5)]) for box in self.ground.texts),
        ]:
            lines = region.outside(lines)
        if not lines:
            return ""
        data = "".join(path_data([line[:2], line[2:]]) for line in lines)
        return f'<path d="{data}"/>'


def _broken(stroke: Stroke, gaps: Sequence[Region]) -> Stroke:
    """Return a light line broken at the gaps; other lines as they are."""
    if stroke.role not in BROKEN:
        return stroke
    for gap in gaps:
        runs = outside(stroke, gap)
        if runs is not None:
            stroke = Stroke(stroke.role, runs)
    return stroke
