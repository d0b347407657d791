"""Is the seal square in its seat, and where does it want another tap?

Purpose at the bench: a seal pressed in askew wipes the shaft over a wider track once a turn
and leaks early. Four depth readings from the face of the housing, at 12, 3, 6 and 9 o'clock
seen from the flywheel side, tell tilt and warp.

The plane z = z0 + a x + b y (x towards 3 o'clock, y towards 12) is fitted to the readings on
a circle of diameter D: a = (z3 - z9)/D, b = (z12 - z6)/D. The tilt over D is
D sqrt(a^2 + b^2); the seal lies deepest towards (a, b). What no plane can follow is the warp
w = (z12 - z3 + z6 - z9)/4: the face is bent, or one reading is wrong by four times as much.
With an uncertainty u_z of each reading the tilt is known to sqrt(2) u_z, the warp to u_z/2.

Symbols: z12, z3, z6, z9 depths, D diameter of the circle they stand on, a, b slopes of the
plane, w warp, u_z uncertainty of a reading.

Assumptions: the housing's face is square to the shaft (check it with the dial first), and
the readings stand a quarter turn apart on one circle, clear of chamfers.

Sources: least squares by hand; limits of squareness: common practice. The engine maker's
figure wins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.lip_seal_tables import PRACTICE
from calculators.seal_seat_pictures import HOURS, clock_of_depths, section_of_tilt
from witnessmark.calc import (
    Angle,
    CheckValue,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    Rounding,
    Source,
    Symbol,
    calculator,
    caution,
    choice,
    entry,
    note,
    result,
    show,
    stop,
    text_result,
)

TRIANGLE = Source(
    "tilt-triangle", "Tilts built by hand from the right triangle 3-4-5", kind="derivation"
)
PARITY = Source(
    "saddle-by-hand",
    "A saddle of ±w at the four points, added by hand to a plane",
    kind="derivation",
)
GAUSS = Source(
    "two-differences",
    "Tilt from two differences of readings, each with twice the variance over the circle: "
    "√2 × 0.02 mm = 0.028 mm",
    kind="derivation",
)
LIMITS = {"fast": 0.10, "slow": 0.20}
"""Allowed tilt in mm over the seal, from 1000 r/min up and below."""


@dataclass(frozen=True)
class SealSquareness:
    """Tilt, where it is deepest, warp and what may be."""

    tilt: Length = result("Out of square by", lead=True,
                          rounding=Rounding(decimals=3, us_decimals=4),
                          help="Difference of depth across the seal.")  # fmt: skip
    deepest: str = text_result("Deepest at")
    tap: str = text_result("Bring it in at", help="Light blows on the full-face driver.")
    reserve: Length = result(
        "Still in hand", rounding=Rounding(decimals=3, us_decimals=4),
        help="Allowed less found; below zero it is too much.",
    )  # fmt: skip
    allowed: Length = result("Allowed", rounding=Rounding(decimals=2, us_decimals=4, toward="down"))
    uncertainty: Length = result(
        "Uncertainty of the tilt", rounding=Rounding(decimals=3, us_decimals=4), seldom=True
    )
    share: Fraction = result(
        "Share of the allowed", unit="%", us_unit="%",
        rounding=Rounding(decimals=0, us_decimals=0), seldom=True,
    )  # fmt: skip
    direction: Angle | None = result(
        "Deepest, clockwise from 12 o'clock", rounding=Rounding(decimals=0, us_decimals=0),
        band=False, seldom=True,
    )  # fmt: skip
    warp: Length = result(
        "Warp", rounding=Rounding(decimals=3, us_decimals=4),
        help="What no flat seal can have: bent, or a reading wrong by four times this.",
        seldom=True,
    )  # fmt: skip
    depth: Length = result("Mean depth", rounding=Rounding(decimals=2, us_decimals=4), seldom=True)
    findings: tuple[Finding, ...] = ()


def _o_clock(turn: float) -> str:
    """The nearest full hour to an angle clockwise from 12 o'clock, in degrees."""
    hour = math.floor(turn / 30 + 0.5 + 1e-9) % 12
    return f"{hour or 12} o'clock"


def _findings(
    tilt: float, limit: float, makers: bool, u: float, warp: float, fast: bool
) -> Iterator[Finding]:
    def mm(value: float) -> str:
        return show(Q(value, "mm"), "mm", 2)

    whose = "the maker's limit" if makers else "what is allowed"
    if tilt > limit + u + 1e-9:
        yield stop(
            "not-square",
            f"The seal stands {mm(tilt)} out of square; {whose} is {mm(limit)}. Do not close up. "
            "Bring the shallow side in with the full-face driver and read again; a seal driven "
            "far askew may be bent: replace it.",
        )
    elif tilt > limit - u + 1e-9:
        yield caution(
            "square-undecided",
            f"The tilt of {mm(tilt)} is nearer to {whose} ({mm(limit)}) than the readings can "
            f"tell, {mm(u)}. Read all four depths again, or bring the shallow side in a little.",
        )
    if abs(warp) > u / math.sqrt(2) + 1e-9:
        yield caution(
            "warped",
            f"The four depths do not lie in one plane: warp {mm(abs(warp))}. One reading is off "
            f"by about {mm(4 * abs(warp))} (a chamfer, a burr, dirt), or the case is bent. Read "
            "again; replace a bent seal.",
        )
    if 3 * u > limit + 1e-9:
        yield caution(
            "gauge-too-coarse",
            f"With this gauge the tilt is known to {mm(u)} only, against {mm(limit)} allowed. "
            "Use a depth micrometer or a dial on a bridge.",
            "gauge",
        )
    if not makers:
        yield note(
            "limit-of-practice",
            f"The limit of {mm(limit)} {'from' if fast else 'below'} 1000 r/min is common "
            "practice. The engine maker's figure wins.",
        )
    yield note(
        "where-to-read",
        "Read on the flat rim of the case, clear of chamfers and print, from a face that is "
        "square to the shaft. Read 12 o'clock again at the end: it must repeat.",
    )


def _case(label: str, depths: tuple[str, str, str, str], **expected: str) -> dict[str, Any]:
    given = {f"at_{hour}": f"{depth} mm" for hour, depth in zip(HOURS, depths, strict=True)}
    return {"label": label, "entries": given, "expected": expected}


@calculator(
    name="seal-squareness",
    title="Is the seal square in its seat",
    topic="seals",
    purpose="From four depth readings round a seal: how far it is out of square, where it lies "
    "deepest and whether that may stay.",
    formulas=(
        Formula(r"a = \frac{z_3 - z_9}{D},\quad b = \frac{z_{12} - z_6}{D}", "Slopes of the seal"),
        Formula(r"t = D\sqrt{a^2 + b^2}", "Tilt over the circle of the readings"),
        Formula(r"w = \frac{1}{4}\left(z_{12} - z_3 + z_6 - z_9\right)", "Warp"),
        Formula(r"u_t = \sqrt{2}\,u_z", "Uncertainty of the tilt"),
    ),
    symbols=(
        Symbol(r"z_{12}, z_3, z_6, z_9", "depths at the hours of a clock", "mm"),
        Symbol("D", "diameter of the circle of the readings", "mm"),
        Symbol("t", "tilt, a difference of depth", "mm"),
        Symbol("w", "warp", "mm"),
        Symbol("u_z", "uncertainty of one reading", "mm"),
    ),
    assumptions=(
        "Seen from the flywheel side, hours clockwise; a depth grows as the seal goes in.",
        "The face the depths are taken from is square to the shaft.",
        "Allowed: 0.10 mm from 1000 r/min up, 0.20 mm below, over the seal; makers give 0.20 mm "
        "to 0.25 mm for slow shafts.",
    ),
    sources=(PRACTICE, TRIANGLE, PARITY, GAUSS),
    check_values=(
        CheckValue(
            **_case("3-4-5 by hand", ("2.020", "2.015", "1.980", "1.985"), tilt="0.050 mm",
                    direction="36.87°", warp="0.0000 mm", depth="2.000 mm"),
            source=TRIANGLE,
        ),
        CheckValue(
            **_case("deepest at 6 o'clock", ("2.00", "2.04", "2.08", "2.04"), tilt="0.080 mm",
                    direction="180°", deepest="6 o'clock", tap="12 o'clock"),
            source=TRIANGLE,
        ),
        CheckValue(
            **_case("deepest at half past four", ("2.00", "2.06", "2.06", "2.00"),
                    tilt="0.0849 mm", direction="135°"),
            source=TRIANGLE, remark="√(0.06² + 0.06²)",
        ),
        CheckValue(
            **_case("a saddle of 0.03 mm on the 3-4-5 plane",
                    ("2.050", "1.985", "2.010", "1.955"), tilt="0.050 mm", warp="0.030 mm"),
            source=PARITY, findings=("warped",),
        ),
        CheckValue(
            **_case("four equal depths", ("2.00", "2.00", "2.00", "2.00"), tilt="0.000 mm",
                    warp="0.000 mm", depth="2.00 mm", deepest="no side"),
            source=TRIANGLE,
        ),
        CheckValue(
            "a gauge good to 0.02 mm", {"gauge": "0.02 mm"}, {"uncertainty": "0.028 mm"},
            source=GAUSS, abs_="0.5 µm",
        ),
        CheckValue(
            **_case("out of square for a fast shaft", ("2.00", "2.10", "2.20", "2.10"),
                    tilt="0.200 mm", reserve="-0.100 mm"),
            source=PRACTICE, findings=("not-square",),
        ),
        CheckValue(
            "a depth below nought", {"at_3": "-0.1 mm"}, source=PRACTICE, refused=("at_3",)
        ),
    ),
)  # fmt: skip
def seal_squareness(
    *,
    at_12: Length = entry(
        "Depth at 12 o'clock", "2.02 mm", units=("mm", "in"), least="0 mm", most="100 mm",
        why="Enter how deep the seal lies below the face; a seal never stands proud.",
        help="From the face of the housing to the rim of the case.",
    ),
    at_3: Length = entry(
        "Depth at 3 o'clock", "2.05 mm", units=("mm", "in"), least="0 mm", most="100 mm",
        why="Enter how deep the seal lies below the face; a seal never stands proud.",
    ),
    at_6: Length = entry(
        "Depth at 6 o'clock", "2.06 mm", units=("mm", "in"), least="0 mm", most="100 mm",
        why="Enter how deep the seal lies below the face; a seal never stands proud.",
    ),
    at_9: Length = entry(
        "Depth at 9 o'clock", "2.03 mm", units=("mm", "in"), least="0 mm", most="100 mm",
        why="Enter how deep the seal lies below the face; a seal never stands proud.",
    ),
    speed: str = choice(
        "Speed of the shaft",
        {"fast": "1000 r/min and more", "slow": "below 1000 r/min"}, default="fast",
    ),
    diameter: Length = entry(
        "Circle of the readings", "90 mm", units=("mm", "in"), least="6 mm", most="420 mm",
        seldom=True, why="The readings stand on the rim of the seal.",
        help="Diameter on which the gauge touches; it turns the tilt into an angle.",
    ),
    limit: Length | None = entry(
        "Maker's limit", "", units=("mm", "µm", "thou"), above=0, most="2 mm", optional=True,
        help="It wins over the common figure.", seldom=True,
    ),
    gauge: Length = entry(
        "Uncertainty of one reading", "0.01 mm", units=("mm", "µm", "thou"), above=0,
        most="0.5 mm", usual=("1 µm", "0.05 mm"), why="With that no tilt can be judged.",
        help="Depth gauge 0.02 mm to 0.03 mm, depth micrometer 0.005 mm to 0.01 mm.", seldom=True,
    ),
) -> SealSquareness:  # fmt: skip
    """Tilt and warp of a seal from four depths; see the module's docstring."""
    z12, z3, z6, z9 = (z.m_as("mm") for z in (at_12, at_3, at_6, at_9))
    across, up = z3 - z9, z12 - z6  # the slopes times the diameter
    tilt = math.hypot(across, up)
    warp = (z12 - z3 + z6 - z9) / 4
    u = math.sqrt(2) * gauge.m_as("mm")
    may = limit.m_as("mm") if limit is not None else LIMITS[speed]
    known = tilt > u + 1e-9
    turn = round(math.degrees(math.atan2(across, up)), 9) % 360 if known else 0.0
    return SealSquareness(
        tilt=Q(tilt, "mm"),
        deepest=_o_clock(turn) if known else "no side",
        tap=_o_clock(turn + 180) if known else "nowhere",
        reserve=Q(may - tilt, "mm"),
        allowed=Q(may, "mm"),
        uncertainty=Q(u, "mm"),
        share=Q(tilt / may, ""),
        direction=Q(turn, "°") if known else None,
        warp=Q(warp, "mm"),
        depth=Q((z12 + z3 + z6 + z9) / 4, "mm"),
        findings=tuple(_findings(tilt, may, limit is not None, u, warp, speed == "fast")),
    )


seal_squareness.drawing("The seal in its bore")(section_of_tilt)
seal_squareness.drawing("Depths round the clock")(clock_of_depths)
