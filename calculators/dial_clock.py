"""Dial readings as they are written down: hours of a clock or degrees, and their picture.

The hour is the one chalked on the part that is measured, clockwise, seen from the flywheel
side, that stands under the plunger. So it does not matter whether the part turns or the dial.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from calculators.dial_fit import DialFit, OneSidedError, Reading, fit, widest_gap
from witnessmark.calc import (
    Angle,
    Finding,
    Length,
    Number,
    Polar,
    Q,
    RefusedError,
    Source,
    caution,
    column,
    note,
    show,
    stop,
)

FOURIER = Source(
    "first-harmonic",
    "Least squares on mean and first harmonic (fundamental Fourier coefficient) by a general "
    "library routine",
    kind="derivation",
)
GUM = Source(
    "jcgm-100-2008",
    "JCGM 100:2008 Guide to the expression of uncertainty in measurement", "4.3.7, 5.1 and H.3",
)  # fmt: skip
BY_HAND = Source("readings-by-hand", "Sums and differences of readings by hand", kind="derivation")
PRACTICE = Source(
    "dial-practice", "Workshop practice with dial indicators; no published source",
    kind="common practice",
)  # fmt: skip

LENGTHS = ("mm", "µm", "in", "thou")
READING = column("Reading", Length, units=LENGTHS, least="-30 mm", most="30 mm")
HOURS = {"hour": column("O'clock", Number, least=0, most=24), "reading": READING}
DEGREES = {"angle": column("Angle", Angle, least="-360 °", most="360 °"), "reading": READING}
WAYS = {"hours": "hours of the clock", "degrees": "degrees"}
EIGHT = ("12", "1.5", "3", "4.5", "6", "7.5", "9", "10.5")
_LOBED = 0.3
_NAMES = {2: "oval", 3: "three lobes"}


def angle_of(row: Any) -> float:
    """The angle of a row in degrees, clockwise from 12 o'clock."""
    if hasattr(row, "hour"):
        return float(30 * row.hour.m_as("dimensionless")) % 360
    return float(row.angle.m_as("degree")) % 360


def o_clock(angle: float) -> str:
    """An angle as a time on the clock, to ten minutes, which is five degrees: "1:40"."""
    steps = math.floor(angle / 5 + 0.5 + 1e-9) % 72
    hour, tens = divmod(steps, 6)
    return f"{hour or 12}:{tens}0 o'clock" if tens else f"{hour or 12} o'clock"


def fitted(name: str, readings: Sequence[Reading], division: float) -> DialFit:
    """The fit of readings; refuses the table ``name`` when they do not fix a direction."""
    if len({round(angle, 3) for angle, _ in readings}) < 4:
        raise RefusedError(name, "Read at four places at least, better at eight, all round.")
    try:
        return fit(readings, division)
    except OneSidedError:
        raise RefusedError(
            name, "The readings stand too close together to tell a direction. Read all round."
        ) from None


def findings_of_readings(
    name: str, readings: Sequence[Reading], found: DialFit, division: float
) -> Iterator[Finding]:
    """Whether the readings repeat, go all round and follow a circle."""
    slack = 2 * division + 1e-9
    again = _repeats(readings)
    if again > slack:
        yield stop(
            "does-not-repeat",
            f"Read twice in one place, the dial differs by {mm(again)}. Something has moved: "
            "stand, bracket or shaft. Set the dial anew and read all round again.",
            name,
        )
    gap = widest_gap(readings)
    if gap > 180 + 1e-6:
        yield caution(
            "one-sided",
            f"No reading over {show(Q(gap, '°'), '°', 3)} of the circle: offset and direction "
            "hang on the small differences of the rest. Read on the other side too.",
            name,
        )
    parity = _parity(readings)
    if parity is not None and abs(parity) > slack:
        yield caution(
            "quarters-disagree",
            f"12 and 6 o'clock together differ from 3 and 9 together by {mm(abs(parity))}: the "
            "dial has slipped, or the part is oval. Read at eight places.",
            name,
        )
    rest = max(abs(part) for part in found.residuals)
    if parity is None and rest > max(_LOBED * found.offset, slack):
        lobes = max(found.lobes, key=lambda k: found.lobes[k], default=0)
        what = f", mostly {_NAMES[lobes]}," if lobes else ""
        yield caution(
            "out-of-round",
            f"One reading lies {mm(rest)} off any true circle: the surface is out of round{what} "
            "or dirty. Clean it, read again, and do not take the high spot for the offset.",
            name,
        )
    if not found.known:
        yield note(
            "no-offset",
            f"No offset that can be measured: less than {mm(found.offset + 2 * found.u_offset)}. "
            "The direction means nothing.",
        )


def _repeats(readings: Sequence[Reading]) -> float:
    """The greatest difference between readings in one place."""
    places: dict[float, list[float]] = {}
    for angle, value in readings:
        places.setdefault(round(angle % 360, 3), []).append(value)
    return max(max(values) - min(values) for values in places.values())


def _parity(readings: Sequence[Reading]) -> float | None:
    """12 and 6 less 3 and 9 o'clock, where nothing but the quarters was read."""
    places = {round(angle % 360, 3): value for angle, value in readings}
    if sorted(places) != [0.0, 90.0, 180.0, 270.0]:
        return None
    return places[0.0] + places[180.0] - places[90.0] - places[270.0]


def form_text(found: DialFit) -> str:
    """What shape is left, in words."""
    if not found.lobes:
        return "too few readings to tell"
    return ", ".join(f"{_NAMES[k]} {mm(found.lobes[k])}" for k in sorted(found.lobes))


def mm(length: float) -> str:
    """A length in mm inside a sentence."""
    return show(Q(round(length, 7), "mm"), "mm", 2)


def polar_plot(title: str, readings: Sequence[Reading], found: DialFit, spot: str) -> Polar:
    """Readings less their mean, and the offset that fits them, dashed."""
    unit = "thou" if show(Q(1, "mm"), "mm").endswith("in") else "0.01 mm"
    scale = 1 / 0.0254 if unit == "thou" else 100.0
    plot = Polar(
        title,
        f"Readings round the clock, 12 o'clock at the top. {spot} at {o_clock(found.direction)}.",
        radial=f"{unit} from the mean",
        hours=True,
        radius=92.0,
    )
    plot.readings([(angle, scale * (value - found.mean)) for angle, value in readings])
    plot.readings(
        [
            (turn, scale * found.offset * math.cos(math.radians(turn - found.direction)))
            for turn in range(0, 360, 15)
        ],
        dashed=True,
        dots=False,
    )
    if found.known:
        plot.mark(found.direction, scale * found.offset, spot)
    return plot
