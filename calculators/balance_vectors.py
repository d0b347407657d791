"""Unbalance as a vector in the plane of the rotor: shares of two places, and its picture.

Angles in degrees on the rotor, in the sense in which its places are numbered.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from witnessmark.calc import Drawing, Source

ISO_21940 = Source(
    "iso-21940-11-2016",
    "ISO 21940-11:2016 Mechanical vibration - Rotor balancing - Procedures and tolerances for "
    "rotors with rigid behaviour",
)
PRACTICE = Source(
    "balance-practice", "Workshop practice of static balancing in one plane; no published source",
    kind="common practice",
)  # fmt: skip
BY_HAND = Source("vectors-by-hand", "Vectors added by hand", kind="derivation")

Share = tuple[float, float]
"""An angle in degrees and an amount."""


def split(amount: float, angle: float, places: int) -> list[Share]:
    """``amount`` at ``angle`` shared between the two nearest of ``places`` evenly spaced ones.

    U_1 = U sin(theta_2 - theta)/sin(theta_2 - theta_1), U_2 likewise; one place where the
    angle meets it. There are three places or more.
    """
    if places < 3:
        raise ValueError(f"two places cannot make every direction, found {places}")
    pitch = 360 / places
    before = math.floor(angle % 360 / pitch + 1e-9)
    off = angle % 360 - before * pitch
    if min(off, pitch - off) < 1e-6:
        nearest = round(angle % 360 / pitch) % places
        return [(nearest * pitch, amount)]
    between = math.sin(math.radians(pitch))
    return [
        (before * pitch, amount * math.sin(math.radians(pitch - off)) / between),
        ((before + 1) % places * pitch, amount * math.sin(math.radians(off)) / between),
    ]


def angle_text(angle: float) -> str:
    """An angle on the rotor, to a degree."""
    return f"{math.floor(angle % 360 + 0.5) % 360}°"


def draw_rotor(
    heavy: tuple[float, str], spots: Sequence[tuple[float, str]], word: str, trials: Sequence[float]
) -> Drawing:
    """The rotor from its numbered side: heavy spot, what is done and where, trial places.

    0° stands at the top; angles run clockwise on paper. The sense on the rotor is that of its
    own numbers.
    """
    sheet = Drawing(
        "The rotor and its heavy spot",
        f"Zero at the top. Heavy spot at {angle_text(heavy[0])}, {heavy[1]}; {word} at "
        f"{' and '.join(angle_text(angle) for angle, _ in spots)}.",
        max_height=270,
    )
    rim, reach = 40.0, 33.0
    sheet.circle((0, 0), rim)
    sheet.circle((0, 0), 7)
    sheet.circle((0, 0), reach, "centre")

    def at(angle: float, radius: float) -> tuple[float, float]:
        turn = math.radians(90 - angle)
        return radius * math.cos(turn), radius * math.sin(turn)

    for angle in trials:
        sheet.line(at(angle, rim - 2.5), at(angle, rim + 2.5), "thin")
    sheet.text(at(0, rim + 3), "0°", "n")
    sheet.force(at(heavy[0], rim), 90 - heavy[0], heavy[1], length=34, pulls=True)
    for angle, text in spots:
        spot = at(angle, reach)
        sheet.circle(spot, 2.6)
        sheet.label(at(angle, rim), f"{word} {text}\nat {angle_text(angle)}", 90 - angle)
    return sheet
