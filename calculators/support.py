"""What a body on feet does under forces: tip, slide, turn. Lengths in mm, forces in N.

Centre of pressure: with N = -F_z the whole downward force and M its moment about the origin,
x = M_y/N, y = -M_x/N. The body stands while that point lies within the hull of the feet.
Loads of the feet: the least uneven ones in equilibrium (feet alike, on an even floor); a foot
that would have to pull is left out.
Sliding and turning together: the body slides by a motion (v, w) of the plane when the forces
do more work in it than friction can take, so the load factor is the least of
mu sum of N_i |v + w x r_i| over all motions with H . v + M_z w = 1 (upper bound theorem, exact
for given N_i). It is found by weighting anew (Weiszfeld): for a pure couple it is the
weighted geometric median of the feet.

Sources: statics; J. Heyman and others for the bound theorems; E. Weiszfeld 1937.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]
Vector = tuple[float, float, float]
_FLAT = 1.0
"""Hulls below this area in mm² are no base."""


@dataclass(frozen=True)
class Push:
    """A force in N at a point in mm."""

    force: Vector
    at: Vector

    def times(self, factor: float) -> Push:
        """The same push so many times as strong."""
        x, y, z = self.force
        return Push((factor * x, factor * y, factor * z), self.at)


@dataclass(frozen=True)
class Base:
    """Total of the forces on the base plane: N down, H and M_z in it, centre of pressure."""

    down: float
    across: Point
    twist: float
    moment: Point
    """N times the centre of pressure, N mm; it exists where N does not."""

    @property
    def centre(self) -> Point:
        """The centre of pressure, mm; nowhere when nothing presses down."""
        if self.down < 1e-9:
            return math.inf, math.inf
        return self.moment[0] / self.down, self.moment[1] / self.down


def total(pushes: Sequence[Push]) -> Base:
    """The forces brought to the base plane; ``twist`` is about the origin, in N mm."""
    fx, fy, fz = (math.fsum(push.force[i] for push in pushes) for i in range(3))
    mx = math.fsum(p.at[1] * p.force[2] - p.at[2] * p.force[1] for p in pushes)
    my = math.fsum(p.at[2] * p.force[0] - p.at[0] * p.force[2] for p in pushes)
    mz = math.fsum(p.at[0] * p.force[1] - p.at[1] * p.force[0] for p in pushes)
    return Base(-fz, (fx, fy), mz, (my, -mx))


def hull(points: Sequence[Point]) -> list[Point]:
    """Corners of the support polygon, anticlockwise; empty where the feet stand in a line."""
    ordered = sorted(set(points))

    def half(run: Sequence[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 1e-9:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    corners = half(ordered) + half(ordered[::-1])
    area = sum(_turn((0, 0), a, b) for a, b in edges(corners)) / 2 if len(corners) > 2 else 0
    return corners if area > _FLAT else []


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def edges(corners: Sequence[Point]) -> list[tuple[Point, Point]]:
    """The sides of a polygon."""
    return [(corner, corners[(i + 1) % len(corners)]) for i, corner in enumerate(corners)]


def inward(edge: tuple[Point, Point], point: Point) -> float:
    """Distance of a point inside a side in mm; negative outside."""
    return _turn(*edge, point) / math.dist(*edge)


def half_width(corners: Sequence[Point]) -> float:
    """Half of the least width of the polygon, mm."""
    return min(max(inward(edge, corner) for corner in corners) for edge in edges(corners)) / 2


def tipping_factor(rest: Sequence[Push], push: Push, corners: Sequence[Point]) -> float:
    """How many times ``push`` tips the body about some side; inf where it never does.

    Moments about each side are linear in the factor.
    """
    still, one = total(rest), total([push])
    least = math.inf
    for edge in edges(corners):
        hold = _about(still, edge)
        tip = -_about(one, edge)
        if tip > 1e-9:
            least = min(least, hold / tip)
    return least


def _about(base: Base, edge: tuple[Point, Point]) -> float:
    """Moment about a side of the base in N mm, positive where it presses the body down."""
    length = math.dist(*edge)
    nx, ny = -(edge[1][1] - edge[0][1]) / length, (edge[1][0] - edge[0][0]) / length
    x, y = base.moment
    return (x - edge[0][0] * base.down) * nx + (y - edge[0][1] * base.down) * ny


def foot_loads(base: Base, feet: Sequence[Point]) -> list[float]:
    """Load of every foot in N: even as can be, none pulling.

    The feet that would pull are left out one by one; where the last three cannot carry it,
    three corners of the hull about the centre of pressure do.
    """
    active = list(range(len(feet)))
    loads = _even_loads(base, [feet[i] for i in active])
    while min(loads) < -1e-9 * abs(base.down):
        if len(active) == 3:
            active, loads = _three_corners(base, feet)
            break
        del active[min(range(len(active)), key=lambda k: loads[k])]
        loads = _even_loads(base, [feet[i] for i in active])
    found = [0.0] * len(feet)
    for i, load in zip(active, loads, strict=True):
        found[i] = max(load, 0.0)
    return found


def _even_loads(base: Base, feet: Sequence[Point]) -> list[float]:
    """The least uneven loads in equilibrium, pulling or not."""
    rows = [(1.0, x, y) for x, y in feet]
    matrix = [[sum(r[j] * r[k] for r in rows) for k in range(3)] for j in range(3)]
    share = solve3(matrix, (base.down, *base.moment))
    return [sum(s * r for s, r in zip(share, row, strict=True)) for row in rows]


def _three_corners(base: Base, feet: Sequence[Point]) -> tuple[list[int], list[float]]:
    corners = hull(feet)
    best: tuple[list[int], list[float]] = ([], [-math.inf])
    for second, third in edges(corners[1:])[:-1]:
        picked = [feet.index(corner) for corner in (corners[0], second, third)]
        loads = _even_loads(base, [feet[i] for i in picked])
        if min(loads) > min(best[1]):
            best = picked, loads
    return best


def grip(base: Base, feet: Sequence[Point], loads: Sequence[float], friction: float) -> float:
    """How many times the forces in the plane may be before the body slides or turns."""
    hx, hy = base.across
    size = max(math.dist(a, b) for a in feet for b in feet)
    goal = (hx, hy, base.twist / size)  # turning counted as a length at the edge
    if math.hypot(*goal) < 1e-9 * max(base.down, 1.0):
        return math.inf
    rows = [((1.0, 0.0, -y / size), (0.0, 1.0, x / size)) for x, y in feet]
    motion, factor = _unit(goal), math.inf
    for _ in range(400):
        speeds = [
            math.hypot(*(sum(a * b for a, b in zip(row, motion, strict=True)) for row in pair))
            for pair in rows
        ]
        here = friction * sum(n * v for n, v in zip(loads, speeds, strict=True))
        if factor - here < 1e-10 * here and here <= factor:
            return here
        factor = min(factor, here)
        matrix = [[0.0] * 3 for _ in range(3)]
        for pair, load, speed in zip(rows, loads, speeds, strict=True):
            weight = load / max(speed, 1e-12 * max(speeds))
            for row in pair:
                for j in range(3):
                    for k in range(3):
                        matrix[j][k] += weight * row[j] * row[k]
        motion = _unit_work(solve3(matrix, goal), goal)
    return factor


def _unit(goal: Vector) -> Vector:
    square = sum(g * g for g in goal)
    return goal[0] / square, goal[1] / square, goal[2] / square


def _unit_work(motion: Vector, goal: Vector) -> Vector:
    work = sum(m * g for m, g in zip(motion, goal, strict=True))
    return motion[0] / work, motion[1] / work, motion[2] / work


def solve3(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> Vector:
    """Three linear equations; a trace of the diagonal keeps singular ones solvable."""
    rows = [[*row, r] for row, r in zip(matrix, right, strict=True)]
    for i in range(3):
        rows[i][i] *= 1 + 1e-13
        rows[i][i] += 1e-280
    for i in range(3):
        best = max(range(i, 3), key=lambda k: abs(rows[k][i]))
        rows[i], rows[best] = rows[best], rows[i]
        for k in range(i + 1, 3):
            share = rows[k][i] / rows[i][i]
            rows[k] = [x - share * y for x, y in zip(rows[k], rows[i], strict=True)]
    z = rows[2][3] / rows[2][2]
    y = (rows[1][3] - rows[1][2] * z) / rows[1][1]
    x = (rows[0][3] - rows[0][1] * y - rows[0][2] * z) / rows[0][0]
    return x, y, z
