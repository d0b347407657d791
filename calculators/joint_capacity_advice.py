"""What there is to say about a flywheel joint against the engine's peaks.

Sources: safety 1.5 of the least friction, 2 where a clutch bites (common practice); the rest is
bench practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.wrench_scale import nm
from witnessmark.calc import Finding, Q, caution, note, show, stop

WANTED = {"smooth": 1.5, "shock": 2.0}
"""Safety that the least friction is to have."""
LOSS = 0.1
"""Share of the clamp whose loss is told."""


@dataclass(frozen=True)
class Held:
    """A joint: safety of the least friction, the peak and what the dowels hold, in N·m."""

    safety: float
    peak: float
    dowels: float | None
    tight_dowels: bool
    use: str
    faces: str
    lost: float
    spread: float
    held: str


def findings_of_joint(it: Held) -> list[Finding]:
    """Safety first, then dowels, faces and clamp."""
    return [*_of_safety(it), *_of_dowels(it), *_of_faces(it), *_always(it)]


def _of_safety(it: Held) -> list[Finding]:
    wanted = WANTED[it.use]
    if it.safety < 1:
        backed = it.dowels is not None and it.dowels >= it.peak
        tail = (
            "The joint slips at the peaks and the dowels carry them."
            if backed
            else "Nothing else is sure to carry them."
        )
        level = caution if backed and it.tight_dowels else stop
        return [
            level(
                "friction-too-little",
                f"At its least the friction carries {it.safety:.2f} times the peak of "
                f"{nm(it.peak)}. {tail} See to the state of the faces, the torque and the thread "
                "before anything runs.",
            )
        ]
    if it.safety < wanted:
        return [
            caution(
                "friction-near",
                f"At its least the friction carries {it.safety:.2f} times the peak; {wanted:g} is "
                "wanted. Clean, dry faces and the full torque are what it hangs on.",
            )
        ]
    return [
        note(
            "friction-carries",
            f"Friction alone carries the peaks, even at its least: {it.safety:.1f} times. The "
            "dowels only place the flywheel.",
        )
    ]


def _of_dowels(it: Held) -> list[Finding]:
    if it.dowels is None:
        return []
    if it.dowels < it.peak:
        return [
            caution(
                "dowels-too-weak",
                f"The dowels hold {nm(it.dowels)}, less than the peak. They would not stop a joint "
                "that slips.",
                "dowels",
            )
        ]
    if not it.tight_dowels:
        return [
            note(
                "dowels-backup",
                f"The dowels hold {nm(it.dowels)} but have play: they take nothing until the "
                "joint has slipped, and then they fret. They are not added to the friction.",
            )
        ]
    return [
        note(
            "dowels-share",
            f"Tight dowels hold {nm(it.dowels)}, counted as if two thirds of them shared it. They "
            "are not added to the friction.",
        )
    ]


def _of_faces(it: Held) -> list[Finding]:
    found = []
    if it.faces == "oily":
        found.append(
            caution(
                "faces-oily",
                "Oil on the faces takes a third of the friction away. Wash both with residue-free "
                "cleaner and touch them no more.",
                "faces",
            )
        )
    if it.faces == "layer":
        found.append(
            caution(
                "faces-layer",
                "A gasket or sealant between the faces slides more easily and creeps. Only where "
                "the maker puts one, only one, and tightened again only as the maker says.",
                "faces",
            )
        )
    if it.lost > LOSS:
        found.append(
            caution(
                "clamp-lost",
                f"{show(Q(100 * it.lost, '%'), '%', 2)} of the clamp goes as the joint settles. "
                "Fewer and harder layers, longer screws or smoother faces keep more of it.",
                "settled",
            )
        )
    return found


def _always(it: Held) -> list[Finding]:
    found = [
        note(
            "spread",
            f"From least to greatest friction and clamp the joint's hold differs by a factor of "
            f"{it.spread:.1f}. The least one counts.",
        ),
        note(
            "not-in-it",
            "Torsional vibration, a seized engine or a clutch that bites can exceed these peaks "
            "by far. The engine maker's joint wins over this sum.",
        ),
    ]
    if it.held == "nut":
        found.insert(
            0,
            note(
                "one-face",
                "Only the face between flywheel and crankshaft counts. The face under the nut "
                "would turn the nut.",
            ),
        )
    return found
