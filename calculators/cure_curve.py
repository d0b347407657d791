"""Strength of a curing adhesive against time, through the points of its data sheet.

Two points: the Weibull form s = 1 - exp(-(t/tau)^n) through both, with
n = ln[ln(1/(1-s2)) / ln(1/(1-s1))] / ln(t2/t1).

Three points and more: piecewise cubic Hermite interpolation in ln t with the slopes of
Fritsch and Butland (a weighted harmonic mean inside, a three-point formula kept in shape at
the ends): it passes through every point, never falls and never overshoots. Before the first
point a Weibull form takes over, as steep there as the cubic or as the two-point form of the
first two points, whichever is steeper, so that it never promises strength too early. After the
last point the strength is held.

Times are plain numbers in one unit; strengths are fractions of full strength.

Sources: F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise
cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304; W. Weibull, A statistical
distribution function of wide applicability, J. Appl. Mech. 18 (1951) 293-297.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

Points = Sequence[tuple[float, float]]
"""Pairs of time and strength, both rising."""


class Curve(Protocol):
    """A strength that rises with time."""

    def strength(self, time: float) -> float:
        """Strength at a time; 0 at time 0."""
        ...

    def time(self, strength: float) -> float:
        """Time at which a strength is reached."""
        ...


@dataclass(frozen=True)
class Weibull:
    """s = 1 - exp(-(t/tau)^n)."""

    n: float
    tau: float

    @classmethod
    def through(cls, first: tuple[float, float], second: tuple[float, float]) -> Weibull:
        """The curve through two points, both strengths between 0 and 1."""
        (t1, s1), (t2, s2) = first, second
        y1, y2 = -math.log1p(-s1), -math.log1p(-s2)
        n = math.log(y2 / y1) / math.log(t2 / t1)
        return cls(n, t1 / y1 ** (1 / n))

    def strength(self, time: float) -> float:
        """Strength at a time."""
        return -math.expm1(-((time / self.tau) ** self.n))

    def time(self, strength: float) -> float:
        """Time at which a strength below 1 is reached."""
        return float(self.tau * (-math.log1p(-strength)) ** (1 / self.n))


class Monotone:
    """The monotone curve through three points or more."""

    def __init__(self, points: Points) -> None:
        self._x = [math.log(time) for time, _ in points]
        self._s = [strength for _, strength in points]
        self._slopes = _slopes(self._x, self._s)
        self._head = _head(points, self._slopes[0])

    def strength(self, time: float) -> float:
        """Strength at a time; the last point's after it."""
        if time <= 0:
            return 0.0
        x = math.log(time)
        if x < self._x[0]:
            return self._head.strength(time)
        if x >= self._x[-1]:
            return self._s[-1]
        return self._cubic(bisect_right(self._x, x) - 1, x)

    def time(self, strength: float) -> float:
        """Time at which a strength is reached, at most the last point's."""
        if strength < self._s[0]:
            return self._head.time(strength)
        k = min(bisect_right(self._s, strength), len(self._s) - 1) - 1
        low, high = self._x[k], self._x[k + 1]
        # A rising cubic: halving always closes in, to the last bit of ln t.
        while True:
            middle = (low + high) / 2
            if not low < middle < high:
                return math.exp(high)
            if self._cubic(k, middle) < strength:
                low = middle
            else:
                high = middle

    def _cubic(self, k: int, x: float) -> float:
        h = self._x[k + 1] - self._x[k]
        u = (x - self._x[k]) / h
        rise = self._s[k + 1] - self._s[k]
        a, b = h * self._slopes[k], h * self._slopes[k + 1]
        return self._s[k] + u * (a + u * (3 * rise - 2 * a - b + u * (a + b - 2 * rise)))


def _head(points: Points, slope: float) -> Weibull:
    """The curve before the first point, where the cubic starts with ``slope`` in ln t."""
    time, strength = points[0]
    y = -math.log1p(-strength)
    # ds/d(ln t) = (1 - s) n y for the Weibull form.
    n = max(Weibull.through(points[0], points[1]).n, slope / ((1 - strength) * y))
    return Weibull(n, time / y ** (1 / n))


def _slopes(x: Sequence[float], s: Sequence[float]) -> list[float]:
    """Slopes at the points of a rising run, after Fritsch and Butland."""
    h = [b - a for a, b in pairwise(x)]
    delta = [(b - a) / step for (a, b), step in zip(pairwise(s), h, strict=True)]
    inner = []
    for k in range(1, len(x) - 1):
        w1, w2 = 2 * h[k] + h[k - 1], h[k] + 2 * h[k - 1]
        inner.append((w1 + w2) / (w1 / delta[k - 1] + w2 / delta[k]))
    return [_end(h[0], h[1], delta[0], delta[1]), *inner, _end(h[-1], h[-2], delta[-1], delta[-2])]


def _end(h1: float, h2: float, delta1: float, delta2: float) -> float:
    """Slope at an end of a rising run, from the parabola of three points but not below 0."""
    return max(0.0, ((2 * h1 + h2) * delta1 - h1 * delta2) / (h1 + h2))


def curve_through(points: Points) -> Curve:
    """The curve through two points or more, both times and strengths rising."""
    return Weibull.through(points[0], points[1]) if len(points) == 2 else Monotone(points)
