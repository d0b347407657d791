"""What a flat gasket becomes under its bolts, whether it seats, and what it does to the stack.

Purpose at the bench: a new gasket of the same sheet is never as thick as the old one was. Where
it stands in the axial stack the end float moves with it. And it must be pressed enough to seat,
but no more than it stands.

Area A = pi/4 (D_o^2 - D_i^2 - n d^2), pressure p_g = F/A, thickness t = t0 (1 - k c(p_g)) with
the compression c of the sheet's points and a factor k for the scatter of the material. Seating
after ASME VIII-1 appendix 2: W_m2 = pi b G y; against a pressure inside
W_m1 = (pi/4) G^2 p + 2 pi b G m p. The float moves by s (t - t_old), s = +1, -1 or 0.

Symbols: F clamp force, D_o, D_i outside and inside diameter, n, d number and diameter of holes,
t0 free thickness, m gasket factor, y seating stress, b effective width, G diameter it acts on.

Assumptions: flat stiff faces, even pressure; the sheet's points are for its thickness.

Sources: ASME VIII-1 appendix 2 (m, y, b); points: the gasket maker's sheet (those entered at
first are invented); setting and scatter: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.flange_gasket_checks import CHECKS
from calculators.gasket_advice import Clamped, findings_of_gasket
from calculators.gasket_materials import (
    ASME,
    ASME_MEMORY,
    FACINGS,
    effective,
    seating_force,
    working_force,
)
from calculators.gasket_pictures import chart_of_squash, section_of_joint
from calculators.gasket_sources import BY_HAND, PRACTICE
from calculators.gasket_squash import Curve, compression, curve_of
from witnessmark.calc import (
    Area,
    Count,
    Finding,
    Force,
    Formula,
    Fraction,
    Length,
    Number,
    Pressure,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Stress,
    Symbol,
    as_entered,
    calculator,
    choice,
    column,
    entry,
    later,
    number,
    result,
    table,
)

_FINE = Rounding(decimals=2, us_decimals=4)
SIGNS = {"opens": 1, "closes": -1, "none": 0}


@dataclass(frozen=True)
class FlangeGasket:
    """Thickness, pressure, seating and float of a clamped gasket."""

    thickness: Length = result("Thickness when clamped", lead=True, rounding=_FINE)
    float_new: Length | None = result(
        "End float with the new gasket", rounding=_FINE, help="Measure it all the same."
    )
    shift: Length | None = result("Float moves by", rounding=_FINE, help="Above zero it opens.")
    pressure: Stress = result(
        "Pressure on the gasket", unit="MPa", us_unit="psi", rounding=Rounding(figures=3)
    )
    reserve: Number = result(
        "Clamp force over what it needs",
        rounding=Rounding(decimals=1, us_decimals=1, toward="down"),
        help="Of seating and of holding the pressure after it has set, the lesser.",
    )  # fmt: skip
    squash: Fraction = result(
        "Compressed by", unit="%", us_unit="%", rounding=Rounding(decimals=0, us_decimals=0),
        seldom=True,
    )  # fmt: skip
    seating: Force = result(
        "Force that seats it", unit="kN", us_unit="lbf", rounding=Rounding(figures=3), seldom=True
    )
    working: Force = result(
        "Force that holds the pressure", unit="kN", us_unit="lbf", rounding=Rounding(figures=3),
        seldom=True,
    )  # fmt: skip
    area: Area = result("Area", rounding=Rounding(figures=4), seldom=True)
    width: Length = result("Effective width", rounding=_FINE, seldom=True)
    diameter: Length = result(
        "Diameter the force acts on", rounding=Rounding(decimals=1, us_decimals=2), seldom=True
    )
    findings: tuple[Finding, ...] = ()
    curve: Curve = ()


@calculator(
    name="flange-gasket",
    title="Flat gasket under its bolts",
    topic="seals",
    purpose="Tells how thick a gasket is once clamped, what that does to the end float, and "
    "whether the clamp force seats it without crushing it.",
    formulas=(
        Formula(
            r"A = \frac{\pi}{4} \left(D_\mathrm{o}^2 - D_\mathrm{i}^2 - n\,d^2\right),\quad "
            r"p_\mathrm{g} = \frac{F}{A}",
            "Area and pressure on the gasket",
        ),
        Formula(r"t = t_0 \left(1 - k\,c(p_\mathrm{g})\right) + f", "Thickness when clamped"),
        Formula(r"\Delta = s \left(t - t_\mathrm{old}\right)", "What the float moves by"),
        Formula(r"W_\mathrm{m2} = \pi\,b\,G\,y", "Force that seats it"),
        Formula(
            r"W_\mathrm{m1} = \frac{\pi}{4} G^2 p + 2 \pi\,b\,G\,m\,p",
            "Force that holds the pressure inside",
        ),
        Formula(
            r"b = b_0\ (b_0 \le 6.35\,\mathrm{mm}),\quad b = 2.52 \sqrt{b_0}",
            "Effective width in mm; b₀ is half the contact width",
        ),
    ),
    symbols=(
        Symbol("F", "clamp force of all bolts", "N"),
        Symbol(r"D_\mathrm{o}, D_\mathrm{i}", "outside and inside diameter", "mm"),
        Symbol("n, d", "number and diameter of the holes", "1, mm"),
        Symbol("t_0, f", "free thickness, sealant", "mm"),
        Symbol("c, k", "compression of the sheet, factor for its scatter", "1"),
        Symbol("s", "+1 where a thicker gasket opens the float, -1 where it closes it", "1"),
        Symbol("m, y", "gasket factor, seating stress", "1, MPa"),
        Symbol("G", "diameter the gasket's force acts on", "mm"),
        Symbol("p", "pressure inside", "MPa"),
    ),
    assumptions=(
        "Faces are flat and stiff: the pressure is even.",
        "Straight lines join the sheet's points; they must be for its thickness. Those that stand "
        "here at first are invented.",
        "y is what a design needs at least; it is no setting. The upper limit is the maker's.",
        "The coefficient 2.52 is for millimetres; for inches it would be 0.5.",
    ),
    sources=(ASME, ASME_MEMORY, BY_HAND, PRACTICE),
    check_values=CHECKS,
)  # fmt: skip
def flange_gasket(
    *,
    thickness: Length = entry(
        "Thickness, free", "0.50 mm ± 0.05 mm", units=("mm", "µm", "in", "thou"), least="0.05 mm",
        most="3 mm", why="Flat gaskets are 0.05 mm to 3 mm thick.",
        help="Micrometer, six places, with its scatter.",
    ),
    clamp: Force = entry(
        "Clamp force of all bolts", "80 kN ± 25 %", units=("kN", "N", "lbf"), above=0,
        most="2000 kN", why="No joint of this shop is clamped so hard.",
        help="From the tightening calculator, with its band.",
    ),
    outer: Length = entry(
        "Outside diameter", "86 mm", units=("mm", "in"), least="5 mm", most="1 m",
        why="Measured on the gasket.", help="Of what is really clamped.",
    ),
    inner: Length = entry(
        "Inside diameter", "40 mm", units=("mm", "in"), least=0, most="990 mm",
        why="Measured on the gasket.",
    ),
    material: str = choice(
        "Gasket is of", {key: item.text for key, item in FACINGS.items()}
        | {"own": "something else; I have m and y"}, default="fibre", seldom=True,
    ),
    place: str = choice(
        "A thicker gasket",
        {"opens": "opens the end float", "closes": "closes the end float",
         "none": "does nothing to the end float"}, default="opens",
        help="Follow the stack with a finger from thrust face to thrust face.",
    ),
    old: Length | None = entry(
        "Old gasket, as it was clamped", "0.42 mm", units=("mm", "µm", "in", "thou"), above=0,
        most="3 mm", optional=True, when={"place": ("opens", "closes")},
        why="Flat gaskets are thinner.", help="Measured where the faces have pressed it.",
    ),
    float_old: Length | None = entry(
        "End float with the old gasket", "0.18 mm", units=("mm", "thou"), least=0, most="3 mm",
        optional=True, when={"place": ("opens", "closes")}, why="Then a thrust washer is missing.",
    ),
    float_least: Length | None = entry(
        "Float, at least", "0.10 mm", units=("mm", "thou"), least=0, most="3 mm", optional=True,
        seldom=True, when={"place": ("opens", "closes")}, why="Then a thrust washer is missing.",
    ),
    float_most: Length | None = entry(
        "Float, at most", "0.25 mm", units=("mm", "thou"), least=0, most="3 mm", optional=True,
        seldom=True, when={"place": ("opens", "closes")}, why="Then a thrust washer is missing.",
    ),
    state: str = choice(
        "The gasket", {"new": "is new", "used": "has been clamped before"}, default="new",
    ),
    drives: str = choice(
        "The joint", {"yes": "carries torque by friction", "no": "only seals"}, default="no",
    ),
    points: Rows = table(
        "Points of the sheet",
        {"pressure": column("Pressure", Stress, units=("MPa", "N/mm²", "psi"), least="0.001 MPa",
                            most="1000 MPa"),
         "squash": column("Compression", Fraction, units=("%", ""), least="0 %", most="80 %")},
        default=(("5", "8"), ("10", "13"), ("20", "20"), ("40", "26"), ("90", "31")),
        least_rows=1, most_rows=12, seldom=True,
        help="From the gasket maker's sheet, for this thickness.",
    ),
    scatter: Number = entry(
        "Compression against the sheet's", "1", tolerance="0.25", least=0, most=3, seldom=True,
        help="A factor; sheets scatter by a quarter.",
    ),
    holes: Count = entry(
        "Holes in it", "4", least=0, most=60, seldom=True, why="Count them again.",
        help="Those within the clamped ring.",
    ),
    hole: Length = entry(
        "Diameter of a hole", "9 mm", units=("mm", "in"), least=0, most="200 mm", seldom=True,
        why="Measured on the gasket.",
    ),
    inside: Pressure = entry(
        "Pressure inside", "0.5 bar", units=("bar", "MPa", "kPa", "psi"), least=0, most="100 bar",
        seldom=True, why="No case of an engine holds more.",
    ),
    most_pressure: Stress | None = entry(
        "Greatest pressure its maker allows", "", units=("MPa", "N/mm²", "psi"), above=0,
        most="1000 MPa", optional=True, seldom=True, why="No sheet stands more.",
    ),
    setting: Fraction = entry(
        "Clamp force lost by setting", "15 %", units=("%",), least=0, most="60 %", seldom=True,
        usual=("0 %", "30 %"), why="Then the sheet is the wrong one.",
        help="Paper and fibre 10 % to 30 %, metal next to nothing.",
    ),
    factor: Number = entry(
        "Gasket factor m", "2", least=0, most=10, seldom=True, when={"material": "own"},
        why="No material of the table has more.",
    ),
    stress: Stress = entry(
        "Seating stress y", "10 MPa", units=("MPa", "N/mm²", "psi"), least=0, most="300 MPa",
        seldom=True, when={"material": "own"}, why="No material of the table has more.",
    ),
    sealant: str = choice(
        "Sealant", {"none": "none, fitted dry", "one": "on one face", "both": "on both faces"},
        default="none", seldom=True,
    ),
    film: Length = entry(
        "Thickness a face of sealant adds", "0.035 mm", units=("mm", "µm", "thou"), least=0,
        most="0.5 mm", tolerance="0.015 mm", seldom=True, when={"sealant": ("one", "both")},
        why="So much is no film.",
    ),
) -> FlangeGasket:  # fmt: skip
    """Thickness, pressure, seating and float; see the module's docstring."""
    ro, ri, d = outer.m_as("mm"), inner.m_as("mm"), hole.m_as("mm")
    area = _area(ro, ri, holes, d)
    curve = _curve(points)
    m, y = (
        (number(factor), stress.m_as("MPa"))
        if material == "own"
        else (FACINGS[material].m, FACINGS[material].y)
    )
    b, g = effective(ro, ri)
    needed, working = seating_force(b, g, y), working_force(b, g, m, inside.m_as("MPa"))
    faces = {"none": 0, "one": 1, "both": 2}[sealant]

    def clamped(t0: Any, force: Any, k: Any, each: Any) -> float:
        squash = min(number(k) * compression(curve, force.m_as("N") / area), 0.95)
        return float(t0.m_as("mm") * (1 - squash) + faces * each.m_as("mm"))

    t = clamped(thickness, clamp, scatter, film)
    ends = _ends(
        clamped, thickness=thickness, clamp=clamp, scatter=scatter, film=film,
    )  # fmt: skip
    sign = SIGNS[place]
    shift = sign * (t - old.m_as("mm")) if sign and old is not None else None
    float_new = floats = None
    if shift is not None and old is not None and float_old is not None:
        before = float_old.m_as("mm")
        float_new = before + shift
        moved = sorted(before + sign * (end - old.m_as("mm")) for end in ends)
        floats = (moved[0], moved[1])
    band = None
    if sign and float_least is not None and float_most is not None:
        band = (float_least.m_as("mm"), float_most.m_as("mm"))
        if band[1] < band[0]:
            raise RefusedError("float_most", "The most is less than the least. Exchange the two.")
    limits = as_entered("clamp", clamp)
    forces = (limits.low.m_as("N"), limits.high.m_as("N"))
    left = 1 - number(setting)
    force = clamp.m_as("N")
    return FlangeGasket(
        thickness=Q(t, "mm"),
        float_new=Q(float_new, "mm") if float_new is not None else None,
        shift=Q(shift, "mm") if shift is not None else None,
        pressure=Q(force / area, "MPa"),
        reserve=Q(_reserve(force, left, needed, working), ""),
        squash=Q(number(scatter) * compression(curve, force / area), ""),
        seating=Q(needed, "N"),
        working=Q(working, "N"),
        area=Q(area, "mm²"),
        width=Q(b, "mm"),
        diameter=Q(g, "mm"),
        findings=later(lambda: findings_of_gasket(Clamped(
            force=forces, needed=needed, held=(forces[0] * left, forces[1] * left),
            working=working, pressure=(forces[0] / area, forces[1] / area),
            most_pressure=most_pressure.m_as("MPa") if most_pressure is not None else None,
            last_point=curve[-1][0], thickness=ends, band=band, float_now=floats,
            setting=number(setting), drives=drives == "yes", used=state == "used",
            sealant=faces > 0,
        ))),
        curve=curve,
    )  # fmt: skip


def _area(outer: float, inner: float, holes: int, hole: float) -> float:
    """Area of the ring less its holes, mm²."""
    if inner >= outer:
        raise RefusedError("inner", "The inside is larger than the outside. Exchange the two.")
    ring = math.pi / 4 * (outer**2 - inner**2)
    area = ring - math.pi / 4 * holes * hole**2
    if (holes and hole > (outer - inner) / 2) or area < 0.1 * ring:
        raise RefusedError("hole", "So large or so many holes leave no gasket. Check both figures.")
    return area


def _curve(points: Any) -> Curve:
    try:
        return curve_of([(row.pressure.m_as("MPa"), number(row.squash)) for row in points])
    except ValueError as error:
        raise RefusedError("points", str(error)) from None


def _reserve(force: float, left: float, needed: float, working: float) -> float:
    """The lesser of the two ratios; 99 where nothing is needed."""
    ratios = [force / needed if needed > 0 else 99.0]
    if working > 0:
        ratios.append(force * left / working)
    return min(*ratios, 99.0)


def _ends(clamped: Any, **entered: Any) -> tuple[float, float]:
    """Least and greatest thickness within the limits entered.

    Thickness grows with the free thickness and the film, and falls with force and compression.
    """
    thin, thick = [], []
    for name, value in entered.items():
        standing = as_entered(name, value)
        ends = (standing.low, standing.high)
        falls = name in ("clamp", "scatter")
        thin.append(ends[1] if falls else ends[0])
        thick.append(ends[0] if falls else ends[1])
    return clamped(*thin), clamped(*thick)


flange_gasket.drawing("The joint with its gasket")(section_of_joint)
flange_gasket.drawing("Compression against pressure")(chart_of_squash)
