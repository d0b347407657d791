"""What to say about a worn land: shift, room, sleeve, dust lip.

The figures are common practice, no published source; the engine maker's manual and the
sleeve maker's sheet win.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from witnessmark.calc import Finding, Q, caution, note, show, stop

WAYS = {
    "inward": "seat the seal deeper",
    "outward": "seat the seal less deep",
    "sleeve": "fit a sleeve",
    "none": "leave the seat as it is",
}
"""What can be done about a worn land."""
MARGIN = 0.5
"""How far (mm) a lip keeps clear of the end of the land: about the width it touches."""
MOST_GROWTH = 0.60
"""What a lip made for the bare shaft takes on the diameter, mm."""
WORN_OUT = 0.30
"""Deeper (mm) a groove also lets a thin sleeve sag."""


@dataclass(frozen=True)
class Shift:
    """What a worn land is judged by, in mm; pairs are inward and outward."""

    way: str
    s: float
    room: tuple[float, float]
    needed: float
    land: tuple[float, float]
    reserves: tuple[float, float]
    groove_depth: float
    groove_limit: float
    growth: float
    dust_lip: bool


def findings_of_land(case: Shift) -> tuple[Finding, ...]:
    """All findings of a worn land."""
    return (*_of_groove(case), *_of_shift(case), *_of_sleeve(case), *_of_fitting(case))


def _mm(value: float) -> str:
    return show(Q(value, "mm"), "mm", 2)


def _of_groove(case: Shift) -> Iterator[Finding]:
    if case.way == "none":
        yield note(
            "groove-may-stay",
            f"The groove is {_mm(case.groove_depth)} deep; up to {_mm(case.groove_limit)} it may "
            "stay. A shift is still the better choice where there is room.",
        )
    else:
        yield caution(
            "groove-deep",
            f"The groove is {_mm(case.groove_depth)} deep, more than the {_mm(case.groove_limit)} "
            "that may stay: no new lip in this track. Polishing makes it no shallower.",
            "groove_depth",
        )


def _of_shift(case: Shift) -> Iterator[Finding]:
    lack = []
    for k, name in enumerate(("deeper", "less deep")):
        if case.room[k] < case.s - 1e-9:
            lack.append(f"{name} the bore leaves {_mm(case.room[k])} of {_mm(case.s)}")
        elif case.land[k] < case.needed - 1e-9:
            lack.append(f"{name} the land leaves {_mm(case.land[k])} of {_mm(case.needed)}")
    if case.way == "sleeve":
        yield caution(
            "shift-impossible",
            f"The seal cannot be shifted off the groove: {'; '.join(lack)}. Fit a repair sleeve, "
            "or have the land built up and ground.",
        )
    elif case.way in ("inward", "outward"):
        reserve = case.reserves[0 if case.way == "inward" else 1]
        if reserve < MARGIN - 1e-9:
            yield caution(
                "shift-tight",
                f"The shift leaves only {_mm(max(reserve, 0.0))} in hand. Mark the new track with "
                "dye and turn the shaft before the seal is pressed home.",
            )
        yield note(
            "keep-the-shift",
            "Write the new depth into the job record: the next seal must not go back into the "
            "old groove. Keep oil holes and drain passages in the bore free.",
        )


def _of_sleeve(case: Shift) -> Iterator[Finding]:
    if case.growth > MOST_GROWTH + 1e-9:
        level = stop if case.way == "sleeve" else note
        yield level(
            "sleeve-thick",
            f"A sleeve adds {_mm(case.growth)} to the diameter; a lip for the bare shaft takes "
            f"{_mm(0.5)} to {_mm(MOST_GROWTH)}. Take a thinner sleeve, or a seal for the larger "
            "diameter.",
            "sleeve_wall",
        )
    if case.way != "sleeve":
        return
    if case.groove_depth > WORN_OUT + 1e-9:
        yield caution(
            "fill-the-groove",
            f"A groove deeper than {_mm(WORN_OUT)} is filled with metal putty and dressed flush "
            "before the sleeve goes on, else the sleeve sags into it.",
            "groove_depth",
        )
    yield note(
        "lip-runs-tighter",
        f"Over the sleeve the lip is stretched by {_mm(case.growth)} more on the diameter and "
        "runs warmer; oil it well. Check speed and elastomer again for the larger diameter.",
    )


def _of_fitting(case: Shift) -> Iterator[Finding]:
    if case.dust_lip:
        yield caution(
            "check-dust-lip",
            "The dust lip runs on a track of its own: see that after the shift neither lip lands "
            "in the old groove or beyond the land.",
        )
    yield note(
        "mark-before",
        "Measure depth, groove and land before the old seal is pulled and from the same face. "
        "The engine maker's manual wins, also where it forbids another depth.",
    )
