"""Unbalance from two runs with phase: the influence coefficient of one plane.

Purpose at the bench: a meter with a strobe or a pick-up gives strength and angle. One run as
found, one with a trial mass; what changed between them is the answer to the trial mass, and
what would undo the first reading follows from it.

alpha = (V_1 - V_0)/U_t, U_c = -V_0/alpha with the trial mass taken off again; left on,
U_c = -V_1/alpha. All are vectors. A correction misplaced by delta leaves 2 U sin(delta/2).

Symbols: V readings, U_t trial unbalance, U_c correction, alpha influence coefficient.

Assumptions: one speed; proportion; phase and places count in one sense on the rotor (the
meter's lag is against the rotation as a rule: choose accordingly).

Sources: complex algebra of one plane, ISO 21940-11 for what may stay.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.balance_correction import (
    ALLOWED,
    HOLES,
    RADIUS,
    REMOVE,
    SPEED,
    TRIAL_MASS,
    TRIAL_RADIUS,
    about_rest,
    about_trial,
    pull_of,
    shared,
)
from calculators.balance_vectors import BY_HAND, ISO_21940, PRACTICE
from witnessmark.calc import (
    Angle,
    CheckValue,
    Count,
    Drawing,
    Finding,
    Force,
    Formula,
    Length,
    Mass,
    Number,
    Q,
    RefusedError,
    RotationalSpeed,
    Rounding,
    Source,
    Symbol,
    Unbalance,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    show,
    table_result,
)

COMPLEX = Source(
    "influence-coefficient", "Influence coefficient of one plane in complex numbers, by hand",
    kind="derivation",
)  # fmt: skip
LIGHT = 0.25
"""Below this change, as a share of the first reading, the trial mass tells too little."""


@dataclass(frozen=True)
class BalancePhase:
    """The correction, where, and what an error of ten degrees leaves."""

    mass: Mass = result("Correct by", lead=True, unit="g", us_unit="oz",
                        rounding=Rounding(figures=3))  # fmt: skip
    at: Angle = result(
        "At", rounding=Rounding(decimals=0), band=False, help="From place 0, in its sense."
    )
    places: tuple[tuple[Any, ...], ...] = table_result(
        "Or shared between two places",
        columns=(column("At", Angle, rounding=Rounding(decimals=0)),
                 column("Mass", Mass, unit="g", rounding=Rounding(figures=3))),
    )  # fmt: skip
    unbalance: Unbalance = result("Unbalance found", rounding=Rounding(figures=3))
    misplaced: Unbalance = result(
        "Left if it is put 10° wrong", rounding=Rounding(figures=2), seldom=True
    )
    change: Number = result(
        "Reading changed by", rounding=Rounding(figures=3), seldom=True,
        help="Length of the difference of the two vectors.",
    )  # fmt: skip
    lag: Angle = result(
        "Reading turned against the unbalance by",
        rounding=Rounding(decimals=0),
        seldom=True,
        band=False,
    )
    pull: Force = result("Pull on the trial mass", rounding=Rounding(figures=2), seldom=True)
    findings: tuple[Finding, ...] = ()


@calculator(
    name="balance-two-runs",
    title="Balance from two runs, with phase",
    topic="runout and balance",
    purpose="Amount and place of a correction from two readings with their angles.",
    formulas=(
        Formula(r"\alpha = \frac{V_1 - V_0}{U_t}", "Influence coefficient"),
        Formula(r"U_c = -\frac{V_0}{\alpha}", "Correction, trial mass taken off again"),
        Formula(r"U_c = -\frac{V_1}{\alpha}", "Correction, trial mass left on"),
        Formula(r"2\,U \sin\frac{\delta}{2}", "Left after a correction misplaced by an angle"),
    ),
    symbols=(
        Symbol("V_0, V_1", "readings as found and with the trial mass, vectors", "any"),
        Symbol("U_t, U_c", "trial and correction, vectors", "g·mm"),
        Symbol(r"\delta", "error of the place", "°"),
    ),
    assumptions=(
        "One speed for both runs; the machine shakes in proportion to the unbalance.",
        "One plane: a rotor like a disc.",
        "Angles from place 0 on the rotor; a meter's phase that counts the other way is turned "
        "over.",
    ),
    sources=(COMPLEX, ISO_21940, PRACTICE),
    check_values=(
        CheckValue(
            "trial mass as large as the unbalance, at a right angle",
            {"first": "1", "first_angle": "0°", "second": "1.4142136", "second_angle": "45°",
             "trial_mass": "10 g", "trial_angle": "90°", "trial_radius": "100 mm",
             "radius": "100 mm", "remove": "add"},
            {"mass": "10.00 g", "at": "180.0 °", "unbalance": "1000 g·mm", "lag": "0 °"},
            source=BY_HAND, remark="V1 - V0 = j, α = 1 for an U_t of 1000.",
        ),
        CheckValue(
            "the same with the trial mass left on",
            {"first": "1", "first_angle": "0°", "second": "1.4142136", "second_angle": "45°",
             "trial_mass": "10 g", "trial_angle": "90°", "trial_radius": "100 mm",
             "radius": "100 mm", "remove": "add", "trial": "on"},
            {"mass": "14.142 g", "at": "225.0 °"}, source=BY_HAND,
        ),
        CheckValue(
            "a meter that lags by 60°",
            {"first": "2", "first_angle": "60°", "second": "4", "second_angle": "60°",
             "trial_mass": "10 g", "trial_angle": "0°", "trial_radius": "100 mm",
             "radius": "50 mm"},
            {"mass": "20.00 g", "at": "0.0 °", "lag": "60.0 °"}, source=BY_HAND,
            remark="The trial mass doubles it: heavy at 0°, drill there.",
        ),
        CheckValue(
            "ten degrees wrong leaves 17.4 %",
            {"first": "1", "first_angle": "0°", "second": "2", "second_angle": "0°",
             "trial_mass": "10 g", "trial_angle": "0°", "trial_radius": "100 mm"},
            {"misplaced": "174.3 g·mm", "unbalance": "1000 g·mm"}, source=BY_HAND,
            remark="2 sin 5°.",
        ),
        CheckValue(
            "a trial mass that changes nothing",
            {"second": "3.20", "second_angle": "40°", "first": "3.20", "first_angle": "40°"},
            source=PRACTICE, refused=("second",),
        ),
    ),
)  # fmt: skip
def balance_two_runs(
    *,
    first: Number = entry("Reading as found", "3.20", above=0, most=1e6, why="Nothing shakes."),
    first_angle: Angle = entry(
        "its angle", "40°", units=("°",), least="-360°", most="360°", why="An angle."
    ),
    second: Number = entry(
        "With the trial mass", "2.60", least=0, most=1e6, why="A reading.",
        help="In the same unit.",
    ),
    second_angle: Angle = entry(
        "its angle then", "75°", units=("°",), least="-360°", most="360°", why="An angle."
    ),
    trial_mass: Mass = TRIAL_MASS,
    trial_angle: Angle = entry(
        "Trial mass at", "0°", units=("°",), least="-360°", most="360°", why="An angle."
    ),
    trial_radius: Length = TRIAL_RADIUS,
    remove: str = REMOVE,
    radius: Length = RADIUS,
    trial: str = choice(
        "The trial mass", {"off": "comes off again", "on": "stays on"}, default="off", seldom=True
    ),
    sense: str = choice(
        "The meter's angle counts",
        {"same": "in the sense of the places", "against": "the other way"},
        default="same", seldom=True,
    ),
    allowed: Unbalance | None = ALLOWED,
    holes: Count = HOLES,
    speed: RotationalSpeed = SPEED,
) -> BalancePhase:  # fmt: skip
    """Correction from two vectors; see the module's docstring."""
    turn = -1 if sense == "against" else 1
    v0 = cmath.rect(first.m_as(""), turn * first_angle.m_as("rad"))
    v1 = cmath.rect(second.m_as(""), turn * second_angle.m_as("rad"))
    change = abs(v1 - v0)
    if change < 1e-9 * abs(v0):
        raise RefusedError(
            "second",
            "The trial mass has changed nothing: take a heavier one, or the meter does not see "
            "the flywheel.",
        )
    weight = trial_mass.m_as("gram") * trial_radius.m_as("mm")
    alpha = (v1 - v0) / cmath.rect(weight, trial_angle.m_as("rad"))
    correction = -(v1 if trial == "on" else v0) / alpha
    light = _degrees(correction)
    where = light if remove == "add" else (light + 180) % 360
    amount = abs(correction)
    grams = amount / radius.m_as("mm")
    pull = pull_of(trial_mass, trial_radius, speed)
    may = allowed.m_as("gram*millimeter") if allowed is not None else None
    return BalancePhase(
        mass=Q(grams, "g"),
        at=Q(where, "°"),
        places=shared(grams, where, holes),
        unbalance=Q(round(amount, 7), "g·mm"),
        misplaced=Q(2 * amount * math.sin(math.radians(5)), "g·mm"),
        change=Q(change, ""),
        lag=Q(_degrees(alpha), "°"),
        pull=Q(pull, "N"),
        findings=tuple(_findings(change / abs(v0), pull, amount, may, trial == "on")),
    )  # fmt: skip


def _degrees(vector: complex) -> float:
    """The angle of a vector, 0 to 360."""
    return round(math.degrees(cmath.phase(vector)), 5) % 360


def _findings(
    change: float, pull: float, amount: float, may: float | None, left_on: bool
) -> Iterator[Finding]:
    if change < LIGHT - 1e-9:
        yield caution(
            "trial-too-light",
            "The trial mass changes the vector by less than a quarter: amount and place are "
            "uncertain. Take two to five times as much.",
            "trial_mass",
        )
    yield from about_trial(pull)
    yield from about_rest(amount, may)
    yield note(
        "trial-on-or-off",
        "This correction is for the rotor with the trial mass "
        + ("left where it is." if left_on else "taken off again: take it off."),
    )
    yield note(
        "sense-of-phase",
        "Check the sense once: move the trial mass on by 90° and see that the change turns by "
        "90° the same way. Many meters count against the rotation.",
        "sense",
    )


@balance_two_runs.drawing("The two readings and the change")
def _draw(entries: Any, results: BalancePhase) -> Drawing:
    sheet = Drawing(
        "The two readings and the change",
        "Vectors of the readings as found and with the trial mass, angle 0 at the top; the dashed "
        f"line is the change. Correct by {show(results.mass, 'g', 2)} at "
        f"{show(results.at, '°', 3)}.",
        max_height=270,
    )
    longest = max(entries.first.m_as(""), entries.second.m_as(""))
    ends = []
    for strength, angle, name in (
        (entries.first, entries.first_angle, "as found"),
        (entries.second, entries.second_angle, "with trial mass"),
    ):
        reach, turn = 40 * strength.m_as("") / longest, math.pi / 2 - angle.m_as("rad")
        tip = (reach * math.cos(turn), reach * math.sin(turn))
        sheet.line((0, 0), tip)
        sheet.label(tip, name, round(math.degrees(turn), 3))
        ends.append(tip)
    if math.dist(*ends) > 1e-6:
        sheet.line(ends[0], ends[1], "hidden")
    sheet.circle((0, 0), 44, "centre")
    sheet.text((0, 45), "0°", "n")
    turn = math.pi / 2 - results.at.m_as("rad")
    spot = (44 * math.cos(turn), 44 * math.sin(turn))
    word = "drill" if entries.remove == "remove" else "add"
    sheet.mark(spot, f"{word} {show(results.mass, 'g', 2)}", round(math.degrees(turn), 3),
               strong=True)  # fmt: skip
    return sheet
