"""Dial readings round a circle: offset and direction by least squares, and what is left over.

r(phi) = m + a cos(phi) + b sin(phi) is fitted to readings at any angles, missing ones or
bunched ones alike; the offset is e = sqrt(a^2 + b^2) towards atan2(b, a). What no offset can
explain is form: residuals, of which the waves of two and of three lobes are taken out where
there are readings enough. The sums over equal steps that books give are a special case.

Uncertainty: covariance s^2 (X'X)^-1 with s the greater of the spread of the residuals and a
division of the dial over the square root of 12.

Source: least squares, Gauss; JCGM 100:2008, 4.3.7, 5.1 and H.3. Angles in degrees, clockwise
from 12 o'clock; readings in mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Reading = tuple[float, float]
"""An angle in degrees and a reading in mm."""
_SINGULAR = 1e-6
"""A pivot below this share of the number of readings: the angles do not fix the offset."""
SURE = 3.0
"""An offset below so many of its standard uncertainties is none that was measured."""


class OneSidedError(ValueError):
    """The readings stand so close together that they fix no direction."""


@dataclass(frozen=True)
class DialFit:
    """Offset of readings in mm, its direction in degrees, and what it leaves.

    ``lobes`` gives the amplitude in mm of the wave of two and of three lobes, where known.
    """

    mean: float
    offset: float
    direction: float
    residuals: tuple[float, ...]
    u_offset: float
    u_direction: float
    lobes: dict[int, float]

    @property
    def form(self) -> float:
        """Greatest less least residual, mm."""
        return max(self.residuals) - min(self.residuals)

    @property
    def known(self) -> bool:
        """Whether the offset stands clear of its uncertainty."""
        return self.offset > SURE * self.u_offset + 1e-9


def fit(readings: Sequence[Reading], division: float) -> DialFit:
    """The offset of readings; ``division`` is the least division of the dial in mm.

    Raises OneSidedError when the angles do not fix it.
    """
    turns = [math.radians(angle) for angle, _ in readings]
    values = [value for _, value in readings]
    middle = math.fsum(values) / len(values)  # keeps the sums small beside a large dial offset
    values = [value - middle for value in values]
    (mean, a, b), inverse = _least_squares([_row(turn, 1) for turn in turns], values)
    a, b = (0.0 if abs(part) < 1e-9 else part for part in (a, b))
    offset, towards = math.hypot(a, b), math.atan2(b, a)
    residuals = tuple(
        value - mean - a * math.cos(turn) - b * math.sin(turn)
        for turn, value in zip(turns, values, strict=True)
    )
    spare = len(values) - 3
    spread = math.sqrt(sum(rest**2 for rest in residuals) / spare) if spare > 1 else 0.0
    s = max(spread, division / math.sqrt(12))
    across = _form(inverse, (math.cos(towards), math.sin(towards)))
    along = _form(inverse, (-math.sin(towards), math.cos(towards)))
    return DialFit(
        mean + middle,
        offset,
        math.degrees(towards) % 360,
        residuals,
        s * math.sqrt(across),
        s * math.sqrt(along) / offset if offset else math.pi,
        _lobes(turns, values),
    )


def widest_gap(readings: Sequence[Reading]) -> float:
    """The widest gap between neighbouring readings, degrees."""
    angles = sorted({round(angle % 360, 6) for angle, _ in readings})
    nexts = [*angles[1:], angles[0] + 360]
    return max(after - before for before, after in zip(angles, nexts, strict=True))


def _row(turn: float, waves: int) -> list[float]:
    row = [1.0]
    for k in range(1, waves + 1):
        row += [math.cos(k * turn), math.sin(k * turn)]
    return row


def _lobes(turns: Sequence[float], values: Sequence[float]) -> dict[int, float]:
    """Amplitudes of the higher waves, where there is a reading more than they need."""
    for waves in (3, 2):
        if len(turns) > 2 * waves + 1:
            try:
                found, _ = _least_squares([_row(turn, waves) for turn in turns], values)
            except OneSidedError:
                continue
            return {k: math.hypot(found[2 * k - 1], found[2 * k]) for k in range(2, waves + 1)}
    return {}


def _form(inverse: list[list[float]], way: tuple[float, float]) -> float:
    """The variance factor of the offset along a direction."""
    return sum(
        way[i] * inverse[i + 1][j + 1] * way[j] for i in range(2) for j in range(2)
    )  # fmt: skip


def _least_squares(
    rows: Sequence[Sequence[float]], values: Sequence[float]
) -> tuple[list[float], list[list[float]]]:
    """Coefficients by the normal equations, and the inverse of their matrix."""
    n = len(rows[0])
    work = [
        [math.fsum(row[i] * row[j] for row in rows) for j in range(n)]
        + [float(i == j) for j in range(n)]
        for i in range(n)
    ]
    right = [
        math.fsum(row[i] * value for row, value in zip(rows, values, strict=True))
        for i in range(n)
    ]  # fmt: skip
    for i in range(n):
        best = max(range(i, n), key=lambda k: abs(work[k][i]))
        work[i], work[best] = work[best], work[i]
        pivot = work[i][i]
        if abs(pivot) < _SINGULAR * len(rows):
            raise OneSidedError
        work[i] = [x / pivot for x in work[i]]
        for k in range(n):
            if k != i:
                share = work[k][i]
                work[k] = [x - share * y for x, y in zip(work[k], work[i], strict=True)]
    inverse = [row[n:] for row in work]
    return [math.fsum(x * y for x, y in zip(row, right, strict=True)) for row in inverse], inverse
