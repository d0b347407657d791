"""Where threadlocker goes, where it must never go, and what to say about a thread's gap.

Sources: bench practice with anaerobic threadlockers, no published source; plating on a
60 degree flank takes four times its thickness from the pitch diameter (1/sin 30 degrees on
each side).
"""

from __future__ import annotations

from typing import Any

from calculators.thread_gap import Thread
from witnessmark.calc import Finding, Q, caution, note, show, stop

MANY_DROPS = 10
LARGE = 20.0
"""From this nominal diameter in mm on, gaps are large and filling and cure are poorer."""

HOLES = {
    "through": "through bolt or shaft with a nut",
    "blind": "bolt in a blind hole",
    "stud": "stud in a tapped hole",
}
WHERE = {
    "through": "On the bolt's thread where the nut will sit, all round, and only there.",
    "blind": "Into the bottom of the hole: the trapped air drives it up the thread. A smear on "
    "the first turns of the bolt, none under the head.",
    "stud": "On the end of the stud that goes into the tapped hole, and a drop into the hole. "
    "None on the nut's end.",
}
PLACES = {
    "none": "none of these",
    "specified": "the maker gives the torque for oiled or dry threads",
    "face": "a taper, a hub or crank flange face, or a shim",
    "seal": "beside a seal lip, a bearing or a sensor",
    "plastic": "stressed plastic touches the thread",
    "oxygen": "an oxygen-rich system",
    "retorque": "the joint is tightened again after running in",
    "dirty": "oil or anti-seize on the thread",
}
NEVER = {
    "specified": "Where the maker gives a torque for oiled or dry threads, threadlocker changes "
    "the friction and with it the tension. Leave it off, or ask the maker for a torque with it.",
    "face": "Threadlocker on a taper, on a clamped face or between shims keeps the parts from "
    "seating. Keep it on the thread only.",
    "seal": "Liquid that runs onto a seal lip, into a bearing or onto a sensor spoils it. Lock "
    "the fastener in another way there.",
    "plastic": "Threadlocker can crack stressed plastic. Lock the fastener in another way.",
    "oxygen": "Threadlocker must not meet oxygen-rich gas: it can burn. Lock the fastener in "
    "another way.",
    "retorque": "Turning the fastener after the cure has begun breaks the bond, and it does not "
    "heal. Lock the joint after the last tightening, or in another way.",
    "dirty": "Threadlocker does not bond through oil and does not set beside anti-seize. Wash "
    "and brush both threads, degrease them and let them dry first.",
}


def findings_of_use(hole: str, place: str, size: Thread, most: int) -> list[Finding]:
    """What there is to say about hole, surroundings and size; ``most`` is the most drops."""
    found = []
    if place != "none":
        found.append(stop(f"never-{place}", NEVER[place]))
    if hole == "blind":
        found.append(
            caution(
                "blind-hole",
                f"Never more than {most} drops in a blind hole: liquid trapped under the bolt "
                "reads as torque, takes tension away and can crack the casting.",
            )
        )
    if most > MANY_DROPS:
        found.append(
            note(
                "bead",
                "That is too many drops to count. Lay a bead round the engaged length and spread "
                "it into the roots; measure one bead with a syringe to learn its volume.",
            )
        )
    if size.d >= LARGE:
        found.append(
            note(
                "large-thread", "Large threads fill and cure less well. Wet both threads all round."
            )
        )
    found.append(
        note(
            "only-where-allowed",
            "Use threadlocker only where the maker allows it, in the grade he names. While wet it "
            "acts as a lubricant: take the torque given for it.",
        )
    )
    return found


def findings_of_gap(
    size: Thread, measured: bool, ends: tuple[float, float], coat: float, fills: Any
) -> list[Finding]:
    """What there is to say about the clearance; lengths in mm, ``ends`` with the plating on."""
    found = []
    low, high = size.clearances
    if measured and not low - 1e-9 <= ends[0] <= high + 1e-9:
        found.append(
            caution(
                "outside-tolerance",
                "The measured clearance lies outside that of a new 6g/6H thread "
                f"({_micrometres(low)} to {_micrometres(high)}). Look for wear, plating or a "
                "stretched bolt, and renew the fastener if in doubt.",
            )
        )
    if ends[1] <= 0:
        found.append(
            stop(
                "plating-fills-gap",
                "The plating takes the whole clearance of even the loosest thread: the parts do "
                "not go together. Check the thickness of the plating.",
                "plating",
            )
        )
    elif ends[0] < -1e-9:
        found.append(
            caution(
                "plating-binds",
                "Plating takes four times its thickness from the clearance, here more than the "
                "allowance of a 6g bolt. A tight thread will bind: try it dry, by hand, first.",
                "plating",
            )
        )
    elif coat > 0:
        found.append(
            note(
                "plating",
                "Plating takes four times its thickness from the clearance, here "
                f"{_micrometres(4 * coat)}. On zinc and cadmium the cure is slow, too.",
            )
        )
    if fills is not None and ends[1] / 2 > fills.m_as("millimeter") + 1e-9:
        found.append(
            caution(
                "gap-too-wide",
                f"A loose thread leaves {_micrometres(ends[1] / 2)} on the unloaded flank, more "
                "than this grade fills. Take a grade for wider gaps or a closer thread.",
                "fills",
            )
        )
    return found


def _micrometres(length: float) -> str:
    return show(Q(length, "mm"), "µm", 3)
