"""What there is to say about a screw being tightened: findings, in plain numbers.

Forces in N, torques in N·m, stresses in MPa. ``Tightened`` holds the figures as entered with the
ends of the clamp's band.

Sources: 0.9 of the yield strength as the limit of assembly (VDI 2230-1, from memory); pressures
that seats stand and the rest: common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.clamp_friction import STATES, UNCHOSEN
from calculators.fastener_classes import UNKNOWN, FastenerClass, Strength, covers
from calculators.thread_form import ThreadForm
from witnessmark.calc import Finding, Q, caution, note, show, stop

YIELD_SHARE = 0.9
"""Share of the yield strength that a tightened screw may use."""
SEATS = {
    "steel": ("soft steel", 490.0), "hard": ("hardened steel or washer", 1000.0),
    "iron": ("cast iron", 850.0), "aluminium": ("aluminium", 250.0),
}  # fmt: skip
"""Seat to what it is called and the pressure in MPa it stands; common practice."""
WIDE = 0.25
"""A clamp known no better than to this share is told."""
PREVAILING = 0.2
"""A locking nut that takes a larger share of the torque than this is told."""


@dataclass(frozen=True)
class Tightened:
    """A screw at its clamp force: the figures that findings are about.

    ``clamp`` and ``use`` are least, as entered and greatest; ``use`` is the share of the yield
    strength by the rule of VDI 2230, ``elastic`` that of the elastic surface stress.
    """

    form: ThreadForm
    of: FastenerClass
    strength: Strength
    mark: str
    clamp: tuple[float, float, float]
    use: tuple[float, float, float]
    elastic: float
    area: float
    torque: float
    prevailing: float
    undo: float
    pressure: float
    seat: str
    bored: bool


def _kn(force: float, figures: int = 3) -> str:
    return show(Q(force, "N"), "kN", figures)


def _percent(share: float) -> str:
    return show(Q(100 * share, "%"), "%", 2)


def findings_of_friction(state: str, stated: str, other: float | None) -> list[Finding]:
    """What there is to say about the state; ``other`` is the clamp in the state stated."""
    found = []
    if state == UNCHOSEN:
        found.append(
            stop(
                "friction-not-chosen",
                "Choose what is on the thread before you use a figure from here. Until then the "
                "band covers everything from anti-seize to dry.",
                "state",
            )
        )
    elif stated not in ("unstated", state) and state != "own":
        told = f" As stated it would be about {_kn(other)}." if other is not None else ""
        found.append(
            stop(
                "state-differs",
                f"The torque is stated for a thread that is {STATES[stated]}, and this one is "
                f"{STATES[state]}: the clamp is another.{told} Bring the thread into the stated "
                "state, or ask for a torque for this one.",
                "state",
            )
        )
    if state == "locker":
        found.append(
            note(
                "locker-in-torque",
                "Where the maker's torque is stated with threadlocker, nothing is added or taken "
                "off for it.",
            )
        )
    return found


def findings_of_stress(it: Tightened) -> list[Finding]:
    """What the screw stands while it is tightened."""
    found = []
    _, middle, most = it.use
    if middle > YIELD_SHARE * (1 + 1e-9):
        found.append(
            stop(
                "over-yield",
                f"Stretched and twisted at once, the screw uses {_percent(middle)} of its yield "
                f"strength; {_percent(YIELD_SHARE)} is the limit. It will yield and cannot be "
                "trusted again. Check torque, thread, mark and friction.",
            )
        )
    elif most > YIELD_SHARE * (1 + 1e-9):
        found.append(
            caution(
                "near-yield",
                f"At the slippery end of the band the screw uses {_percent(most)} of its yield "
                f"strength; {_percent(YIELD_SHARE)} is the limit.",
            )
        )
    elif it.elastic > YIELD_SHARE * (1 + 1e-9):
        found.append(
            note(
                "surface-near-yield",
                f"Worked out elastically the surface of the screw is at {_percent(it.elastic)} of "
                "its yield strength. The usual rule lets the surface yield a little in torsion.",
            )
        )
    if it.clamp[1] > it.strength.proof * it.area * (1 + 1e-9) and middle <= YIELD_SHARE:
        found.append(
            caution(
                "over-proof",
                f"The clamp is more than the proof load of {_kn(it.strength.proof * it.area)}.",
            )
        )
    if it.mark == UNKNOWN:
        found.append(
            caution(
                "mark-unknown",
                f"Without a mark the screw counts as the weakest there is, {it.of.label}.",
                "mark",
            )
        )
    elif not covers(it.of, it.form.d):
        found.append(
            caution(
                "beyond-class",
                f"The standard of {it.of.label} ends at {it.of.steps[-1][0]:g} mm. The maker's own "
                "figure rules.",
                "mark",
            )
        )
    if it.bored:
        found.append(
            note("hollow-screw", "Tables of torques are for solid screws and do not hold here.")
        )
    name, limit = SEATS[it.seat]
    if it.pressure > limit * (1 + 1e-9):
        found.append(
            caution(
                "seat-pressed",
                f"The face presses with {show(Q(it.pressure, 'MPa'), 'MPa', 3)}; {name} stands "
                f"about {show(Q(limit, 'MPa'), 'MPa', 3)}. It will sink in and lose clamp: use a "
                "hardened washer, if the maker has one there.",
                "seat",
            )
        )
    return found


def findings_of_spread(it: Tightened, by_torque: bool) -> list[Finding]:
    """How well the clamp is known, and what that means."""
    least, middle, most = it.clamp
    found = []
    if by_torque and (most - least) / 2 > WIDE * middle:
        found.append(
            caution(
                "known-only-to",
                f"The clamp is known only to lie between about {_kn(least, 2)} and {_kn(most, 2)}. "
                "Friction makes most of that; a better wrench hardly helps. A test of clamp "
                "against torque does, or tightening by angle where the maker says so.",
            )
        )
    elif by_torque and most > least * (1 + 1e-9):
        found.append(
            note(
                "known-to",
                f"The clamp lies between about {_kn(least, 2)} and {_kn(most, 2)}. The wrench is "
                "the small part of that unless friction is measured on the joint itself.",
            )
        )
    if it.prevailing > PREVAILING * it.torque:
        found.append(
            caution(
                "prevailing-large",
                "The locking part of the nut takes a good share of the torque. Measure it on this "
                "nut as it runs down, and renew the nut where it drags or has gone slack.",
                "prevailing",
            )
        )
    if it.undo <= 0:
        found.append(
            stop(
                "undoes-itself",
                "With so little friction the screw undoes itself. Check the friction and the "
                "thread.",
            )
        )
    return found


def findings_of_method(stretch: str) -> list[Finding]:
    """What the maker's way of tightening asks for."""
    found = [
        note(
            "ceiling-is-no-target",
            "The greatest torque is a limit to check a stated torque against. It is never a torque "
            "to tighten to.",
        )
    ]
    if stretch == "used":
        found.append(
            stop(
                "stretched-before",
                "A screw that has been tightened to yield or by angle is longer than it was. Fit "
                "new ones.",
                "stretch",
            )
        )
    elif stretch == "new":
        found.append(
            caution(
                "needs-angle",
                "Torque alone does not tighten this screw: snug torque and angle are the maker's, "
                "in his order.",
                "stretch",
            )
        )
    return found
