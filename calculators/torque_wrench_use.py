"""What there is to say about a torque wrench and the limits it is to keep.

Torques in N·m. Sources: the arithmetic of ``calculators.torque_wrench``; calibration after a
year or 5000 pulls, whichever comes first (ISO 6789-1, from memory); the rest is bench practice.
"""

from __future__ import annotations

from typing import NamedTuple

from calculators.wrench_scale import nm
from witnessmark.calc import Finding, caution, note, stop

INTERVAL = 12
"""Months after which a wrench is due."""


class Window(NamedTuple):
    """The torque's limits and the settings that keep within them."""

    least: float
    most: float
    low: float
    high: float

    @property
    def empty(self) -> bool:
        """Whether no setting at all keeps within the limits."""
        return self.low > self.high * (1 + 1e-9)

    def holds(self, setting: float) -> bool:
        """Whether a setting keeps within the limits; a last bit does not decide."""
        return self.low * (1 - 1e-9) <= setting <= self.high * (1 + 1e-9)


def findings_of_window(setting: float, window: Window | None) -> list[Finding]:
    """Whether the setting keeps the torque within its limits."""
    if window is None:
        return [
            note(
                "no-limits",
                "No limits are given with the torque. Written as 118 N·m ± 6 %, they show whether "
                "this wrench can keep them.",
                "target",
            )
        ]
    limits = f"{nm(window.least)} to {nm(window.most)}"
    if window.empty:
        share = (window.most - window.least) / (window.most + window.least)
        return [
            stop(
                "tool-unsuitable",
                f"This wrench is unsuitable: no setting is sure to keep within {limits}. It takes "
                f"one that deviates by ± {100 * share:.1f}\u202f% at most. Often the wrench's own "
                "calibration sheet shows that it does; go by its figures then.",
                "target",
            )
        ]
    if not window.holds(setting):
        return [
            stop(
                "no-mark",
                f"No mark of this scale is sure to keep within {limits}: settings from "
                f"{nm(window.low, 4)} to {nm(window.high, 4)} would. Take a wrench with a finer "
                "scale.",
                "step",
            )
        ]
    return [
        note(
            "keeps-limits",
            f"Every setting from {nm(window.low, 4)} to {nm(window.high, 4)} is sure to keep "
            f"within {limits}.",
        )
    ]


def findings_of_calibration(known_by: str, since: int | None) -> list[Finding]:
    """Whether the figures of the wrench can be relied on; ``since`` in months or None."""
    found = []
    if since is not None and since > INTERVAL:
        found.append(
            caution(
                "calibration-due",
                f"Calibrated {since} months ago: a wrench is due after {INTERVAL} months or 5000 "
                "pulls, and after any fall or overload. Take another one.",
                "since",
            )
        )
    if known_by == "class":
        found.append(
            note(
                "class-assumed",
                "The limit of the class holds for a wrench that is within its calibration. What "
                "its sheet found is usually narrower.",
                "known_by",
            )
        )
    return found


ALWAYS = (
    caution(
        "one-click",
        "Stop at the first click. Every further pull adds torque.",
    ),
    note(
        "friction-more",
        "The wrench is the small part: friction in the thread and under the head spreads the "
        "clamp force far more than the wrench does.",
    ),
)
