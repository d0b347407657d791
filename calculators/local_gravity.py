"""Gravity where the shop stands: WGS 84 on the ellipsoid, less with height.

g0 = 9.7803253359 (1 + 0.00193185265241 s)/sqrt(1 - 0.00669437999013 s) with s = sin^2(latitude);
at the height h it is g0 (1 - 2 (1 + f + m - 2 f s) h/a + 3 h^2/a^2), which falls by about
3.086e-6 per second squared for every metre. It differs from the standard value by 0.3 % at
most, so it matters only where a hanging mass is used to check a tool.

Sources: WGS 84 (closed formula of normal gravity, series for its decrease with height);
standard gravity 9.80665 m/s2: third General Conference on Weights and Measures, 1901.
"""

from __future__ import annotations

import math

from witnessmark.calc import Source

WGS_84 = Source(
    "wgs-84", "World Geodetic System 1984, closed formula of normal gravity on the ellipsoid",
    kind="standard",
)  # fmt: skip

STANDARD = 9.80665
"""Standard gravity in m/s2, exact."""
EQUATOR = 9.7803253359
"""Normal gravity at the equator in m/s2."""
RISE = 0.00193185265241
ECCENTRICITY = 0.00669437999013
"""Square of the ellipsoid's first eccentricity."""
AXIS = 6378137.0
"""Semi-major axis of the ellipsoid in m."""
FLATTENING = 1 / 298.257223563
CENTRIFUGAL = 0.00344978650684
"""Centrifugal against gravitational acceleration at the equator."""


def local_gravity(latitude: float, height: float) -> float:
    """Gravity in m/s2 at a ``latitude`` in radians and a ``height`` above the sea in metres."""
    s = math.sin(latitude) ** 2
    on_ellipsoid = EQUATOR * (1 + RISE * s) / math.sqrt(1 - ECCENTRICITY * s)
    h = height / AXIS
    slope = 2 * (1 + FLATTENING + CENTRIFUGAL - 2 * FLATTENING * s)
    return on_ellipsoid * (1 - slope * h + 3 * h**2)
