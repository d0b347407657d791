"""Unbalance from four runs without phase: only how strongly it shakes is read.

Purpose at the bench: no strobe, only a vibration meter. One run as found, three with the same
trial mass at three places a third of a turn apart. The three readings tell where the heavy
spot is and how much it is.

V_i = k |U + T e^(j theta_i)|. Over three places a third of a turn apart
A^2 = (sum of V_i^2)/3 - V_0^2 = (k T)^2, U = T V_0/A,
at atan2(sum of V_i^2 sin theta_i, sum of V_i^2 cos theta_i). The same sum must have the
length 3 V_0 A: how far it has not is the measure of trust. The correction is set opposite, or
the metal taken at the heavy spot; between two places it is split so that they add up.

Symbols: V readings, T trial unbalance, U unbalance, k answer of the machine.

Assumptions: the machine answers in proportion; the speed is the same in all runs; angles
count on the rotor, all in one sense.

Sources: vector algebra; ISO 21940-11 for what may stay.
"""

from __future__ import annotations

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
from calculators.balance_vectors import (
    BY_HAND,
    ISO_21940,
    PRACTICE,
    draw_rotor,
)
from witnessmark.calc import (
    Angle,
    CheckValue,
    Count,
    Drawing,
    Finding,
    Force,
    Formula,
    Fraction,
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
    column,
    entry,
    note,
    result,
    show,
    table_result,
)

MADE = Source(
    "readings-made-from-a-vector",
    "Readings made from a known unbalance by adding vectors in the plane",
    kind="derivation",
)
TRUST = 0.05
LIGHT = 0.2
"""Below this share of the first reading the trial mass tells too little."""
_ANSWER = "Any unit, the same for all four."


@dataclass(frozen=True)
class BalanceRuns:
    """How much, where, and what to do about it."""

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
    heavy: Angle = result("Heavy spot at", rounding=Rounding(decimals=0), band=False, seldom=True)
    trust: Fraction = result(
        "Readings agree to", unit="%", us_unit="%", rounding=Rounding(decimals=1), seldom=True,
        band=False, help="100 % where all four fit one vector.",
    )  # fmt: skip
    pull: Force = result("Pull on the trial mass", rounding=Rounding(figures=2), seldom=True)
    trial: Unbalance = result("Trial unbalance", rounding=Rounding(figures=3), seldom=True)
    findings: tuple[Finding, ...] = ()


_NOTED = {
    "first": "6.2400", "at_0": "3.8995", "at_120": "7.1646", "at_240": "8.3997",
    "trial_mass": "0.2 g", "trial_radius": "100 mm", "radius": "100 mm", "remove": "add",
}  # fmt: skip


@calculator(
    name="balance-four-runs",
    title="Balance from four runs, without phase",
    topic="runout and balance",
    purpose="Amount and place of an unbalance from four readings of how strongly it shakes.",
    formulas=(
        Formula(r"A^2 = \frac{1}{3}\sum V_i^2 - V_0^2", "Answer to the trial mass"),
        Formula(r"U = T\,\frac{V_0}{A}", "Unbalance"),
        Formula(
            r"\varphi = \mathrm{atan2}\left(\sum V_i^2 \sin\theta_i,\ \sum V_i^2 \cos\theta_i"
            r"\right)",
            "Heavy spot",
        ),
        Formula(
            r"U_1 = U\,\frac{\sin(\theta_2 - \theta)}{\sin(\theta_2 - \theta_1)}",
            "Share of one of two places",
        ),
    ),
    symbols=(
        Symbol("V_0", "reading as found", "any"),
        Symbol("V_i", "readings with the trial mass", "same"),
        Symbol("T", "trial unbalance, mass times radius", "g·mm"),
        Symbol(r"\theta_i", "place of the trial mass", "°"),
    ),
    assumptions=(
        "One speed for all runs; the machine shakes in proportion to the unbalance.",
        "Angles on the rotor, all in one sense, seen from the numbered side.",
        "One plane: a rotor like a disc.",
    ),
    sources=(MADE, ISO_21940, PRACTICE),
    check_values=(
        CheckValue(
            "made from 48 g·mm at 200°, trial 20 g·mm", _NOTED,
            {"unbalance": "48.00 g·mm", "heavy": "200.0 °", "at": "20.0 °", "mass": "0.480 g"},
            source=MADE,
        ),
        CheckValue(
            "the same readings to two decimals",
            _NOTED | {"at_0": "3.90", "at_120": "7.16", "at_240": "8.40", "first": "6.24"},
            {"unbalance": "48.07 g·mm", "heavy": "200.08 °"}, source=MADE,
        ),
        CheckValue(
            "drilling is done at the heavy spot", _NOTED | {"remove": "remove"},
            {"at": "200.0 °"}, source=BY_HAND,
        ),
        CheckValue(
            "by hand: heavy at place 0, as much as the trial mass",
            {"first": "1", "at_0": "2", "at_120": "1", "at_240": "1", "trial_mass": "10 g",
             "trial_radius": "100 mm", "radius": "200 mm"},
            {"unbalance": "1000 g·mm", "heavy": "0.0 °", "mass": "5.00 g", "trust": "100.0 %"},
            source=BY_HAND, remark="|1 + 1|, |1 + e^(120°)| twice.",
        ),
        CheckValue(
            "10 at 20° between 0° and 60°: 7.422 and 3.949",
            {"first": "1", "at_0": "1.969616", "at_120": "1.285575", "at_240": "0.684040",
             "trial_mass": "10 g", "trial_radius": "1000 mm", "radius": "1000 mm", "holes": "6"},
            {"unbalance": "10000 g·mm", "at": "20.0 °"}, source=BY_HAND, rel=1e-4,
            remark="Readings 2 cos 10°, 2 cos 50°, 2 cos 70°; the places take 7.42 g and 3.95 g.",
        ),
        CheckValue(
            "1 g at 120 mm and 6000 r/min pulls with 47 N",
            {"trial_mass": "1 g", "trial_radius": "120 mm", "speed": "6000 r/min"},
            {"pull": "47.37 N"}, source=BY_HAND, remark="0.001 × 0.12 × 628.3².",
        ),
        CheckValue(
            "readings that fit no vector",
            {"first": "4", "at_0": "3.5", "at_120": "3.4", "at_240": "2.0"}, source=PRACTICE,
            refused=("first",),
        ),
    ),
)  # fmt: skip
def balance_four_runs(
    *,
    first: Number = entry(
        "Reading as found", "3.20", above=0, most=1e6, why="Nothing shakes.", help=_ANSWER
    ),
    at_0: Number = entry(
        "With the trial mass at 0°", "3.07", least=0, most=1e6, why="A reading."
    ),
    at_120: Number = entry(
        "With the trial mass at 120°", "2.48", least=0, most=1e6, why="A reading."
    ),
    at_240: Number = entry(
        "With the trial mass at 240°", "4.88", least=0, most=1e6, why="A reading."
    ),
    trial_mass: Mass = TRIAL_MASS,
    trial_radius: Length = TRIAL_RADIUS,
    remove: str = REMOVE,
    radius: Length = RADIUS,
    allowed: Unbalance | None = ALLOWED,
    holes: Count = HOLES,
    speed: RotationalSpeed = SPEED,
) -> BalanceRuns:  # fmt: skip
    """Unbalance from four readings; see the module's docstring."""
    v0, *runs = (v.m_as("") for v in (first, at_0, at_120, at_240))
    square = sum(v**2 for v in runs) / 3 - v0**2
    if square <= 1e-12 * v0**2:
        raise RefusedError(
            "first",
            "With the trial mass it shakes no more than without, on average: these four readings "
            "fit no unbalance. Repeat them at one steady speed, or take a heavier trial mass.",
        )
    answer = math.sqrt(square)
    turns = [math.radians(120 * k) for k in range(3)]
    x, y = (
        sum(v**2 * of(turn) for v, turn in zip(runs, turns, strict=True))
        for of in (math.cos, math.sin)
    )
    trial = trial_mass.m_as("gram") * trial_radius.m_as("mm")
    amount = trial * v0 / answer
    heavy = round(math.degrees(math.atan2(y, x)), 5) % 360
    where = heavy if remove == "remove" else (heavy + 180) % 360
    trust = math.hypot(x, y) / (3 * v0 * answer)
    pull = pull_of(trial_mass, trial_radius, speed)
    grams = amount / radius.m_as("mm")
    may = allowed.m_as("gram*millimeter") if allowed is not None else None
    return BalanceRuns(
        mass=Q(grams, "g"),
        at=Q(where, "°"),
        places=shared(grams, where, holes),
        unbalance=Q(amount, "g·mm"),
        heavy=Q(heavy, "°"),
        trust=Q(round(min(trust, 1 / trust), 9) if trust > 0 else 0.0, ""),
        pull=Q(pull, "N"),
        trial=Q(trial, "g·mm"),
        findings=tuple(_findings(trust, answer / v0, pull, amount, may, remove == "remove")),
    )  # fmt: skip


def _findings(
    trust: float, light: float, pull: float, amount: float, may: float | None, drilling: bool
) -> Iterator[Finding]:
    if abs(trust - 1) > TRUST + 1e-9:
        yield caution(
            "readings-disagree",
            f"The four readings fit one vector only to {show(Q(100 * trust, '%'), '%', 3)} of its "
            "length: the speed drifted, something is loose, or it shakes for another reason than "
            "unbalance. Repeat the runs before metal is taken off.",
        )
    if light < LIGHT - 1e-9:
        yield caution(
            "trial-too-light",
            "The trial mass changes the readings so little that amount and place are uncertain. "
            "Take two to five times as much.",
            "trial_mass",
        )
    yield from about_trial(pull)
    yield from about_rest(amount, may)
    if drilling:
        yield note(
            "drill-heavy",
            "Drill at the heavy spot, in two passes; to add mass it is the spot opposite.",
        )


@balance_four_runs.drawing("The rotor and its heavy spot")
def _draw(entries: Any, results: BalanceRuns) -> Drawing:
    word = "drill" if entries.remove == "remove" else "add"
    heavy = (results.heavy.m_as("degree"), "heavy")
    spots = [(angle.m_as("degree"), show(mass, "g", 2)) for angle, mass in results.places]
    return draw_rotor(heavy, spots, word, (0, 120, 240))
