"""Pressure of a ring in a housing against a linear system and the thin-ring formula."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from calculators.metals import STEEL, Metal
from calculators.press_fit_lame import HOUSINGS, hoop_stress, pressure

MANY = settings(max_examples=30, deadline=None, derandomize=True)
RIGID = Metal("rigid", 1e15, 0.0, 0.0, 0.0)


def by_linear_system(
    excess: float, fit: float, wall: float, outer: float, housing: Metal
) -> tuple[float, float]:
    """Pressure and inner hoop stress from u = A r + B/r in each ring and four conditions.

    Unknowns A, B of the case and A, B of the housing. Free inner and outer faces, equal
    radial stress at the joint, and displacements that differ by half the excess.
    """
    r1, r2, r3 = fit / 2 - wall, fit / 2, outer / 2

    def stress(material: Metal, r: float, sign: int) -> tuple[float, float]:
        """Radial (-1) or hoop (+1) stress for A = 1 and for B = 1, plane stress."""
        e, v = material.modulus, material.poisson
        return e / (1 - v), sign * e / (1 + v) / r**2

    system = np.zeros((4, 4))
    system[0, :2] = stress(STEEL, r1, -1)
    system[1, 2:] = stress(housing, r3, -1)
    system[2, :2] = stress(STEEL, r2, -1)
    system[2, 2:] = [-x for x in stress(housing, r2, -1)]
    system[3] = [-r2, -1 / r2, r2, 1 / r2]
    scale = np.abs(system).max(axis=1)
    right = np.array([0, 0, 0, excess / 2])
    a, b, *_ = np.linalg.solve(system / scale[:, None], right / scale)
    radial = np.dot(stress(STEEL, r2, -1), (a, b))
    hoop = np.dot(stress(STEEL, r1, 1), (a, b))
    return -float(radial), -float(hoop)


@MANY
@given(
    st.floats(0.01, 0.5), st.floats(20, 300), st.floats(0.005, 0.1), st.floats(1.1, 3),
    st.sampled_from(sorted(HOUSINGS)),
)  # fmt: skip
def test_pressure_meets_its_boundary_conditions(
    excess: float, fit: float, thin: float, ratio: float, housing: str
) -> None:
    """The closed form is what the boundary conditions give, and so is the stress inside."""
    wall, outer = thin * fit, ratio * fit
    p, hoop = by_linear_system(excess, fit, wall, outer, HOUSINGS[housing])
    found = pressure(excess, fit, wall, outer, HOUSINGS[housing])
    assert found == pytest.approx(p, rel=1e-8)
    assert hoop_stress(found, fit, wall) == pytest.approx(hoop, rel=1e-8)


def test_differential_equation_of_the_ring_agrees() -> None:
    """Integrating r² u'' + r u' - u = 0 through the case gives the same pressure."""
    r1, r2, e, v = 43.5, 45.0, STEEL.modulus, STEEL.poisson

    def slope(r: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.vstack((y[1], y[0] / r**2 - y[1] / r))

    def ends(ya: np.ndarray, yb: np.ndarray) -> np.ndarray:
        return np.array([ya[1] + v * ya[0] / r1, yb[0] + 0.075])

    start = np.linspace(r1, r2, 20)
    solved = solve_bvp(slope, ends, start, np.vstack((-0.075 + 0 * start, 0 * start)), tol=1e-10)
    radial = e / (1 - v**2) * (solved.sol(r2)[1] + v * solved.sol(r2)[0] / r2)
    assert pressure(0.15, 90, 1.5, 1e6, RIGID) == pytest.approx(-radial, rel=1e-6)


@MANY
@given(st.floats(20, 300), st.floats(0.003, 0.0195))
def test_thin_ring_in_a_rigid_bore(fit: float, thin: float) -> None:
    """The thin-ring p = E t (delta/2)/(D/2)² holds within 4 % while t/D is below 0.02."""
    wall = thin * fit
    rough = STEEL.modulus * wall * 0.05 / (fit / 2) ** 2
    assert pressure(0.10, fit, wall, 1e7, RIGID) == pytest.approx(rough, rel=0.04)


def test_an_elastic_boss_takes_a_quarter_off() -> None:
    """A boss of aluminium, 130 mm round 90 mm, leaves three quarters of the rigid pressure."""
    rigid = pressure(0.15, 90, 1.5, 1e7, RIGID)
    soft = pressure(0.15, 90, 1.5, 130, HOUSINGS["aluminium"])
    assert soft / rigid == pytest.approx(0.75, abs=0.02)


@MANY
@given(st.floats(0.001, 0.5), st.floats(1.1, 5))
def test_linear_in_the_excess(excess: float, factor: float) -> None:
    """Twice the excess, twice the pressure; none, none; a gap presses nothing."""
    one = pressure(excess, 95, 1.5, 130, HOUSINGS["iron"])
    assert pressure(factor * excess, 95, 1.5, 130, HOUSINGS["iron"]) == pytest.approx(factor * one)
    assert pressure(0, 95, 1.5, 130, HOUSINGS["iron"]) == 0
    assert pressure(-excess, 95, 1.5, 130, HOUSINGS["iron"]) == 0


def test_hoop_of_a_thin_ring() -> None:
    """For a thin case the stress tends to p r / t."""
    assert hoop_stress(1.0, 100, 0.01) == pytest.approx(50 / 0.01, rel=1e-3)
    assert math.isfinite(hoop_stress(1.0, 100, 49.9))
