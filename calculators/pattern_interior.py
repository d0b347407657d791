"""The least of the largest excess |e_i| - c_i by a primal-dual interior point method.

Arms q_i stand about the origin, targets h_i near them, c_i are radial clearances. Unknowns are
a turn phi = a/rho about the origin (rho the root mean square arm, so that all are mm), a shift
t and the level z. A dowel keeps within the level when |e_i| <= v_i, e_i = h_i - R(phi) q_i - t
and v_i = z + c_i. Written as v_i - |e_i|^2/v_i >= 0 that is smooth and concave also where an
offset passes through nought. Slacks s_i and weights w_i stay positive; each step is Newton's on

    sum of w_i grad(v_i - |e_i|^2/v_i) = grad z,   s_i = v_i - |e_i|^2/v_i,   w_i s_i = mu

with mu driven to nought by a predictor and a corrector. At the end the sum of w_i s_i is the
most that the level found can lie above the optimum near by.

Lengths are mm, angles rad; plain floats, no sorting by floats, so that two maths libraries
part only in the last bits.

Source: S. Boyd, L. Vandenberghe, Convex Optimization, 2004, section 11.7; the choice of mu is
S. Mehrotra's, SIAM J. Optim. 2 (1992) 575.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

Point = tuple[float, float]
_Row = tuple[float, float, float, float]
_Slope = tuple[float, float, float, float]

_GAP = 1e-12
"""The level is taken when it is proved to this share of the largest offset (at least 1 mm)."""
_BALANCE = 1e-7
_STEPS = 80


def least_excess(
    arms: Sequence[Point], targets: Sequence[Point], clearances: Sequence[float]
) -> tuple[float, Point, float, tuple[float, ...]]:
    """Turn (rad), shift (mm), largest excess (mm) and weights at the best place.

    ``arms`` and ``targets`` are paired in order and least squares fitted beforehand; at least
    one of them must be off its target, and no dowel may be centred at the best place. Patterns
    that are nothing alike may have no best place that can be proved; they stay where they are.
    """
    search = _Search(arms, targets, clearances)
    for _ in range(_STEPS):
        if search.done():
            break
        if not search.step():
            return _as_given(arms, targets, clearances)
    else:
        return _as_given(arms, targets, clearances)
    turn = search.unknowns[0] / search.reach
    shift = (search.unknowns[1], search.unknowns[2])
    shares = [w * slope[3] for w, slope in zip(search.weights, search.slopes, strict=True)]
    total = math.fsum(shares)
    return turn, shift, search.excess(), tuple(share / total for share in shares)


def _as_given(
    arms: Sequence[Point], targets: Sequence[Point], clearances: Sequence[float]
) -> tuple[float, Point, float, tuple[float, ...]]:
    """The place that was given: it bounds the best from above."""
    excesses = [math.dist(q, h) - c for q, h, c in zip(arms, targets, clearances, strict=True)]
    worst = max(range(len(excesses)), key=lambda i: excesses[i])
    weights = tuple(float(i == worst) for i in range(len(excesses)))
    return 0.0, (0.0, 0.0), excesses[worst], weights


class _Search:
    """The iterate: unknowns (a, x, y, z), slacks and weights."""

    def __init__(
        self, arms: Sequence[Point], targets: Sequence[Point], clearances: Sequence[float]
    ) -> None:
        self.pairs = list(zip(arms, targets, strict=True))
        self.clearances = clearances
        self.reach = math.sqrt(math.fsum(x * x + y * y for x, y in arms) / len(arms))
        lengths = [math.dist(arm, target) for arm, target in self.pairs]
        self.small = _GAP * max(1.0, *lengths)
        level = max(r - c for r, c in zip(lengths, clearances, strict=True)) + 0.3 * max(lengths)
        self.unknowns = [0.0, 0.0, 0.0, level]
        self._look()
        self.slacks = list(self.room)
        total = sum(slope[3] / s for slope, s in zip(self.slopes, self.slacks, strict=True))
        self.weights = [1 / (s * total) for s in self.slacks]

    def excess(self) -> float:
        """The largest excess at the iterate."""
        return max(
            math.hypot(row[0], row[1]) - c
            for row, c in zip(self.rows, self.clearances, strict=True)
        )

    def done(self) -> bool:
        """Whether the level is proved."""
        gap = sum(w * s for w, s in zip(self.weights, self.slacks, strict=True))
        off = max(abs(r - s) for r, s in zip(self.room, self.slacks, strict=True))
        if max(gap, off) > self.small:
            return False
        sums = [0.0, 0.0, 0.0]
        for w, slope in zip(self.weights, self.slopes, strict=True):
            for k in range(3):
                sums[k] += w * slope[k]
        return max(map(abs, sums)) < _BALANCE

    def step(self) -> bool:
        """One predictor and corrector; False when the level has run aground at a clearance."""
        count = len(self.slacks)
        mean = sum(w * s for w, s in zip(self.weights, self.slacks, strict=True)) / count
        factors = _factored(self._matrix())
        _, opened, change = self._direction(factors, 0.0)
        ahead, behind = _longest(self.slacks, opened), _longest(self.weights, change)
        reached = sum(
            (s + ahead * ds) * (w + behind * dw)
            for s, ds, w, dw in zip(self.slacks, opened, self.weights, change, strict=True)
        )
        target = mean * max((reached / count / mean) ** 3, 1e-5)
        move, opened, change = self._direction(factors, target)
        share = min(1.0, 0.99 * _longest(self.slacks, opened))
        # The tightest dowel's v may not sink toward nought before the others have followed.
        share = min(share, 0.8 * (self.unknowns[3] + min(self.clearances)) / max(-move[3], 1e-300))
        self.unknowns = [a + share * b for a, b in zip(self.unknowns, move, strict=True)]
        self.slacks = [s + share * ds for s, ds in zip(self.slacks, opened, strict=True)]
        share = min(1.0, 0.99 * _longest(self.weights, change))
        self.weights = [w + share * dw for w, dw in zip(self.weights, change, strict=True)]
        if self.unknowns[3] + min(self.clearances) <= 0:
            return False
        self._look()
        return True

    def _look(self) -> None:
        """Offsets and turned arms, the room each dowel has, and its derivatives."""
        a, dx, dy, level = self.unknowns
        rho = self.reach
        cosine, sine = math.cos(a / rho), math.sin(a / rho)
        self.rows: list[_Row] = []
        self.room: list[float] = []
        self.slopes: list[_Slope] = []
        for ((qx, qy), (hx, hy)), c in zip(self.pairs, self.clearances, strict=True):
            x, y = cosine * qx - sine * qy, sine * qx + cosine * qy
            ex, ey, v = hx - x - dx, hy - y - dy, level + c
            share = (ex * ex + ey * ey) / v
            self.rows.append((ex, ey, x, y))
            self.room.append(v - share)
            self.slopes.append(
                (2 * (ey * x - ex * y) / (v * rho), 2 * ex / v, 2 * ey / v, 1 + share / v)
            )

    def _matrix(self) -> list[list[float]]:
        """Newton's matrix: curvature of the room, and the slacks' pull w/s on its slope."""
        rho, level = self.reach, self.unknowns[3]
        aa = ax = ay = az = xx = xy = xz = yy = yz = zz = 0.0
        for row, slope, w, s, c in zip(
            self.rows, self.slopes, self.weights, self.slacks, self.clearances, strict=True
        ):
            (ex, ey, x, y), (ga, gx, gy, gz) = row, slope
            v = level + c
            bend, pull = 2 * w / v, w / s
            across, up, fx, fy = y / rho, -x / rho, ex / v, ey / v
            aa += pull * ga * ga
            # The arms' own bend counts only as far as it bends the right way.
            aa += bend * max(0.0, across * across + up * up + (ex * x + ey * y) / (rho * rho))
            ax += pull * ga * gx - bend * across
            ay += pull * ga * gy - bend * up
            az += pull * ga * gz - bend * (across * fx + up * fy)
            xx += pull * gx * gx + bend
            xy += pull * gx * gy
            xz += pull * gx * gz + bend * fx
            yy += pull * gy * gy + bend
            yz += pull * gy * gz + bend * fy
            zz += pull * gz * gz + bend * (fx * fx + fy * fy)
        return [[aa, ax, ay, az], [ax, xx, xy, xz], [ay, xy, yy, yz], [az, xz, yz, zz]]

    def _direction(
        self, factors: list[list[float]], target: float
    ) -> tuple[list[float], list[float], list[float]]:
        """Change of the unknowns, the slacks and the weights toward w_i s_i = target."""
        ra = rx = ry = 0.0
        rz = -1.0
        missing = [r - s for r, s in zip(self.room, self.slacks, strict=True)]
        for (ga, gx, gy, gz), s, w, m in zip(
            self.slopes, self.slacks, self.weights, missing, strict=True
        ):
            wanted = (target - w * m) / s
            ra += wanted * ga
            rx += wanted * gx
            ry += wanted * gy
            rz += wanted * gz
        move = _solved(factors, [ra, rx, ry, rz])
        ma, mx, my, mz = move
        opened = [
            ga * ma + gx * mx + gy * my + gz * mz + m
            for (ga, gx, gy, gz), m in zip(self.slopes, missing, strict=True)
        ]
        change = [
            (target - w * (s + ds)) / s
            for s, w, ds in zip(self.slacks, self.weights, opened, strict=True)
        ]
        return move, opened, change


def _longest(values: Sequence[float], changes: Sequence[float]) -> float:
    """The share (at most 1) of the changes at which the first value vanishes."""
    share = 1.0
    for value, change in zip(values, changes, strict=True):
        if change < 0:
            share = min(share, -value / change)
    return share


def _factored(matrix: list[list[float]]) -> list[list[float]]:
    """L and D of a symmetric matrix, D on the diagonal; kept positive."""
    n = len(matrix)
    floor = 1e-15 * max(matrix[k][k] for k in range(n))
    low = [[0.0] * n for _ in range(n)]
    for j in range(n):
        for i in range(j, n):
            rest = matrix[i][j]
            for k in range(j):
                rest -= low[i][k] * low[j][k] * low[k][k]
            low[i][j] = max(rest, floor) if i == j else rest / low[j][j]
    return low


def _solved(low: list[list[float]], right: Sequence[float]) -> list[float]:
    """The solution with a factored matrix."""
    n = len(low)
    x = list(right)
    for i in range(n):
        for k in range(i):
            x[i] -= low[i][k] * x[k]
    for i in range(n):
        x[i] /= low[i][i]
    for i in range(n - 1, -1, -1):
        for k in range(i + 1, n):
            x[i] -= low[k][i] * x[k]
    return x
