"""The entries that choose a thread, alike in every calculator that asks for one.

A thread is chosen with its pitch from the tables, or measured: nominal diameter and pitch.
There is no way to give a diameter alone.
"""

from __future__ import annotations

from typing import Any

from calculators.thread_form import ThreadForm
from calculators.thread_sizes import CHOICES, THREADS, is_standard, look_alikes
from witnessmark.calc import Finding, Q, RefusedError, caution, choice, entry, note, show

OTHER = "other"
BIG = 24.0
"""From this nominal diameter in mm upward a nut may be a central nut, with customs of its own."""


def thread_choice(default: str) -> Any:
    """The choice of a thread: every one of the tables, or one that was measured."""
    return choice(
        "Thread", CHOICES | {OTHER: "another, measured"}, default=default,
        help="Find diameter and pitch with the thread gauge; the pitch is never guessed.",
    )  # fmt: skip


DIAMETER = entry(
    "Nominal diameter", "28 mm", units=("mm", "in"), least="3 mm", most="80 mm",
    why="Threads from 3 mm to 80 mm are worked out here.", when={"thread": OTHER},
    help="The whole size above the diameter measured over the crests of the bolt.",
)  # fmt: skip
"""Nominal diameter of a thread that the tables do not hold."""

PITCH = entry(
    "Pitch", "1.5 mm", units=("mm", "in"), least="0.35 mm", most="6 mm",
    why="Pitches from 0.35 mm to 6 mm are worked out here.", when={"thread": OTHER},
    help="With the thread gauge, or ten turns measured and divided; 1/20 in is 20 to the inch.",
)  # fmt: skip
"""Pitch of a thread that the tables do not hold."""

SYSTEM = choice(
    "Kind of thread", {"metric": "metric", "unified": "unified (inch)"}, default="metric",
    when={"thread": OTHER}, seldom=True,
)  # fmt: skip
"""Profile of a thread that the tables do not hold."""


def chosen_thread(thread: str, diameter: Any, pitch: Any, system: str) -> ThreadForm:
    """The thread's form. Refuses a pitch that is no part of such a diameter."""
    if thread != OTHER:
        return THREADS[thread]
    d, p = float(diameter.m_as("millimeter")), float(pitch.m_as("millimeter"))
    if p > 0.25 * d:
        raise RefusedError(
            "pitch",
            f"A pitch of {show(pitch, 'mm')} is too coarse for {show(diameter, 'mm')}. Check both; "
            "turns in an inch are written as 1/20 in.",
        )
    name = f"{d / 25.4:.4g} in, {25.4 / p:.3g} to the inch" if system == "unified" else (
        f"M{d:.4g}x{p:.4g}"
    )  # fmt: skip
    return ThreadForm(name, d, p, unified=system == "unified")


def findings_of_thread(form: ThreadForm) -> list[Finding]:
    """What is easily mistaken about a thread: a pair of no table, its look-alikes, a big nut."""
    found = []
    if not is_standard(form.d, form.pitch):
        found.append(
            caution(
                "thread-not-standard",
                f"{form.label} is in none of the tables. Check diameter and pitch with thread "
                "gauge and caliper; a worn thread reads small.",
                "pitch",
            )
        )
    alike = look_alikes(form)
    if alike:
        names = ", ".join(other.label for other in alike)
        found.append(
            caution(
                "look-alike",
                f"{form.label} is easily taken for {names}. Bolt and nut must run together by hand "
                "over the whole length; two turns prove nothing.",
                "thread",
            )
        )
    if form.d >= BIG:
        found.append(
            note(
                "central-nut",
                "Central nuts follow no table: their pitch, their width across flats and their "
                "hand are the maker's own. Measure them, and look which way the thread runs "
                "before you put a bar on.",
            )
        )
    return found


def diameter_text(diameter: float) -> str:
    """A diameter in mm as the drawings write it."""
    return show(Q(diameter, "mm"), "mm", 4)
