"""What every balancing run asks and what is said of it: trial mass, correction, what may stay.

Angles in degrees, unbalances in g mm, pulls in N.

Source: pull of a mass that runs round, m r omega^2, by hand; limits: common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.balance_vectors import split
from witnessmark.calc import Finding, Q, choice, entry, note, show, stop

HEAVY_PULL = 500.0
"""Pull of a trial mass in N from which its fastening is told about."""

TRIAL_MASS = entry(
    "Trial mass", "10 g", units=("g", "kg", "oz"), above=0, most="5000 g",
    why="A trial mass weighs grams.", help="Weighed with its screw.",
)  # fmt: skip
TRIAL_RADIUS = entry(
    "Trial mass at radius", "170 mm", units=("mm", "in"), above=0, most="1000 mm",
    why="Measured from the axis.",
)  # fmt: skip
REMOVE = choice("Correct by", {"add": "adding mass", "remove": "drilling"}, default="remove")
RADIUS = entry(
    "Correct at radius", "175 mm", units=("mm", "in"), above=0, most="1000 mm",
    why="Measured from the axis.",
)  # fmt: skip
ALLOWED = entry(
    "Unbalance that may stay", "", units=("g·mm", "oz·in"), above=0, most="1000000 g·mm",
    optional=True, why="That flywheel is broken.", seldom=True,
)  # fmt: skip
HOLES = entry(
    "Places to choose from", "12", least=3, most=72, seldom=True,
    why="Three evenly spaced places make every direction.", help="Even, the first at 0°.",
)  # fmt: skip
SPEED = entry(
    "Speed of the runs", "1200 r/min", above=0, most="20000 r/min", seldom=True,
    why="No engine runs there.",
)  # fmt: skip


def pull_of(mass: Any, radius: Any, speed: Any) -> float:
    """What a mass that runs round at a radius pulls with, N."""
    return float(mass.m_as("kg") * radius.m_as("m") * speed.m_as("radian/second") ** 2)


def shared(grams: float, angle: float, holes: int) -> tuple[tuple[Any, ...], ...]:
    """Rows of angle and mass: a correction in g shared between two of evenly spaced places."""
    return tuple((Q(at, "°"), Q(mass, "g")) for at, mass in split(grams, angle, holes))


def about_trial(pull: float) -> Iterator[Finding]:
    """What to mind with a mass that is whirled round; ``pull`` in N."""
    if pull > HEAVY_PULL:
        yield stop(
            "trial-pull",
            f"At that speed the trial mass pulls with {show(Q(pull, 'N'), 'N', 2)}. Screw it on "
            "with its full thread, never with a clamp or tape, or run slower.",
            "trial_mass",
        )
    yield note(
        "guard-the-plane",
        "A trial mass that lets go flies like a shot: bolt it, guard the plane it runs in, "
        "nobody in line with it. Same speed in every run.",
    )


def about_rest(amount: float, may: float | None) -> Iterator[Finding]:
    """Whether the unbalance found may stay, g mm."""
    if may is not None and amount <= may:
        yield note("may-stay", "What was found may stay as it is: do not take metal off.")
