"""How many drops of threadlocker a thread takes, and where they go.

Purpose at the bench: neither a dry thread nor a puddle. Too little leaves flanks unlocked;
too much in a blind hole is trapped under the bolt, reads as torque and may crack the casting.

The liquid fills what is left between bolt and nut over the engaged length L: the clearance
on the flanks and the spaces at crests and roots. V/L = (pi/P) times the integral of
(r_i^2 - r_e^2) over one pitch of the two profiles (``calculators.thread_gap``). The tolerances
6g/6H alone spread it six to one, so it is given at the tight end, in the middle and at the
loose end. What is put on is the void times a filling factor k for what runs off and what is
wicked away: drops N = k V / V_drop, rounded up to whole drops.

Symbols: P pitch, d2 pitch diameter, r_i and r_e profile of nut and bolt, L engaged length,
V void, k filling factor, V_drop volume of a drop, A bonded area (pi d2 L, about 4 % less
than the true flanks), g gap on the flank that carries no load (half the clearance between
the pitch diameters: the axial play c tan 30 degrees, square to the flank times cos 30).

Assumptions: basic profiles of ISO 68-1 with flat crests and roots; the table of ISO 965-1
for 6g/6H; plating of thickness s on a 60 degree flank takes 4 s from the clearance.

Sources: ISO 68-1, ISO 724, ISO 965-1; ASME B1.13M (limits of the same threads, printed);
filling factor, drop size and places to apply it: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from calculators.thread_gap import ROOT3, THREADS, Profile, Thread, void_area
from calculators.threadlocker_use import (
    HOLES,
    PLACES,
    WHERE,
    findings_of_gap,
    findings_of_use,
)
from witnessmark.calc import (
    Area,
    CheckValue,
    Count,
    Density,
    Drawing,
    Finding,
    Formula,
    Length,
    Mass,
    Number,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    Volume,
    calculator,
    choice,
    entry,
    note,
    number,
    result,
    show,
    text_result,
)

ISO_965 = Source(
    "iso-965-1-2013",
    "ISO 965-1:2013 ISO general purpose metric screw threads - Tolerances - Principles and "
    "basic data",
    "tables of tolerances, grade 6, positions g and H",
)
ISO_68 = Source("iso-68-1", "ISO 68-1 and ISO 724 Metric screw threads - Basic profile and sizes")
ASME_B1_13M = Source(
    "asme-b1-13m-1995",
    "ASME B1.13M-1995 Metric screw threads: M profile",
    "tables of limiting dimensions, 6g and 6H",
)
QUADRATURE = Source(
    "void-by-quadrature",
    "Adaptive quadrature of the two profiles over one pitch, independent of the formula used",
    kind="derivation",
)
PRACTICE = Source(
    "threadlocker-practice",
    "Bench practice with anaerobic threadlockers, no published source",
    kind="common practice",
)

WORN = 0.15
"""A pitch diameter this many pitches off its basic size is no thread to lock but to renew."""


@dataclass(frozen=True)
class ThreadlockerQuantity:
    """What to put on one fastener, where, and what the set of fasteners takes."""

    drops: str = text_result("Drops on each", lead=True, help="Tight thread to loose thread.")
    typical: Count = result(
        "Drops on a middling thread", help="A thread in the middle of its tolerances."
    )
    where: str = text_result("Where to put it")
    volume_least: Volume = result("For a tight thread", rounding=Rounding(figures=2), seldom=True)
    volume: Volume = result("For a middling thread", rounding=Rounding(figures=2), seldom=True)
    volume_most: Volume = result("For a loose thread", rounding=Rounding(figures=2), seldom=True)
    total: Volume = result(
        "Have ready for the set",
        rounding=Rounding(figures=2),
        help="All fasteners, every thread taken as loose.",
    )
    drop: Volume = result("One drop", rounding=Rounding(figures=2), seldom=True)
    clearance_least: Length = result(
        "Clearance on diameter, least",
        unit="µm", us_unit="thou", rounding=Rounding(step="1 µm", us_decimals=1), seldom=True,
    )  # fmt: skip
    clearance_most: Length = result(
        "Clearance on diameter, greatest",
        unit="µm", us_unit="thou", rounding=Rounding(step="1 µm", us_decimals=1), seldom=True,
    )  # fmt: skip
    gap: Length = result(
        "Gap on the unloaded flank",
        unit="µm", us_unit="thou", rounding=Rounding(step="1 µm", us_decimals=1),
        help="In the middle of the tolerances; the cure calculator asks for it.", seldom=True,
    )  # fmt: skip
    area: Area = result("Bonded area", rounding=Rounding(figures=2), seldom=True)
    findings: tuple[Finding, ...] = ()


_NOT_WEIGHED = note(
    "drop-not-weighed",
    "The size of a drop is a usual one. Weigh 20 drops from your own bottle for a better figure.",
)


def _whole_drops(volume: float, drop: float) -> int:
    """Whole drops that cover a volume; a last bit never makes one more."""
    return max(1, math.ceil(volume / drop - 1e-9))


def _measured(size: Thread, bolt: Any, nut: Any) -> tuple[float, float]:
    """The measured pitch diameters in mm, refused where they belong to no such pair."""
    pair = (bolt.m_as("millimeter"), nut.m_as("millimeter"))
    for name, value, part in zip(("bolt_d2", "nut_d2"), pair, ("bolt", "nut"), strict=True):
        if abs(value - size.d2) > WORN * size.pitch:
            raise RefusedError(
                name,
                f"The {part} of an {size.label} has a pitch diameter near "
                f"{show(Q(size.d2, 'mm'), 'mm', 5)}. Check the thread and the reading; a thread "
                "that is so far off is renewed, not locked.",
            )
    if pair[1] <= pair[0]:
        raise RefusedError(
            "nut_d2",
            "The nut's pitch diameter must be larger than the bolt's, else the two do not go "
            "together. Measure both again.",
        )
    return pair


def _case(label: str, name: str, least: str, most: str) -> CheckValue:
    return CheckValue(
        label, {"thread": name}, {"clearance_least": least, "clearance_most": most},
        source=ASME_B1_13M, abs_="0.5 µm", remark="limits of 6H less limits of 6g",
    )  # fmt: skip


@calculator(
    name="threadlocker-quantity",
    title="How many drops on the thread",
    topic="threadlocker",
    purpose="Tells how many drops of threadlocker a fastener takes, where they go and how much "
    "the whole set needs, from the clearance of its thread.",
    formulas=(
        Formula(
            r"V = L\,\frac{\pi}{P}\int_0^P \left(r_i^2 - r_e^2\right)\mathrm{d}x",
            "Void between the threads",
        ),
        Formula(r"N = \frac{k\,V}{V_\mathrm{drop}}", "Drops, rounded up"),
        Formula(r"g = \frac{1}{2}\left(D_2 - d_2\right) - 2s", "Gap on the unloaded flank"),
        Formula(r"A = \pi\,d_2\,L", "Bonded area"),
    ),
    symbols=(
        Symbol("L", "engaged length", "mm"),
        Symbol("P", "pitch", "mm"),
        Symbol("r_i, r_e", "radius of the nut's and of the bolt's profile", "mm"),
        Symbol("D_2, d_2", "pitch diameter of nut and bolt", "mm"),
        Symbol("s", "plating thickness on the bolt", "mm"),
        Symbol("k", "filling factor", "1"),
        Symbol(r"V_\mathrm{drop}", "volume of one drop", "mL"),
    ),
    assumptions=(
        "Profiles with flanks at 60° and flat crests and roots (ISO 68-1), bolt 6g and nut 6H.",
        "Where a pitch diameter leaves its basic size, the root of that thread leaves by as much.",
        "Plating on the bolt is even; the bolt had its tolerance 6g before plating. A pair too "
        "tight to go together is counted as just touching.",
    ),
    sources=(ISO_965, ISO_68, ASME_B1_13M, QUADRATURE, PRACTICE),
    check_values=(
        CheckValue(
            "M10×1.5, 10 mm engaged, void only",
            {"thread": "M10x1.5", "engagement": "10 mm", "fill": "1"},
            {"volume_least": "10.4 mm³", "volume": "35.8 mm³", "volume_most": "61.6 mm³"},
            source=QUADRATURE,
        ),
        _case("M10×1.5 clearance", "M10x1.5", "32 µm", "344 µm"),
        _case("M12×1.25 clearance", "M12x1.25", "28 µm", "340 µm"),
        _case("M6×1 clearance", "M6x1", "26 µm", "288 µm"),
        CheckValue(
            "M20×1.5 clearance", {"thread": "M20x1.5"},
            {"clearance_least": "32 µm", "clearance_most": "362 µm"}, source=ISO_965, abs_="0.5 µm",
        ),
        CheckValue(
            "M30×1.5 clearance", {"thread": "M30x1.5"},
            {"clearance_least": "32 µm", "clearance_most": "382 µm"}, source=ISO_965, abs_="0.5 µm",
        ),
        CheckValue(
            "twenty drops of 0.77 g at 1.1 g/cm³",
            {"drop_by": "weighed", "twenty_drops": "0.77 g", "density": "1.1 g/cm³"},
            {"drop": "35 mm³"},
            source=Source("drop-mass", "0.77 g / 20 / 1.1 g/cm³ by hand", kind="derivation"),
        ),
        CheckValue(
            "plating thicker than a quarter of the allowance binds",
            {"thread": "M12x1.25", "plating": "8 µm"},
            {"clearance_least": "-4 µm", "clearance_most": "308 µm"},
            source=Source(
                "plating-on-flank", "Four times the thickness on the pitch diameter: 1/sin 30° on "
                "each side, by hand", kind="derivation",
            ),
            findings=("plating-binds",),
        ),
        CheckValue(
            "seal lip beside the thread", {"place": "seal"}, source=PRACTICE,
            findings=("never-seal",),
        ),
        CheckValue(
            "a nut smaller than its bolt",
            {"known_by": "measured", "bolt_d2": "11.20 mm", "nut_d2": "11.19 mm"},
            source=ISO_68, refused=("nut_d2",),
        ),
    ),
)  # fmt: skip
def threadlocker_quantity(
    *,
    thread: str = choice(
        "Thread",
        {name: size.label for name, size in THREADS.items()},
        default="M12x1.25",
        help="Find diameter and pitch with the thread gauge; the pitch is never guessed.",
    ),
    engagement: Length = entry(
        "Engaged length", "18 mm", units=("mm", "in"), least="1 mm", most="120 mm",
        usual=("3 mm", "60 mm"), why="Threads in question engage over 1 mm to 120 mm.",
        help="Only the turns that sit in one another: the nut's height, or the depth screwed in.",
    ),
    fasteners: Count = entry("Fasteners in the set", "8", least=1, most=200),
    hole: str = choice("Kind of hole", HOLES, default="blind"),
    place: str = choice("What the thread is near", PLACES, default="none", seldom=True),
    known_by: str = choice(
        "Clearance from",
        {"table": "the tolerances 6g/6H", "measured": "both pitch diameters measured"},
        default="table",
        help="Measure when a thread is worn or of unknown make.", seldom=True,
    ),
    bolt_d2: Length = entry(
        "Pitch diameter of the bolt", "11.100 mm", units=("mm", "in"), above=0,
        when={"known_by": "measured"}, help="Over wires or with a thread micrometer.", seldom=True,
    ),
    nut_d2: Length = entry(
        "Pitch diameter of the nut", "11.280 mm", units=("mm", "in"), above=0,
        when={"known_by": "measured"}, help="With thread plug gauges or a two-ball gauge.",
        seldom=True,
    ),
    plating: Length = entry(
        "Plating on the bolt", "0 µm", units=("µm", "thou"), least="0 µm", most="100 µm",
        usual=("0 µm", "25 µm"), when={"known_by": "table"},
        why="Thicker coats need threads cut for them.",
        help="Thickness on the surface; add the nut's if that is plated too. 0 for plain steel.",
        seldom=True,
    ),
    drop_by: str = choice(
        "Size of a drop", {"usual": "a usual drop", "weighed": "20 drops weighed"}, default="usual",
        seldom=True
    ),
    drop_volume: Volume = entry(
        "Volume of one drop", "0.035 mL", units=("mL", "mm³"), least="0.005 mL", most="0.5 mL",
        usual=("0.02 mL", "0.05 mL"), why="No bottle gives drops of that size.",
        usual_why="Weigh 20 drops to make sure.", when={"drop_by": "usual"},
    ),
    twenty_drops: Mass = entry(
        "Mass of 20 drops", "0.77 g", units=("g", "oz"), least="0.1 g", most="10 g",
        usual=("0.4 g", "1.2 g"), why="No bottle gives drops of that size.",
        when={"drop_by": "weighed"}, help="Count 20 drops into a cap on the pocket scale.",
        seldom=True,
    ),
    density: Density = entry(
        "Density of the liquid", "1.1 g/cm³", units=("g/cm³", "kg/m³"), least="0.8 g/cm³",
        most="1.6 g/cm³", usual=("1.0 g/cm³", "1.2 g/cm³"), when={"drop_by": "weighed"},
        why="Liquids of this kind weigh 0.8 g/cm³ to 1.6 g/cm³.", help="From the data sheet.",
        seldom=True,
    ),
    fill: Number = entry(
        "Filling factor", "1.5", least=1, most=3, usual=("1.2", "2.5"),
        why="Below 1 the thread is not filled; above 3 most of it is waste.",
        usual_why="Half as much again covers what runs off and what is wicked away.",
        help="How many times the void is put on.", seldom=True,
    ),
    fills: Length | None = entry(
        "Widest gap the grade fills", "", units=("mm", "µm", "thou"), above=0, most="1 mm",
        optional=True, help="From the data sheet, as a gap on one side. Leave empty if not given.",
        seldom=True,
    ),
) -> ThreadlockerQuantity:  # fmt: skip
    """Drops, volumes and clearances for one kind of fastener; see the module's docstring."""
    size = THREADS[thread]
    length, factor = engagement.m_as("millimeter"), number(fill)
    bolt_pitch = nut_pitch = None
    coat = 0.0
    if known_by == "measured":
        bolt_pitch, nut_pitch = _measured(size, bolt_d2, nut_d2)
        ends = (nut_pitch - bolt_pitch, nut_pitch - bolt_pitch)
    else:
        coat = plating.m_as("millimeter")
        ends = (size.clearances[0] - 4 * coat, size.clearances[1] - 4 * coat)

    def volume(at: float) -> float:
        """Volume to put on, in mm³, at a place in the tolerances."""
        clearance = size.clearances[0] + at * (size.clearances[1] - size.clearances[0])
        bolt = size.bolt(at, bolt_pitch, min(coat, clearance / 4))
        return float(factor * length * void_area(bolt, size.nut(at, nut_pitch), size.pitch))

    least, middle, most = volume(0.0), volume(0.5), volume(1.0)
    if drop_by == "weighed":
        drop = (twenty_drops / (20 * density)).m_as("millimeter**3")
    else:
        drop = drop_volume.m_as("millimeter**3")
    few, many = _whole_drops(least, drop), _whole_drops(most, drop)
    return ThreadlockerQuantity(
        drops=f"{few} to {many}" if few < many else str(many),
        typical=_whole_drops(middle, drop),
        where=WHERE[hole],
        volume_least=Q(least, "mm³"),
        volume=Q(middle, "mm³"),
        volume_most=Q(most, "mm³"),
        total=Q(fasteners * most, "mm³"),
        drop=Q(drop, "mm³"),
        clearance_least=Q(ends[0], "mm"),
        clearance_most=Q(ends[1], "mm"),
        gap=Q((ends[0] + ends[1]) / 4, "mm"),
        area=Q(math.pi * size.d2 * length, "mm²"),
        findings=(
            *findings_of_gap(size, known_by == "measured", ends, coat, fills),
            *findings_of_use(hole, place, size, many),
            *([_NOT_WEIGHED] if drop_by == "usual" else []),
        ),
    )


def _outline(profile: Profile, pitch: float, at: float, lift: float) -> list[tuple[float, float]]:
    """A profile across two pitches and a bit, ``at`` the middle of a bolt's crest."""
    high, low = sorted((profile.crest / 2, profile.root / 2), reverse=True)
    half_high = pitch / 4 - (high - profile.pitch / 2) / ROOT3
    half_low = pitch / 4 + (profile.pitch / 2 - low) / ROOT3
    corners = [
        (at + turn * pitch + x, y + lift)
        for turn in range(-1, 3)
        for x, y in ((-half_low, low), (-half_high, high), (half_high, high), (half_low, low))
    ]
    left, right = -0.62 * pitch, 1.62 * pitch
    inner = [point for point in corners if left < point[0] < right]
    return [(left, _height(corners, left)), *inner, (right, _height(corners, right))]


def _height(corners: list[tuple[float, float]], x: float) -> float:
    """Height of a run of straight lines at ``x``."""
    (x1, y1), (x2, y2) = next(pair for pair in pairwise(corners) if pair[0][0] <= x <= pair[1][0])
    return y1 + (y2 - y1) * (x - x1) / (x2 - x1)


@threadlocker_quantity.drawing("The gap it fills")
def _(entries: Any, results: Any) -> Drawing:
    size = THREADS[entries.thread]
    p, base = size.pitch, size.d2 / 2
    gap = max(results.gap.m_as("millimeter"), 0.0)
    drawn = max(1, round(0.15 * p / gap + 1e-9)) if gap > 0 else 1
    shift = gap * drawn
    nut = _outline(size.nut(0.0), p, 0.0, -base)
    # The tightened nut presses the bolt's thread on one flank; the other flank is open.
    bolt = _outline(size.bolt(0.0, size.d2), p, -shift / ROOT3, -base - shift)
    width = show(results.gap, "µm", 2 if gap < 0.1 else 3)
    seen = "to scale" if drawn == 1 else f"drawn {drawn} times as wide"
    sheet = Drawing(
        "The gap it fills",
        f"Section through the thread {size.label}. Bolt and nut touch on one flank; the other "
        f"flank and the spaces at crest and root are open: gap {width}, {seen}.",
    )
    level = 0.62 * p
    for profile, edge, upper in ((nut, level, True), (bolt, -level, False)):
        ends = [(profile[-1][0], edge), (profile[0][0], edge)]
        sheet.polygon([*profile, *ends], "thin", cut="\\" if upper else "/")
        sheet.polyline(profile)
    sheet.text((-0.45 * p, 0.4 * p), "nut")
    sheet.text((0.0, -0.3 * p), "bolt")
    if gap > 0:
        # A leader drawn by hand: a label looks much longer for its place in so much hatching.
        tip = (p / 4 - shift / ROOT3 / 2, -shift / 2)
        sheet.line(tip, (0.72 * p, 0.5 * p), "thin")
        sheet.circle(tip, 0.015 * p, "thin")
    told = f"gap {width}, {seen}" if gap > 0 else "no gap is left"
    sheet.text((0.75 * p, 0.52 * p), told)
    sheet.dimension((0.0, -level), (p, -level), f"P {p:g} mm")
    return sheet
