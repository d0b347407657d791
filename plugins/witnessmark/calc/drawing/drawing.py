"""A workshop drawing of the situation a calculator computes."""

from __future__ import annotations

import math
from typing import Literal

from witnessmark.calc.drawing.arrows import draw_force, draw_moment
from witnessmark.calc.drawing.dimensions import draw_angle, draw_linear, draw_radius
from witnessmark.calc.drawing.ink import Lettering
from witnessmark.calc.drawing.leaders import bearing, leader_places, near_places, over_places
from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.paper import EDGE, Paper
from witnessmark.calc.drawing.placing import TooDearError
from witnessmark.calc.drawing.plane import Point, arc_points, circle_loop, polar
from witnessmark.calc.drawing.shapes import Act, Shapes
from witnessmark.calc.drawing.view import View

Side = Literal["above", "below", "left", "right", "along"]

WIDTH = 320.0
_LEVEL = 19.0
_FIRST_LEVEL = 16.0
# Scales tried, as shares of the largest, and what a smaller part costs against a text set badly.
_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3)
_SHRINK_COST = 500.0


class Drawing(Shapes):
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
        super().__init__()
        self.title = title
        self.description = description
        self.width = width
        self.max_height = max_height
        self._marks: list[Act] = []
        self._labels: list[Act] = []

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
            if wish is None:
                places = over_places(point, size, clear=1.0)
            else:
                places = near_places(point, size, wish, clear=1.0)
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
        first = None
        for _ in range(3):
            first = self._sheet(largest, room)
            edge = first.extent
            over = max((edge.width - room[0]) / across, (edge.height - room[1]) / up)
            if over <= 0:
                break
            largest, first = max(largest * 0.4, largest - over), None
        paper = self._best_sheet(largest, room, first)
        return paper.svg(self.title, self.description, prefix=prefix, width=self.width)

    def __str__(self) -> str:
        """Return the drawing as SVG."""
        return self.svg()

    def _best_sheet(self, largest: float, room: tuple[float, float], first: Paper | None) -> Paper:
        """Return the sheet whose scale is the best bargain of a large part and well-set texts.

        ``first`` is the sheet at the largest scale, if it has been laid already.
        """
        lowest, best = math.inf, largest * _SHARES[-1]
        for share in _SHARES:
            loss = round(_SHRINK_COST * (1 - share) ** 2, 3)
            if loss >= lowest:
                break
            laid = first if share == 1.0 else None
            paper = laid or self._sheet(largest * share, room)
            paper.ground.ceiling = lowest - loss
            try:
                paper.settle()
            except TooDearError:
                continue
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
