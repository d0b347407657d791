"""Limits of a hole and a shaft, and whether they go together loose or tight.

Purpose at the bench: a drawing says 50 H7/g6. What may the hole measure, what the shaft, and
how loose or tight can the two turn out, cold and at working temperature? With both parts
measured, the fit is theirs and no longer that of the drawing.

C_max = ES - ei, C_min = EI - es, negative where it is tight. Where both processes are centred
and normal with the tolerance as six standard deviations, C = (C_max + C_min)/2 +- 3 sigma,
sigma = sqrt(T_h^2 + T_s^2)/6. Measured: C = D - d, u = sqrt(u_h^2 + u_s^2).
Warmed by dT: C changes by D (alpha_h - alpha_s) dT.

Symbols: ES, EI upper and lower deviation of the hole, es, ei of the shaft, C clearance,
T tolerances, alpha expansion.

Assumptions: sizes hold at 20 °C (ISO 1); parts of one temperature; round and straight.

Sources: ISO 286-1 and -2 (``calculators.iso_286``), JCGM 100.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.fit_zones import draw_zones
from calculators.iso_286 import ISO_286_1, ISO_286_2, Limits, hole, read_class, shaft
from calculators.metals import CHOICES, METAL_VALUES, METALS
from witnessmark.calc import (
    CheckValue,
    Drawing,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Symbol,
    Temperature,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    show,
    table,
    text_result,
)

GUM = Source("jcgm-100-2008", "JCGM 100:2008 Guide to the expression of uncertainty in measurement")
TABLE = ISO_286_2.at("tables as printed in textbooks of machine elements")
MEMORY = Source(
    "iso-286-2-from-memory", "ISO 286-2:2010, limit deviations from memory", kind="from memory"
)
NORMAL = Source(
    "normal-fit", "Two normal sizes of 25 and 16 µm tolerance, by hand: √(25² + 16²)/2 = 14.8 µm",
    kind="derivation",
)  # fmt: skip
_UPPER = Rounding(decimals=3, us_decimals=5, toward="down")
_LOWER = Rounding(decimals=3, us_decimals=5, toward="up")
_LEAST = Rounding(decimals=0, us_decimals=2, toward="down")
_MOST = Rounding(decimals=0, us_decimals=2, toward="up")
_TENTHS = Rounding(decimals=1, us_decimals=3)


@dataclass(frozen=True)
class LimitsAndFit:
    """What the parts may measure and how they fit; clearances negative where it is tight."""

    verdict: str = text_result("The fit", lead=True)
    clearance_least: Length = result("Clearance at least", unit="µm", us_unit="thou",
                                     rounding=_LEAST, help="Negative: tight.")  # fmt: skip
    clearance_most: Length = result("Clearance at most", unit="µm", us_unit="thou", rounding=_MOST)
    hole_least: Length = result("Hole from", rounding=_LOWER)
    hole_most: Length = result("Hole to", rounding=_UPPER)
    shaft_least: Length = result("Shaft from", rounding=_LOWER)
    shaft_most: Length = result("Shaft to", rounding=_UPPER)
    measured: Length | None = result(
        "Clearance of the two measured", unit="µm", us_unit="thou", rounding=_LEAST
    )
    warm: Length = result(
        "Clearance gained when warm", unit="µm", us_unit="thou", rounding=_TENTHS, seldom=True
    )
    likely_least: Length = result(
        "Likely clearance at least", unit="µm", us_unit="thou", rounding=_LEAST, seldom=True,
        help="997 of 1000 of many pairs, made on centre.",
    )  # fmt: skip
    likely_most: Length = result(
        "Likely clearance at most", unit="µm", us_unit="thou", rounding=_MOST, seldom=True
    )
    tight: Fraction = result(
        "Share of pairs that are tight", unit="%", us_unit="%", rounding=Rounding(decimals=1),
        seldom=True,
    )  # fmt: skip
    hole_upper: Length = result("ES", unit="µm", us_unit="thou", rounding=_TENTHS, seldom=True)
    hole_lower: Length = result("EI", unit="µm", us_unit="thou", rounding=_TENTHS, seldom=True)
    shaft_upper: Length = result("es", unit="µm", us_unit="thou", rounding=_TENTHS, seldom=True)
    shaft_lower: Length = result("ei", unit="µm", us_unit="thou", rounding=_TENTHS, seldom=True)
    findings: tuple[Finding, ...] = ()
    names: tuple[str, str] = ("", "")


def _case(
    size: str, bore: str, pin: str, source: Source, expected: dict[str, str], **more: Any
) -> CheckValue:
    """A check value; expected deviations and clearances in micrometres."""
    return CheckValue(
        f"{size} {bore}/{pin}",
        {"size": f"{size} mm", "classes": [[bore, pin]], **more},
        {name: f"{text} µm" for name, text in expected.items()},
        source=source,
    )


def _holes(size: str, bore: str, upper: str, lower: str, source: Source) -> CheckValue:
    return _case(size, bore, "h6", source, {"hole_upper": upper, "hole_lower": lower})


def _fits(size: str, bore: str, pin: str, least: str, most: str) -> CheckValue:
    return _case(size, bore, pin, MEMORY, {"clearance_least": least, "clearance_most": most})


@calculator(
    name="limits-and-fit",
    title="What hole and shaft may measure, and how they fit",
    topic="fits",
    purpose="Limits of size of a hole and a shaft by their ISO classes, and how loose or tight "
    "the two can turn out.",
    formulas=(
        Formula(r"C_{max} = ES - ei,\quad C_{min} = EI - es", "Clearance, negative where tight"),
        Formula(
            r"C = \frac{C_{max} + C_{min}}{2} \pm \frac{1}{2}\sqrt{T_h^2 + T_s^2}",
            "Likely clearance of many pairs",
        ),
        Formula(r"\Delta C = D\,(\alpha_h - \alpha_s)\,(T - 20\,°C)", "Gained when warm"),
    ),
    symbols=(
        Symbol("ES, EI", "upper and lower deviation of the hole", "µm"),
        Symbol("es, ei", "upper and lower deviation of the shaft", "µm"),
        Symbol("T_h, T_s", "tolerances of hole and shaft", "µm"),
        Symbol("D", "nominal size", "mm"),
        Symbol(r"\alpha_h, \alpha_s", "expansion of hole and shaft", "1/K"),
    ),
    assumptions=(
        "Sizes hold at 20 °C; both parts have one temperature.",
        "Deviations f to s and F to S, grades 5 to 11, up to 500 mm, by the standard's tables.",
        "Likely limits: processes on centre, normal, tolerance six standard deviations wide.",
    ),
    sources=(ISO_286_1, ISO_286_2, GUM, METAL_VALUES),
    check_values=(
        _case("8", "H7", "m6", TABLE, {"shaft_upper": "15", "shaft_lower": "6",
                                       "clearance_least": "-15", "clearance_most": "9"}),
        _fits("50", "H7", "g6", "9", "50"), _fits("50", "H7", "k6", "-18", "23"),
        _fits("50", "H7", "p6", "-42", "-1"), _fits("50", "H7", "s6", "-59", "-18"),
        _fits("25", "H7", "n6", "-28", "6"), _fits("8", "P7", "m6", "-39", "-15"),
        _fits("260", "H7", "s6", "-190", "-106"),
        _holes("50", "P7", "-17", "-42", TABLE), _holes("50", "K7", "7", "-18", TABLE),
        _holes("50", "P6", "-21", "-37", TABLE), _holes("50", "N9", "0", "-62", TABLE),
        _holes("8", "N7", "-4", "-19", TABLE), _holes("8", "M7", "0", "-15", TABLE),
        _holes("2", "K7", "0", "-10", TABLE), _holes("100", "K6", "4", "-18", TABLE),
        _holes("300", "M6", "-9", "-41", ISO_286_2.at("the exception M6, 250 mm to 315 mm")),
        _case("70", "H8", "h11", TABLE, {"shaft_upper": "0", "shaft_lower": "-190"}),
        _case("50", "JS7", "js7", TABLE, {"hole_upper": "12.5", "shaft_lower": "-12.5"}),
        _case("50", "JS7", "g6", ISO_286_2.at("JS rounded to whole micrometres"),
              {"hole_upper": "12", "hole_lower": "-12"}, whole="even"),
        CheckValue(
            "likely limits of 50 H7/g6", {"size": "50 mm", "classes": [["H7", "g6"]]},
            {"likely_least": "14.66 µm", "likely_most": "44.34 µm", "tight": "0.0 %"},
            source=NORMAL, remark="29.5 ± 14.84 µm.",
        ),
        CheckValue(
            "aluminium on steel, 90 mm, 100 °C",
            {"size": "90 mm", "hole_metal": "aluminium", "temperature": "100 °C"},
            {"warm": "82.8 µm"}, source=METAL_VALUES, remark="90 mm × 11.5·10⁻⁶/K × 80 K.",
        ),
        CheckValue(
            "measured parts closer than they were measured",
            {"size": "50 mm", "classes": [["H7", "g6"]], "hole_size": "50.004 mm",
             "shaft_size": "50.001 mm"},
            {"measured": "3 µm"}, source=GUM, findings=("undetermined", "shaft-out"),
        ),
        CheckValue(
            "a shaft in the column of the hole", {"classes": [["h7", "m6"]]}, source=ISO_286_1,
            refused=("classes",),
        ),
        CheckValue(
            "a deviation not kept here", {"classes": [["ZC7", "m6"]]}, source=ISO_286_1,
            refused=("classes",),
        ),
    ),
)  # fmt: skip
def limits_and_fit(
    *,
    size: Length = entry(
        "Nominal size", "8 mm", units=("mm", "in"), above=0, most="500 mm",
        why="The tables kept here end at 500 mm.",
    ),
    classes: Rows = table(
        "Classes", {"hole": column("Hole"), "shaft": column("Shaft")}, default=(("H7", "m6"),),
        most_rows=1, help="Capitals for the hole: H7; small letters for the shaft: m6.",
    ),
    hole_size: Length | None = entry(
        "Hole as measured", "", units=("mm", "in"), above=0, most="501 mm", optional=True,
        why="The tables kept here end at 500 mm.",
    ),
    shaft_size: Length | None = entry(
        "Shaft as measured", "", units=("mm", "in"), above=0, most="501 mm", optional=True,
        why="The tables kept here end at 500 mm.",
    ),
    hole_u: Length = entry(
        "Uncertainty of the hole", "0.003 mm", units=("mm", "µm", "thou"), least=0, most="0.5 mm",
        seldom=True, why="With that nothing can be told.", help="One standard deviation.",
    ),
    shaft_u: Length = entry(
        "Uncertainty of the shaft", "0.002 mm", units=("mm", "µm", "thou"), least=0, most="0.5 mm",
        seldom=True, why="With that nothing can be told.", help="One standard deviation.",
    ),
    hole_metal: str = choice("Hole in", CHOICES, default="iron", seldom=True),
    shaft_metal: str = choice("Shaft of", CHOICES, default="steel", seldom=True),
    temperature: Temperature = entry(
        "Working temperature", "80 °C", least="-60 °C", most="400 °C", seldom=True,
        why="These parts do not get there.",
    ),
    whole: str = choice(
        "JS of odd grades", {"half": "exactly half", "even": "rounded to whole micrometres"},
        default="half", seldom=True,
    ),
) -> LimitsAndFit:  # fmt: skip
    """Limits and fit; see the module's docstring."""
    d, even = size.m_as("mm"), whole == "even"
    try:
        bore_class = read_class(classes[0].hole, hole=True)
        pin_class = read_class(classes[0].shaft, hole=False)
    except ValueError as error:
        raise RefusedError("classes", str(error)) from None
    bore, pin = hole(*bore_class, d, even=even), shaft(*pin_class, d, even=even)
    least, most = bore.lower - pin.upper, bore.upper - pin.lower
    middle, sigma = (least + most) / 2, math.hypot(bore.width, pin.width) / 6
    both = None
    if hole_size is not None and shaft_size is not None:
        both = round(1000 * (hole_size.m_as("mm") - shaft_size.m_as("mm")), 6)
    u = 2 * math.hypot(hole_u.m_as("um"), shaft_u.m_as("um"))
    gained = 1000 * d * (METALS[hole_metal].expansion - METALS[shaft_metal].expansion)
    warm = gained * (temperature.m_as("K") - 293.15)
    findings = [
        *_measured("hole", hole_size, bore, d), *_measured("shaft", shaft_size, pin, d),
        *_fit(least, most, both, u, warm),
    ]  # fmt: skip
    return LimitsAndFit(
        verdict=_verdict(least, most) if both is None else _verdict(both, both),
        clearance_least=Q(least, "µm"),
        clearance_most=Q(most, "µm"),
        hole_least=_size(d, bore.lower),
        hole_most=_size(d, bore.upper),
        shaft_least=_size(d, pin.lower),
        shaft_most=_size(d, pin.upper),
        measured=None if both is None else Q(both, "µm"),
        warm=Q(round(warm, 6), "µm"),
        likely_least=Q(middle - 3 * sigma, "µm"),
        likely_most=Q(middle + 3 * sigma, "µm"),
        tight=Q(round((1 + math.erf(-middle / sigma / math.sqrt(2))) / 2, 9), ""),
        hole_upper=Q(bore.upper, "µm"),
        hole_lower=Q(bore.lower, "µm"),
        shaft_upper=Q(pin.upper, "µm"),
        shaft_lower=Q(pin.lower, "µm"),
        findings=tuple(findings),
        names=("{}{}".format(*bore_class), "{}{}".format(*pin_class)),
    )


def _size(nominal: float, deviation: float) -> Any:
    """A limit of size, cut to a picometre."""
    return Q(round(nominal + deviation / 1000, 9), "mm")


def _verdict(least: float, most: float) -> str:
    if least >= 0:
        return "loose" if least > 0 else "loose or just free"
    return "tight" if most < 0 else "loose or tight, as it comes"


def _measured(name: str, size: Any, limits: Limits, nominal: float) -> Iterator[Finding]:
    """Whether a measured part lies within its class."""
    if size is None:
        return
    off = 1000 * (size.m_as("mm") - nominal)
    if limits.lower - 1e-6 <= off <= limits.upper + 1e-6:
        return
    over = off - limits.upper if off > limits.upper else limits.lower - off
    way = "over" if off > limits.upper else "under"
    yield caution(
        f"{name}-out",
        f"The {name} is {show(Q(over, 'µm'), 'µm', 2)} {way} its class. Count with what it "
        "measures; a worn or reamed part no longer has the fit of the drawing.",
        f"{name}_size",
    )


def _fit(least: float, most: float, both: float | None, u: float, warm: float) -> Iterator[Finding]:
    if both is not None:
        if abs(both) <= u:
            yield caution(
                "undetermined",
                f"The two are nearer to each other than they were measured, "
                f"{show(Q(u, 'µm'), 'µm', 2)}: loose or tight cannot be told. Measure again, or "
                "try them together.",
            )
    elif least < 0 <= most:
        yield caution(
            "transition",
            "This fit may come out loose or tight. Where a pin must hold, measure both parts, or "
            "take a hole of class N7 or P7.",
        )
    cold = (least, most) if both is None else (both, both)
    if cold[1] < 0 <= cold[1] + warm:
        yield caution(
            "lets-go-warm",
            f"Warm, the hole gains {show(Q(warm, 'µm'), 'µm', 2)} on the shaft: a fit that is "
            "tight on the bench may let go.",
            "temperature",
        )
    if cold[0] > 0 >= cold[0] + warm:
        yield caution(
            "seizes-warm",
            f"Warm, the hole loses {show(Q(-warm, 'µm'), 'µm', 2)} on the shaft: a fit that is "
            "loose on the bench may seize.",
            "temperature",
        )
    yield note(
        "at-20-degrees",
        "Sizes hold at 20 °C. Let parts and gauge lie together before you measure.",
    )


@limits_and_fit.drawing("The two zones")
def _draw(entries: Any, results: LimitsAndFit) -> Drawing:
    return draw_zones(entries.size, results)
