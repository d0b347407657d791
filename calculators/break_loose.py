"""Torque that breaks a locked nut loose, and the tool for it.

Purpose at the bench: will the tool do it, how large a one is needed, and is heat worth it.

T = s F (a_L(mu) + mu D_K/2) + k T_a. F is the clamp: entered, or from the tightening torque with
the friction of that day, F = T_t/(a_G + mu D_K/2). a_L = (d2/2) tan(rho' - phi) is the thread
undone, D_K where the face rubs, as in ``calculators.thread_friction``. T_a is the bond of the
threadlocker (``calculators.thread_bond``), k what a warm bond keeps of it, and s how much
tighter the thread has seized with the years.

If the friction is still what it was, F and mu cancel nearly and the estimate is close; if it has
changed, which is usual, it is wide. Both friction entries then vary by themselves.

Symbols: T torque, F clamp, mu friction, d2, P thread, D_K face, m engagement, tau shear strength
of the bond, s seizing, k share of the bond when warm.

Assumptions: the nut or head that was turned to tighten is turned to undo; friction alike in
thread and face; clamp as it was on the day. Rust has no formula: the figure is then the least.

Sources: ISO 16047 (thread and face), ISO 10964 (meaning of the torques), derivations; ranges of
friction, seizing and bond: common practice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators.break_loose_advice import (
    ALWAYS,
    LONG_BAR,
    NEAR,
    RESERVE,
    STEADY,
    Stuck,
    findings_of_data,
    findings_of_heat,
    findings_of_history,
    findings_of_tool,
)
from calculators.break_loose_sources import BY_HAND, CHECK_VALUES, ISO_10964, LINEAR, PRACTICE
from calculators.chosen_thread import DIAMETER, PITCH, SYSTEM, chosen_thread, thread_choice
from calculators.clamp_friction import face_of
from calculators.drive_square import ISO_3315, SQUARES
from calculators.rated_tools import (
    REACTION_BAR_MOST,
    SOCKET_MOST,
    SOCKET_SQUARE,
    findings_of_bar_used,
    findings_of_socket_used,
)
from calculators.shop_tools import REACTION_BAR, SOCKET
from calculators.thread_bond import (
    bond_of_strength,
    bond_of_test,
    friction_in_test,
    hot_share,
)
from calculators.thread_friction import face_arm, face_diameter, loosening_arm, thread_arm
from calculators.wrench_entries import TORQUES
from witnessmark.calc import (
    Bars,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Number,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Stress,
    Symbol,
    Temperature,
    Torque,
    calculator,
    choice,
    column,
    entry,
    later,
    number,
    result,
    show,
    table,
    text_result,
)

NM = Rounding(step="5 N·m", us_step="5 lbf·ft")


@dataclass(frozen=True)
class BreakLoose:
    """The torque, the tool for it and what it is made of."""

    torque: Torque | None = result("It lets go at about", lead=True, rounding=NM)
    least: Torque | None = result("It takes at least", lead=True, rounding=NM)
    tool: Torque = result(
        "Take a tool for", rounding=Rounding(step="10 N·m", us_step="10 lbf·ft", toward="up"),
        band=False, help="Twice the estimate.",
    )  # fmt: skip
    way: str = text_result("That is")
    hot: Torque | None = result("Warmed, it lets go at about", rounding=NM)
    bond: Torque = result("Of it, the threadlocker holds", rounding=NM, seldom=True)
    friction: Torque = result("Of it, friction holds", rounding=NM, seldom=True)
    clamp_now: Force = result("Clamp force", unit="kN", us_unit="lbf", seldom=True)
    square: str = text_result("Drive square at least", seldom=True)
    findings: tuple[Finding, ...] = ()


@calculator(
    name="break-loose",
    title="Torque that breaks a locked nut loose",
    topic="torque",
    purpose="Estimates what it takes to undo a nut that is clamped, seized and bonded, how large "
    "a tool that asks for, and whether heat helps.",
    formulas=(
        Formula(
            r"T = s\,F\left(\frac{d_2}{2}\tan(\rho' - \varphi) + \mu\frac{D_K}{2}\right) + k\,T_a",
            "Torque to undo",
        ),
        Formula(r"T_a = \tau\,\pi\,d_2\,m\,\frac{d_2}{2}", "Bond from its shear strength"),
        Formula(
            r"T_a = T_\mathrm{ref}\left(\frac{d_2}{d_{2,\mathrm{ref}}}\right)^{n-1}"
            r"\frac{m}{m_\mathrm{ref}}",
            "Bond from a test on M10 × 1.5",
        ),
        Formula(
            r"\tan\varphi = \frac{P}{\pi\,d_2},\quad \tan\rho' = \frac{\mu}{\cos 30^\circ}",
            "Slope of the thread and its angle of friction",
        ),
    ),
    symbols=(
        Symbol("F", "clamp force", "N"),
        Symbol(r"\mu", "friction of thread and face while undoing", "1"),
        Symbol("d_2, P", "pitch diameter and pitch", "mm"),
        Symbol("D_K", "diameter at which the face rubs", "mm"),
        Symbol("T_a", "torque of the bond", "N·m"),
        Symbol(r"\tau, m", "shear strength of the bond, engagement", "MPa, mm"),
        Symbol("n", "exponent of size, 2.6 to 3", "1"),
        Symbol("s", "seizing, as a factor on the friction", "1"),
        Symbol("k", "share of the bond that is left when warm", "1"),
    ),
    assumptions=(
        "What was turned to tighten is turned to undo.",
        "Thread and face have one friction.",
        "The clamp is what it was on the day; heat does not lower it.",
        "A rusted thread takes any amount more than the figure.",
    ),
    sources=(BY_HAND, LINEAR, ISO_10964, ISO_3315, PRACTICE),
    tools=(REACTION_BAR, SOCKET),
    check_values=CHECK_VALUES,
)  # fmt: skip
def break_loose(
    *,
    thread: str = thread_choice("M30x2"),
    diameter: Length = DIAMETER,
    pitch: Length = PITCH,
    system: str = SYSTEM,
    clamp_by: str = choice(
        "The clamp is known from", {"torque": "its tightening torque", "clamp": "its force"},
        default="torque", seldom=True,
    ),
    torque: Torque = entry(
        "Tightened with", "480 N·m", units=TORQUES, least="1 N·m", most="5000 N·m",
        when={"clamp_by": "torque"}, why="Torques up to 5000 N·m are worked out here.",
    ),
    clamp: Force = entry(
        "Clamp force", "90 kN", units=("kN", "N", "lbf"), above=0, most="2000 kN",
        when={"clamp_by": "clamp"}, why="Clamps up to 2000 kN are worked out here.",
    ),
    mu_then: Number = entry(
        "Friction when it was tightened", "0.10 … 0.16", least=0.04, most=0.5,
        usual=("0.08", "0.24"), when={"clamp_by": "torque"}, seldom=True,
        why="Screws slide with frictions from 0.04 to 0.5.", help="Oiled 0.10 to 0.16.",
    ),
    mu_now: Number = entry(
        "Friction now", "0.10 … 0.20", least=0.04, most=0.5, usual=("0.08", "0.30"), seldom=True,
        why="Screws slide with frictions from 0.04 to 0.5.",
        help="It has usually changed since: dry, dirty, or soaked in oil.",
    ),
    history: str = choice(
        "The thread is",
        {"clean": "clean and oily", "service": "from years of service", "rust": "rusted",
         "unknown": "not known"},
        default="service",
    ),
    seizing: Number = entry(
        "Seizing, a factor on the friction", "1.0 … 1.5", least=1, most=3, seldom=True,
        when={"history": ("service", "rust", "unknown")},
        why="Beyond three times it breaks before it turns.",
    ),
    bond_by: str = choice(
        "Threadlocker",
        {"none": "none", "strength": "known by its shear strength",
         "sheet": "known by its torque on the test size"},
        default="strength",
    ),
    strength: Stress = entry(
        "Shear strength of the bond", "10 MPa", units=("MPa", "N/mm²", "psi"), least="0.5 MPa",
        most="60 MPa", usual=("5 MPa", "25 MPa"), tolerance="30 %", when={"bond_by": "strength"},
        why="Threadlockers hold up to 60 MPa.",
        help="Medium grades 5 to 12 MPa, high ones 10 to 25 MPa. 30\u202f% either way is taken.",
    ),
    sheet: Torque = entry(
        "Torque on M10 × 1.5", "20 N·m", units=("N·m", "lbf·ft", "lbf·in"), above=0,
        most="100 N·m", tolerance="30 %", when={"bond_by": "sheet"},
        why="No threadlocker holds more than 100 N·m there.",
        help="From the product data sheet. 30\u202f% either way is taken.",
    ),
    sheet_kind: str = choice(
        "That is", {"unseated": "breakaway torque, bolt not seated",
                    "seated": "break-loose torque, bolt seated"},
        default="unseated", when={"bond_by": "sheet"}, seldom=True,
    ),
    test_torque: Torque = entry(
        "Test bolt was tightened with", "5 N·m", units=("N·m", "lbf·in"), least="0 N·m",
        most="60 N·m", when={"bond_by": "sheet", "sheet_kind": "seated"}, seldom=True,
        why="Test bolts are only seated.", help="5 N·m unless the data sheet says otherwise.",
    ),
    exponent: Number = entry(
        "Exponent of size", "2.6 … 3.0", least=2, most=3.2, when={"bond_by": "sheet"},
        seldom=True, why="A bond grows with the second to third power of the size.",
        help="3 is the same shear strength everywhere; makers find about 2.6.",
    ),
    engagement: Length = entry(
        "Engaged and bonded length", "24 mm", units=("mm", "in"), above=0, most="150 mm",
        when={"bond_by": ("strength", "sheet")}, why="No fastener is engaged that long.",
        seldom=True,
    ),
    temperature: Temperature = entry(
        "Nut warmed to", "20 °C", units=("°C", "°F"), least="-20 °C", most="500 °C",
        why="Hotter than that it is not worked on.", help="20 °C for a cold nut.", seldom=True,
    ),
    curve: Rows = table(
        "Bond when warm",
        {
            "temperature": column("Temperature", Temperature, units=("°C", "°F")),
            "share": column("Share left", Fraction, units=("%",), least=0, most=100),
        },
        default=(("22 °C", "100 %"), ("100 °C", "50 %"), ("150 °C", "20 %"), ("250 °C", "5 %")),
        least_rows=2, most_rows=10, seldom=True, when={"bond_by": ("strength", "sheet")},
        help="The product's own curve; the usual shape stands here.",
    ),
    near: str = choice("Heat would reach", NEAR, default="seal", seldom=True),
    face_outer: Length | None = entry(
        "Turned face, outside", "", units=("mm", "in"), above=0, most="200 mm", optional=True,
        seldom=True, help="Empty: the washer face of a hexagon.",
    ),
    face_inner: Length | None = entry(
        "Turned face, hole", "", units=("mm", "in"), above=0, most="150 mm", optional=True,
        seldom=True, help="Empty: a usual clearance hole.",
    ),
    mark: str = choice(
        "Fastener", {"usual": "class 8.8 or softer", "hardened": "class 10.9, 12.9 or plated"},
        default="usual", seldom=True,
    ),
    tool_most: Torque | None = entry(
        "Greatest torque of the tool at hand", "", units=TORQUES, above=0, most="20000 N·m",
        optional=True, help="Of the multiplier, or pull times arm of a bar. Empty: not chosen.",
    ),
    socket_square: str = SOCKET_SQUARE,
    socket_most: Torque | None = SOCKET_MOST,
    bar_most: Torque | None = REACTION_BAR_MOST,
) -> BreakLoose:  # fmt: skip
    """Torque to undo and the tool for it; see the module's docstring."""
    form = chosen_thread(thread, diameter, pitch, system)
    rubbing = face_diameter(*face_of(form, face_outer, face_inner))
    mu = number(mu_now)
    if clamp_by == "torque":
        then = number(mu_then)
        force = torque.m_as("newton*millimeter") / (
            thread_arm(form, then) + face_arm(then, rubbing)
        )
    else:
        force = clamp.m_as("newton")
    seized = 1.0 if history == "clean" else number(seizing)
    held = force * max(0.0, loosening_arm(form, mu) + face_arm(mu, rubbing)) / 1000
    bond = 0.0
    if bond_by == "strength":
        bond = bond_of_strength(form, engagement.m_as("millimeter"), strength.m_as("megapascal"))
    elif bond_by == "sheet":
        tested = sheet.m_as("newton*meter")
        if sheet_kind == "seated":
            tested -= friction_in_test(test_torque.m_as("newton*meter"), 0.14)
        if tested <= 0:
            raise RefusedError(
                "sheet",
                "Less than the friction of the test bolt alone. It is a breakaway torque, or the "
                "test torque is not that.",
            )
        bond = bond_of_test(form, engagement.m_as("millimeter"), tested, number(exponent))
    warm = temperature.m_as("kelvin") - 273.15
    kept = _kept(curve, warm) if bond_by != "none" else 1.0
    cold, hot = seized * held + bond, seized * held + kept * bond
    known = history in ("clean", "service")
    estimate = cold if kept >= 1 else hot
    it = Stuck(
        history=history, bond=bond, cold=estimate, most=cold, kept=kept, temperature=warm,
        near=near, hardened=mark == "hardened",
        tool=None if tool_most is None else tool_most.m_as("newton*meter"),
        seated=bond_by == "sheet" and sheet_kind == "seated",
    )  # fmt: skip
    return BreakLoose(
        torque=Q(cold, "N·m") if known else None,
        least=None if known else Q(held + bond, "N·m"),
        tool=Q(RESERVE * estimate, "N·m"),
        way=later(lambda: _way(RESERVE * estimate)),
        hot=Q(hot, "N·m") if kept < 1 else None,
        bond=Q(bond, "N·m"),
        friction=Q(seized * held, "N·m"),
        clamp_now=Q(force, "N"),
        square=later(lambda: _square(estimate)),
        findings=later(lambda: (
            *findings_of_tool(it),
            *findings_of_socket_used(
                socket_square, socket_most, estimate, RESERVE * estimate
            ),
            *findings_of_bar_used(
                "reaction bar", bar_most, estimate, RESERVE * estimate
            ),
            *findings_of_history(it), *findings_of_heat(it),
            *findings_of_data(it), *ALWAYS,
        )),
    )  # fmt: skip


def _kept(curve: Sequence[Any], warm: float) -> float:
    """Share of the bond at ``warm`` °C; refuses a curve that is no curve."""
    points = [(row.temperature.m_as("kelvin") - 273.15, number(row.share)) for row in curve]
    if len({round(t, 6) for t, _ in points}) < len(points):
        raise RefusedError("curve", "Two rows have one temperature. Strike one out.")
    shares = [share for _, share in sorted(points)]
    if shares != sorted(shares, reverse=True):
        raise RefusedError("curve", "A bond never grows stronger with heat. Check the shares.")
    return hot_share(points, warm)


def _way(tool: float) -> str:
    """The tool in words, for a torque in N·m."""
    arm = tool / STEADY
    if arm > LONG_BAR:
        return "the multiplier with its reaction bar"
    length = Q(max(0.3, math.ceil(arm * 10 - 1e-9) / 10), "m")
    return f"a bar of {show(length, 'mm')}, pulled with {show(Q(STEADY, 'N'), 'N')}"


def _square(torque: float) -> str:
    """The smallest square whose working limit is not below ``torque`` N·m."""
    for square in SQUARES.values():
        if torque <= square.limit:
            return square.label
    return "none of the hand sizes"


@break_loose.drawing("What has to be overcome")
def _(entries: Any, results: Any) -> Bars:
    """Friction and bond as level bars."""
    bars = Bars(
        "What has to be overcome",
        f"Friction holds {show(results.friction, 'N·m', 2)}, the threadlocker "
        f"{show(results.bond, 'N·m', 2)}.",
    )
    bars.bar("Clamp, friction and seizing", results.friction.m_as("newton*meter"),
             show(results.friction, "N·m", 2))  # fmt: skip
    if entries.bond_by != "none":
        bars.bar("Threadlocker, cold", results.bond.m_as("newton*meter"),
                 show(results.bond, "N·m", 2))  # fmt: skip
    if results.hot is not None:
        left = results.hot - results.friction
        bars.bar("Threadlocker, warmed", left.m_as("newton*meter"), show(left, "N·m", 2))
    return bars
