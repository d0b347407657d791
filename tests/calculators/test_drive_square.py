"""Drive squares: true sides, and what their test torques mean for the steel."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import spsolve

from calculators.drive_square import SQUARES, findings_of_square

INCHES = {"6.3": "1/4", "10": "3/8", "12.5": "1/2", "20": "3/4", "25": "1"}
YIELD = 750.0
"""Shear stress in MPa at which hardened tool steel for sockets yields, about."""


def twist_and_strength(terms: int = 60) -> tuple[float, float]:
    """Twist constant and elastic section of a square of side 1 by Saint-Venant's series."""
    odd = range(1, 2 * terms, 2)
    twist = (1 - 192 / math.pi**5 * sum(math.tanh(n * math.pi / 2) / n**5 for n in odd)) / 3
    peak = 1 - 8 / math.pi**2 * sum(1 / (n * n * math.cosh(n * math.pi / 2)) for n in odd)
    return twist, twist / peak


def test_constants_of_the_series_agree_with_the_membrane() -> None:
    """Series and a membrane under pressure (finite differences) give the same stiffness."""
    n = 150
    h = 1 / n
    line = diags([1.0, -2.0, 1.0], [-1, 0, 1], shape=(n - 1, n - 1)) / h**2
    membrane = kron(line, identity(n - 1)) + kron(identity(n - 1), line)
    height = spsolve(membrane.tocsc(), -2 * np.ones((n - 1) ** 2))
    twist, section = twist_and_strength()
    assert 2 * height.sum() * h * h == pytest.approx(twist, rel=2e-4)
    assert twist == pytest.approx(0.140577, abs=5e-7)
    assert section == pytest.approx(0.208165, abs=2e-6)


@pytest.mark.parametrize("name", SQUARES)
def test_sides_are_inch_sizes(name: str) -> None:
    """A square is called by a round number of millimetres and made to a fraction of an inch."""
    assert SQUARES[name].side == pytest.approx(float(Fraction(INCHES[name])) * 25.4, abs=1e-12)
    assert INCHES[name] in SQUARES[name].label


@pytest.mark.parametrize("name", SQUARES)
def test_working_limit_stays_elastic(name: str) -> None:
    """Up to its working limit a square of hardened steel does not yield anywhere."""
    square = SQUARES[name]
    _, section = twist_and_strength()
    assert 1000 * square.limit / (section * square.side**3) < YIELD


def test_test_torque_is_in_the_plastic_range() -> None:
    """512 N·m on 12.7 mm are 1201 MPa by the elastic formula and 750 MPa fully plastic."""
    square = SQUARES["12.5"]
    _, section = twist_and_strength()
    assert 1000 * square.test / (section * square.side**3) == pytest.approx(1201, abs=0.5)
    assert 3 * 1000 * square.test / square.side**3 == pytest.approx(750, abs=0.5)


@pytest.mark.parametrize(
    ("torque", "most", "code"),
    [(307.0, 307.1, None), (300.0, 308.0, "nut-square-near"), (308.0, 320.0, "nut-square-over")],
)
def test_findings_about_a_square(torque: float, most: float, code: str | None) -> None:
    """Over the limit a stop, over it only at the top of the band a caution, else nothing."""
    found = findings_of_square("nut", "12.5", torque, most, "output_square")
    assert [finding.code for finding in found] == ([code] if code else [])
    assert all(finding.entry == "output_square" for finding in found)
