"""What becomes of an O-ring's section when it is stretched, squeezed, warmed and swollen.

Stretched over a groove a ring's section grows thinner. Two figures are in use and both are
needed. Rubber keeps its volume, so the section's *area* follows from the girth:

    A' = A (d1 + CS) / (d_g + CS').

The section does not stay round, though: its *height*, which is what is squeezed, falls by more.
ISO 3601-2 gives it from measurements, R % for a stretch of e %:

    R = 0.01 + 1.06 e - 0.1 e^2    for 0 < e <= 3,
    R = 0.56 + 0.59 e - 0.0046 e^2 for 3 < e <= 25.

Squeeze is judged with the second, filling with the first. Warmth and oil make the rubber grow;
metal holds its girth, so all of it goes into the section: A (1 + 3 alpha dT)(1 + swell), and
the height by the square root of that.

Symbols: d1 inside diameter, CS section, d_g diameter it is stretched to, e stretch of the
inside diameter, A area of the section, h height of the groove, b width, alpha linear expansion.

Lengths are mm, shares plain numbers (0.02 is 2 %), temperatures K of difference; plain floats.

Sources: constant volume; ISO 3601-2 (polynomial from memory, checked for continuity at 3 %).
"""

from __future__ import annotations

import math

MOST_STRETCH = 0.25
"""The polynomials of ISO 3601-2 end here."""


def stretch(ring: float, groove: float) -> float:
    """Stretch of a diameter of the ring from ``ring`` to ``groove``; negative: compressed."""
    return (groove - ring) / ring


def height_loss(strain: float) -> float:
    """Share by which the height of the section falls when stretched (ISO 3601-2).

    Nothing is lost by a ring that is not stretched. Above 25 % the polynomial is carried on.
    """
    e = 100 * strain
    if e <= 0:
        return 0.0
    percent = 0.01 * min(e, 1) + 1.06 * e - 0.1 * e * e if e <= 3 else (
        0.56 + 0.59 * e - 0.0046 * e * e
    )  # fmt: skip
    return percent / 100


def section_of_volume(bore: float, section: float, girth: float) -> float:
    """Diameter of a round section of equal volume when the inside diameter is ``girth``.

    Solves CS'^2 (girth + CS') = CS^2 (bore + CS) by Newton's method.
    """
    wanted = section**2 * (bore + section)
    guess = section / math.sqrt(max(girth / bore, 0.1))
    for _ in range(40):
        step = (guess**2 * (girth + guess) - wanted) / (3 * guess**2 + 2 * guess * girth)
        guess -= step
        if abs(step) < 1e-13 * section:
            break
    return guess


def torus_volume(bore: float, section: float) -> float:
    """Volume of a ring, mm^3: pi^2 CS^2 (d1 + CS) / 4."""
    return math.pi**2 * section**2 * (bore + section) / 4


def growth(expansion: float, warmer: float, swell: float) -> float:
    """By how many times a ring's volume grows; ``expansion`` is linear, 1/K."""
    return (1 + 3 * expansion * warmer) * (1 + swell)


def groove_area(width: float, height: float, corner: float) -> float:
    """Area of a groove with two corners rounded, mm^2."""
    return width * height - 2 * (1 - math.pi / 4) * corner**2


def squeeze(section: float, height: float) -> float:
    """Share by which a section is flattened in a groove of a height; negative: it is loose."""
    return (section - height) / section
