"""The scale of a torque wrench: its marks, and the part of it that is used.

A setting wrench has marks at S0, S0 + D, S0 + 2 D … up to its highest; it is used from a fifth
of its highest mark upward, or from its lowest mark where that is higher. Torques in N·m.

Sources: range of use: ISO 6789-1 (from memory); the share by which a rounding is told: bench
practice.
"""

from __future__ import annotations

import math

from witnessmark.calc import Finding, Q, RefusedError, Source, caution, show, stop

ISO_6789 = Source(
    "iso-6789-1-2017", "ISO 6789-1:2017 Assembly tools for screws and nuts - Hand torque tools, "
    "quoted from memory", kind="from memory",
)  # fmt: skip

LEAST_SHARE = 0.2
"""Share of its scale below which a torque wrench is not used."""
COARSE = 0.01
"""A rounding to the wrench's scale by more than this share is told."""


def nm(torque: float, figures: int = 3) -> str:
    """A torque in N·m as text in the reader's units."""
    return show(Q(torque, "N·m"), "N·m", figures)


def nearest_mark(exact: float, step: float, start: float = 0.0) -> float:
    """The mark of a scale nearest to ``exact``; a last bit never decides between two marks.

    Refuses the entry ``step`` where the first mark is too far above.
    """
    marks = math.floor((exact - start) / step + 0.5 + 1e-9)
    mark = start + marks * step
    if mark < step / 2:
        raise RefusedError(
            "step",
            "The wrench's scale is too coarse: the setting lies below its first mark. Take a "
            "smaller wrench.",
        )
    return mark


def lowest_used(low: float | None, high: float | None) -> float:
    """Where the wrench begins to be reliable; either end of its scale may be unknown."""
    return max(low or 0.0, LEAST_SHARE * (high or 0.0))


def findings_of_range(
    setting: float, low: float | None, high: float | None, otherwise: str
) -> list[Finding]:
    """Whether the wrench can be set like that; ``otherwise`` says what else to take for more."""
    lowest = lowest_used(low, high)
    if setting < lowest * (1 - 1e-9):
        return [
            stop(
                "setting-low",
                f"{nm(setting)} is below {nm(lowest)}, where this wrench begins to be reliable: "
                "its lowest mark, or a fifth of its scale. Take a smaller wrench.",
                "wrench_high" if high is not None else "wrench_low",
            )
        ]
    if high is not None and setting > high * (1 + 1e-9):
        return [stop("setting-high", f"The wrench ends at {nm(high)}. {otherwise}", "wrench_high")]
    return []


def findings_of_rounding(setting: float, exact: float) -> list[Finding]:
    """Whether the nearest mark is far from what was wanted."""
    moved = setting / exact - 1
    if abs(moved) <= COARSE:
        return []
    return [
        caution(
            "setting-rounded",
            f"The mark nearest to {nm(exact)} is {show(Q(100 * abs(moved), '%'), '%', 2)} too "
            f"{'high' if moved > 0 else 'low'}. A wrench with a finer scale comes closer.",
            "step",
        )
    ]
