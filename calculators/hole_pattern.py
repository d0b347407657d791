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
Optimization (2004). ``calculators.pattern_fit`` holds the two fits.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from calculators.pattern_fit import BestPlace, Place, least_squares, minimax, rms
from calculators.pattern_interior import Point
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
    caution,
    choice,
    column,
    entry,
    note,
    result,
    show,
    stop,
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
BY_HAND = Source("plane-geometry", "Plane geometry, by hand", kind="derivation")

_MICRONS = Rounding(step="1 µm", us_decimals=2)
_SYMMETRIC = ("27 mm", "0 mm", "8.000 mm"), ("0 mm", "27 mm", "8.000 mm")


class Pair(NamedTuple):
    """A dowel and the hole it meets: places and the radial clearance, mm."""

    dowel: Point
    hole: Point
    clearance: float


class Position(NamedTuple):
    """One way of turning the flywheel: the pairs, and what they leave."""

    pairs: tuple[Pair, ...]
    squares: Place
    best: BestPlace | None
    """None where not even the root mean square of the offsets fits the widest clearance."""

    @property
    def turn(self) -> float:
        """Angle from the measured axes, degrees; half a turn is 180 whatever the last bit says."""
        turn = self.best.place.turn if self.best else self.squares.turn
        degrees = math.degrees(math.remainder(turn, math.tau))
        return degrees + 360 if degrees < -179.99 else degrees

    @property
    def margin(self) -> float | None:
        """Room left at the tightest dowel, mm; negative where it does not go on."""
        return -self.best.excess if self.best else None


@dataclass(frozen=True)
class DowelPatternFit:
    """Whether the patterns meet, by how much, and where it is tight."""

    margin: Length = result(
        "Room at the tightest dowel", lead=True, unit="µm", us_unit="thou", rounding=_MICRONS,
        help="Radial; negative means that it does not go on.",
    )  # fmt: skip
    verdict: str = text_result("The flywheel")
    tight: str = text_result("Tightest at")
    turn: Angle = result("Turned against the mark by", rounding=Rounding(decimals=3))
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
    fitting: Count = result("Positions that go on", seldom=True)
    findings: tuple[Finding, ...] = ()


def _pattern(form: str, rows: Sequence[Any], mirrored: bool) -> list[tuple[Point, float]]:
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


def _by_angle(points: Sequence[tuple[Point, float]]) -> list[int]:
    """Indices in the order of the angle about the centre of the pattern."""
    count = len(points)
    cx = math.fsum(p[0][0] for p in points) / count
    cy = math.fsum(p[0][1] for p in points) / count
    return sorted(
        range(count),
        key=lambda i: round(math.atan2(points[i][0][1] - cy, points[i][0][0] - cx), 9),
    )


def positions(
    dowels: Sequence[tuple[Point, float]], holes: Sequence[tuple[Point, float]]
) -> list[Position]:
    """Every cyclic way of pairing dowels and holes, the least turned one first.

    Pairs keep the order of the dowels as they were entered.
    """
    dowel_order, hole_order = _by_angle(dowels), _by_angle(holes)
    count = len(dowels)
    found = []
    for step in range(count):
        partner = {dowel_order[i]: hole_order[(i + step) % count] for i in range(count)}
        pairs = tuple(
            Pair(place, holes[partner[i]][0], (holes[partner[i]][1] - diameter) / 2)
            for i, (place, diameter) in enumerate(dowels)
        )
        found.append(_laid(pairs))
    return sorted(found, key=lambda each: round(abs(each.turn), 6))


def _laid(pairs: tuple[Pair, ...]) -> Position:
    """Both fits of one pairing.

    The largest offset is never below the root mean square of the least squares fit; where
    even that exceeds the widest clearance, minimax need not be asked.
    """
    points, targets, clearances = zip(*pairs, strict=True)
    squares = least_squares(points, targets)
    if rms(squares.offsets(points, targets)) > max(clearances) + 1.0:
        return Position(pairs, squares, None)
    return Position(pairs, squares, minimax(points, targets, clearances))


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
    ),
    symbols=(
        Symbol("p_i", "place of a dowel", "mm"),
        Symbol("h_i", "place of its hole", "mm"),
        Symbol(r"\theta", "turn of the flywheel", "rad"),
        Symbol("t", "shift of the flywheel", "mm"),
        Symbol("c_i", "radial clearance, half of hole less dowel", "mm"),
    ),
    assumptions=(
        "Dowels and holes are round and square to the face.",
        "Both patterns were measured with the index mark in the same direction.",
        "The part may be turned and shifted, never turned inside out.",
    ),
    sources=(UMEYAMA, BOYD),
    check_values=(
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
        _refuse_same_place(name, [place for place, _ in pattern])
    found = positions(pins, bores)
    marked = found[0] if found[0].best else _asked(found[0])
    assert marked.best is not None
    offsets = marked.best.place.offsets(
        [p.dowel for p in marked.pairs], [p.hole for p in marked.pairs]
    )
    rooms = [p.clearance - math.hypot(*e) for p, e in zip(marked.pairs, offsets, strict=True)]
    margin = -marked.best.excess
    tightest = [i + 1 for i, room in enumerate(rooms) if room <= margin + 2e-4]
    fitting = [each for each in found if each.margin is not None and each.margin >= -1e-9]
    plain = marked.squares.offsets([p.dowel for p in marked.pairs], [p.hole for p in marked.pairs])
    u = uncertainty.m_as("millimeter") * math.sqrt(2)
    return DowelPatternFit(
        margin=_microns(margin),
        verdict=_verdict(margin, u),
        tight="all alike" if len(tightest) == len(rooms) else "dowel " + _listed(tightest),
        turn=Q(round(marked.turn, 8), "°"),
        dowels=tuple(
            (str(i + 1), Q(room, "mm"), Q(math.hypot(*e), "mm"), _towards(e))
            for i, (room, e) in enumerate(zip(rooms, offsets, strict=True))
        ),
        positions=tuple((Q(each.turn, "°"), _room(each)) for each in found),
        shift_x=_microns(marked.best.place.shift[0]),
        shift_y=_microns(marked.best.place.shift[1]),
        spread=_microns(rms(plain)),
        farthest=_microns(max(math.hypot(*e) for e in plain)),
        fitting=len(fitting),
        findings=tuple(_findings(marked, found, fitting, rooms, margin, u)),
    )


def _microns(length: float) -> Any:
    """A length in mm, cut to a picometre: a search ends a little differently on every machine."""
    return Q(round(1000 * length, 6), "µm")


def _asked(position: Position) -> Position:
    """The position with minimax worked out, hopeless as it may be."""
    points, targets, clearances = zip(*position.pairs, strict=True)
    return position._replace(best=minimax(points, targets, clearances))


def _refuse_same_place(name: str, places: Sequence[Point]) -> None:
    for i, first in enumerate(places):
        for j, second in enumerate(places[:i]):
            if math.dist(first, second) < 1.0:
                raise RefusedError(
                    name, f"Rows {j + 1} and {i + 1} lie in the same place. Check the readings."
                )


def _verdict(margin: float, uncertainty: float) -> str:
    if margin < -1e-9:
        return "does not go on"
    return "goes on" if margin > 2 * uncertainty else "goes on, if the readings are right"


def _listed(numbers: Sequence[int]) -> str:
    words = [str(number) for number in numbers]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _towards(offset: Point) -> Any:
    """Direction of an offset; none to speak of where the offset is below a tenth of a micron."""
    if math.hypot(*offset) < 1e-4:
        return "–"
    return Q(math.degrees(math.atan2(offset[1], offset[0])) % 360, "°")


def _room(position: Position) -> str:
    if position.margin is None:
        return "does not go"
    room = show(Q(position.margin, "mm"), "µm", 3)
    return room if position.margin >= -1e-9 else f"does not go ({room})"


def _findings(
    marked: Position,
    found: Sequence[Position],
    fitting: Sequence[Position],
    rooms: Sequence[float],
    margin: float,
    u: float,
) -> list[Finding]:
    findings = []
    if any(pair.clearance <= 0 for pair in marked.pairs):
        findings.append(
            stop(
                "no-clearance",
                "At least one dowel is as large as its hole or larger. Measure both again; ream or "
                "renew before anything is put together.",
            )
        )
    if margin < -1e-9:
        findings.append(
            stop(
                "does-not-go",
                "The flywheel does not go on. Do not force it and do not pull it in with nut or "
                "bolts: find the dowel or the hole that is out of place.",
            )
        )
    elif margin <= 2 * u and all(pair.clearance > 0 for pair in marked.pairs):
        findings.append(
            caution(
                "within-uncertainty",
                f"The room of {show(Q(margin, 'mm'), 'µm', 2)} is within what the readings can "
                "tell. Try it on by hand, without grease, and feel.",
            )
        )
    if abs(marked.turn) > 5:
        findings.append(
            caution(
                "far-turned",
                "Even the nearest position is turned by "
                f"{show(Q(marked.turn, '°'), '°', 2)}. Were both patterns measured from the index "
                "mark, and is the side right?",
            )
        )
    others = [each for each in fitting if each is not marked and each is not found[0]]
    if others:
        findings.append(
            caution(
                "other-positions",
                f"It also goes on turned by {_angles(others)}. Only the index mark tells which is "
                "right; timing and balance depend on it.",
            )
        )
    if len(marked.pairs) == 2:
        findings.append(
            note("two-dowels", "Two dowels check nothing: a wrong reading of one shows nowhere.")
        )
    if margin >= 0 and max(rooms) - min(rooms) < 1e-4 and len(rooms) > 2:
        findings.append(note("even", "The room is the same at every dowel."))
    return findings


def _angles(positions: Sequence[Position]) -> str:
    shown = [show(Q(each.turn, "°"), "°", 3) for each in positions]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


@dowel_pattern_fit.drawing("The two patterns, offsets exaggerated")
def _draw(entries: Any, results: DowelPatternFit) -> Drawing:
    polar = entries.form == "polar"
    pins = _pattern(entries.form, entries.dowels_polar if polar else entries.dowels, mirrored=False)
    reach = max(math.hypot(*place) for place, _ in pins)
    size = 0.13 * reach
    offsets = [
        (0.0 if isinstance(row[3], str) else row[3].m_as("radian"), row[2].m_as("millimeter"))
        for row in results.dowels
    ]
    widest = max((length for _, length in offsets), default=0.0)
    gap = 0.45 * size
    factor = 1.0 if widest < 1e-6 else gap / max(widest, 1e-3)
    stated = 10 ** math.floor(math.log10(max(factor, 1.0)) + 1e-9)
    drawing = Drawing(
        "The two patterns, offsets exaggerated",
        f"{len(pins)} dowels and their holes; the holes' offsets are drawn about {stated} times as "
        f"large. {results.verdict}; tightest at {results.tight}.",
    )
    drawing.circle((0, 0), reach, role="centre")
    drawing.centre_lines((0, 0), 1.25 * reach)
    tight = set(results.tight.replace("dowel ", "").replace(" and ", ", ").split(", "))
    if results.tight == "all alike":
        tight = set()
    for number, ((place, _), (angle, length)) in enumerate(zip(pins, offsets, strict=True), 1):
        off = min(length * stated, gap)
        centre = (place[0] + off * math.cos(angle), place[1] + off * math.sin(angle))
        drawing.circle(centre, size + gap, role="part")
        drawing.circle(place, size, role="mark" if str(number) in tight else "thin")
        outward = math.degrees(math.atan2(place[1], place[0])) % 360
        drawing.text((place[0], place[1]), str(number))
        if str(number) in tight:
            drawing.label(
                (place[0] + size * math.cos(math.radians(outward)),
                 place[1] + size * math.sin(math.radians(outward))),
                "tightest", toward="nw" if 90 < outward < 270 else "ne",
            )  # fmt: skip
    return drawing
