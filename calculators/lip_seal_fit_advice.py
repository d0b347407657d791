"""What to say about a seal's press fit: looseness, warmth, force, the wrong row, driving.

The limits of hand and press and the yield of a drawn case are common practice, no published
source; the engine maker's manual wins.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.lip_seal_tables import CASES, allowance, h8
from witnessmark.calc import Finding, Q, caution, note, show, stop

BY_HAND = 2000.0
"""Above this force in N a seal is drawn or pressed in, not driven by hand."""
YIELD = 250.0
"""Compression in MPa at which a case drawn from mild sheet begins to yield."""
_OLD_METAL = {50: 0.10, 80: 0.13, 120: 0.15, 180: 0.18, 300: 0.20}
"""Least excess of a metal case in the other table that is in print, by largest bore, mm."""


@dataclass(frozen=True)
class Fit:
    """What a fit is judged by: sizes in mm, force in N, stress in MPa."""

    case: str
    nominal: float
    bores: tuple[float, float]
    seals: tuple[float, float]
    cold: tuple[float, float]
    hot: tuple[float, float]
    loss: float
    aluminium: bool
    bore_measured: bool
    seal_measured: bool
    force: float | None
    stress: float | None
    warm: Any


def findings_of_fit(fit: Fit) -> tuple[Finding, ...]:
    """All findings of a fit."""
    return (*_of_sizes(fit), *_of_looseness(fit), *_of_force(fit), *_of_fitting(fit))


def _mm(value: float, figures: int = 2) -> str:
    return show(Q(value, "mm"), "mm", figures)


def _outside(value: float, limits: tuple[float, float]) -> bool:
    return not limits[0] - 1e-9 <= value <= limits[1] + 1e-9


def _of_sizes(fit: Fit) -> Iterator[Finding]:
    limits = h8(fit.nominal)
    if fit.bore_measured and _outside(fit.bores[0], limits):
        small = fit.bores[0] < limits[0]
        does = "crush or tilt the case" if small else "let it turn and leak past the outside"
        yield caution(
            "bore-outside-h8",
            f"The bore is {'under' if small else 'over'} its limits H8 of {_mm(limits[0], 5)} to "
            f"{_mm(limits[1], 5)}: it may {does}. Look for {'burrs' if small else 'wear'} and "
            "measure again before you choose a seal.",
            "bore_measured",
        )
    if not fit.seal_measured:
        if fit.case == "metal":
            least = next(low for size, low in _OLD_METAL.items() if fit.nominal <= size)
            yield note(
                "two-tables",
                "Two tables for metal cases are in print. The one used here starts at "
                f"{_mm(fit.seals[0] - fit.nominal)} over the bore, the other at {_mm(least)}. "
                "Measure your seal, or ask its maker which he follows.",
            )
        return
    row = allowance(fit.case, fit.nominal)
    excess = fit.seals[0] - fit.nominal
    if not _outside(excess, row):
        return
    other = next(key for key in CASES if key != fit.case)
    fits = not _outside(excess, allowance(other, fit.nominal))
    hint = f" It fits the row of the {CASES[other]}: check which you hold." if fits else ""
    yield caution(
        "seal-outside-row",
        f"A {CASES[fit.case]} for this bore measures {_mm(fit.nominal + row[0], 5)} to "
        f"{_mm(fit.nominal + row[1], 5)} outside; yours does not.{hint} Read the size on the "
        "seal and measure it again.",
        "seal_measured",
    )


def _of_looseness(fit: Fit) -> Iterator[Finding]:
    known = fit.bore_measured and fit.seal_measured
    if fit.cold[0] <= 1e-9:
        certain = fit.cold[1] <= 1e-9
        yield stop(
            "no-interference",
            f"The seal {'is' if certain else 'may be'} loose in this bore even when cold. Do not "
            "fit it with sealant alone: "
            + ("take another seal or have the bore sleeved." if certain
               else "measure the seal; if it is not larger than the bore, take another."),
        )  # fmt: skip
        return
    if fit.case == "metal" and fit.hot[0] <= 1e-9:
        level = stop if known or fit.hot[1] <= 1e-9 else caution
        which = "is" if level is stop else "may be"
        yield level(
            "loose-when-warm",
            f"At {show(fit.warm, '°C')} the bore has grown {_mm(fit.loss)} more than the steel "
            f"case: the seal {which} loose. Take a rubber-covered seal for this housing"
            + ("." if level is stop else ", or measure bore and seal."),
        )
    elif fit.case == "metal" and fit.aluminium and fit.loss > 0.5 * fit.cold[0]:
        yield caution(
            "slack-when-warm",
            f"At {show(fit.warm, '°C')} the aluminium bore takes {_mm(fit.loss)} of the "
            "interference, more than half of its least. A rubber-covered seal holds better.",
        )


def _of_force(fit: Fit) -> Iterator[Finding]:
    if fit.case == "rubber":
        yield note(
            "rubber-force",
            "The rubber takes up the interference, so no force is given; wet it with the oil of "
            "the engine. If it springs back after pressing, hold it down for some seconds.",
        )
        return
    if fit.force is None or fit.stress is None:
        return
    force = show(Q(fit.force, "N"), "kN", 2)
    if fit.force > BY_HAND:
        yield caution(
            "press-needed",
            f"Up to {force} are needed. Press it in, or draw it in with a plate and studs, not "
            "with a hammer; keep hands out from under the press.",
        )
    elif fit.force > 0:
        yield note(
            "hand-driver",
            f"Up to {force}: a full-face driver and light blows all round will do.",
        )
    if fit.stress > YIELD:
        held = show(Q(fit.force * YIELD / fit.stress, "N"), "kN", 2)
        yield note(
            "case-yields",
            f"At the tightest the case would carry more than {show(Q(YIELD, 'MPa'), 'MPa')} and "
            f"give a little: it will hardly need more than about {held}. If it needs more, stop "
            "and look whether it has gone in askew.",
        )


def _of_fitting(fit: Fit) -> Iterator[Finding]:
    yield caution(
        "drive-square",
        "Press on the outer rim only, square and with a full-face tool; never on the middle or "
        "the lip. The lip faces the oil. Break the bore's edge and clean it first.",
    )
