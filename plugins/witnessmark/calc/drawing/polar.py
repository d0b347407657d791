"""A polar plot of readings round a circle, such as runout against the turn of a flywheel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.calc.drawing.ink import Lettering
from witnessmark.calc.drawing.leaders import beside, near_places
from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.numerals import fixed
from witnessmark.calc.drawing.paper import Paper
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.plane import Box, Point, circle_loop, polar
from witnessmark.calc.drawing.scale import linear_scale

_SMALL = 10.0
_HOLE = 0.25


@dataclass(frozen=True)
class _Run:
    points: list[Point]
    text: str
    dashed: bool
    dots: bool


class Polar:
    """Readings against angle; nought stands at the top and angles count clockwise.

    ``radial`` labels the radial scale, unit included. Readings may be negative: the scale
    starts a quarter of the radius out, and the circle of nought is drawn heavier. With
    ``hours`` the spokes are named as on a clock, 12 at the top.

    >>> p = Polar("Face runout", "Highest at 120 degrees.", radial="0.01 mm")
    >>> p.readings([(0, -2.0), (90, 3.0), (180, 4.0), (270, -1.0)], "dial")
    >>> p.mark(120, 4.2, "high spot")
    >>> svg = p.svg()
    """

    def __init__(
        self,
        title: str,
        description: str = "",
        *,
        radial: str,
        radial_range: tuple[float, float] | None = None,
        hours: bool = False,
        width: float = 320.0,
        radius: float = 105.0,
    ) -> None:
        if not title.strip():
            raise ValueError("a plot needs a title: it is read out in place of the picture")
        self.title, self.description = title, description
        self.width, self.radius = width, radius
        self._radial, self._range, self._hours = radial, radial_range, hours
        self._runs: list[_Run] = []
        self._limits: list[tuple[float, str]] = []
        self._marks: list[tuple[float, float, str]] = []

    def readings(
        self,
        points: Sequence[tuple[float, float]],
        text: str = "",
        *,
        dashed: bool = False,
        dots: bool = True,
    ) -> None:
        """Draw readings as pairs of degrees and value, joined all the way round.

        Without ``dots`` it is a curve that goes with the readings, such as the fit to them.
        """
        if len(points) < 3:
            raise ValueError(f"readings round a circle are three or more, found {len(points)}")
        self._runs.append(_Run(sorted(points), text, dashed, dots))

    def limit(self, value: float, text: str) -> None:
        """Draw a limit as a circle and name it."""
        self._limits.append((value, text))

    def mark(self, angle: float, value: float, text: str) -> None:
        """Mark a spot, such as the highest reading, and name it."""
        self._marks.append((angle, value, text))

    def svg(self, prefix: str | None = None) -> str:
        """Return the plot as SVG; ``prefix`` starts its ids, else a digest of the content does."""
        values = [value for run in self._runs for _, value in run.points]
        values += [value for value, _ in self._limits] + [value for _, value, _ in self._marks]
        if not values:
            raise ValueError(f"the plot {self.title!r} has no readings")
        low, high = self._range or (None, None)
        scale = linear_scale(values, count=4, low=low, high=high)
        paper = Paper()

        def reach(value: float) -> float:
            return self.radius * (_HOLE + (1 - _HOLE) * scale.share(value))

        def at(angle: float, value: float) -> Point:
            return polar((0.0, 0.0), reach(value), angle - 90)

        for angle in range(0, 360, 30):
            inner = polar((0.0, 0.0), self.radius * _HOLE, angle - 90)
            paper.stroke("grid", [inner, polar((0.0, 0.0), self.radius, angle - 90)])
        for tick in scale.ticks:
            _ring(paper, "thin" if abs(tick.value) < 1e-12 else "grid", reach(tick.value))
        for angle in range(0, 360, 30):
            spot = polar((0.0, 0.0), self.radius, angle - 90)
            name = str(angle // 30 or 12) if self._hours else f"{angle}°"
            place = beside(spot, 90 - angle, text_size(name, _SMALL))
            paper.want(Lettering(name, [place._replace(firm=True)], size=_SMALL))
        for tick in scale.ticks:
            size = text_size(tick.text, _SMALL)
            spot = polar((0.0, 0.0), reach(tick.value), 15 - 90)
            paper.want(Lettering(tick.text, [Place(Box(*spot, *size), firm=True)], size=_SMALL))
        for value, _ in self._limits:
            _ring(paper, "limit", reach(value))
        for run in self._runs:
            loop = [at(angle, value) for angle, value in run.points]
            paper.stroke("curve-dashed" if run.dashed else "curve", loop, closed=True)
            for x, y in loop if run.dots else ():
                dot = f'<circle cx="{fixed(x)}" cy="{fixed(y)}" r="2.4"/>'
                paper.stroke("dot", circle_loop((x, y), 2.4), closed=True, shape=dot)
        for turn, value, text in self._marks:
            spot = at(turn, value)
            paper.stroke("drop", [(0.0, 0.0), spot])
            ring = f'<circle cx="{fixed(spot[0])}" cy="{fixed(spot[1])}" r="5"/>'
            paper.stroke("mark", circle_loop(spot, 5), closed=True, shape=ring)
            size = text_size(text, strong=True)
            paper.want(Lettering(text, near_places(spot, size, 90 - turn, clear=7), strong=True))
        for value, text in self._limits:
            places = [
                place._replace(lean=place.lean + rank)
                for rank, turn in enumerate((60, 120, 240, 300, 30, 150, 210, 330))
                for place in near_places(
                    polar((0.0, 0.0), reach(value), turn - 90), text_size(text), 90.0 - turn
                )
            ]
            paper.want(Lettering(text, places))
        for run in self._runs:
            if run.text:
                places = [
                    place._replace(lean=place.lean + rank)
                    for rank, (angle, value) in enumerate(run.points)
                    for place in near_places(
                        at(angle, value), text_size(run.text), 90.0 - angle, clear=4
                    )
                ]
                paper.want(Lettering(run.text, places))
        unit = text_size(self._radial)
        corner = Box(self.width / 2 - 4 - unit[0] / 2, self.radius + 12, *unit)
        paper.want(Lettering(self._radial, [Place(corner, anchor="end")]))
        paper.settle()
        return paper.svg(self.title, self.description, prefix=prefix, width=self.width)

    def __str__(self) -> str:
        """Return the plot as SVG."""
        return self.svg()


def _ring(paper: Paper, role: str, radius: float) -> None:
    shape = f'<circle cx="0" cy="0" r="{fixed(radius)}"/>'
    paper.stroke(role, circle_loop((0.0, 0.0), radius), closed=True, shape=shape)
