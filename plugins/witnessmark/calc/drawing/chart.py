"""A chart of a result against one entry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from witnessmark.calc.drawing.chart_places import (
    along_curve,
    at_foot,
    kept_inside,
    led_from,
    round_point,
)
from witnessmark.calc.drawing.ink import Lettering, path_data
from witnessmark.calc.drawing.letters import line_width, text_size
from witnessmark.calc.drawing.paper import EDGE, Paper
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Box, Point, segments
from witnessmark.calc.drawing.scale import Scale, Tick, linear_scale, log_scale

_TICK = 4.0
_SMALL = 11.0


@dataclass(frozen=True)
class _Limit:
    value: float
    text: str
    upright: bool


@dataclass(frozen=True)
class _Mark:
    x: float
    y: float
    text: str
    x_text: str
    y_text: str


class Chart:
    """A chart on axes with 1-2-5 ticks; ``x`` and ``y`` label the axes, unit included.

    Values are plain numbers in the units the labels name. ``x_range`` and ``y_range`` hold an
    axis still; without them the axes reach over all that is drawn. Custom ticks are pairs of
    value and text.

    >>> c = Chart("Strength against time", "Rises to 60 % in a day.", x="Time, h", y="Strength, %",
    ...           x_log=True, y_range=(0, 100))
    >>> c.curve([(0.1, 2), (1, 12), (10, 48), (100, 95)], "at 20 °C")
    >>> c.limit(50, "may be loaded")
    >>> c.mark(24, 62, "62 %", x_text="24 h")
    >>> svg = c.svg()
    """

    def __init__(
        self,
        title: str,
        description: str = "",
        *,
        x: str,
        y: str,
        x_log: bool = False,
        y_log: bool = False,
        x_range: tuple[float, float] | None = None,
        y_range: tuple[float, float] | None = None,
        x_ticks: Sequence[tuple[float, str]] | None = None,
        y_ticks: Sequence[tuple[float, str]] | None = None,
        width: float = 320.0,
        height: float = 220.0,
    ) -> None:
        if not title.strip():
            raise ValueError("a chart needs a title: it is read out in place of the picture")
        self.title, self.description = title, description
        self.width, self.height = width, height
        self._labels = (x, y)
        self._logs = (x_log, y_log)
        self._ranges = (x_range, y_range)
        self._ticks = (x_ticks, y_ticks)
        self._curves: list[tuple[list[Point], str, bool]] = []
        self._bands: list[tuple[list[Point], list[Point], str]] = []
        self._limits: list[_Limit] = []
        self._marks: list[_Mark] = []

    def curve(self, points: Sequence[Point], text: str = "", *, dashed: bool = False) -> None:
        """Draw a curve through points of x and y, named at its end."""
        self._curves.append((list(points), text, dashed))

    def curve_of(
        self,
        function: Callable[[float], float],
        low: float,
        high: float,
        text: str = "",
        *,
        points: int = 60,
        dashed: bool = False,
    ) -> None:
        """Draw a function from ``low`` to ``high``, its points even on the x axis as drawn."""
        if self._logs[0]:
            xs = [low * (high / low) ** (k / (points - 1)) for k in range(points)]
        else:
            xs = [low + (high - low) * k / (points - 1) for k in range(points)]
        self.curve([(x, function(x)) for x in xs], text, dashed=dashed)

    def band(self, lower: Sequence[Point], upper: Sequence[Point], text: str = "") -> None:
        """Shade the band between two curves."""
        self._bands.append((list(lower), list(upper), text))

    def limit(self, value: float, text: str, *, axis: str = "y") -> None:
        """Draw a limit line at a value of y (or of x) and name it."""
        if axis not in ("x", "y"):
            raise ValueError(f"a limit stands on axis x or y, found {axis!r}")
        self._limits.append(_Limit(value, text, axis == "x"))

    def mark(
        self, x: float, y: float, text: str = "", *, x_text: str = "", y_text: str = ""
    ) -> None:
        """Mark the operating point, with lines dropped to both axes and texts at their feet."""
        self._marks.append(_Mark(x, y, text, x_text, y_text))

    def svg(self, prefix: str | None = None) -> str:
        """Return the chart as SVG; ``prefix`` starts its ids, else a digest of the content does."""
        return self._draw().svg(
            self.title,
            self.description,
            prefix=prefix,
            width=self.width,
            fixed_height=self.height,
        )

    def __str__(self) -> str:
        """Return the chart as SVG."""
        return self.svg()

    def _scale(self, axis: int) -> Scale:
        values = [p[axis] for points, _, _ in self._curves for p in points]
        values += [p[axis] for low, high, _ in self._bands for p in (*low, *high)]
        values += [limit.value for limit in self._limits if limit.upright == (axis == 0)]
        values += [(mark.x, mark.y)[axis] for mark in self._marks]
        low, high = self._ranges[axis] or (None, None)
        if not values and low is None:
            raise ValueError(f"the chart {self.title!r} has nothing to show")
        scale = (
            log_scale(values, low=low, high=high)
            if self._logs[axis]
            else linear_scale(values, low=low, high=high)
        )
        own = self._ticks[axis]
        if own is None:
            return scale
        return Scale(scale.low, scale.high, tuple(Tick(v, t) for v, t in own), scale.log)

    def _draw(self) -> Paper:
        x_scale, y_scale = self._scale(0), self._scale(1)
        paper = Paper(limits=(0.0, 0.0, self.width, self.height))
        gutter = max([line_width(tick.text, _SMALL) for tick in y_scale.ticks], default=0.0)
        last = x_scale.ticks[-1].text if x_scale.ticks else ""
        left, right = EDGE + gutter + _TICK + 3, self.width - EDGE - line_width(last, _SMALL) / 2
        right = min(right, self.width - 8)
        top, bottom = EDGE + 20, self.height - EDGE - 37
        frame = Box((left + right) / 2, (top + bottom) / 2, right - left, bottom - top)

        def at(point: Point) -> Point:
            return (
                left + x_scale.share(point[0]) * (right - left),
                bottom - y_scale.share(point[1]) * (bottom - top),
            )

        self._axes(paper, x_scale, y_scale, frame, at)
        self._inside(paper, frame, at)
        paper.settle()
        return paper

    def _axes(
        self,
        paper: Paper,
        x_scale: Scale,
        y_scale: Scale,
        frame: Box,
        at: Callable[[Point], Point],
    ) -> None:
        left, top, right, bottom = frame.extent()
        paper.stroke("thin", [(left, top), (left, bottom), (right, bottom)])
        taken = -1e9
        for tick in x_scale.ticks:
            x = at((tick.value, y_scale.low))[0]
            paper.stroke("thin", [(x, bottom), (x, bottom + (_TICK if tick.text else 2))])
            if tick.text:
                paper.stroke("grid", [(x, top), (x, bottom)])
            size = text_size(tick.text, _SMALL)
            if tick.text and x - size[0] / 2 > taken:
                taken = x + size[0] / 2 + 4
                box = Box(x, bottom + _TICK + 9, *size)
                paper.want(Lettering(tick.text, [Place(box, firm=True)], size=_SMALL))
        for tick in y_scale.ticks:
            y = at((x_scale.low, tick.value))[1]
            paper.stroke("thin", [(left - (_TICK if tick.text else 2), y), (left, y)])
            if tick.text:
                paper.stroke("grid", [(left, y), (right, y)])
                size = text_size(tick.text, _SMALL)
                box = Box(left - _TICK - 3 - size[0] / 2, y, *size)
                paper.want(Lettering(tick.text, [Place(box, anchor="end", firm=True)], size=_SMALL))
        x_size, y_size = text_size(self._labels[0]), text_size(self._labels[1])
        x_box = Box(right - x_size[0] / 2, bottom + _TICK + 25, *x_size)
        paper.want(Lettering(self._labels[0], [Place(x_box, anchor="end", firm=True)]))
        y_box = Box(EDGE + y_size[0] / 2, EDGE + y_size[1] / 2, *y_size)
        paper.want(Lettering(self._labels[1], [Place(y_box, anchor="start", firm=True)]))

    def _inside(self, paper: Paper, frame: Box, at: Callable[[Point], Point]) -> None:
        left, _, _, bottom = frame.extent()

        def write(text: str, places: list[Place], *, strong: bool = False) -> None:
            paper.want(Lettering(text, [kept_inside(place, frame) for place in places], strong))

        for mark in self._marks:
            x, y = at((mark.x, mark.y))
            paper.stroke("drop", [(x, y), (x, bottom)])
            paper.stroke("drop", [(left, y), (x, y)])
            ring = Box(x, y, 6, 6).corners()
            paper.stroke("arrow", ring, closed=True, shape=f'<path d="{path_data(ring)}Z"/>')
            if mark.text:
                size = text_size(mark.text, strong=True)
                write(mark.text, round_point(x, y, size), strong=True)
            for text, spot in ((mark.x_text, (x, bottom - 8)), (mark.y_text, (left + 2, y - 8))):
                if text:
                    size = text_size(text)
                    write(text, at_foot(spot, size, frame))
        for lower, upper, text in self._bands:
            ring = [at(p) for p in (*lower, *reversed(upper))]
            paper.stroke("band", ring, closed=True)
            if text:
                middle = len(upper) // 2
                spot = at(upper[middle])
                write(text, round_point(*spot, text_size(text)))
        for points, text, dashed in self._curves:
            run = _framed([at(p) for p in points], frame)
            for piece in run:
                paper.stroke("curve-dashed" if dashed else "curve", piece)
            if text and run:
                write(text, along_curve(run[-1], text_size(text)))
        for limit in self._limits:
            write(limit.text, self._limit(paper, limit, frame, at))

    def _limit(
        self, paper: Paper, limit: _Limit, frame: Box, at: Callable[[Point], Point]
    ) -> list[Place]:
        """Draw a limit line; return places for its name along it."""
        left, top, right, bottom = frame.extent()
        size = text_size(limit.text)
        places: list[Place] = []
        x_low, y_low = self._scale(0).low, self._scale(1).low
        if limit.upright:
            x = at((limit.value, y_low))[0]
            paper.stroke("limit", [(x, top), (x, bottom)])
            for k in range(8):
                y = top + 8 + k * (bottom - top - 16) / 7
                places.append(Place(Box(x + 4 + size[0] / 2, y, *size), k, "start"))
                places.append(Place(Box(x - 4 - size[0] / 2, y, *size), k + 0.5, "end"))
            ends = [(x, top + (bottom - top) * share) for share in (0.15, 0.5, 0.85)]
        else:
            y = at((x_low, limit.value))[1]
            paper.stroke("limit", [(left, y), (right, y)])
            for k in range(8):
                x = right - 2 - size[0] / 2 - k * max(0.0, right - left - size[0] - 6) / 7
                places.append(Place(Box(x, y - size[1] / 2 - 2, *size), k))
                places.append(Place(Box(x, y + size[1] / 2 + 2, *size), k + 0.5))
            ends = [(left + (right - left) * share, y) for share in (0.85, 0.5, 0.15)]
        return places + led_from(ends, size)


def _framed(points: list[Point], frame: Box) -> list[list[Point]]:
    """Return the runs of a curve inside the frame."""
    runs: list[list[Point]] = []
    for segment in segments(points):
        piece = frame.inner_part(segment)
        if piece is None:
            continue
        if runs and runs[-1][-1] == piece[:2]:
            runs[-1].append(piece[2:])
        else:
            runs.append([piece[:2], piece[2:]])
    return runs
