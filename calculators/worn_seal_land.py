"""The old lip has worn a groove: shift the new seal off it, or sleeve the land?

Purpose at the bench: a new lip in an old groove leaks. Often the new seal may sit a little
deeper or less deep, so that its lip runs on good land beside the groove. That needs room in
the bore, land on the shaft and account of the end float. Else a thin repair sleeve goes over
the land, and the lip is stretched by its wall.

Needed shift s = g + 1 mm. The lip, in the middle of the groove until now, then runs s - g/2
from the groove's edge; with the end float f it must stay 0.5 mm clear of the end of the
land: L >= s - g/2 + f + 0.5 mm. Room for the seal: inward h - b - z, outward z.
Sleeve: the shaft grows by 2 w, and so does the lip's interference.

Symbols: g width of the groove, h depth of the bore to its shoulder, b width of the seal,
z depth of the old seal below the face, L good land from the groove's edge to the end of the
land, f end float of the shaft, w wall of the sleeve.

Assumptions: the new seal is of the same make and width, its lip as far from its face as the
old one's; a seal must not stand proud of the face. Inward means towards the engine.

Sources: the rule of groove width and one millimetre, sleeve walls and margins are common
practice. The engine maker's manual and the sleeve maker's sheet win.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.seal_seat_pictures import section_of_land
from calculators.worn_seal_land_advice import MARGIN, WAYS, Shift, findings_of_land
from witnessmark.calc import (
    CheckValue,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    calculator,
    choice,
    entry,
    result,
    show,
    text_result,
)

BEYOND = 1.0
"""What the shift is more than the groove's width, mm."""

PRACTICE = Source(
    "worn-land-practice",
    "Workshop practice: shift of groove width and 1 mm, sleeve walls of 0.25 mm to 0.30 mm; no "
    "published source",
    kind="common practice",
)
BY_HAND = Source(
    "lengths-added", "Lengths along the shaft added and subtracted by hand", kind="derivation"
)
_FINE = Rounding(decimals=2, us_decimals=4)
_SHIFT = Rounding(decimals=2, us_decimals=4, toward="up")


@dataclass(frozen=True)
class WornSealLand:
    """How far to shift, whether it goes, and what a sleeve would change."""

    shift: Length = result("Shift needed", lead=True, rounding=_SHIFT)
    way: str = text_result("What to do")
    new_depth: Length | None = result(
        "New depth of the seal below the face", rounding=_FINE,
        help="Mean of four readings round the clock.",
    )  # fmt: skip
    reserve_inward: Length = result(
        "In hand when seated deeper", rounding=_FINE,
        help="The smaller of what the bore and the land leave; below zero it does not go.",
    )  # fmt: skip
    reserve_outward: Length = result("In hand when seated less deep", rounding=_FINE)
    room_inward: Length = result("Room in the bore, inward", rounding=_FINE, seldom=True)
    room_outward: Length = result("Room in the bore, outward", rounding=_FINE, seldom=True)
    land_needed: Length = result(
        "Land needed beside the groove",
        rounding=_FINE,
        help="With end float and 0.5 mm clear.",
        seldom=True,
    )
    growth: Length = result("Lip interference grows with a sleeve by", rounding=_FINE,
                            help="On the diameter.")  # fmt: skip
    sleeved: Length = result(
        "Land diameter over the sleeve", rounding=Rounding(decimals=2, us_decimals=4)
    )
    interference: Length | None = result("Lip interference over the sleeve", rounding=_FINE)
    growth_share: Fraction | None = result(
        "Interference grows by", unit="%", us_unit="%", rounding=Rounding(decimals=0, us_decimals=0)
    )
    findings: tuple[Finding, ...] = ()


def _choose(inward: float, outward: float) -> str:
    """The way with more in hand; deeper where they are alike, sleeve where neither goes."""
    if max(inward, outward) < -1e-9:
        return "sleeve"
    return "inward" if inward >= outward - 1e-9 else "outward"


@calculator(
    name="worn-seal-land",
    title="Groove worn by the old lip: shift the seal or sleeve the land",
    topic="seals",
    purpose="Tells how far a new seal must be shifted to run beside the groove of the old lip, "
    "whether bore and land allow it, and what a repair sleeve does to the lip.",
    formulas=(
        Formula(r"s = g + 1\,\mathrm{mm}", "Shift needed"),
        Formula(r"R_\mathrm{in} = h - b - z,\quad R_\mathrm{out} = z", "Room in the bore"),
        Formula(r"L \ge s - \frac{g}{2} + f + 0.5\,\mathrm{mm}", "Land needed beside the groove"),
        Formula(r"\Delta = 2\,w", "Growth of land and of the lip's interference by a sleeve"),
    ),
    symbols=(
        Symbol("g", "width of the groove", "mm"),
        Symbol("h", "depth of the bore from the face to its shoulder", "mm"),
        Symbol("b", "width of the seal", "mm"),
        Symbol("z", "depth of the old seal below the face", "mm"),
        Symbol("L", "good land from the groove's edge to the end of the land", "mm"),
        Symbol("f", "end float", "mm"),
        Symbol("w", "wall of the sleeve", "mm"),
    ),
    assumptions=(
        "The old lip ran in the middle of the groove; the new seal is like the old one.",
        "The whole end float counts on both sides.",
        "The seal must not stand proud of the housing's face.",
        "The lip's interference is the land's diameter less the free diameter of the lip.",
    ),
    sources=(PRACTICE, BY_HAND),
    check_values=(
        CheckValue(
            "groove of 1 mm", {"groove_width": "1.0 mm"}, {"shift": "2.0 mm"}, source=PRACTICE,
            abs_="0.1 µm",
        ),
        CheckValue(
            "wall of 0.25 mm", {"sleeve_wall": "0.25 mm"}, {"growth": "0.50 mm"},
            source=PRACTICE, abs_="0.1 µm", remark="0.25 mm on the radius, 0.5 mm on the diameter",
        ),
        CheckValue(
            "wall of 0.30 mm on 75 mm", {"sleeve_wall": "0.30 mm", "land_diameter": "75 mm"},
            {"growth": "0.60 mm", "sleeved": "75.60 mm"}, source=PRACTICE, abs_="0.1 µm",
        ),
        CheckValue(
            "room and land added by hand",
            {
                "groove_width": "0.8 mm", "bore_depth": "15 mm", "seal_width": "10 mm",
                "old_depth": "2 mm", "land_inward": "4 mm", "land_outward": "4 mm",
                "end_float": "0.25 mm",
            },
            {
                "shift": "1.8 mm", "room_inward": "3.00 mm", "room_outward": "2.00 mm",
                "land_needed": "2.15 mm", "reserve_inward": "1.20 mm", "reserve_outward": "0.20 mm",
                "new_depth": "3.8 mm", "way": "seat the seal deeper",
            },
            source=BY_HAND, abs_="0.1 µm",
        ),
        CheckValue(
            "land too short on both sides", {"land_inward": "1 mm", "land_outward": "1 mm"},
            {"way": "fit a sleeve"}, source=BY_HAND, findings=("shift-impossible",),
        ),
        CheckValue(
            "groove of 0.12 mm in reach of a dust lip",
            {"groove_depth": "0.12 mm", "lips": "dust"}, source=PRACTICE,
            findings=("groove-deep", "check-dust-lip"),
        ),
        CheckValue(
            "seal and depth longer than the bore",
            {"bore_depth": "11 mm", "seal_width": "10 mm", "old_depth": "2 mm"}, source=BY_HAND,
            refused=("old_depth",),
        ),
    ),
)  # fmt: skip
def worn_seal_land(
    *,
    groove_width: Length = entry(
        "Width of the groove", "0.8 mm", units=("mm", "thou", "in"), above=0, most="10 mm",
        usual=("0.2 mm", "3 mm"), why="So wide a track is no lip's groove.",
        help="With a loupe and scale, or the width a scriber's point drops into.",
    ),
    groove_depth: Length = entry(
        "Depth of the groove", "0.08 mm", units=("mm", "µm", "thou"), least="0 mm", most="2 mm",
        why="So deep a groove weakens the shaft.",
        help="Half the difference of two micrometer readings, beside the groove and in it.",
    ),
    groove_limit: Length = entry(
        "Deepest groove that may stay", "0.05 mm", units=("mm", "µm", "thou"), least="0 mm",
        most="0.2 mm", help="The engine maker's figure; 0.05 mm where he gives none.",
        why="Deeper grooves leak under a new lip.",
    ),
    old_depth: Length = entry(
        "Depth of the old seal below the face", "2.0 mm", units=("mm", "in"), least="0 mm",
        most="100 mm", help="Read before the old seal is pulled.",
        why="A seal never stands proud.",
    ),
    seal_width: Length = entry(
        "Width of the seal", "10 mm", units=("mm", "in"), least="2 mm", most="40 mm",
        why="Seals of this kind are 2 mm to 40 mm wide.", help="The third number on the seal.",
    ),
    bore_depth: Length = entry(
        "Depth of the bore to its shoulder", "15 mm", units=("mm", "in"), above=0, most="200 mm",
        why="No seal sits so deep.", help="From the face; leave oil passages free.",
    ),
    land_inward: Length = entry(
        "Good land inward of the groove", "5 mm", units=("mm", "in"), least="0 mm", most="100 mm",
        why="No land is so long.",
        help="From the groove's edge towards the engine, to the end of the ground land.",
    ),
    land_outward: Length = entry(
        "Good land outward of the groove", "4 mm", units=("mm", "in"), least="0 mm",
        most="100 mm", why="No land is so long.",
        help="From the groove's edge towards the flywheel, to the chamfer.",
    ),
    end_float: Length = entry(
        "End float of the shaft", "0.25 mm", units=("mm", "thou"), least="0 mm", most="3 mm",
        usual=("0.05 mm", "0.5 mm"), why="Set the end float right first.",
    ),
    lips: str = choice(
        "Lips of the seal", {"single": "one lip", "dust": "with a dust lip"}, default="single"
    ),
    land_diameter: Length = entry(
        "Diameter of the land", "75 mm", units=("mm", "in"), least="6 mm", most="400 mm",
        why="Seals of this kind are made for shafts of 6 mm to 400 mm.",
        help="Beside the groove.",
    ),
    sleeve_wall: Length = entry(
        "Wall of the repair sleeve", "0.28 mm", units=("mm", "thou", "in"), above=0, most="3 mm",
        usual=("0.25 mm", "0.30 mm"), why="A thicker ring is a press-fit bush, not a sleeve.",
        usual_why="Thin sleeves are 0.25 mm to 0.30 mm; a thicker one takes another seal.",
    ),
    lip_free: Length | None = entry(
        "Free diameter of the lip", "", units=("mm", "in"), least="4 mm", most="400 mm",
        optional=True, seldom=True, why="No lip for a shaft of 6 mm to 400 mm.",
        help="With the spring on, over a tapered plug. Leave empty if not measured.",
    ),
) -> WornSealLand:  # fmt: skip
    """Shift, room, land and sleeve beside a worn groove; see the module's docstring."""
    g, z, b, h, f, d, w = (
        length.m_as("mm")
        for length in (
            groove_width, old_depth, seal_width, bore_depth, end_float, land_diameter, sleeve_wall,
        )
    )  # fmt: skip
    if z + b > h + 1e-9:
        raise RefusedError(
            "old_depth",
            f"Depth and width of the seal make {show(Q(z + b, 'mm'), 'mm', 4)}, more than the bore "
            f"is deep ({show(bore_depth, 'mm', 4)}). Measure all three from the same face.",
        )
    free = lip_free.m_as("mm") if lip_free is not None else None
    if free is not None and free >= d:
        raise RefusedError(
            "lip_free", "The free lip must be smaller than the land, else it would not touch it."
        )
    s = g + BEYOND
    room = (h - b - z, z)
    needed = s - g / 2 + f + MARGIN
    land = (land_inward.m_as("mm"), land_outward.m_as("mm"))
    inward, outward = (min(room[k] - s, land[k] - needed) for k in (0, 1))
    worn = groove_depth.m_as("mm") > groove_limit.m_as("mm") + 1e-9
    way = _choose(inward, outward) if worn else "none"
    depth = {"inward": z + s, "outward": z - s}.get(way)
    case = Shift(
        way=way, s=s, room=room, needed=needed, land=land, reserves=(inward, outward),
        groove_depth=groove_depth.m_as("mm"), groove_limit=groove_limit.m_as("mm"),
        growth=2 * w, dust_lip=lips == "dust",
    )  # fmt: skip
    return WornSealLand(
        shift=Q(s, "mm"),
        way=WAYS[way],
        new_depth=Q(depth, "mm") if depth is not None else None,
        reserve_inward=Q(inward, "mm"),
        reserve_outward=Q(outward, "mm"),
        room_inward=Q(room[0], "mm"),
        room_outward=Q(room[1], "mm"),
        land_needed=Q(needed, "mm"),
        growth=Q(2 * w, "mm"),
        sleeved=Q(d + 2 * w, "mm"),
        interference=Q(d + 2 * w - free, "mm") if free is not None else None,
        growth_share=Q(2 * w / (d - free), "") if free is not None else None,
        findings=findings_of_land(case),
    )


worn_seal_land.drawing("Seal, bore and groove")(section_of_land)
