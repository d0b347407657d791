"""What to say about a running lip: speed, runout, offset, land, warmth, fitting.

Limits of these findings: common practice, no published source; the seal maker's sheet and
the engine maker's manual win.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.lip_seal_tables import Elastomer
from witnessmark.calc import Finding, Q, caution, note, show, stop, with_unit

NEAR = 0.8
"""From this share of its speed limit a lip is called near it."""
DIAL = 0.02
"""Nearer to its limit than this (mm) a dial reading of runout decides nothing."""
TOTALS = (0.25, 0.40)
"""Runout and offset together, mm: the cautious maker's figure and the bold one's."""
FINISH = (0.2, 0.8)
HARD, HARD_FAST, FAST = 45.0, 55.0, 4.0
"""Least hardness of the land, HRC; the higher one above a lip speed of 4 m/s."""


@dataclass(frozen=True)
class Running:
    """The figures a running lip is judged by: m/s, mm, °C, HRC; finish and shaft as measured."""

    elastomer: Elastomer
    lip: str
    v: float
    safe: float
    utmost: float
    makers_speed: bool
    n: float
    t: float
    may_run: float | None
    makers_runout: bool
    e: float
    may_lie: float
    makers_offset: bool
    finish: Any
    hardness: float | None
    oil: float | None
    hottest: float | None
    shaft_measured: Any
    shaft_limits: tuple[float, float]


def findings_of_running(case: Running) -> tuple[Finding, ...]:
    """All findings of a case, the gravest of each matter only."""
    return (
        *_of_speed(case),
        *_of_runout(case),
        *_of_offset(case),
        *_of_land(case),
        *_of_warmth(case),
        *_of_fitting(case),
    )


def _mm(value: float) -> str:
    return show(Q(value, "mm"), "mm", 2)


def _speed(value: float) -> str:
    return show(Q(value, "m/s"), "m/s")


def _beyond(value: float, limit: float) -> bool:
    """Whether a value is over its limit by more than the last bits of a float."""
    return value > limit + 1e-9


def _of_speed(case: Running) -> Iterator[Finding]:
    name = case.elastomer.text
    if _beyond(case.v, case.utmost):
        halved = "" if case.lip == "oil" or case.makers_speed else " (halved for this lip and oil)"
        whose = "its maker's limit" if case.makers_speed else "what is allowed for"
        of = "" if case.makers_speed else f" {name}"
        yield stop(
            "speed-over-limit",
            f"The lip would run at {_speed(case.v)}, over {whose}{of} of "
            f"{_speed(case.utmost)}{halved}. Do not fit it. Take an elastomer for this speed, or "
            "bring more oil to the lip, after the seal maker's sheet.",
            "elastomer",
        )
    elif _beyond(case.v, case.safe):
        yield caution(
            "speed-between-limits",
            f"Makers differ between {_speed(case.safe)} and {_speed(case.utmost)} for {name}; the "
            "lip runs in between. Find the figure of your seal's maker before you fit it.",
            "elastomer",
        )
    elif _beyond(case.v, NEAR * case.safe):
        yield caution(
            "speed-near-limit",
            f"The lip runs at more than {100 * NEAR:.0f} % of its speed limit of "
            f"{_speed(case.safe)}. Finish, runout and oil at the lip must be good; an elastomer "
            "for higher speed gives a reserve.",
            "elastomer",
        )


def _of_runout(case: Running) -> Iterator[Finding]:
    if case.may_run is None:
        yield caution(
            "runout-unknown",
            f"No runout is given for {case.n:.0f} r/min: the figures in common use end at "
            "6000 r/min. Ask the seal maker and enter his limit.",
            "runout",
        )
        return
    whose = "the maker's limit" if case.makers_runout else "what a lip can follow at this speed,"
    if _beyond(case.t, case.may_run):
        yield stop(
            "runout-over",
            f"The land runs out by {_mm(case.t)}; {whose} is {_mm(case.may_run)}. Do not close "
            "up. Clean and read again, then look for a bent shaft, a worn bearing or a flange "
            "that does not seat.",
            "runout",
        )
    elif _beyond(case.t, case.may_run - DIAL):
        yield caution(
            "runout-near",
            f"The runout of {_mm(case.t)} is within {_mm(DIAL)} of {whose} {_mm(case.may_run)}. "
            "Take the reading again over three turns before you decide.",
            "runout",
        )


def _of_offset(case: Running) -> Iterator[Finding]:
    if _beyond(case.e, case.may_lie):
        whose = "the maker's limit" if case.makers_offset else "the limit for this shaft"
        yield stop(
            "offset-over",
            f"The bore lies {_mm(case.e)} off the shaft; {whose} is {_mm(case.may_lie)}. The lip "
            "would wear on one side and leak on the other. Move the housing towards the highest "
            "reading and sweep again.",
        )
    total = case.t + case.e
    if _beyond(total, TOTALS[1]):
        yield stop(
            "total-over",
            f"Runout and offset add up to {_mm(total)}; no maker allows more than "
            f"{_mm(TOTALS[1])}. Centre the housing or find the cause of the runout first.",
        )
    elif _beyond(total, TOTALS[0]):
        yield caution(
            "total-high",
            f"Runout and offset add up to {_mm(total)}. Makers allow {_mm(TOTALS[0])} to "
            f"{_mm(TOTALS[1])} together; centre the housing better if you can.",
        )


def _of_land(case: Running) -> Iterator[Finding]:
    low, high = case.shaft_limits
    if case.shaft_measured is not None:
        d = case.shaft_measured.m_as("mm")
        if _beyond(d, high) or _beyond(low, d):
            which = "thicker" if d > high else "thinner"
            yield caution(
                "shaft-outside-h11",
                f"The shaft is {which} than h11 allows ({show(Q(low, 'mm'), 'mm', 5)} to "
                f"{show(Q(high, 'mm'), 'mm', 5)}): the lip presses too "
                f"{'hard and runs hot' if d > high else 'little'}. Check the size of the seal; "
                "a worn land takes a sleeve.",
                "shaft_measured",
            )
    if case.finish is not None:
        ra = case.finish.m_as("micrometer")
        read = with_unit(f"{ra:.2g}", "µm")
        if _beyond(ra, FINISH[1]):
            yield caution(
                "finish-rough",
                f"A land of Ra {read} wears the lip; 0.2 µm to 0.8 µm is right. Have it plunge "
                "ground without lead, or fit a sleeve. Emery by hand leaves a thread that pumps "
                "oil.",
                "finish",
            )
        elif _beyond(FINISH[0], ra):
            yield caution(
                "finish-smooth",
                f"A land of Ra {read} is so smooth that it holds no oil: the lip runs dry and "
                "hot. 0.2 µm to 0.8 µm is right.",
                "finish",
            )
    least = HARD_FAST if case.v > FAST else HARD
    if case.hardness is not None and _beyond(least, case.hardness):
        yield caution(
            "land-soft",
            f"A land of {case.hardness:g} HRC grooves early; at least {least:g} HRC is wanted at "
            "this lip speed. A hard sleeve saves the shaft.",
            "hardness",
        )


def _of_warmth(case: Running) -> Iterator[Finding]:
    if case.oil is None or case.hottest is None:
        return
    limit = show(Q(case.elastomer.hottest, "°C"), "°C")
    if _beyond(case.oil, case.elastomer.hottest):
        yield stop(
            "oil-too-hot",
            f"The oil is hotter than {case.elastomer.text} stands ({limit}). Do not fit this "
            "seal; take another elastomer, and find out why the oil is so hot.",
            "oil_temperature",
        )
    elif _beyond(case.hottest, case.elastomer.hottest):
        yield caution(
            "lip-too-hot",
            f"Under the lip it may reach {show(Q(case.hottest, '°C'), '°C')}, more than "
            f"{case.elastomer.text} stands ({limit}): the lip hardens and cracks early. Take an "
            "elastomer for more heat.",
            "elastomer",
        )


def _of_fitting(case: Running) -> Iterator[Finding]:
    if case.elastomer.text.startswith("PTFE"):
        yield note(
            "ptfe-lip",
            "Many PTFE lips are fitted dry and over a sleeve, and are left to take their shape "
            "before the engine turns. Do as the maker's sheet says.",
        )
    else:
        yield caution(
            "oil-the-lip",
            "Oil the lip and the land before the shaft goes through: run dry at the first start, "
            "a lip is burnt within seconds.",
        )
    if case.lip == "dust":
        yield note(
            "grease-the-dust-lip",
            "Fill the space between the two lips a third full with grease that suits the "
            "elastomer; the dust lip gets no oil.",
        )
    if not (case.makers_speed and case.makers_runout and case.makers_offset):
        yield note(
            "limits-of-practice",
            "Limits not entered here as the maker's are those in common use, on the careful side. "
            "Where the seal maker or the engine maker gives a figure, that figure counts.",
        )
