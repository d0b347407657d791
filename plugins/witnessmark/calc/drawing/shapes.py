"""The shapes of a drawing in millimetres: lines, outlines, nuts, gears, cut metal."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.outline import Outline, hexagon_points, square_points, toothed_points
from witnessmark.calc.drawing.paper import Paper
from witnessmark.calc.drawing.placing import Extent
from witnessmark.calc.drawing.plane import Point, arc_points, circle_loop
from witnessmark.calc.drawing.view import View

Role = Literal["part", "thin", "centre", "hidden", "limit", "mark"]
Cut = Literal["/", "\\"]
Act = Callable[[Paper, View], None]


class Shapes:
    """Shapes in millimetres, kept as acts to be done on paper once the scale is known.

    They are drawn in the order of the calls. ``role`` is the kind of line, ``cut`` hatches cut
    metal one way or the other, ``covers`` hides what was drawn before inside the shape.
    """

    def __init__(self) -> None:
        self._shapes: list[Act] = []
        self._model = Extent()

    def line(self, a: Point, b: Point, role: Role = "part") -> None:
        """Draw a straight line."""
        self.polyline([a, b], role)

    def polyline(self, points: Sequence[Point], role: Role = "part") -> None:
        """Draw an open run of straight lines."""
        run = list(points)
        self._model.take(run)
        self._shapes.append(lambda paper, view: paper.stroke(role, view.all(run)))

    def polygon(
        self,
        points: Sequence[Point],
        role: Role = "part",
        *,
        cut: Cut | None = None,
        covers: bool = False,
        holes: Sequence[Sequence[Point]] = (),
    ) -> None:
        """Draw a closed outline; ``holes`` are left free of hatching (draw them yourself)."""
        loop = list(points)
        if len(loop) < 3:
            raise ValueError(f"a polygon needs three points or more, found {len(loop)}")
        self._model.take(loop)

        def act(paper: Paper, view: View) -> None:
            on_paper = view.all(loop)
            if covers:
                paper.cover(on_paper)
            paper.stroke(role, on_paper, closed=True)
            if cut:
                paper.hatch([on_paper, *(view.all(hole) for hole in holes)], rising=cut == "/")

        self._shapes.append(act)

    def rect(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        role: Role = "part",
        *,
        cut: Cut | None = None,
        covers: bool = False,
    ) -> None:
        """Draw a rectangle from its lower left corner."""
        corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
        self.polygon(corners, role, cut=cut, covers=covers)

    def outline(
        self,
        outline: Outline,
        role: Role = "part",
        *,
        closed: bool = True,
        cut: Cut | None = None,
        covers: bool = False,
    ) -> None:
        """Draw an :class:`Outline` of straight runs and arcs."""
        points = outline.points()
        self._model.take(points)

        def act(paper: Paper, view: View) -> None:
            on_paper = view.all(points)
            if covers and closed:
                paper.cover(on_paper)
            end = "Z" if closed else ""
            shape = f'<path d="{outline.data(view.at, view.scale)}{end}"/>'
            paper.stroke(role, on_paper, closed=closed, shape=shape)
            if cut and closed:
                paper.hatch([on_paper], rising=cut == "/")

        self._shapes.append(act)

    def circle(
        self,
        centre: Point,
        radius: float,
        role: Role = "part",
        *,
        cut: Cut | None = None,
        covers: bool = False,
    ) -> None:
        """Draw a circle."""
        if radius <= 0:
            raise ValueError(f"a circle needs a radius above nought, found {radius!r}")
        self._model.take(circle_loop(centre, radius))

        def act(paper: Paper, view: View) -> None:
            x, y = view.at(centre)
            r = radius * view.scale
            loop = circle_loop((x, y), r)
            if covers:
                paper.cover(loop)
            shape = f'<circle cx="{fixed(x)}" cy="{fixed(y)}" r="{fixed(r)}"/>'
            paper.stroke(role, loop, closed=True, shape=shape)
            if cut:
                paper.hatch([loop], rising=cut == "/")

        self._shapes.append(act)

    def ring(self, centre: Point, outer: float, inner: float, *, cut: Cut | None = None) -> None:
        """Draw a ring of two radii, hatched between them when cut."""
        self.circle(centre, outer)
        self.circle(centre, inner)
        if cut:
            self._shapes.append(
                lambda paper, view: paper.hatch(
                    [
                        circle_loop(view.at(centre), outer * view.scale),
                        circle_loop(view.at(centre), inner * view.scale),
                    ],
                    rising=cut == "/",
                )
            )

    def arc(
        self, centre: Point, radius: float, start: float, end: float, role: Role = "part"
    ) -> None:
        """Draw an arc from ``start`` to ``end`` degrees."""
        points = arc_points(centre, radius, start, end)
        self._model.take(points)

        def act(paper: Paper, view: View) -> None:
            on_paper = view.all(points)
            r = fixed(radius * view.scale)
            large, sweep = int(abs(end - start) > 180), int(end < start)
            first, last = on_paper[0], on_paper[-1]
            shape = (
                f'<path d="M{fixed(first[0])} {fixed(first[1])}A{r} {r} 0 {large} {sweep} '
                f'{fixed(last[0])} {fixed(last[1])}"/>'
            )
            paper.stroke(role, on_paper, shape=shape if abs(end - start) < 360 else "")

        self._shapes.append(act)

    def hexagon(
        self, centre: Point, across_flats: float, turn: float = 0.0, *, covers: bool = True
    ) -> None:
        """Draw a nut or bolt head by its width across flats."""
        self.polygon(hexagon_points(centre, across_flats, turn), covers=covers)

    def square(
        self, centre: Point, across_flats: float, turn: float = 0.0, *, covers: bool = False
    ) -> None:
        """Draw a square drive by its width across flats."""
        self.polygon(square_points(centre, across_flats, turn), covers=covers)

    def gear(
        self,
        centre: Point,
        teeth: int,
        pitch_radius: float,
        turn: float = 0.0,
        *,
        internal: bool = False,
        covers: bool = False,
        stretch: tuple[float, float] | None = None,
    ) -> None:
        """Draw a toothed ring with its pitch circle; ``stretch`` shows only a run of degrees."""
        start, end = stretch or (0.0, 360.0)
        loop = toothed_points(
            centre, teeth, pitch_radius, turn=turn, internal=internal, start=start, end=end
        )
        if stretch:
            self.polyline(loop)
            self.arc(centre, pitch_radius, start, end, "centre")
        else:
            self.polygon(loop, covers=covers)
            self.circle(centre, pitch_radius, "centre")

    def centre_lines(self, centre: Point, reach: float) -> None:
        """Draw a cross of dash-dot lines through a centre, ``reach`` mm each way."""
        x, y = centre
        self.line((x - reach, y), (x + reach, y), "centre")
        self.line((x, y - reach), (x, y + reach), "centre")

    def break_line(self, a: Point, b: Point) -> None:
        """Draw the thin zigzag line that says a part goes on beyond here."""
        self._model.take([a, b])

        def act(paper: Paper, view: View) -> None:
            (x1, y1), (x2, y2) = view.at(a), view.at(b)
            length = math.hypot(x2 - x1, y2 - y1)
            ux, uy = (x2 - x1) / length, (y2 - y1) / length
            way = [(-4.0, 0.0), (length / 2 - 4, 0), (length / 2 - 1.5, 5), (length / 2 + 1.5, -5)]
            way += [(length / 2 + 4, 0.0), (length + 4, 0.0)]
            paper.stroke("thin", [(x1 + ux * s - uy * t, y1 + uy * s + ux * t) for s, t in way])

        self._shapes.append(act)
