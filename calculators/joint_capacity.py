"""What torque the joint between crankshaft and flywheel carries, against the engine's peaks.

Purpose at the bench: does the clamp alone carry the peaks, what would the dowels hold if it
slipped, and what do oil, a gasket or a settled joint cost.

Central nut: T_f = mu F r_eff with the ring that the nut really presses. Ring of N screws:
T_f = N mu F r_b. F is the clamp of a screw, entered or from its torque as in
``calculators.thread_friction``, less what the joint loses as it settles. The least T_f, of least
torque, greatest thread friction and least friction of the faces, stands against the peak.

Dowels: T_d = min(n (pi d^2/4) tau r, n d l p r). They are a backup and not added: with play they
take nothing before the joint has slipped; tight ones share unevenly and count for two thirds.

Engine: T_mean = P/omega, peaks of the gas forces as in ``calculators.engine_torque``, of which
the flywheel's share of the inertia passes through the joint.

Symbols: T_f, T_d torques of friction and dowels, F clamp, mu friction of the faces, r_eff, r_b
radii, N screws, n, d, l, r dowels, tau, p their allowed shear and pressure, P power.

Assumptions: flat faces in full contact; all screws at their least together, because a wrong
lubricant is common to all of them.

Sources: Coulomb friction and shear (derivations); ISO 16047 for the clamp; frictions of faces,
allowed stresses and safety: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.chosen_thread import DIAMETER, PITCH, SYSTEM, chosen_thread, thread_choice
from calculators.clamp_friction import face_of
from calculators.engine_torque import CHOICES as CYLINDERS
from calculators.engine_torque import CYCLE, PEAKS, mean_torque, torque_at_joint
from calculators.friction_face import friction_radius, reach_of_nut
from calculators.joint_capacity_advice import Held, findings_of_joint
from calculators.joint_capacity_drawing import draw_joint
from calculators.joint_capacity_sources import (
    BY_HAND,
    CHECK_VALUES,
    ISO_16047,
    PRACTICE,
    SHEAR,
)
from calculators.joint_settling import settling_loss
from calculators.plain_figure import figure
from calculators.thread_friction import face_arm, face_diameter, thread_arm
from calculators.wrench_entries import TORQUES
from witnessmark.calc import (
    Count,
    Drawing,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Number,
    Power,
    Q,
    RefusedError,
    RotationalSpeed,
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

NM = Rounding(figures=3)
SHARING = 2 / 3
"""Share of tight dowels that is counted on."""
FACES = {
    "dry": "clean and dry", "oily": "oily", "layer": "with gasket or sealant between",
}  # fmt: skip


@dataclass(frozen=True)
class JointCapacity:
    """Safety of the least friction, and what stands behind it."""

    safety: Number = result(
        "Least friction, times the peak", lead=True, band=False,
        rounding=Rounding(decimals=1, us_decimals=1, toward="down"),
    )  # fmt: skip
    hold: Torque = result("Friction holds", rounding=NM)
    peak: Torque = result("Peak torque of the engine at the joint", rounding=NM, band=False)
    dowel_hold: Torque | None = result("Dowels would hold", rounding=NM, band=False)
    least: Torque = result("Friction holds at least", rounding=NM, band=False, seldom=True)
    clamp_left: Force = result(
        "Clamp of a screw after settling", unit="kN", us_unit="lbf", seldom=True
    )
    radius: Length = result(
        "Radius at which friction acts", rounding=Rounding(decimals=1, us_decimals=2), band=False,
        seldom=True,
    )  # fmt: skip
    mean: Torque = result("Mean torque of the engine", rounding=NM, band=False, seldom=True)
    dowel_shear: Torque | None = result("Dowels, by shear", rounding=NM, band=False, seldom=True)
    dowel_bearing: Torque | None = result(
        "Dowels, by pressure in their holes", rounding=NM, band=False, seldom=True
    )
    findings: tuple[Finding, ...] = ()


@calculator(
    name="joint-capacity",
    title="What the flywheel joint carries",
    topic="torque",
    purpose="Compares what the clamped faces of the flywheel joint carry by friction with the "
    "peak torque of the engine, and what the dowels would hold if it slipped.",
    formulas=(
        Formula(
            r"T_f = \mu\,F\,r_\mathrm{eff},\quad "
            r"r_\mathrm{eff} = \frac{2}{3}\,\frac{r_o^3 - r_i^3}{r_o^2 - r_i^2}",
            "Friction under a central nut",
        ),
        Formula(
            r"r_o = \min\left(r, \frac{d_w}{2} + t\tan 30^\circ\right)", "Face that the nut presses"
        ),
        Formula(r"T_f = N\,\mu\,F\,r_b", "Friction of a ring of screws"),
        Formula(r"T_d = \min\left(n\,\frac{\pi d^2}{4}\,\tau\,r,\; n\,d\,l\,p\,r\right)", "Dowels"),
        Formula(r"T_\mathrm{mean} = \frac{P}{\omega}", "Mean torque"),
        Formula(
            r"T_\mathrm{peak} = T_\mathrm{mean} + (k - 1)\,T_\mathrm{mean}\,"
            r"\frac{I_\mathrm{flywheel}}{I}",
            "Peak torque through the joint",
        ),
    ),
    symbols=(
        Symbol("F", "clamp of a screw after settling", "N"),
        Symbol(r"\mu", "friction of the faces", "1"),
        Symbol("r_o, r_i", "outer and inner radius of the face that is pressed", "mm"),
        Symbol("d_w, t", "washer's diameter, hub's thickness", "mm"),
        Symbol("N, r_b", "screws, radius of their circle", "1, mm"),
        Symbol("n, d, l, r", "dowels, diameter, standing length, radius", "1, mm"),
        Symbol(r"\tau, p", "allowed shear of the dowels, pressure in their holes", "MPa"),
        Symbol("k", "peak over mean torque", "1"),
        Symbol("I", "inertia of all that turns", "kg·m²"),
    ),
    assumptions=(
        "One friction face, flat and in full contact.",
        "All screws at their least clamp together.",
        "Even firing; gas forces alone; no torsional vibration.",
        "Dowels are not added to friction.",
    ),
    sources=(BY_HAND, SHEAR, CYCLE, ISO_16047, PRACTICE),
    check_values=CHECK_VALUES,
)
def joint_capacity(
    *,
    held: str = choice(
        "Flywheel held by", {"nut": "one central nut", "ring": "a ring of screws"}, default="nut"
    ),
    screws: Count = entry("Screws", "8", least=2, most=24, when={"held": "ring"}),
    circle: Length = entry(
        "Radius of the screw circle", "44 mm", units=("mm", "in"), above=0, most="400 mm",
        when={"held": "ring"}, why="Radius, not diameter.",
    ),
    outer: Length = entry(
        "Face, outer radius", "37 mm", units=("mm", "in"), above=0, most="400 mm",
        when={"held": "nut"}, seldom=True, help="Radius, not diameter.",
    ),
    inner: Length = entry(
        "Face, inner radius", "17 mm", units=("mm", "in"), least="0 mm", most="400 mm",
        when={"held": "nut"}, seldom=True,
    ),
    hub: Length = entry(
        "Thickness of the hub", "28 mm", units=("mm", "in"), least="0 mm", most="300 mm",
        when={"held": "nut"}, seldom=True, help="From the washer to the friction face.",
    ),
    pressure: str = choice(
        "Pressure on the face", {"even": "even, as fitted", "worn": "worn in"}, default="even",
        when={"held": "nut"}, seldom=True,
    ),
    clamp_by: str = choice(
        "The clamp is known from", {"torque": "the tightening torque", "clamp": "its force"},
        default="torque", seldom=True,
    ),
    torque: Torque = entry(
        "Tightened with", "480 N·m ± 4 %", units=TORQUES, above=0, most="5000 N·m",
        when={"clamp_by": "torque"}, why="Torques up to 5000 N·m are worked out here.",
        help="Each screw.",
    ),
    thread: str = thread_choice("M30x2"),
    diameter: Length = DIAMETER,
    pitch: Length = PITCH,
    system: str = SYSTEM,
    mu_thread: Number = entry(
        "Friction of thread and head", "0.10 … 0.16", least=0.04, most=0.5,
        usual=("0.08", "0.24"), when={"clamp_by": "torque"}, seldom=True,
        why="Screws slide with frictions from 0.04 to 0.5.",
    ),
    clamp: Force = entry(
        "Clamp of a screw", "90 kN", units=("kN", "N", "lbf"), above=0, most="2000 kN",
        when={"clamp_by": "clamp"}, why="Clamps up to 2000 kN are worked out here.",
    ),
    loss_by: str = choice(
        "What the clamp loses", {"share": "as a share", "settling": "from how far it settles"},
        default="share", seldom=True,
    ),
    settled: Fraction = entry(
        "Lost of the clamp as it settles", "5 %", units=("%",), least="0 %", most="80 %",
        seldom=True, when={"loss_by": "share"}, why="A joint that loses more is none.",
        help="Bare faces lose 3 to 10\u202f%, a gasket between them 10 to 30\u202f%.",
    ),
    settles: Length = entry(
        "Settles and creeps by", "11 µm", units=("µm", "mm", "thou"), least="0 µm", most="1 mm",
        seldom=True, when={"loss_by": "settling"}, why="No joint is so soft.",
        help="Thread 3, each face 2 to 4 µm; a gasket's creep on top, a tenth of its thickness.",
    ),
    grip: Length = entry(
        "Clamped length", "45 mm", units=("mm", "in"), least="3 mm", most="400 mm",
        when={"loss_by": "settling"}, seldom=True, help="From the face under the head or nut to "
        "the first engaged thread.",
    ),
    around: Length = entry(
        "Outside of what is clamped", "90 mm", units=("mm", "in"), least="5 mm", most="800 mm",
        when={"loss_by": "settling"}, seldom=True, help="Diameter; between screws, their spacing.",
    ),
    faces: str = choice("The faces are", FACES, default="dry"),
    mu_dry: Number = entry(
        "Friction of the faces, dry", "0.12 … 0.18", least=0.03, most=0.6, when={"faces": "dry"},
        usual=("0.10", "0.20"), seldom=True, why="Metal on metal slides with 0.03 to 0.6.",
    ),
    mu_oily: Number = entry(
        "Friction of the faces, oily", "0.08 … 0.12", least=0.03, most=0.6,
        when={"faces": "oily"}, seldom=True, why="Metal on metal slides with 0.03 to 0.6.",
    ),
    mu_layer: Number = entry(
        "Friction of the faces, layer", "0.10 … 0.12", least=0.03, most=0.6,
        when={"faces": "layer"}, seldom=True, why="Such layers slide with 0.03 to 0.6.",
    ),
    dowels: Count = entry("Dowels", "4", least=0, most=24, seldom=True, help="0 for none."),
    dowel: Length = entry(
        "Diameter of a dowel", "8 mm", units=("mm", "in"), least="1 mm", most="60 mm", seldom=True,
    ),
    dowel_length: Length = entry(
        "Standing in the flywheel", "8 mm", units=("mm", "in"), least="0.5 mm", most="100 mm",
        seldom=True, help="Bearing length of a dowel, chamfers left out.",
    ),
    dowel_radius: Length = entry(
        "Radius of the dowels", "31 mm", units=("mm", "in"), above=0, most="400 mm", seldom=True,
    ),
    dowel_fit: str = choice(
        "The dowels have", {"play": "play in the flywheel", "tight": "none: reamed or pressed"},
        default="play", seldom=True,
    ),
    dowel_shear_most: Stress = entry(
        "Allowed shear of a dowel", "300 MPa", units=("MPa", "N/mm²"), above=0, most="1100 MPa",
        seldom=True, help="Hardened pins break at about 1050 MPa.",
    ),
    dowel_pressure_most: Stress = entry(
        "Allowed pressure in the hole", "150 MPa", units=("MPa", "N/mm²"), above=0,
        most="1000 MPa", seldom=True,
        help="0.35 of the tensile strength of the weaker part where it repeats.",
    ),
    power: Power = entry(
        "Power of the engine", "5 kW", units=("kW", "PS", "hp"), above=0, most="1000 kW",
        why="Larger engines have their own rules.",
    ),
    speed: RotationalSpeed = entry(
        "at", "2400 r/min", units=("r/min",), least="100 r/min", most="12000 r/min",
        why="Engines run at 100 to 12000 r/min.",
    ),
    cylinders: str = choice("Cylinders", CYLINDERS, default="2", help="Evenly firing."),
    burns: str = choice("Ignition", {"diesel": "diesel", "spark": "spark"}, default="diesel",
                        seldom=True),
    harder: Number = entry(
        "Diesel's peaks over those of spark ignition", "1.6", least=1, most=3,
        when={"burns": "diesel"}, seldom=True, why="Beyond three times it knocks to pieces.",
        help="1.3 to 1.6; the upper end is the safe side.",
    ),
    behind: Fraction = entry(
        "Flywheel's share of the inertia", "90 %", units=("%",), least="0 %", most="100 %",
        seldom=True, help="Of all that turns. 100\u202f% is the safe side.",
    ),
    use: str = choice(
        "What it drives", {"smooth": "propeller, pump or generator", "shock": "a dry clutch"},
        default="smooth", seldom=True,
    ),
) -> JointCapacity:  # fmt: skip
    """Safety, hold and peak; see the module's docstring."""
    form = chosen_thread(thread, diameter, pitch, system)
    d_w, d_h = face_of(form, None, None)
    if held == "ring":
        count, radius = screws, circle.m_as("millimeter")
    else:
        count, radius = 1, _ring(outer, inner, hub, d_w, pressure == "worn")
    face_name, face_mu = {
        "dry": ("mu_dry", mu_dry), "oily": ("mu_oily", mu_oily), "layer": ("mu_layer", mu_layer),
    }[faces]  # fmt: skip
    sliding = figure(face_name, face_mu, "dimensionless")
    if clamp_by == "torque":
        turned, friction = (
            figure("torque", torque, "newton*millimeter"),
            figure("mu_thread", mu_thread, "dimensionless"),
        )
        rubbing = face_diameter(d_w, d_h)

        def force_of(t: float, mu: float) -> float:
            return t / (thread_arm(form, mu) + face_arm(mu, rubbing))

        force = force_of(turned.now, friction.now)
        bounds = force_of(turned.low, friction.high), force_of(turned.high, friction.low)
    else:
        known = figure("clamp", clamp, "newton")
        force, bounds = known.now, (known.low, known.high)
    loss = 0.0
    if loss_by == "settling":
        loss = settling_loss(
            form, grip.m_as("millimeter"), (d_w, d_h, around.m_as("millimeter")),
            settles.m_as("millimeter"),
        )  # fmt: skip
    keeps = 1 - number(settled) if loss_by == "share" else 1.0
    left, low, high = (keeps * each - loss for each in (force, *bounds))
    if low <= 0:
        raise RefusedError(
            "settles", "At its least the clamp would be lost altogether. Check how far it settles."
        )
    lever = count * radius / 1000
    least, most = lever * sliding.low * low, lever * sliding.high * high

    mean = mean_torque(power.m_as("watt"), speed.m_as("radian/second"))
    rise = PEAKS[int(cylinders)]
    if burns == "diesel":
        rise *= number(harder)
    peak = torque_at_joint(mean, mean * rise, number(behind))
    shear, bearing = _dowels(
        dowels, dowel.m_as("millimeter"), dowel_length.m_as("millimeter"),
        dowel_radius.m_as("millimeter"), dowel_shear_most.m_as("megapascal"),
        dowel_pressure_most.m_as("megapascal"), SHARING if dowel_fit == "tight" else 1.0,
    )  # fmt: skip
    pins = None if dowels == 0 else min(shear, bearing)
    it = Held(
        safety=least / peak, peak=peak, dowels=pins, tight_dowels=dowel_fit == "tight",
        use=use, faces=faces, lost=1 - left / force, spread=most / least, held=held,
    )  # fmt: skip
    return JointCapacity(
        safety=Q(least / peak, ""),
        hold=Q(lever * sliding.now * left, "N·m"),
        peak=Q(peak, "N·m"),
        dowel_hold=None if pins is None else Q(pins, "N·m"),
        least=Q(least, "N·m"),
        clamp_left=Q(left, "N"),
        radius=Q(radius, "mm"),
        mean=Q(mean, "N·m"),
        dowel_shear=None if pins is None else Q(shear, "N·m"),
        dowel_bearing=None if pins is None else Q(bearing, "N·m"),
        findings=later(lambda: tuple(findings_of_joint(it))),
    )


def _ring(outer: Any, inner: Any, hub: Any, washer: float, worn_in: bool) -> float:
    """Radius in mm at which the face under a central nut holds."""
    reach = reach_of_nut(washer, hub.m_as("millimeter"), outer.m_as("millimeter"))
    hole = inner.m_as("millimeter")
    if hole >= reach:
        raise RefusedError(
            "inner",
            f"The nut presses the face only up to a radius of {show(Q(reach, 'mm'), 'mm')}, and "
            "the hole is larger. Check hole, hub and washer.",
        )
    return friction_radius(reach, hole, worn_in)


def _dowels(
    count: int, d: float, length: float, radius: float, shear: float, pressure: float,
    sharing: float,
) -> tuple[float, float]:  # fmt: skip
    """Torque in N·m that the dowels hold by shear and by pressure; lengths in mm, MPa."""
    lever = count * sharing * radius / 1000
    return lever * math.pi / 4 * d**2 * shear, lever * d * length * pressure


@joint_capacity.drawing("The joint, seen from the end")
def _(entries: Any, results: Any) -> Drawing:
    """Face, screws, dowels and the two torques."""
    return draw_joint(entries, results)
