"""A workshop drawing of the situation a calculator computes."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

from witnessmark.calc.drawing.arrows import draw_force, draw_moment
from witnessmark.calc.drawing.dimensions import draw_angle, draw_linear, draw_radius
from witnessmark.calc.drawing.leaders import bearing, leader_places, near_places, over_places
from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.outline import Outline, hexagon_points, square_points, toothed_points
from witnessmark.calc.drawing.paper import EDGE, Lettering, Paper
from witnessmark.calc.drawing.placing import Extent
from witnessmark.calc.drawing.plane import Point, arc_points, circle_loop, polar
from witnessmark.calc.drawing.view import View

Role = Literal["part", "thin", "centre", "hidden", "limit", "mark"]
Cut = Literal["/", "\\"]
Side = Literal["above", "below", "left", "right", "along"]
_Act = Callable[[Paper, View], None]

WIDTH = 320.0
_LEVEL = 19.0
_FIRST_LEVEL = 16.0
# Scales tried, as shares of the largest, and what a smaller part costs against a text set badly.
_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3)
_SHRINK_COST = 500.0


class Drawing:
    """A drawing in millimetres, y up, scaled by itself until it fits the sheet.

    ``width`` and ``max_height`` are paper units; at the usual width of 320 the texts keep
    their size whatever is drawn. ``title`` names the drawing, ``description`` tells a reader
    who cannot see it what it shows. Texts come finished, number and unit. Angles are degrees,
    anticlockwise from the x axis.

    >>> d = Drawing("Lever on the nut", "A 500 mm lever pulled with 200 N.")
    >>> d.hexagon((0, 0), 46)
    >>> d.line((23, 0), (500, 0))
    >>> d.force((500, 0), 90, "200 N")
    >>> d.dimension((0, 0), (500, 0), "500 mm", side="below")
    >>> svg = d.svg()

    Shapes are drawn in the order of the calls; ``covers=True`` hides what lies behind a shape.
    ``cut="/"`` hatches cut metal, ``cut="\\\\"`` the neighbouring part the other way.
    """

    def __init__(
        self, title: str, description: str = "", *, width: float = WIDTH, max_height: float = 340.0
    ) -> None:
        if not title.strip():
            raise ValueError("a drawing needs a title: it is read out in place of the picture")
        self.title = title
        self.description = description
        self.width = width
        self.max_height = max_height
        self._shapes: list[_Act] = []
        self._marks: list[_Act] = []
        self._labels: list[_Act] = []
        self._model = Extent()

    # -- shapes -------------------------------------------------------------------------

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

    # -- dimensions, forces, texts ------------------------------------------------------

    def dimension(
        self,
        a: Point,
        b: Point,
        text: str,
        side: Side = "below",
        *,
        level: int = 1,
        offset: float | None = None,
    ) -> None:
        """Draw a linear dimension between two points.

        Above and below measure across, left and right measure upright; the line stands clear
        of all parts, ``level`` 2 and more one row farther out. ``offset`` (paper units) puts
        it that far from the nearer point instead. ``side="along"`` measures the true distance,
        ``offset`` to the left of the way from ``a`` to ``b``.
        """

        def act(paper: Paper, view: View) -> None:
            p, q = view.at(a), view.at(b)
            if side == "along":
                span = math.dist(p, q)
                if span == 0:
                    raise ValueError(f"the dimension {text!r} measures no length")
                out = offset if offset is not None else _FIRST_LEVEL
                nx, ny = (q[1] - p[1]) / span * out, -(q[0] - p[0]) / span * out
                feet = (p[0] + nx, p[1] + ny), (q[0] + nx, q[1] + ny)
            else:
                row = _FIRST_LEVEL + (level - 1) * _LEVEL
                if side in ("below", "above"):
                    sign = 1 if side == "below" else -1
                    near = max(sign * p[1], sign * q[1])
                    edge = paper.parts.bottom if side == "below" else -paper.parts.top
                    y = sign * (near + offset if offset is not None else max(edge, near) + row)
                    feet = (p[0], y), (q[0], y)
                else:
                    sign = 1 if side == "right" else -1
                    near = max(sign * p[0], sign * q[0])
                    edge = paper.parts.right if side == "right" else -paper.parts.left
                    x = sign * (near + offset if offset is not None else max(edge, near) + row)
                    feet = (x, p[1]), (x, q[1])
            draw_linear(paper, p, q, *feet, text)

        self._model.take([a, b])
        self._marks.append(act)

    def radius(self, centre: Point, radius: float, angle: float, text: str) -> None:
        """Dimension a radius along ``angle``; the text (with its R) stands outside."""
        self._marks.append(
            lambda paper, view: draw_radius(
                paper, view.at(centre), radius * view.scale, angle, text, across=False
            )
        )

    def diameter(self, centre: Point, radius: float, angle: float, text: str) -> None:
        """Dimension a diameter along ``angle``; the text (with its Ø) stands outside."""
        self._marks.append(
            lambda paper, view: draw_radius(
                paper, view.at(centre), radius * view.scale, angle, text, across=True
            )
        )

    def angle(self, vertex: Point, radius: float, start: float, end: float, text: str) -> None:
        """Dimension the angle from ``start`` to ``end`` degrees on an arc of ``radius`` mm."""
        self._marks.append(
            lambda paper, view: draw_angle(
                paper, view.at(vertex), radius * view.scale, start, end, text
            )
        )

    def force(
        self,
        at: Point,
        direction: str | float,
        text: str = "",
        *,
        length: float = 36.0,
        pulls: bool = False,
        strong: bool = True,
    ) -> None:
        """Draw a force acting along ``direction`` that presses on a point, or pulls from it.

        ``length`` is in paper units: arrows show the way a force acts, not its size.
        """
        angle = bearing(direction)
        assert angle is not None

        def act(paper: Paper, view: View) -> None:
            tip = view.at(at)
            if pulls:
                tip = _seen(tip, polar(tip, length, angle))
            draw_force(paper, tip, angle, text, length=length, strong=strong)

        self._model.take([at])
        self._marks.append(act)

    def moment(
        self,
        centre: Point,
        radius: float,
        start: float,
        end: float,
        text: str = "",
        *,
        strong: bool = True,
    ) -> None:
        """Draw a moment as an arc of ``radius`` mm with its arrow head at ``end`` degrees."""
        self._model.take(arc_points(centre, radius, start, end))
        self._marks.append(
            lambda paper, view: draw_moment(
                paper, view.at(centre), radius * view.scale, start, end, text, strong=strong
            )
        )

    def label(
        self,
        at: Point,
        text: str,
        toward: str | float | None = None,
        *,
        on: Literal["edge", "face", "line"] = "edge",
        strong: bool = False,
    ) -> None:
        """Name a part with a leader that ends in an arrow on an edge or a dot on a face.

        ``toward`` (n, ne, e … or degrees) is a wish: the text goes where it disturbs least.
        A line feed in the text starts a new line.
        """
        wish = bearing(toward)

        def act(paper: Paper, view: View) -> None:
            point = view.at(at)
            start = 0.0
            if on == "face":
                dot = circle_loop(point, 1.7)
                shape = f'<circle cx="{fixed(point[0])}" cy="{fixed(point[1])}" r="1.7"/>'
                paper.stroke("dim-head", dot, closed=True, shape=shape)
            places = leader_places(point, text_size(text, strong=strong), wish, start=start)
            paper.want(Lettering(text, places, strong, leader_head=on == "edge"))

        self._model.take([at])
        self._labels.append(act)

    def mark(
        self, at: Point, text: str = "", toward: str | float | None = None, *, strong: bool = False
    ) -> None:
        """Mark a point with a small cross and write its name beside it."""
        wish = bearing(toward)

        def act(paper: Paper, view: View) -> None:
            x, y = view.at(at)
            paper.stroke("mark", [(x - 3, y - 3), (x + 3, y + 3)])
            paper.stroke("mark", [(x - 3, y + 3), (x + 3, y - 3)])
            if text:
                places = near_places((x, y), text_size(text, strong=strong), wish, clear=4.0)
                paper.want(Lettering(text, places, strong))

        self._model.take([at])
        self._labels.append(act)

    def text(
        self,
        at: Point,
        text: str,
        toward: str | float | None = None,
        *,
        strong: bool = False,
    ) -> None:
        """Write a text over a point, or beside it if ``toward`` is given, nudged into the clear."""
        wish = bearing(toward)

        def act(paper: Paper, view: View) -> None:
            size = text_size(text, strong=strong)
            point = view.at(at)
            near = near_places(point, size, wish, clear=1.0)
            places = near if wish is not None else [*over_places(point, size), *near]
            paper.want(Lettering(text, places, strong))

        self._model.take([at])
        self._labels.append(act)

    # -- the sheet ----------------------------------------------------------------------

    def svg(self, prefix: str | None = None) -> str:
        """Return the drawing as SVG; ``prefix`` starts its ids, else a digest of the content does.

        Two copies of one drawing on a page need two prefixes.
        """
        if not self._shapes:
            raise ValueError(f"the drawing {self.title!r} has no shapes")
        across = max(self._model.right - self._model.left, 1e-9)
        up = max(self._model.bottom - self._model.top, 1e-9)
        room = (self.width - 2 * EDGE, self.max_height - 2 * EDGE)
        largest = min(room[0] / across, room[1] / up)
        # Arrows and dimension lines keep their size, so the part gives way until they fit.
        for _ in range(3):
            edge = self._sheet(largest, room).extent
            over = max((edge.width - room[0]) / across, (edge.height - room[1]) / up)
            if over <= 0:
                break
            largest = max(largest * 0.4, largest - over)
        paper = self._best_sheet(largest, room)
        return paper.svg(self.title, self.description, prefix=prefix, width=self.width)

    def __str__(self) -> str:
        """Return the drawing as SVG."""
        return self.svg()

    def _best_sheet(self, largest: float, room: tuple[float, float]) -> Paper:
        """Return the sheet whose scale is the best bargain of a large part and well-set texts."""
        lowest, best = math.inf, largest * _SHARES[-1]
        for share in _SHARES:
            loss = round(_SHRINK_COST * (1 - share) ** 2, 3)
            if loss >= lowest:
                break
            paper = self._sheet(largest * share, room)
            paper.settle()
            cost = round(loss + paper.ground.spent, 3)
            if paper.fits(room) and cost < lowest:
                lowest, best = cost, largest * share
        paper = self._sheet(best, room)
        paper.settle(trial=True)
        return paper

    def _sheet(self, scale: float, room: tuple[float, float]) -> Paper:
        """Return the sheet with all its lines and with its texts waiting."""
        paper = Paper(room=room)
        view = View(float(f"{scale:.6g}"))
        for act in (*self._shapes, *self._marks, *self._labels):
            act(paper, view)
        return paper


def _seen(about: Point, point: Point) -> Point:
    return point[0], 2 * about[1] - point[1]
