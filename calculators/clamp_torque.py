"""Torque and clamp force of a screw or nut, both ways, with what it does to the screw.

Purpose at the bench: what clamp does this torque make with this friction, how well is it known,
does the screw stand it, and what will it take to undo.

T = F (a_G + a_K) + T_p. The thread takes a_G = (d2/2) tan(phi + rho'), tan phi = P/(pi d2),
tan rho' = mu_G/cos 30 deg, of which P/(2 pi) stretches the screw; the turned face takes
a_K = mu_K D_K/2 with D_K = (2/3)(d_w^3 - d_h^3)/(d_w^2 - d_h^2), even pressure on the face. To undo
at once, with the same friction: F ((d2/2) tan(rho' - phi) + a_K) + T_p.

While tightened the screw is stretched and twisted. Use of the yield strength by VDI 2230:
sqrt(sigma^2 + 3 tau^2)/R with tau from the plastic section modulus; its limit is 0.9, and the
greatest torque and clamp are those. The elastic stress at the surface is given beside it.

Symbols: T torque, F clamp, T_p prevailing torque, d2, P thread, d_w, d_h face and hole, mu_G, mu_K
friction of thread and face, K nut factor T/(F d).

Assumptions: right angle between face and thread; friction the same all the way; friction while
undoing as while tightening.

Sources: ISO 16047, VDI 2230-1, ISO 898-1; see ``calculators.thread_friction``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.chosen_thread import DIAMETER, PITCH, SYSTEM, chosen_thread, thread_choice
from calculators.clamp_advice import (
    SEATS,
    YIELD_SHARE,
    Tightened,
    findings_of_friction,
    findings_of_method,
    findings_of_spread,
    findings_of_stress,
)
from calculators.clamp_friction import (
    FACE,
    FACE_APART,
    FACE_LINKED,
    FRICTION_PRACTICE,
    KNOWN,
    MU_ANTISEIZE,
    MU_DRY,
    MU_LOCKER,
    MU_OILED,
    MU_OWN,
    MU_UNCHOSEN,
    STATE,
    STATED,
    VDI_FRICTION,
    chosen_friction,
    face_of,
    standing,
)
from calculators.clamp_sources import CHECK_VALUES, ISO_16047, PRACTICE, VDI_2230
from calculators.fastener_classes import CHOICES, ISO_898, SAE_J429, UNKNOWN, class_of
from calculators.thread_form import ThreadForm
from calculators.thread_friction import (
    Section,
    assembly_force,
    face_arm,
    face_diameter,
    loosening_arm,
    pitch_arm,
    reduced_stress,
    thread_arm,
)
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
    Stress,
    Symbol,
    Torque,
    calculator,
    choice,
    entry,
    later,
    number,
    result,
    show,
)

_NM = Rounding(figures=3)
TORQUES = ("N·m", "lbf·ft", "lbf·in", "kgf·m")


@dataclass(frozen=True)
class ClampTorque:
    """Clamp, torque or friction, and what the screw bears."""

    clamp: Force | None = result("Clamp force", lead=True, unit="kN", us_unit="lbf")
    torque: Torque | None = result("Torque", lead=True, rounding=_NM)
    friction: Number | None = result(
        "Friction, thread and face alike", lead=True, rounding=Rounding(figures=3)
    )
    use: Fraction = result(
        "Of its yield strength, the screw uses", unit="%", us_unit="%",
        rounding=Rounding(figures=2), help="Stretch and twist together; 90 % is the limit.",
    )  # fmt: skip
    undo: Torque = result(
        "Torque to undo it at once", rounding=_NM,
        help="Before anything has rusted, set or crept.",
    )  # fmt: skip
    most_torque: Torque = result(
        "Greatest torque with this friction", rounding=_NM, band=False,
        help="Where 90 % of the least yield strength is used. A limit, never a target.",
    )  # fmt: skip
    most_clamp: Force = result(
        "Clamp at that torque", unit="kN", us_unit="lbf", band=False, seldom=True
    )
    to_stretch: Fraction = result(
        "Share of the torque that stretches", unit="%", us_unit="%", band=False,
        rounding=Rounding(decimals=1, us_decimals=1), seldom=True,
    )  # fmt: skip
    to_thread: Fraction = result(
        "Share that the thread rubs away", unit="%", us_unit="%", band=False,
        rounding=Rounding(decimals=1, us_decimals=1), seldom=True,
    )  # fmt: skip
    to_face: Fraction = result(
        "Share that the face rubs away", unit="%", us_unit="%", band=False,
        rounding=Rounding(decimals=1, us_decimals=1), seldom=True,
    )  # fmt: skip
    nut_factor: Number = result("Nut factor K", rounding=Rounding(decimals=3, us_decimals=3),
                                band=False, seldom=True)  # fmt: skip
    tension: Stress = result("Tensile stress", band=False, seldom=True)
    torsion: Stress = result("Torsion at the surface, elastic", band=False, seldom=True)
    reduced: Stress = result("Both together, elastic", band=False, seldom=True)
    pressure: Stress = result("Pressure under the face", band=False, seldom=True)
    rubbing: Length = result(
        "Diameter at which the face rubs", rounding=Rounding(decimals=2, us_decimals=3),
        band=False, seldom=True,
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


def _friction_of(form: ThreadForm, arm: float, rubbing: float) -> float:
    """The friction, alike in thread and face, with which an arm in mm is reached."""
    low, high = 0.0, 1.2
    for _ in range(60):
        middle = (low + high) / 2
        if thread_arm(form, middle) + face_arm(middle, rubbing) < arm:
            low = middle
        else:
            high = middle
    return low


@calculator(
    name="clamp-torque",
    title="Torque and clamp force",
    topic="threads",
    purpose="Tells what clamp a torque makes with what is on the thread, or what torque a clamp "
    "takes, how well it is known, whether the screw stands it, and what it takes to undo.",
    formulas=(
        Formula(
            r"T = F\left(\frac{d_2}{2}\tan(\varphi + \rho') + \mu_K\frac{D_K}{2}\right) + T_p",
            "Torque",
        ),
        Formula(
            r"\tan\varphi = \frac{P}{\pi\,d_2},\quad \tan\rho' = \frac{\mu_G}{\cos 30^\circ}",
            "Slope of the thread and its angle of friction",
        ),
        Formula(r"D_K = \frac{2}{3}\,\frac{d_w^3 - d_h^3}{d_w^2 - d_h^2}", "Where the face rubs"),
        Formula(
            r"F_M = \frac{0.9\,R_e\,A_s}{\sqrt{1 + 3\left(\frac{12\,A_s\,a_G}"
            r"{\pi\,d_s^3}\right)^2}}",
            "Greatest clamp, twisted by the torque of the thread",
        ),
    ),
    symbols=(
        Symbol("T, F", "torque and clamp force", "N·m, N"),
        Symbol("T_p", "prevailing torque of a locking nut", "N·m"),
        Symbol("d_2, P", "pitch diameter and pitch", "mm"),
        Symbol(r"\mu_G, \mu_K", "friction of thread and turned face", "1"),
        Symbol("d_w, d_h", "outer and inner diameter of the turned face", "mm"),
        Symbol("A_s, d_s", "stress area and its diameter", "mm², mm"),
        Symbol("a_G", "torque in the thread per force", "mm"),
        Symbol("R_e", "least yield strength or 0.2 % proof stress", "MPa"),
    ),
    assumptions=(
        "The face presses evenly and lies square to the thread.",
        "Friction stays the same from snug to the end, and while undoing.",
        "Strengths are the least ones of the class.",
    ),
    sources=(ISO_16047, VDI_2230, ISO_898, SAE_J429, VDI_FRICTION, FRICTION_PRACTICE, PRACTICE),
    check_values=CHECK_VALUES,
)
def clamp_torque(
    *,
    known: str = choice(
        "What is known",
        {"torque": "the torque", "clamp": "the clamp wanted", "both": "both: find the friction"},
        default="torque",
    ),
    thread: str = thread_choice("M12x1.25"),
    diameter: Length = DIAMETER,
    pitch: Length = PITCH,
    system: str = SYSTEM,
    torque: Torque = entry(
        "Torque", "35 N·m", units=TORQUES, above=0, most="5000 N·m", tolerance="4 %",
        deviation="reading", when={"known": ("torque", "both")},
        why="Torques up to 5000 N·m are worked out here.",
        help="With the tolerance of the wrench: its class allows ± 4 % or ± 6 % of the true "
        "torque, its sheet may allow less.",
    ),
    clamp: Force = entry(
        "Clamp force", "40 kN", units=("kN", "N", "lbf"), above=0, most="2000 kN",
        when={"known": ("clamp", "both")}, why="Clamps up to 2000 kN are worked out here.",
    ),
    state: str = STATE,
    mu_unchosen: Number = MU_UNCHOSEN,
    mu_dry: Number = MU_DRY,
    mu_oiled: Number = MU_OILED,
    mu_locker: Number | None = MU_LOCKER,
    mu_antiseize: Number = MU_ANTISEIZE,
    mu_own: Number = MU_OWN,
    stated: str = choice(
        "Torque is stated for", STATED, default="unstated", when={"known": "torque"},
        help="The state of the thread that the maker's torque goes with.", seldom=True,
    ),
    mark: str = choice("Mark on the head", CHOICES, default=UNKNOWN),
    face: str = FACE,
    face_linked: Number = FACE_LINKED,
    face_apart: Number = FACE_APART,
    face_outer: Length | None = entry(
        "Turned face, outside", "", units=("mm", "in"), above=0, most="200 mm", optional=True,
        seldom=True, help="Of the nut or head that is turned, or the washer that turns with it. "
        "Empty: the washer face of a hexagon.",
    ),
    face_inner: Length | None = entry(
        "Turned face, hole", "", units=("mm", "in"), above=0, most="150 mm", optional=True,
        seldom=True, help="The hole under it, or its chamfer where that is wider. Empty: a usual "
        "clearance hole.",
    ),
    bore: Length = entry(
        "Bore through the screw", "0 mm", units=("mm", "in"), least="0 mm", most="70 mm",
        seldom=True,
    ),
    prevailing: Torque = entry(
        "Prevailing torque", "0 N·m", units=TORQUES, least="0 N·m", most="500 N·m", seldom=True,
        help="What a locking nut takes as it runs down. 0 for a plain one.",
    ),
    seat: str = choice(
        "Face bears on", {name: told for name, (told, _) in SEATS.items()}, default="steel",
        seldom=True,
    ),
    stretch: str = choice(
        "Maker tightens", {"no": "by torque", "new": "to yield or by angle, new screw",
                           "used": "to yield or by angle, used screw"},
        default="no", seldom=True,
    ),
) -> ClampTorque:  # fmt: skip
    """Clamp, torque or friction and what they mean; see the module's docstring."""
    form = chosen_thread(thread, diameter, pitch, system)
    b = bore.m_as("millimeter")
    if b >= form.d3:
        raise RefusedError("bore", "The bore would leave no wall. Check it and the thread.")
    section = Section(form.stress_diameter, b)
    d_w, d_h = face_of(form, face_outer, face_inner)
    rubbing = face_diameter(d_w, d_h)
    run = prevailing.m_as("newton*millimeter")
    if known in ("torque", "both") and run >= torque.m_as("newton*millimeter"):
        raise RefusedError("prevailing", "It must be less than the torque, or nothing clamps.")

    if known == "both":
        force = clamp.m_as("newton")
        arm = (torque.m_as("newton*millimeter") - run) / force
        if arm <= pitch_arm(form):
            raise RefusedError(
                "clamp",
                "This torque could not make so much clamp even without any friction. Check both.",
            )
        mu_thread = mu_face = _friction_of(form, arm, rubbing)
        names = None
    else:
        values = {
            "mu_unchosen": mu_unchosen, "mu_dry": mu_dry, "mu_oiled": mu_oiled,
            "mu_locker": mu_locker, "mu_antiseize": mu_antiseize, "mu_own": mu_own,
            "face_linked": face_linked, "face_apart": face_apart,
        }  # fmt: skip
        names = chosen_friction(state, face, values)
        mu_thread, mu_face = number(names[0][1]), number(names[1][1])
        arm = thread_arm(form, mu_thread) + face_arm(mu_face, rubbing)
        if known == "torque":
            force = (torque.m_as("newton*millimeter") - run) / arm
        else:
            force = clamp.m_as("newton")
    turned = force * arm + run

    of = class_of(mark, form.unified)
    strength = of.strength(form.d)
    thread_part = thread_arm(form, mu_thread)
    limit = assembly_force(section, thread_part, YIELD_SHARE * strength.yields)
    undo = force * (loosening_arm(form, mu_thread) + face_arm(mu_face, rubbing)) + run
    clamps, uses = (force, force, force), (YIELD_SHARE * force / limit,) * 3
    if known == "torque" and names is not None:
        clamps = _band_of_clamp(form, rubbing, torque, run, names)
        uses = (
            uses[0], uses[1],
            YIELD_SHARE * clamps[2] / assembly_force(
                section, thread_arm(form, standing(*names[0], "dimensionless").low),
                YIELD_SHARE * strength.yields,
            ),
        )  # fmt: skip
    reduced = reduced_stress(section, force, force * thread_part)
    it = Tightened(
        form=form, of=of, strength=strength, mark=mark, clamp=clamps, use=uses,
        elastic=reduced / strength.yields, area=section.area, torque=turned, prevailing=run,
        undo=undo, pressure=force / Section(d_w, d_h).area, seat=seat, bored=b > 0,
    )  # fmt: skip
    other = None
    if known == "torque" and stated in TYPICAL:
        mu = TYPICAL[stated]
        other = (turned - run) / (thread_arm(form, mu) + face_arm(mu, rubbing))
    return ClampTorque(
        clamp=Q(force, "N") if known == "torque" else None,
        torque=Q(turned, "N·mm") if known == "clamp" else None,
        friction=Q(mu_thread, "") if known == "both" else None,
        use=Q(uses[1], ""),
        undo=Q(undo, "N·mm"),
        most_torque=Q(limit * arm + run, "N·mm"),
        most_clamp=Q(limit, "N"),
        to_stretch=Q(force * pitch_arm(form) / turned, ""),
        to_thread=Q(force * (thread_part - pitch_arm(form)) / turned, ""),
        to_face=Q(force * face_arm(mu_face, rubbing) / turned, ""),
        nut_factor=Q(turned / (force * form.d), ""),
        tension=Q(force / section.area, "MPa"),
        torsion=Q(force * thread_part / section.modulus, "MPa"),
        reduced=Q(reduced, "MPa"),
        pressure=Q(it.pressure, "MPa"),
        rubbing=Q(rubbing, "mm"),
        findings=later(lambda: (
            *(findings_of_friction(state, stated if known == "torque" else "unstated", other)
              if known in KNOWN else ()),
            *findings_of_stress(it),
            *findings_of_spread(it, known == "torque"),
            *findings_of_method(stretch),
        )),
    )  # fmt: skip


TYPICAL = {"dry": 0.19, "oiled": 0.13, "antiseize": 0.10}
"""Middle of the range of friction of a state; threadlocker has none."""


def _band_of_clamp(
    form: ThreadForm,
    rubbing: float,
    torque: Any,
    run: float,
    names: tuple[tuple[str, Any], tuple[str, Any]],
) -> tuple[float, float, float]:
    """Least, middle and greatest clamp in N over the limits of torque and frictions as entered."""
    turned = standing("torque", torque, "newton*millimeter")
    thread, face = (standing(name, value, "dimensionless") for name, value in names)

    def clamp(t: float, mu: float, under: float) -> float:
        return (t - run) / (thread_arm(form, mu) + face_arm(under, rubbing))

    return (
        clamp(turned.low, thread.high, face.high),
        clamp(turned.value, thread.value, face.value),
        clamp(turned.high, thread.low, face.low),
    )


@clamp_torque.drawing("Where the torque goes")
def _(entries: Any, results: Any) -> Bars:
    """Shares of the torque: stretch, thread, face and a locking nut."""
    shares = (
        ("Stretches the screw", results.to_stretch),
        ("Rubbed away in the thread", results.to_thread),
        ("Rubbed away under the face", results.to_face),
    )  # fmt: skip
    rest = 1 - sum(number(share) for _, share in shares)
    bars = Bars(
        "Where the torque goes",
        f"Of the torque {show(results.to_stretch, '%', 2)} stretches the screw; friction in the "
        "thread and under the face takes nearly all the rest.",
        full=1.0,
    )
    for label, share in shares:
        bars.bar(label, number(share), show(share, "%", 2))
    if rest > 1e-6:
        bars.bar("Spent in the locking nut", rest, show(Q(rest, ""), "%", 2))
    return bars
