"""Will the flywheel drop on its dowels, and in which position.

Purpose at the bench: two patterns have been measured, dowels in the flange and holes in the
flywheel. They are laid on each other first by least squares, which tells how they are turned
and shifted, then so that the tightest dowel keeps as much room as it can (minimax). Only the
second answers whether the part goes on: a least squares offset beyond the clearance does not
mean that it cannot.

Formulas: e_i = h_i - R(theta) p_i - t, theta = atan2(sum of a x b, sum of a . b) about the
centroids a, b; z = max(|e_i| - c_i) made least over theta and t; margin = -z.
Symbols: p_i place of a dowel, h_i of its hole, c_i = (D_i - d_i)/2 radial clearance.

Assumptions: stiff parts, dowels square to the face, coordinates of both patterns taken with
the index mark in the same direction.

Sources: S. Umeyama, IEEE Trans. PAMI 13 (1991) 376; S. Boyd, L. Vandenberghe, Convex
Optimization (2004). ``calculators.pattern_fit`` holds the two fits,
``calculators.pattern_positions`` the positions that are tried.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.pattern_drawing import draw_pattern
from calculators.pattern_findings import (
    findings_of_positions,
    findings_of_readings,
    findings_of_room,
    listed,
    verdict,
)
from calculators.pattern_fit import centroid, rms
from calculators.pattern_interior import Point
from calculators.pattern_positions import Feature, Laid, Position, degrees, laid, positions
from witnessmark.calc import (
    Angle,
    CheckValue,
    Count,
    Drawing,
    Finding,
    Formula,
    Length,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Symbol,
    calculator,
    choice,
    column,
    entry,
    result,
    show,
    table,
    table_result,
    text_result,
)

UMEYAMA = Source(
    "umeyama-1991",
    "S. Umeyama, Least-squares estimation of transformation parameters between two point "
    "patterns, IEEE Trans. PAMI 13 (1991)",
    "pp. 376-380",
    kind="paper",
)
BOYD = Source(
    "boyd-2004", "S. Boyd, L. Vandenberghe, Convex Optimization (2004)", "11.7", kind="handbook"
)
GUM = Source(
    "jcgm-100-2008",
    "JCGM 100:2008 Guide to the expression of uncertainty in measurement",
    "4.3.7 and 5.1",
)
REFERENCE = Source(
    "pattern-by-reference-library",
    "The same points given to general numerical routines: rotation by singular values, "
    "sequential quadratic programming, differential evolution",
    kind="derivation",
)
BY_HAND = Source("plane-geometry", "Plane geometry, by hand", kind="derivation")

_MICRONS = Rounding(step="1 µm", us_decimals=2)
_SYMMETRIC = ("27 mm", "0 mm", "8.000 mm"), ("0 mm", "27 mm", "8.000 mm")


@dataclass(frozen=True)
class DowelPatternFit:
    """Whether the patterns meet, by how much, and where it is tight."""

    margin: Length = result(
        "Room at the tightest dowel", lead=True, unit="µm", us_unit="thou", rounding=_MICRONS,
        help="Radial; negative means that it does not go on.",
    )  # fmt: skip
    verdict: str = text_result("The flywheel")
    tight: str = text_result("Tightest at")
    turn: Angle = result("Turned against the mark by", rounding=Rounding(decimals=3, us_decimals=3))
    dowels: tuple[tuple[Any, ...], ...] = table_result(
        "Each dowel, patterns laid for the best room",
        columns=(
            column("Dowel"),
            column("Room left", Length, unit="µm", rounding=Rounding(step="1 µm")),
            column("Hole lies off", Length, unit="µm", rounding=Rounding(step="1 µm")),
            column("towards", Angle, rounding=Rounding(step="1 °")),
        ),
        help="Angles anticlockwise from x, seen from the side the dowels were measured from.",
    )
    positions: tuple[tuple[Any, ...], ...] = table_result(
        "Every position it could be turned to",
        columns=(column("Turned by", Angle, rounding=Rounding(decimals=1)), column("Room")),
        seldom=True,
    )
    margin_uncertainty: Length = result(
        "Uncertainty of the room", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True,
        help="Twice the standard uncertainty: about 19 times in 20 the room is nearer than that.",
    )  # fmt: skip
    shift_x: Length = result(
        "Shifted along x", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True
    )
    shift_y: Length = result(
        "Shifted along y", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True
    )
    spread: Length = result(
        "Least squares: root mean square", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True
    )
    farthest: Length = result(
        "Least squares: farthest hole", unit="µm", us_unit="thou", rounding=_MICRONS, seldom=True
    )
    squares_turn: Angle = result(
        "Least squares: turn", rounding=Rounding(decimals=3, us_decimals=3), seldom=True
    )
    turn_uncertainty: Angle = result(
        "Standard uncertainty of that turn", rounding=Rounding(figures=2), seldom=True
    )
    fitting: Count = result("Positions that go on", seldom=True)
    findings: tuple[Finding, ...] = ()
    laid: Laid | None = None


def _pattern(form: str, rows: Sequence[Any], mirrored: bool) -> list[Feature]:
    """Places (mm) and diameters (mm) of a pattern."""
    points = []
    for row in rows:
        if form == "polar":
            radius, angle = row.radius.m_as("millimeter"), row.angle.m_as("radian")
            x, y = radius * math.cos(angle), radius * math.sin(angle)
        else:
            x, y = row.x.m_as("millimeter"), row.y.m_as("millimeter")
        points.append(((-x if mirrored else x, y), row.diameter.m_as("millimeter")))
    return points


_NOTED_DOWELS = (
    ("27.010", "-0.005", "8"), ("-0.008", "27.012", "8"),
    ("-26.996", "0.006", "8"), ("-0.006", "-27.010", "8"),
)  # fmt: skip
_NOTED_HOLES = (
    ("27.03781", "0.07021", "8"), ("-0.03423", "26.96587", "8"),
    ("-26.94386", "-0.11623", "8"), ("0.14630", "-27.04383", "8"),
)  # fmt: skip
_RING = (("30", "0", "8"), ("0", "30", "8"), ("-30", "0", "8"), ("0", "-30", "8"))

_XY = {
    "x": column("x", Length, least="-500 mm", most="500 mm"),
    "y": column("y", Length, least="-500 mm", most="500 mm"),
    "diameter": column("Diameter", Length, least="1 mm", most="60 mm"),
}
_POLAR = {
    "radius": column("Radius", Length, least="1 mm", most="500 mm"),
    "angle": column("Angle", Angle, least="-360 °", most="360 °"),
    "diameter": column("Diameter", Length, least="1 mm", most="60 mm"),
}
_DOWELS = (
    ("30.998", "0.004", "8.012"), ("0.006", "31.003", "8.011"),
    ("-31.005", "-0.002", "8.013"), ("-0.003", "-30.997", "8.012"),
)  # fmt: skip
_HOLES = (
    ("31.012", "0.021", "8.062"), ("-0.009", "31.010", "8.064"),
    ("-30.991", "-0.014", "8.060"), ("0.016", "-30.985", "8.066"),
)  # fmt: skip
_DOWELS_POLAR = (
    ("30.998", "0.01", "8.012"), ("31.003", "89.99", "8.011"),
    ("31.005", "180.00", "8.013"), ("30.997", "-90.01", "8.012"),
)  # fmt: skip
_HOLES_POLAR = (
    ("31.012", "0.04", "8.062"), ("31.010", "90.02", "8.064"),
    ("30.991", "180.03", "8.060"), ("30.985", "-89.97", "8.066"),
)  # fmt: skip


@calculator(
    name="dowel-pattern-fit",
    title="Will the flywheel drop on its dowels",
    topic="dowels and holes",
    purpose="Lays the pattern of the holes on that of the dowels, tells whether they meet, where "
    "it is tight and which other positions would go.",
    formulas=(
        Formula(r"e_i = h_i - R(\theta)\,p_i - t", "Offset of each hole from its dowel"),
        Formula(
            r"\theta = \mathrm{atan2}\left(\sum a_i \times b_i,\ \sum a_i \cdot b_i\right)",
            "Turn by least squares, about the centroids",
        ),
        Formula(
            r"-z = -\min_{\theta,\,t}\ \max_i \left(|e_i| - c_i\right)",
            "Room at the tightest dowel",
        ),
        Formula(
            r"u = \sigma \sqrt{2 \sum w_i^2},\quad u_\theta = \frac{\sigma \sqrt{2}}{r \sqrt{N}}",
            "Standard uncertainty of the room and of the turn by least squares",
        ),
    ),
    symbols=(
        Symbol("p_i", "place of a dowel", "mm"),
        Symbol("h_i", "place of its hole", "mm"),
        Symbol(r"\theta", "turn of the flywheel", "rad"),
        Symbol("t", "shift of the flywheel", "mm"),
        Symbol("c_i", "radial clearance, half of hole less dowel", "mm"),
        Symbol("w_i", "weight of a dowel: how the room answers to its offset; sum 1", "1"),
        Symbol(r"\sigma", "standard uncertainty of one measured coordinate", "mm"),
        Symbol("r, N", "root mean square radius and number of the dowels", "mm, 1"),
    ),
    assumptions=(
        "Dowels and holes are round and square to the face.",
        "Both patterns were measured with the index mark in the same direction.",
        "Every coordinate is off by chance, independently; diameters are measured far better.",
        "The part may be turned and shifted, never turned inside out.",
    ),
    sources=(UMEYAMA, BOYD, GUM, REFERENCE),
    check_values=(
        CheckValue(
            "four dowels on radius 27 mm with no clearance at all",
            {"dowels": _NOTED_DOWELS, "holes": _NOTED_HOLES, "uncertainty": "0.010 mm"},
            {
                "squares_turn": "0.1995 °",
                "spread": "17.7 µm",
                "farthest": "26.9 µm",
                "margin": "-23.7 µm",
                "turn": "0.1862 °",
                "turn_uncertainty": "0.0150 °",
            },
            source=REFERENCE,
            findings=("does-not-go", "no-clearance"),
            remark="Turn by Rotation.align_vectors, room by SLSQP and differential evolution.",
        ),
        CheckValue(
            "one hole tighter than the rest is centred and sets the room",
            {
                "dowels": _RING,
                "holes": (
                    ("30", "0", "8.01"),
                    ("0.02", "30", "8.10"),
                    ("-30", "0", "8.10"),
                    ("0", "-30", "8.10"),
                ),
            },
            {"margin": "5.0 µm", "tight": "dowel 1"},
            source=BY_HAND,
            findings=("within-uncertainty", "other-positions"),
        ),
        CheckValue(
            "holes on a radius larger by 20 µm: every dowel loses 20 µm",
            {
                "dowels": _RING,
                "holes": (
                    ("30.02", "0", "8.1"),
                    ("0", "30.02", "8.1"),
                    ("-30.02", "0", "8.1"),
                    ("0", "-30.02", "8.1"),
                ),
            },
            {"margin": "30.0 µm", "spread": "20.0 µm", "tight": "all alike"},
            source=BY_HAND,
        ),
        CheckValue(
            "one pattern on itself: the room is half the clearance",
            {
                "dowels": (("27", "0", "8"), ("0", "27", "8"), ("-27", "0", "8")),
                "holes": (("27", "0", "8.06"), ("0", "27", "8.06"), ("-27", "0", "8.06")),
            },
            {"margin": "30.0 µm", "turn": "0.000 °", "spread": "0.0 µm"},
            source=BY_HAND,
        ),
        CheckValue(
            "holes turned by 0.5° about the centre: nothing is lost",
            {
                "dowels": (("40", "0", "10"), ("0", "40", "10"), ("-40", "0", "10")),
                "holes": (
                    ("39.998477", "0.349061", "10.08"),
                    ("-0.349061", "39.998477", "10.08"),
                    ("-39.998477", "-0.349061", "10.08"),
                ),
            },
            {"turn": "0.500 °", "margin": "40.0 µm"},
            source=BY_HAND,
            remark="40 cos 0.5° = 39.998477, 40 sin 0.5° = 0.349061.",
        ),
        CheckValue(
            "two dowels, holes 0.04 mm farther apart: half of it at each",
            {
                "dowels": (("30", "0", "8"), ("-30", "0", "8")),
                "holes": (("30.02", "0", "8.03"), ("-30.02", "0", "8.03")),
            },
            {"margin": "-5.0 µm", "farthest": "20.0 µm"},
            source=BY_HAND,
            findings=("does-not-go", "two-dowels"),
        ),
        CheckValue(
            "all holes shifted by (0.3, -0.4): the shift is found, nothing is lost",
            {
                "dowels": (("27", "0", "8"), ("0", "27", "8"), ("-27", "0", "8")),
                "holes": (
                    ("27.3", "-0.4", "8.1"),
                    ("0.3", "26.6", "8.1"),
                    ("-26.7", "-0.4", "8.1"),
                ),
            },
            {"shift_x": "300 µm", "shift_y": "-400 µm", "margin": "50.0 µm"},
            source=BY_HAND,
        ),
        CheckValue(
            "flywheel measured from its other side: mirrored back it meets",
            {
                "seen": "opposite",
                "dowels": (("27", "0", "8"), ("0", "25", "8"), ("-24", "3", "8")),
                "holes": (("-27", "0", "8.06"), ("0", "25", "8.06"), ("24", "3", "8.06")),
            },
            {"margin": "30.0 µm"},
            source=BY_HAND,
        ),
        CheckValue(
            "more holes than dowels",
            {"dowels": _SYMMETRIC, "holes": (*_SYMMETRIC, ("-27", "0", "8.05"))},
            source=BY_HAND,
            refused=("holes",),
        ),
    ),
)
def dowel_pattern_fit(
    *,
    form: str = choice(
        "Places measured as", {"xy": "x and y", "polar": "radius and angle"}, default="xy"
    ),
    dowels: Rows = table(
        "Dowels in the flange", _XY, default=_DOWELS, least_rows=2, most_rows=12,
        when={"form": "xy"}, help="x to the index mark's right, y to the mark.",
    ),
    holes: Rows = table(
        "Holes in the flywheel", _XY, default=_HOLES, least_rows=2, most_rows=12,
        when={"form": "xy"},
    ),
    dowels_polar: Rows = table(
        "Dowels in the flange, by angle", _POLAR, default=_DOWELS_POLAR, least_rows=2,
        most_rows=12, when={"form": "polar"}, help="Anticlockwise from the index mark's right.",
    ),
    holes_polar: Rows = table(
        "Holes in the flywheel, by angle", _POLAR, default=_HOLES_POLAR, least_rows=2,
        most_rows=12, when={"form": "polar"},
    ),
    seen: str = choice(
        "The holes were measured from",
        {"same": "the same side as the dowels", "opposite": "the other side (flywheel face up)"},
        default="same",
        help="From the other side the pattern is a mirror image; it is turned back here.",
    ),
    uncertainty: Length = entry(
        "Uncertainty of one coordinate", "0.005 mm", units=("mm", "µm", "thou"), least=0,
        most="0.2 mm", why="With more than that no dowel can be judged.",
        help="One standard deviation, of dowels and holes alike.", seldom=True,
    ),
    division: Angle = entry(
        "Angles read to", "0.01°", units=("°",), least=0, most="5°", seldom=True,
        when={"form": "polar"}, why="Angles so coarse place no dowel.",
        help="The least division of the dividing head.",
    ),
) -> DowelPatternFit:  # fmt: skip
    """Room, turn and positions; see the module's docstring."""
    polar = form == "polar"
    names = ("dowels_polar", "holes_polar") if polar else ("dowels", "holes")
    pins = _pattern(form, dowels_polar if polar else dowels, mirrored=False)
    bores = _pattern(form, holes_polar if polar else holes, mirrored=seen == "opposite")
    if len(pins) != len(bores):
        raise RefusedError(
            names[1],
            f"{len(pins)} dowels and {len(bores)} holes: give as many of one as of the other.",
        )
    for name, pattern in zip(names, (pins, bores), strict=True):
        _refuse_places(name, [place for place, _ in pattern])
    found = positions(pins, bores)
    best = laid(found[0])
    sigma = _sigma(uncertainty.m_as("millimeter"), division if polar else None, best)
    marked, plain, margin = best.position, best.position.plain, best.margin
    return DowelPatternFit(
        margin=_microns(margin),
        verdict=verdict(margin, best.uncertainty(sigma)),
        tight=_tight(best),
        turn=Q(round(marked.turn, 8), "°"),
        dowels=tuple(
            (str(i + 1), _microns(room), _microns(math.hypot(*e)), _towards(e))
            for i, (room, e) in enumerate(zip(best.rooms, best.offsets, strict=True))
        ),
        positions=tuple((Q(round(each.turn, 8), "°"), _room(each)) for each in found),
        margin_uncertainty=_microns(2 * best.uncertainty(sigma)),
        shift_x=_microns(best.best.place.shift[0]),
        shift_y=_microns(best.best.place.shift[1]),
        spread=_microns(rms(plain)),
        farthest=_microns(max(math.hypot(*e) for e in plain)),
        squares_turn=Q(round(degrees(marked.squares.turn), 8), "°"),
        turn_uncertainty=Q(sigma * math.sqrt(2 / len(pins)) / marked.reach, "rad"),
        fitting=sum(each.goes for each in found),
        findings=(
            *findings_of_room(best, sigma),
            *findings_of_positions(best, found),
            *findings_of_readings(
                best,
                (pins, bores),
                sigma,
                division.m_as("radian") * marked.reach if polar else 0.0,
            ),
        ),
        laid=best,
    )


def _sigma(uncertainty: float, division: Any, best: Laid) -> float:
    """Standard uncertainty of a coordinate, mm, with the division of the angle on top.

    An angle read to a division is uncertain by that over the square root of 12 (JCGM 100,
    4.3.7), along the circle.
    """
    if division is None:
        return uncertainty
    return math.hypot(uncertainty, division.m_as("radian") * best.position.reach / math.sqrt(12))


def _tight(best: Laid) -> str:
    if len(best.tightest) == len(best.rooms):
        return "all alike"
    return "dowel " + listed([i + 1 for i in best.tightest])


def _microns(length: float) -> Any:
    """A length in mm, cut to a picometre: a search ends a little differently on every machine."""
    return Q(round(1000 * length, 6), "µm")


def _refuse_places(name: str, places: Sequence[Point]) -> None:
    """Refuse two rows in one place, and a row in the middle: positions go round a ring."""
    for i, first in enumerate(places):
        for j, second in enumerate(places[:i]):
            if math.dist(first, second) < 1.0:
                raise RefusedError(
                    name, f"Rows {j + 1} and {i + 1} lie in the same place. Check the readings."
                )
    middle = centroid(places)
    arms = [math.dist(place, middle) for place in places]
    for i, arm in enumerate(arms):
        if arm < 0.1 * max(arms):
            raise RefusedError(
                name,
                f"Row {i + 1} lies in the middle of the others. Leave it out: the rest must "
                "stand in a ring.",
            )


def _towards(offset: Point) -> Any:
    """Direction of an offset; none to speak of where the offset is below a tenth of a micron."""
    if math.hypot(*offset) < 1e-4:
        return "–"
    return Q(round(math.degrees(math.atan2(offset[1], offset[0])) % 360, 5), "°")


def _room(position: Position) -> str:
    if position.margin is None:
        return "does not go"
    room = show(_microns(position.margin), "µm", 3)
    return room if position.margin >= -1e-9 else f"does not go ({room})"


@dowel_pattern_fit.drawing("Dowels and holes in the best place")
def _draw(entries: Any, results: DowelPatternFit) -> Drawing:
    assert results.laid is not None
    return draw_pattern(results.laid, results.tight)
