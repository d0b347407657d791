"""What there is to say about a lever in use: what a person can pull, what a mass does.

Sources: basic force of a standing person's pull, 145 N, times 0.8 where there is movement
(EN 1005-3, from memory); a mass of 25 kg as the reference for lifting (ISO 11228-1, from
memory); the steps of the pull at which something is said are common practice.
"""

from __future__ import annotations

from calculators.local_gravity import STANDARD
from witnessmark.calc import Finding, Q, Source, caution, note, show, stop

EN_1005_3 = Source(
    "en-1005-3", "EN 1005-3 Safety of machinery - Human physical performance - Recommended force "
    "limits for machinery operation, quoted from memory", kind="from memory",
)  # fmt: skip
ISO_11228 = Source(
    "iso-11228-1", "ISO 11228-1 Ergonomics - Manual handling - Lifting, lowering and carrying, "
    "quoted from memory", kind="from memory",
)  # fmt: skip

STANDING_PULL = 145.0 * 0.8
"""Pull in N of a standing person in movement."""
EASY, FIRM, HARD = 150.0, 300.0, 500.0
"""Pull of one person in N: up to the first without a word, beyond the last not at all."""
LIFT = 25.0
"""Mass in kg that one person lifts at most."""
TILT = 0.3
"""Share of the torque, as a bending moment on the socket, from which it is told."""
TILTED = 0.95
"""Share of its torque that a pull off the square still gives before it is told."""
SHORT_OVERLAP = 0.25
"""Least overlap of a tube, as a share of the bar; common practice."""


def _newton(force: float) -> str:
    return show(Q(force, "N"), "N", 2)


def findings_of_hand(pull: float, people: int) -> list[Finding]:
    """What the pull in N asks of each of the ``people``."""
    each = pull / people
    who = "one person" if people == 1 else f"each of {people}"
    if each > HARD:
        return [
            stop(
                "pull-too-great",
                f"{_newton(each)} from {who} is more than anyone pulls under control. Take the "
                "multiplier or a longer bar.",
            )
        ]
    if each > FIRM:
        return [
            caution(
                "pull-hard",
                f"{_newton(each)} from {who} is a hard pull. Take the multiplier, a longer bar or "
                "a second person.",
            )
        ]
    if each > EASY:
        return [
            caution(
                "pull-brace",
                f"{_newton(each)} from {who} needs a firm stand: brace a foot, pull towards you "
                "and look where you would land.",
            )
        ]
    return [note("pull-fair", f"{_newton(each)} from {who} is a fair pull for a short time.")]


def findings_of_gravity(g: float) -> tuple[Finding, ...]:
    """How far the local gravity in m/s² is from the standard value."""
    if g == STANDARD:
        return ()
    return (
        note(
            "gravity-local",
            f"Gravity here is {100 * abs(g / STANDARD - 1):.2f}\u202f% "
            f"{'less' if g < STANDARD else 'more'} than the standard value. That counts when a "
            "tool is checked, not when a nut is broken loose.",
        ),
    )


def findings_of_mass(mass: float) -> list[Finding]:
    """What hanging ``mass`` kg asks for."""
    found = [
        caution(
            "mass-lowered",
            "Lower the mass on to the bar, never drop it: a falling mass gives many times its "
            "torque. Keep feet and hands out from under it, with blocks close below.",
        ),
        note(
            "mass-turns",
            "The torque falls as the bar sinks. Bring the bar back to level on the socket before "
            "you hang the mass again.",
        ),
    ]
    if mass > LIFT:
        found.insert(
            0,
            caution(
                "mass-heavy",
                f"{show(Q(mass, 'kg'), 'kg', 2)} is more than one person lifts. Hang it on in "
                "parts, with a helper or with the hoist.",
            ),
        )
    return found


def findings_of_socket(torque: float, bending: float, share: float) -> list[Finding]:
    """What a pull off the square does; ``share`` is that of its greatest torque it gives."""
    found = []
    if share < TILTED:
        found.append(
            caution(
                "off-square",
                f"Off the square, the load gives only {100 * share:.0f}\u202f% of what it could. "
                "Pull square to the bar, or set the bar level.",
            )
        )
    if torque > 0 and bending > TILT * torque:
        found.append(
            caution(
                "socket-tilts",
                f"The load tilts the socket with {show(Q(bending, 'N·m'), 'N·m', 2)} besides "
                "turning it. Hold the head of the bar with the other hand or prop it, and use the "
                "shortest socket.",
            )
        )
    return found


def findings_of_overlap(overlap: float, bar: float) -> list[Finding]:
    """Whether the tube reaches far enough over the bar; lengths in one unit."""
    if overlap >= SHORT_OVERLAP * bar:
        return []
    return [
        caution(
            "overlap-short",
            "The tube reaches over less than a quarter of the bar. It can slip off, or crease, "
            "when you pull: push it on farther.",
            "overlap",
        )
    ]


ALWAYS = (
    caution(
        "lets-go",
        "The nut can let go at once. Stand so that you cannot fall, and nobody in the sweep of the "
        "bar or under it.",
    ),
    caution(
        "engine-held",
        "Socket square and full on the nut; engine and stand held so that they cannot tip or roll.",
    ),
    note(
        "no-torque-wrench",
        "Never lengthen a torque wrench with a tube, and never break a nut loose with one.",
    ),
)
