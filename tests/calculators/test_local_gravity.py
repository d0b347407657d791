"""Local gravity: published values, an older formula, and what must hold everywhere."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.local_gravity import local_gravity

# World Geodetic System 1984: normal gravity at equator and poles (NIMA TR8350.2, table 3.4);
# at 45 degrees on the sea, quoted from memory.
PUBLISHED = [(0.0, 9.7803253359), (90.0, 9.8321849378), (45.0, 9.806198)]


@pytest.mark.parametrize(("latitude", "gravity"), PUBLISHED)
def test_published_values_on_the_ellipsoid(latitude: float, gravity: float) -> None:
    """As printed, to the last digit that is given."""
    assert local_gravity(math.radians(latitude), 0.0) == pytest.approx(gravity, abs=5e-7)


@given(st.floats(min_value=-90, max_value=90))
def test_the_international_formula_of_1980_agrees(latitude: float) -> None:
    """9.780327 (1 + 0.0053024 sin² - 0.0000058 sin² of twice the latitude), its own rounding."""
    phi = math.radians(latitude)
    older = 9.780327 * (1 + 0.0053024 * math.sin(phi) ** 2 - 0.0000058 * math.sin(2 * phi) ** 2)
    assert local_gravity(phi, 0.0) == pytest.approx(older, abs=3e-6)


@given(st.floats(min_value=0, max_value=89), st.floats(min_value=0.01, max_value=1))
def test_gravity_rises_toward_the_poles(latitude: float, more: float) -> None:
    """On either half of the globe alike."""
    low, high = math.radians(latitude), math.radians(latitude + more)
    assert local_gravity(low, 0.0) < local_gravity(high, 0.0)
    assert local_gravity(-high, 0.0) == local_gravity(high, 0.0)


@given(st.floats(min_value=-90, max_value=90), st.floats(min_value=-400, max_value=4000))
def test_gravity_falls_with_height(latitude: float, height: float) -> None:
    """By 3.086e-6 per second squared for a metre near the sea (free-air gradient)."""
    phi = math.radians(latitude)
    fall = local_gravity(phi, height) - local_gravity(phi, height + 100)
    assert fall == pytest.approx(3.086e-4, rel=3e-3)
