"""What the fit of holes on dowels has to say: the verdict and its findings."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calculators.pattern_fit import rms
from calculators.pattern_positions import Feature, Laid, Position, left_out, mirrored
from witnessmark.calc import Finding, Q, caution, note, show, stop

_ODD = 5.0
"""One dowel is held to be out alone when the others agree this many times better."""
_STRANGE = 1.0
"""A misfit of this many mm does not come from wear."""


def verdict(margin: float, uncertainty: float) -> str:
    """The verdict on a margin and its standard uncertainty (mm)."""
    if margin < -1e-9:
        return "does not go on"
    return "goes on" if margin > 2 * uncertainty else "goes on, if the readings are right"


def listed(numbers: Sequence[int]) -> str:
    """Numbers in a sentence."""
    words = [str(number) for number in numbers]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _microns(length: float) -> str:
    """A length (mm) in a sentence, cut to a picometre as the results are."""
    return show(Q(round(length, 9), "mm"), "µm", 2)


def findings_of_room(laid: Laid, sigma: float) -> list[Finding]:
    """Whether it goes on in the position meant, and how sure that is."""
    findings = []
    room, u = laid.margin, laid.uncertainty(sigma)
    clearances = [pair.clearance for pair in laid.position.pairs]
    told, unsure = _microns(abs(room)), _microns(2 * u)
    if min(clearances) <= 0:
        findings.append(
            stop(
                "no-clearance",
                "At least one dowel is as large as its hole or larger. Measure both again; ream or "
                "renew before anything is put together.",
            )
        )
    if room < -1e-9:
        close = (
            f" The lack is less than the readings can tell ({unsure}): measure more finely before "
            "anything is cut."
            if -room <= 2 * u
            else ""
        )
        findings.append(
            stop(
                "does-not-go",
                f"The flywheel does not go on: {told} is lacking at dowel "
                f"{listed([i + 1 for i in laid.tightest])}. Do not force it and do not pull it in "
                "with nut or bolts: find the dowel or the hole that is out of place, or the burr."
                f"{close}",
            )
        )
    elif room <= 2 * u and min(clearances) > 0:
        findings.append(
            caution(
                "within-uncertainty",
                f"The room of {told} is within what the readings can tell ({unsure}). Try it on by "
                "hand, without grease, and feel.",
            )
        )
    elif max(math.hypot(*e) - c for e, c in zip(laid.position.plain, clearances, strict=True)) > 0:
        findings.append(
            note(
                "best-place-only",
                "It goes on, but not where the sum of squares of the offsets is least. Let it find "
                "its place by hand: no bolts until it is home.",
            )
        )
    return findings


def findings_of_positions(laid: Laid, found: Sequence[Position]) -> list[Finding]:
    """What the other positions mean; ``found`` has the position meant first."""
    findings = []
    turn = laid.position.turn
    if abs(turn) > 5:
        findings.append(
            caution(
                "far-turned",
                "Even the nearest position is turned by "
                f"{show(Q(turn, '°'), '°', 2)}. Were both patterns measured from the index mark, "
                "and is the side right?",
            )
        )
    others = [each for each in found[1:] if each.goes]
    if others:
        findings.append(
            caution(
                "other-positions",
                f"{'It also goes' if found[0].goes else 'It goes'} on turned by {_angles(others)}. "
                "Only the index mark tells which is right; timing and balance depend on it.",
            )
        )
    elif found[0].goes and len(found) > 2:
        findings.append(note("one-position", "It goes on in this position only."))
    return findings


def _angles(positions: Sequence[Position]) -> str:
    shown = [show(Q(round(each.turn, 8), "°"), "°", 3) for each in positions]
    if len(shown) > 5:
        return f"{', '.join(shown[:3])} and {len(shown) - 3} more angles"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def findings_of_readings(
    laid: Laid,
    patterns: tuple[Sequence[Feature], Sequence[Feature]],
    sigma: float,
    division: float,
) -> list[Finding]:
    """What the readings tell about themselves.

    ``division`` is what one division of the measured angle is at the dowels, mm; 0 where
    x and y were measured.
    """
    findings = []
    pairs = laid.position.pairs
    if len(pairs) == 2:
        findings.append(
            note("two-dowels", "Two dowels check nothing: a wrong reading of one shows nowhere.")
        )
    if laid.margin < -1e-9:
        findings += _of_misfit(laid, patterns, sigma)
    elif len(pairs) > 2 and len(laid.tightest) == len(pairs):
        findings.append(note("even", "The room is the same at every dowel."))
    tight = min(pair.clearance for pair in pairs)
    if division > tight > 0:
        findings.append(
            caution(
                "coarse-angles",
                f"One division of the angle is {_microns(division)} at the dowels, "
                f"and the least clearance on the radius is {_microns(tight)}. "
                "Measure x and y, or on a finer head.",
                "division",
            )
        )
    return findings


def _of_misfit(
    laid: Laid, patterns: tuple[Sequence[Feature], Sequence[Feature]], sigma: float
) -> list[Finding]:
    """Slips of the readings for which a pattern may seem not to go."""
    findings = []
    pairs, misfit = laid.position.pairs, rms(laid.position.plain)
    if len(pairs) > 2 and misfit > max(_ODD * mirrored(*patterns), 2 * sigma):
        findings.append(
            caution(
                "mirrored",
                "The patterns agree only if one of them was seen from the other side. Check from "
                "which side each was measured.",
                "seen",
            )
        )
    elif len(pairs) > 3:
        odd, rest = left_out(laid.position)
        if misfit > max(_ODD * rest, 2 * sigma):
            findings.append(
                caution(
                    "one-dowel-off",
                    f"Dowel {odd + 1} or its hole is out alone: the others agree within "
                    f"{_microns(rest)}. Measure that pair again first.",
                )
            )
    if misfit > _STRANGE:
        findings.append(
            caution(
                "different-patterns",
                f"The patterns miss each other by {show(Q(misfit, 'mm'), 'mm', 2)}, and that is no "
                "wear. Check rows and signs, and that no diameter was written for a radius.",
            )
        )
    return findings
