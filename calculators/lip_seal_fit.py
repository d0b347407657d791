"""How tight does the seal sit in its bore, cold and warm, and what presses it home?

Purpose at the bench: know before pressing whether this seal will hold in this bore, whether
a hand driver will do or a press is needed, and whether an aluminium housing lets go of it
when warm.

Interference delta = seal outside diameter - bore, at its least and greatest limits. A bare
metal case is a thin steel ring in an elastic housing (Lamé):
p = delta / (D [ (1/E_o)((D_o^2 + D^2)/(D_o^2 - D^2) + nu_o)
                + (1/E_i)((D^2 + D_i^2)/(D^2 - D_i^2) - nu_i) ]),
press force F = mu p pi D b. Warm: delta' = delta - D (alpha_o - alpha_steel)(T - 20 °C).

Symbols: D bore, D_o outside diameter of the housing's boss, D_i = D - 2 s inside of the
case, s thickness of the case, b width in contact, E, nu, alpha of housing (o) and case (i),
mu friction, T temperature of the housing.

Assumptions: the case is an even tube that stays elastic. A real case is stiffer where its
flange is and yields where the fit is tight, so the force is a guide upward, not a promise.
A rubber-covered case takes the interference in its rubber: no force is computed for it.

Sources: ISO 6194-1 (allowance, from memory), ISO 286-2 (H8), Lamé; friction, material
values and the limits of hand and press: common practice. The engine maker's manual wins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.lip_seal_fit_advice import Fit, findings_of_fit
from calculators.lip_seal_pictures import section_of_fit
from calculators.lip_seal_tables import CASES, ISO_286, ISO_6194, LARGEST_BORE, allowance, h8
from calculators.metals import STEEL
from calculators.press_fit_lame import HOUSINGS, hoop_stress, pressure
from witnessmark.calc import (
    CheckValue,
    Finding,
    Force,
    Formula,
    Length,
    Number,
    Pressure,
    Q,
    RefusedError,
    Rounding,
    Source,
    Stress,
    Symbol,
    Temperature,
    calculator,
    choice,
    entry,
    number,
    result,
    show,
)

LAME = Source(
    "lame-linear-system",
    "Elastic rings: displacements of case and housing from their boundary conditions, solved "
    "as a linear system",
    kind="derivation",
)
GROWTH = Source(
    "growth-of-bore",
    "Growth of a bore against steel, by hand: 90 mm × (23 - 11.5)·10⁻⁶ /K × 80 K = 0.083 mm",
    kind="derivation",
)
FITTING = Source(
    "seal-fitting-practice",
    "Workshop practice of pressing seals in; friction, material values; no published source",
    kind="common practice",
)
_FINE = Rounding(decimals=3, us_decimals=4)


@dataclass(frozen=True)
class LipSealFit:
    """Interference cold and warm, pressure and press force."""

    interference_least: Length = result("Interference, at least", lead=True, rounding=_FINE)
    interference_most: Length = result("Interference, at most", rounding=_FINE)
    force_most: Force | None = result(
        "Force to press it in, up to", unit="kN", us_unit="lbf", rounding=Rounding(figures=2)
    )
    force_least: Force | None = result(
        "Force to press it in, at least",
        unit="kN",
        us_unit="lbf",
        rounding=Rounding(figures=2),
        seldom=True,
    )
    warm_least: Length = result(
        "Interference when warm, at least", rounding=_FINE, help="Below zero the seal is loose."
    )
    warm_most: Length = result("Interference when warm, at most", rounding=_FINE)
    bore_least: Length = result("Bore, least", rounding=_FINE, seldom=True)
    bore_most: Length = result("Bore, greatest", rounding=_FINE, seldom=True)
    seal_least: Length = result("Outside of the seal, least", rounding=_FINE, seldom=True)
    seal_most: Length = result("Outside of the seal, greatest", rounding=_FINE, seldom=True)
    pressure_most: Pressure | None = result(
        "Pressure in the joint, up to",
        unit="MPa",
        us_unit="psi",
        rounding=Rounding(figures=2),
        seldom=True,
    )
    hoop: Stress | None = result(
        "Hoop stress in the case, up to", rounding=Rounding(figures=2),
        help="As if the case stayed elastic.", seldom=True,
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


def _bore(nominal: float, known: str, measured: Any) -> tuple[float, float]:
    """Least and greatest bore in mm."""
    if known == "h8":
        return h8(nominal)
    d = measured.m_as("mm")
    if abs(d - nominal) > 1:
        raise RefusedError(
            "bore_measured",
            f"The measured bore is more than {show(Q(1, 'mm'), 'mm', 2)} off its nominal size of "
            f"{show(Q(nominal, 'mm'), 'mm', 4)}. Check both figures.",
        )
    return d, d


def _seal(nominal: float, case: str, measured: Any) -> tuple[float, float]:
    """Least and greatest outside diameter of the seal in mm."""
    if measured is None:
        low, high = allowance(case, nominal)
        return nominal + low, nominal + high
    od = measured.m_as("mm")
    if abs(od - nominal) > 1:
        raise RefusedError(
            "seal_measured",
            f"A seal that measures {show(measured, 'mm', 5)} outside is not for a bore of "
            f"{show(Q(nominal, 'mm'), 'mm', 4)}. Check both figures.",
        )
    return od, od


@calculator(
    name="lip-seal-fit",
    title="Press fit of the seal in its bore",
    topic="seals",
    purpose="Tells how tightly a new seal sits in its bore, cold and warm, and the force that "
    "presses it in.",
    formulas=(
        Formula(r"\delta = D_\mathrm{seal} - D", "Interference on the diameter"),
        Formula(
            r"p = \frac{\delta}{D\left[\frac{1}{E_o}\left(\frac{D_o^2 + D^2}{D_o^2 - D^2} + "
            r"\nu_o\right) + \frac{1}{E_i}\left(\frac{D^2 + D_i^2}{D^2 - D_i^2} - "
            r"\nu_i\right)\right]}",
            "Pressure between metal case and housing",
        ),
        Formula(r"F = \mu\,p\,\pi\,D\,b", "Force to press it in"),
        Formula(
            r"\delta' = \delta - D\left(\alpha_o - \alpha_\mathrm{steel}\right)"
            r"\left(T - 20\,^\circ\mathrm{C}\right)",
            "Interference when warm",
        ),
    ),
    symbols=(
        Symbol("D", "bore", "mm"),
        Symbol("D_o", "outside diameter of the housing round the bore", "mm"),
        Symbol("D_i", "inside diameter of the case, D less twice its thickness", "mm"),
        Symbol("b", "width in contact", "mm"),
        Symbol(r"E_o,\ E_i", "Young's modulus of housing and case", "MPa"),
        Symbol(r"\nu_o,\ \nu_i", "Poisson's ratio of housing and case", "1"),
        Symbol(r"\alpha_o", "expansion of the housing", "1/K"),
        Symbol(r"\mu", "friction when pressing", "1"),
        Symbol("T", "temperature of the housing", "°C"),
    ),
    assumptions=(
        "Sizes are those at 20 °C; case and housing take the same temperature.",
        "The case is an even steel tube and stays elastic (206 GPa, 0.30, 11.5 µm/(m·K)); its "
        "flange makes it stiffer at one end.",
        "Grey iron 110 GPa, 0.26, 10.5 µm/(m·K); aluminium casting 70 GPa, 0.33, 23 µm/(m·K).",
        "Rubber-covered: the rubber takes the interference, so no pressure or force is given; "
        "rubber grows far more with heat than either metal, so the warm figure is careful.",
    ),
    sources=(ISO_6194, ISO_286, LAME, FITTING),
    check_values=(
        CheckValue(
            "90 H8", {"bore": "90 mm"}, {"bore_least": "90.000 mm", "bore_most": "90.054 mm"},
            source=ISO_286, abs_="0.1 µm",
        ),
        CheckValue(
            "metal case for 95 mm", {"case": "metal"},
            {"seal_least": "95.10 mm", "seal_most": "95.25 mm"}, source=ISO_6194, abs_="0.1 µm",
        ),
        CheckValue(
            "rubber-covered case for 95 mm", {"case": "rubber"},
            {"seal_least": "95.20 mm", "seal_most": "95.35 mm"}, source=ISO_6194, abs_="0.1 µm",
        ),
        CheckValue(
            "interference is seal less bore, at the limits", {"case": "metal"},
            {"interference_least": "0.046 mm", "interference_most": "0.250 mm"},
            source=Source(
                "limits-subtracted", "95.10 - 95.054 and 95.25 - 95.000, by hand",
                kind="derivation",
            ), abs_="0.1 µm",
        ),
        CheckValue(
            "case of 1.5 mm, 0.15 mm tight in a boss of aluminium",
            {
                "bore": "90 mm", "bore_known": "measured", "bore_measured": "90.00 mm",
                "seal_measured": "90.15 mm", "case": "metal", "wall": "1.5 mm",
                "housing": "aluminium", "boss": "130 mm",
            },
            {"pressure_most": "8.91 MPa"}, source=LAME,
        ),
        CheckValue(
            "bore of aluminium, 90 mm, 80 K warmer",
            {
                "bore": "90 mm", "bore_known": "measured", "bore_measured": "90.00 mm",
                "seal_measured": "90.15 mm", "case": "metal", "housing": "aluminium",
                "warm": "100 °C",
            },
            {"warm_least": "0.067 mm"}, source=GROWTH,
        ),
        CheckValue(
            "a bore over its limit with the smallest metal case",
            {"case": "metal", "bore_known": "measured", "bore_measured": "95.12 mm"},
            source=ISO_6194, findings=("no-interference", "bore-outside-h8"),
        ),
        CheckValue(
            "metal case loose in warm aluminium",
            {
                "case": "metal", "housing": "aluminium", "bore_known": "measured",
                "bore_measured": "95.05 mm", "seal_measured": "95.11 mm", "warm": "100 °C",
            },
            source=GROWTH, findings=("loose-when-warm",),
        ),
        CheckValue(
            "boss smaller than the bore", {"boss": "95 mm"}, source=LAME, refused=("boss",)
        ),
    ),
)  # fmt: skip
def lip_seal_fit(
    *,
    bore: Length = entry(
        "Bore diameter, nominal", "95 mm", units=("mm", "in"), least="16 mm",
        most=f"{LARGEST_BORE} mm", why="The table of seal diameters kept here ends there.",
        help="The second number on the seal.",
    ),
    case: str = choice("Outside of the seal", CASES, default="metal"),
    housing: str = choice(
        "Housing", {key: item.text for key, item in HOUSINGS.items()}, default="iron"
    ),
    bore_known: str = choice(
        "Bore from", {"h8": "its limits H8", "measured": "measurement"}, default="h8",
        help="Measure a bore that has held a seal before: it may be worn or scored.",
    ),
    bore_measured: Length = entry(
        "Bore, measured", "95.03 mm", units=("mm", "in"), least="15 mm", most="301 mm",
        when={"bore_known": "measured"}, why="No bore for a seal of this table.",
        help="Mean of two readings square to each other, at 20 °C.",
    ),
    seal_measured: Length | None = entry(
        "Outside of the seal, measured", "", units=("mm", "in"), least="15 mm", most="302 mm",
        optional=True, why="No seal of this table.",
        help="Mean of three readings round the case. Leave empty to take the table.", seldom=True,
    ),
    warm: Temperature = entry(
        "Housing in service", "90 °C", units=("°C", "°F"), least="-40 °C", most="200 °C",
        usual=("20 °C", "130 °C"), why="No housing is run outside this.", seldom=True,
    ),
    width: Length = entry(
        "Width in contact", "10 mm", units=("mm", "in"), least="2 mm", most="40 mm",
        why="Seals of this kind are 2 mm to 40 mm wide.", help="The third number on the seal.",
    ),
    wall: Length = entry(
        "Thickness of the case", "1.5 mm", units=("mm", "in"), least="0.4 mm", most="5 mm",
        usual=("0.6 mm", "3 mm"), when={"case": "metal"}, seldom=True,
        why="Cases are pressed from sheet.",
    ),
    boss: Length = entry(
        "Outside diameter of the housing round the bore", "130 mm", units=("mm", "in"),
        least="17 mm", most="2 m", when={"case": "metal"}, seldom=True,
        why="The metal round the bore carries the pressure.",
        help="Where it is not round, the smallest circle of solid metal.",
    ),
    friction: Number = entry(
        "Friction when pressing", "0.12", least="0.02", most="0.6", usual=("0.08", "0.2"),
        when={"case": "metal"}, seldom=True, why="No pair of metals is outside this.",
        help="Oiled 0.08 to 0.15; dry more.",
    ),
) -> LipSealFit:  # fmt: skip
    """Interference, pressure and force of a seal in its bore; see the module's docstring."""
    nominal = bore.m_as("mm")
    bores = _bore(nominal, bore_known, bore_measured)
    seals = _seal(nominal, case, seal_measured)
    cold = (seals[0] - bores[1], seals[1] - bores[0])
    metal = HOUSINGS[housing]
    loss = nominal * (metal.expansion - STEEL.expansion) * (warm.m_as("degC") - 20)
    hot = (cold[0] - loss, cold[1] - loss)
    forces: tuple[float, float] | None = None
    load = stress = None
    if case == "metal":
        s, outer, b = wall.m_as("mm"), boss.m_as("mm"), width.m_as("mm")
        if outer < nominal + 2:
            raise RefusedError(
                "boss",
                f"There must be metal round the bore: more than {show(bore + Q(2, 'mm'), 'mm', 4)}."
                " Measure the housing's outside where it is thinnest.",
            )
        low, load = (pressure(d, nominal, s, outer, metal) for d in cold)
        area = math.pi * nominal * b
        stress = hoop_stress(load, nominal, s)
        if load > 0:
            forces = (number(friction) * low * area, number(friction) * load * area)
    fit = Fit(
        case=case, nominal=nominal, bores=bores, seals=seals, cold=cold, hot=hot, loss=loss,
        aluminium=housing == "aluminium", bore_measured=bore_known == "measured",
        seal_measured=seal_measured is not None, force=forces[1] if forces else None,
        stress=stress, warm=warm,
    )  # fmt: skip
    return LipSealFit(
        interference_least=Q(cold[0], "mm"),
        interference_most=Q(cold[1], "mm"),
        force_most=Q(forces[1], "N") if forces else None,
        force_least=Q(forces[0], "N") if forces else None,
        warm_least=Q(hot[0], "mm"),
        warm_most=Q(hot[1], "mm"),
        bore_least=Q(bores[0], "mm"),
        bore_most=Q(bores[1], "mm"),
        seal_least=Q(seals[0], "mm"),
        seal_most=Q(seals[1], "mm"),
        pressure_most=Q(load, "MPa") if load is not None else None,
        hoop=Q(stress, "MPa") if stress is not None else None,
        findings=findings_of_fit(fit),
    )


lip_seal_fit.drawing("The seal over its bore")(section_of_fit)
