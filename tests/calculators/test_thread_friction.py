"""Friction of thread and face against force triangles, quadrature and printed tables."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from calculators.fastener_classes import CLASSES
from calculators.thread_form import ThreadForm
from calculators.thread_friction import (
    Section,
    assembly_force,
    face_arm,
    face_diameter,
    loosening_arm,
    pitch_arm,
    reduced_stress,
    thread_arm,
)
from calculators.thread_sizes import THREADS

MANY = settings(max_examples=60, deadline=None, derandomize=True)
NAMES = st.sampled_from(sorted(THREADS))
FRICTION = st.floats(0.04, 0.4)


def iso_16047(form: ThreadForm, mu: float) -> float:
    """Thread torque per newton in the form of ISO 16047: P and 1.154 pi mu d2 over pi less
    1.154 mu P/d2."""
    root = 1 / math.cos(math.radians(30))
    p, d2 = form.pitch, form.d2
    return 0.5 * (p + root * math.pi * mu * d2) / (math.pi - root * mu * p / d2)


@MANY
@given(NAMES, FRICTION)
def test_thread_arm_is_that_of_iso_16047(name: str, mu: float) -> None:
    """Two ways of writing one thing."""
    form = THREADS[name]
    assert thread_arm(form, mu) == pytest.approx(iso_16047(form, mu), rel=1e-12)


@MANY
@given(NAMES, FRICTION)
def test_thread_arm_is_a_wedge_in_balance(name: str, mu: float) -> None:
    """A block on the flank, pushed round: axial and tangential forces found from the normal
    and the friction on it, solved by bisection for the normal force."""
    form = THREADS[name]
    slope = form.lead_angle
    # Flank normal in (round, axial, radial), its axial part lessened by the flank angle.
    lean = 1 / math.cos(math.radians(30))

    def axial(normal: float) -> float:
        return normal / lean * math.cos(slope) - mu * normal * math.sin(slope) - 1.0

    normal = brentq(axial, 0.1, 10)
    push = normal / lean * math.sin(slope) + mu * normal * math.cos(slope)
    assert thread_arm(form, mu) == pytest.approx(push * form.d2 / 2, rel=1e-9)


@MANY
@given(NAMES, FRICTION)
def test_linear_form_is_a_little_low(name: str, mu: float) -> None:
    """Exact is at least P/2pi + 0.577 mu d2; tightening less loosening is P/pi to first order."""
    form = THREADS[name]
    linear = pitch_arm(form) + 0.57735 * mu * form.d2
    assert linear * (1 - 1e-6) <= thread_arm(form, mu) <= 1.04 * linear
    both = thread_arm(form, mu) - loosening_arm(form, mu)
    assert both == pytest.approx(form.pitch / math.pi, rel=0.25)
    assert loosening_arm(form, mu) < thread_arm(form, mu)


def test_exact_and_linear_figures() -> None:
    """M10x1.5 at 0.12: 0.87043 mm exact, 0.86405 mm linear (ISO 16047 form, by hand)."""
    form = THREADS["M10x1.5"]
    assert thread_arm(form, 0.12) == pytest.approx(0.87043, abs=5e-6)
    assert pitch_arm(form) + 0.57735 * 0.12 * form.d2 == pytest.approx(0.86405, abs=6e-6)


@MANY
@given(st.floats(5, 60), st.floats(1.02, 4))
def test_face_diameter_by_quadrature(inner: float, times: float) -> None:
    """Even pressure over a ring: moment of friction over force, integrated ring by ring."""
    outer = inner * times
    moment, _ = quad(lambda r: r * math.tau * r, inner / 2, outer / 2)
    area, _ = quad(lambda r: math.tau * r, inner / 2, outer / 2)
    assert face_diameter(outer, inner) == pytest.approx(2 * moment / area, rel=1e-9)
    assert face_diameter(outer, inner) >= (outer + inner) / 2 * (1 - 1e-12)


@pytest.mark.parametrize(
    ("outer", "inner", "mean", "exact"), [(46, 31, 38.500, 38.987), (60, 31, 45.5, 47.040)]
)
def test_face_of_a_central_nut(outer: float, inner: float, mean: float, exact: float) -> None:
    """The mean diameter is too small, the more the wider the washer (quadrature)."""
    assert (outer + inner) / 2 == mean
    assert face_diameter(outer, inner) == pytest.approx(exact, abs=5e-4)


@MANY
@given(st.floats(6, 40), st.floats(0, 0.8))
def test_sections_by_quadrature(outer: float, share: float) -> None:
    """Area and both moduli of a ring: integrals of 1, of r^2/R and of r over the area."""
    section = Section(outer, share * outer)
    ends = (section.bore / 2, outer / 2)
    area, _ = quad(lambda r: math.tau * r, *ends)
    elastic, _ = quad(lambda r: math.tau * r * r * r / ends[1], *ends)
    plastic, _ = quad(lambda r: math.tau * r * r, *ends)
    assert (section.area, section.modulus, section.plastic_modulus) == pytest.approx(
        (area, elastic, plastic), rel=1e-8
    )


# VDI 2230-1 tables of assembly clamp force in kN and torque in N·m at 90 % of yield, fine
# threads (read) and coarse M12 at 0.14: thread, class, friction, kN, N·m, washer face and hole.
VDI = [
    ("M8x1", "8.8", 0.12, 20.2, 26.1, 11.63, 9.0),
    ("M12x1.25", "8.8", 0.12, 48.0, 90, 16.63, 13.5),
    ("M14x1.5", "10.9", 0.10, 97.5, 182, 19.64, 15.5),
    ("M16x1.5", "8.8", 0.12, 87.6, 218, 22.49, 17.5),
    ("M20x1.5", "10.9", 0.12, 211, 646, 28.19, 22.0),
    ("M12x1.75", "8.8", 0.14, 41.9, None, 16.63, 13.5),
]


@pytest.mark.parametrize(("name", "mark", "mu", "force", "torque", "face", "hole"), VDI)
def test_assembly_table(
    name: str, mark: str, mu: float, force: float, torque: float | None, face: float, hole: float
) -> None:
    """Force and torque of the VDI 2230-1 tables within half a per cent (1.2 % in torque: the
    table uses the mean face diameter and the linear thread torque)."""
    form = THREADS[name]
    limit = 0.9 * CLASSES[mark].strength(form.d).yields
    clamp = assembly_force(Section(form.stress_diameter), thread_arm(form, mu), limit)
    assert clamp / 1000 == pytest.approx(force, rel=6e-3)
    if torque is not None:
        whole = thread_arm(form, mu) + face_arm(mu, (face + hole) / 2)
        assert clamp * whole / 1000 == pytest.approx(torque, rel=1.2e-2)


def test_elastic_modulus_would_be_six_per_cent_low() -> None:
    """M12x1.25, 8.8, 0.12: 45.0 kN instead of 48.0 with the elastic modulus."""
    form = THREADS["M12x1.25"]
    section, arm = Section(form.stress_diameter), thread_arm(form, 0.12)
    clamp = assembly_force(section, arm, 576)
    elastic = brentq(lambda f: reduced_stress(section, f, f * arm) - 576, 1e3, 1e5)
    assert clamp / 1000 == pytest.approx(48.0, abs=0.15)
    assert elastic / 1000 == pytest.approx(45.0, abs=0.15)


@MANY
@given(NAMES, FRICTION, st.floats(0, 0.5), st.floats(100, 1000))
def test_assembly_force_reaches_the_stress(
    name: str, mu: float, share: float, stress: float
) -> None:
    """Bisection on the plastic equivalent stress finds the same force; red >= sigma."""
    form = THREADS[name]
    section = Section(form.stress_diameter, share * form.stress_diameter)
    arm = thread_arm(form, mu)

    def over(force: float) -> float:
        sigma = force / section.area
        tau = force * arm / section.plastic_modulus
        return float(np.sqrt(sigma**2 + 3 * tau**2)) - stress

    found = assembly_force(section, arm, stress)
    assert found == pytest.approx(brentq(over, 1.0, 1e7), rel=1e-9)
    assert reduced_stress(section, found, found * arm) >= found / section.area


def test_hollow_screw() -> None:
    """M30x1.5 bored 14 mm, 76.27 kN, friction 0.12: 156.2, 39.7, 170.7 MPa (by hand)."""
    form = THREADS["M30x1.5"]
    section = Section(form.stress_diameter, 14)
    torque = 76270 * thread_arm(form, 0.12)
    assert 76270 / section.area == pytest.approx(156.2, abs=0.1)
    assert torque / section.modulus == pytest.approx(39.7, abs=0.4)
    assert reduced_stress(section, 76270, torque) == pytest.approx(170.7, abs=0.4)
