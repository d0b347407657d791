"""What to say about an O-ring in its groove: squeeze, stretch, filling, cold, oil, fitting.

Limits: common practice, no published source; the drawing and the ring maker's sheet win.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calculators.o_ring_rubber import RUBBERS
from witnessmark.calc import Finding, Q, caution, note, show, stop, with_unit

SQUEEZE = {"rest": (0.10, 0.30), "sliding": (0.08, 0.18), "face": (0.15, 0.35)}
"""Least and greatest share a section is flattened by, at the limits of all sizes."""
WANTED = {"rest": (0.15, 0.25), "sliding": (0.10, 0.15), "face": (0.20, 0.30)}
"""Where the drawing should have the middle of it."""
LOOSE = 0.02
"""Below this share a ring does not seal at all."""
STRETCH, GIRTH = 0.05, 0.03
"""Greatest stretch of the inside diameter; greatest share a ring may be pressed smaller by."""
FULL, EMPTY = 0.85, 0.60
"""Filling of the groove that leaves room, hot and swollen; and below which a ring may roll."""
COLD = 0.05
"""Squeeze that must be left when cold."""
_NOUGHT = 1e-9


@dataclass(frozen=True)
class Fitted:
    """A ring in its groove; shares as plain numbers, pairs are least and greatest, °C."""

    case: str
    squeeze: tuple[float, float]
    cold_squeeze: float
    stretch: tuple[float, float]
    pressed_girth: float
    fill_hot: float
    fill: float
    rubber: str
    cold: float
    hot: float
    used: bool
    off_centre: float = 0.0
    """What the squeeze loses on one side because the parts lie off centre."""


def findings_of_ring(ring: Fitted) -> tuple[Finding, ...]:
    """All findings of a ring in its groove."""
    return (
        *_of_ring(ring),
        *_of_squeeze(ring),
        *_of_girth(ring),
        *_of_fill(ring),
        *_of_rubber(ring),
        *_of_fitting(ring),
    )


def percent(share: float) -> str:
    """A share as it is written in a sentence."""
    return with_unit(f"{100 * share:.3g}".replace("-", "\u2212"), "%")


def _of_ring(ring: Fitted) -> Iterator[Finding]:
    if ring.used:
        yield stop(
            "ring-reused",
            "An O-ring that has been clamped stays flat and does not come back. Fit a new one.",
            "state",
        )


def _of_squeeze(ring: Fitted) -> Iterator[Finding]:
    (least, most), (low, high) = ring.squeeze, SQUEEZE[ring.case]
    if least < LOOSE - _NOUGHT:
        yield stop(
            "no-squeeze",
            f"At the worst of the sizes only {percent(max(least, 0.0))} of squeeze is left: it "
            "will leak. Take a thicker ring, or measure the parts and reckon with what they are.",
        )
    elif least < low - _NOUGHT:
        yield caution(
            "squeeze-low",
            f"The squeeze may fall to {percent(least)}; below {percent(low)} the ring may weep. "
            "Measure ring and groove, and pick a ring from the thick end.",
        )
    if most > high + _NOUGHT:
        yield caution(
            "squeeze-high",
            f"The squeeze may reach {percent(most)}; above {percent(high)} the ring is hard to "
            + ("fit, drags and wears." if ring.case == "sliding" else "fit and takes a set early."),
        )
    if ring.cold_squeeze < COLD - _NOUGHT <= least:
        yield caution(
            "loose-when-cold",
            f"At {show(Q(ring.cold, '°C'), '°C')} the squeeze may fall to "
            f"{percent(ring.cold_squeeze)}: rubber shrinks some fifteen times as much as steel. It "
            "may weep at a cold start until it is warm.",
            "cold",
        )
    if ring.off_centre > 0.03:
        yield note(
            "one-side-only",
            f"Off centre the ring loses {percent(ring.off_centre)} of squeeze on one side and "
            "gains as much on the other. Centre the parts; more squeeze all round is no remedy.",
        )


def _of_girth(ring: Fitted) -> Iterator[Finding]:
    least, most = ring.stretch
    if most > STRETCH + _NOUGHT:
        yield caution(
            "stretch-high",
            f"The ring is stretched by up to {percent(most)}; above {percent(STRETCH)} it grows "
            "thin and ages fast. Take the next larger ring.",
        )
    if ring.pressed_girth > GIRTH + _NOUGHT:
        yield caution(
            "ring-too-large",
            f"The ring is up to {percent(ring.pressed_girth)} too large round for its seat; above "
            f"{percent(GIRTH)} it buckles and is pinched. Take the next smaller ring.",
        )
    if ring.case != "face" and ring.pressed_girth <= 0 and least < -_NOUGHT:
        yield caution(
            "ring-loose",
            "At the limits the ring lies loose in its groove: it may hang out, be cut on entry or "
            "roll. Take the next smaller ring.",
        )


def _of_fill(ring: Fitted) -> Iterator[Finding]:
    if ring.fill_hot > 1 + _NOUGHT:
        yield stop(
            "groove-overfull",
            f"Hot and swollen the ring would fill the groove to {percent(ring.fill_hot)}. Rubber "
            "cannot be compressed: it lifts the faces apart or is squeezed out and cut. Take a "
            "thinner ring or a wider groove.",
        )
    elif ring.fill_hot > FULL + _NOUGHT:
        yield caution(
            "groove-full",
            f"Hot and swollen the ring may fill the groove to {percent(ring.fill_hot)}; leave room "
            f"above {percent(FULL)}.",
        )
    if ring.fill < EMPTY - _NOUGHT:
        yield note(
            "groove-wide",
            f"The ring fills {percent(ring.fill)} of its groove. So loosely held it can wander or "
            "roll where the pressure changes sides.",
        )


def _of_rubber(ring: Fitted) -> Iterator[Finding]:
    rubber = RUBBERS[ring.rubber]
    if not rubber.oil:
        yield stop(
            "rubber-in-oil",
            f"{rubber.text} swells and softens in mineral oil. Do not fit it here.",
            "rubber",
        )
    elif ring.rubber == "unknown":
        yield caution(
            "rubber-unknown",
            "A ring whose rubber nobody knows may swell or go hard in this oil; colour tells "
            "nothing. Take one from a marked bag.",
            "rubber",
        )
        return
    if ring.hot > rubber.hottest + _NOUGHT:
        yield stop(
            "rubber-too-hot",
            f"{rubber.text} stands {show(Q(rubber.hottest, '°C'), '°C')}; here it is to stand "
            f"{show(Q(ring.hot, '°C'), '°C')}. Take another rubber.",
            "hot",
        )
    if ring.cold < rubber.coldest - _NOUGHT:
        yield caution(
            "rubber-too-cold",
            f"Below {show(Q(rubber.coldest, '°C'), '°C')} {rubber.text} is stiff and does not "
            "follow its groove. Warm the engine before it is turned fast, or take another rubber.",
            "cold",
        )


def _of_fitting(ring: Fitted) -> Iterator[Finding]:
    if ring.case == "face":
        yield note(
            "see-it-lie",
            "Wipe the groove, lay the ring in without a twist and look all round before the part "
            "goes on: half a millimetre of ring between the faces is cut off and leaks. A little "
            "grease that suits the rubber holds it.",
        )
        return
    yield caution(
        "cut-on-entry",
        "Most rings are spoilt when they are fitted. Lead in over a chamfer of 15° to 20°, cover "
        "threads and edges, oil the ring and push straight; see that it has not twisted.",
    )
