"""What there is to say about an engine on its stand; forces in N, lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from witnessmark.calc import Finding, Q, caution, note, show, stop

KEPT = 0.2
"""Share of the half width that the centre of pressure keeps from the sides."""
LIFTED = 0.3
"""Share of the weight that must still stand on the floor."""


@dataclass(frozen=True)
class Stand:
    """Weight and pull, what presses down, margin to the nearest side, half width of the base.

    ``tips`` is the pull that tips, ``grips`` how many times the level forces may be; ``back``
    how many times the pull reversed may be; ``at_rest`` the margin without the pull.
    """

    weight: float
    pull: float
    down: float
    margin: float
    half_width: float
    tips: float
    grips: float | None
    loads: Sequence[float]
    back: float
    floor: bool
    at_rest: float


def verdict_of(stand: Stand) -> str:
    """In a word."""
    if stand.margin < 0:
        return "tips over"
    if stand.grips is not None and stand.grips < 1:
        return "slides"
    close = stand.margin < KEPT * stand.half_width or (stand.grips or math.inf) < 1.25
    return "stands, only just" if close else "stands"


def findings_of(stand: Stand) -> Iterator[Finding]:
    """Whether to begin, and what to do first."""
    if stand.at_rest < 0:
        yield stop(
            "falls-by-itself",
            "The weight lies outside the feet: it falls over untouched. Check the places of "
            "feet and weight, and do not let go of the hoist.",
            "feet",
        )
    elif stand.margin < 0:
        yield stop(
            "tips",
            f"It tips at {_n(stand.tips)}, less than the {_n(stand.pull)} you may give. Bolt the "
            "stand down, strap it, pull in the other way, or hold the torque within the engine; "
            "nobody stands where it would fall.",
        )
    elif stand.margin < KEPT * stand.half_width - 1e-9:
        yield caution(
            "little-margin",
            f"The centre of pressure is only {show(Q(stand.margin, 'mm'), 'mm', 2)} inside the "
            "feet. A jerk tips it: strap it or bolt it down.",
        )
    if stand.grips is not None and stand.grips < 1 - 1e-9:
        yield stop(
            "slides",
            "The feet slide or turn on the floor before you have given all. Lock the wheels, put "
            "the stand against a stop, dry the floor, or bolt it down.",
            "friction",
        )
    elif stand.grips is not None and stand.grips < 1.25:
        yield caution(
            "little-grip",
            f"{show(Q(100 / stand.grips, '%'), '%', 2)} of the grip is used: oil under one foot "
            "and it moves. Put a stop behind it.",
            "friction",
        )
    if 0 < stand.down < LIFTED * stand.weight:
        yield caution(
            "lifted",
            "You carry most of the weight with the bar: the stand is nearly off the floor.",
        )
    if stand.pull > 0 and stand.margin >= 0 and stand.back < 1:
        yield caution(
            "back-lash",
            f"Pulled the other way it tips at {_n(stand.back * stand.pull)}. When the nut lets "
            "go, or you push back to free the bar, the force turns round: strap both sides.",
        )
    if stand.floor:
        yield caution(
            "floor-takes-it",
            "What bears on the floor lifts and turns the whole engine. Brace the tool on the "
            "engine itself where you can: then nothing of the torque reaches the stand.",
            "reaction",
        )
    yield note(
        "before-you-pull",
        "Wheels locked, floor dry, nobody on the falling side. Pull towards your feet, never "
        "push; look where you land when it lets go.",
    )


def _n(force: float) -> str:
    return show(Q(force, "N"), "N", 2)
