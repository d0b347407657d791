"""How deep a screw must sit so that its shank breaks before a thread strips.

Purpose at the bench: is this hole deep enough, is this nut high enough, and which part gives
first. A broken shank is seen; a stripped thread lets go later.

Shear areas at the worst limit sizes 6g/6H, weakened by C1 to C3 (``calculators.thread_stripping``),
times the shear strength of bolt and nut; against the shank at the greatest strength its class
allows, A_s R_m,max. Chamfers and run-outs at both ends do not carry: 0.8 P is taken off.

Assumptions: sound threads, load along the axis, evenly strong metal; up to about 1.5 diameters.

Sources: FED-STD-H28/2, VDI 2230-1; strengths of metals are usual ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from calculators.fastener_classes import CLASSES, HARDNESS_SHARE, ISO_898, covers
from calculators.spanner_sizes import ACROSS_FLATS, ISO_272
from calculators.thread_engagement_advice import findings_of_engagement
from calculators.thread_gap import THREADS as TOLERANCES
from calculators.thread_sizes import METRIC
from calculators.thread_stripping import (
    THIN,
    Engaged,
    bolt_area_per_length,
    nut_area_per_length,
)
from witnessmark.calc import (
    Area,
    Bars,
    CheckValue,
    Finding,
    Force,
    Formula,
    Length,
    Number,
    Q,
    RefusedError,
    Rounding,
    Source,
    Stress,
    Symbol,
    calculator,
    choice,
    entry,
    result,
    show,
    text_result,
)

H28 = Source(
    "fed-std-h28-2", "FED-STD-H28/2 Screw-thread standards, shear areas of threads, quoted from "
    "memory", kind="from memory",
)  # fmt: skip
VDI_2230 = Source(
    "vdi-2230-1-stripping", "VDI 2230-1 Systematic calculation of highly stressed bolted joints, "
    "stripping of threads, quoted from memory", kind="from memory",
)  # fmt: skip
B1_13M = Source(
    "asme-b1-13m-shear", "Shear areas by hand from the limits printed in ASME B1.13M-1995, 6g and "
    "6H", kind="derivation",
)  # fmt: skip
PRACTICE = Source(
    "engagement-practice", "Common practice for depths of engagement: about one diameter in "
    "steel, one and a quarter to one and a half in iron, two in aluminium, for class 8.8",
    kind="common practice",
)  # fmt: skip


class Metal(NamedTuple):
    """A metal with an internal thread: its name, usual tensile strength in MPa, and its shear
    strength as a share of that (VDI 2230-1, from memory)."""

    label: str
    tensile: float
    shear: float


METALS = {
    "steel": Metal("steel, mild", 500.0, 0.6),
    "strong": Metal("steel, heat-treated (nut class 8 and above)", 800.0, 0.6),
    "iron": Metal("grey iron", 250.0, 1.1),
    "nodular": Metal("nodular iron", 400.0, 0.9),
    "aluminium": Metal("aluminium casting", 240.0, 0.7),
}
BOLT_SHEAR = {"8.8": 0.65, "9.8": 0.65, "10.9": 0.62, "12.9": 0.60}
"""Shear over tensile strength of bolts by class; others 0.65 (VDI 2230-1, from memory)."""
MARKS = {name: f"class {each.label}" for name, each in CLASSES.items() if not each.unified}
CHAMFERS = 0.8
"""Pitches at both ends together that do not carry."""


@dataclass(frozen=True)
class ThreadEngagement:
    """The depth needed, and what gives at which load."""

    needed: Length = result(
        "Engagement needed", lead=True,
        rounding=Rounding(decimals=1, us_decimals=2, toward="up"),
        help="So that even the strongest screw of the class breaks before a thread strips.",
    )  # fmt: skip
    first: str = text_result("First to give")
    shank: Force = result("A strong screw breaks at", unit="kN", us_unit="lbf", band=False)
    nut_strips: Force = result("Inner thread strips at", unit="kN", us_unit="lbf")
    bolt_strips: Force = result("Screw's thread strips at", unit="kN", us_unit="lbf")
    diameters: Number = result("Needed, in diameters", rounding=Rounding(decimals=2, us_decimals=2),
                               band=False, seldom=True)  # fmt: skip
    nut_area: Area = result("Shear area of the inner thread", band=False, seldom=True)
    bolt_area: Area = result("Shear area of the screw's thread", band=False, seldom=True)
    ratio: Number = result("Inner over outer strength", band=False, seldom=True)
    findings: tuple[Finding, ...] = ()


def _area(label: str, thread: str, bolt: str, nut: str) -> CheckValue:
    return CheckValue(
        label, {"thread": thread, "engagement": "10 mm", "chamfer": "0"},
        {"bolt_area": bolt, "nut_area": nut}, source=B1_13M, rel=2e-3,
    )  # fmt: skip


@calculator(
    name="thread-engagement",
    title="Thread engagement and stripping",
    topic="threads",
    purpose="Tells how deep a screw must sit in its nut or hole so that its shank breaks before a "
    "thread strips, and what gives first as it is.",
    formulas=(
        Formula(r"A_G = \pi D_1 \frac{m}{P}\left(\frac{P}{2} + (d_2 - D_1)\tan 30^\circ\right)",
                "Shear area of the screw's thread"),
        Formula(r"A_M = \pi d\,\frac{m}{P}\left(\frac{P}{2} + (d - D_2)\tan 30^\circ\right)",
                "Shear area of the inner thread"),
        Formula(r"F = \min\left(\tau_B A_G C_1 C_2,\ \tau_M A_M C_1 C_3\right)",
                "Load at which a thread strips"),
        Formula(r"F \geq A_s\,R_{m,\mathrm{max}}", "The shank breaks first"),
    ),
    symbols=(
        Symbol("m", "engagement less 0.8 pitches for the ends", "mm"),
        Symbol("D_1, D_2", "bore and pitch diameter of the inner thread, greatest", "mm"),
        Symbol("d, d_2", "outer and pitch diameter of the screw, least", "mm"),
        Symbol(r"\tau_B, \tau_M", "shear strength of screw and inner thread", "MPa"),
        Symbol("C_1, C_2, C_3", "weakening by spreading and by bending of the threads", "1"),
        Symbol("A_s", "stress area", "mm²"),
    ),
    assumptions=(
        "Sound threads within 6g and 6H; a worn or recut thread carries less.",
        "The greatest tensile strength of a class is a fifth above its least.",
        "The load along the axis is shared over the engaged turns, which holds to about one and a "
        "half diameters.",
    ),
    sources=(H28, VDI_2230, ISO_898, ISO_272, B1_13M, PRACTICE),
    check_values=(
        _area("M10×1.5, 10 mm carrying", "M10x1.5", "155.8 mm²", "214.8 mm²"),
        _area("M30×2, 10 mm carrying", "M30x2", "515.5 mm²", "670.0 mm²"),
        _area("M12×1.75, 10 mm carrying", "M12x1.75", "189.8 mm²", "261.2 mm²"),
        CheckValue(
            "M12×1.75, 8.8 in mild steel", {"thread": "M12x1.75", "mark": "8.8", "metal": "steel"},
            {"diameters": "1.0"}, source=PRACTICE, abs_="0.2",
        ),
        CheckValue(
            "M12×1.75, 8.8 in grey iron", {"thread": "M12x1.75", "mark": "8.8", "metal": "iron"},
            {"diameters": "1.25"}, source=PRACTICE, abs_="0.3",
        ),
        CheckValue(
            "M12×1.75, 8.8 in aluminium", {"thread": "M12x1.75", "mark": "8.8",
                                           "metal": "aluminium"},
            {"diameters": "2.0"}, source=PRACTICE, abs_="0.5",
        ),
        CheckValue("shallow hole", {"engagement": "6 mm"}, source=PRACTICE,
                   findings=("strips-first",)),
        CheckValue("thin ring nut", {"body": "nut", "flats": "16 mm"}, source=VDI_2230,
                   refused=("flats",)),
    ),
)  # fmt: skip
def thread_engagement(
    *,
    thread: str = choice(
        "Thread", {name: size.label for name, size in TOLERANCES.items()}, default="M12x1.25",
        help="Find diameter and pitch with the thread gauge; the pitch is never guessed.",
    ),
    mark: str = choice("Mark on the head", MARKS, default="10.9",
                       help="The stronger the screw, the deeper it must sit."),
    engagement: Length = entry(
        "Engaged length", "20 mm", units=("mm", "in"), above=0, most="150 mm",
        help="Only turns that sit in one another; count the turns and multiply by the pitch.",
    ),
    body: str = choice("Screwed into", {"tapped": "a tapped hole", "nut": "a hexagon nut"},
                       default="tapped"),
    flats: Length | None = entry(
        "Across flats of the nut", "", units=("mm", "in"), above=0, most="150 mm", optional=True,
        when={"body": "nut"}, seldom=True, help="Empty: the usual width.",
    ),
    metal: str = choice("Inner thread cut in", {name: each.label for name, each in METALS.items()},
                        default="strong"),
    tensile: Stress | None = entry(
        "Its tensile strength", "", units=("MPa", "ksi"), least="50 MPa", most="1500 MPa",
        optional=True, seldom=True, help="Empty: a usual figure of the metal.",
    ),
    chamfer: Number = entry(
        "Ends that do not carry, in pitches", "0.8", least=0, most=4, usual=("0", "2"),
        seldom=True, help="Chamfers and run-outs of both ends together.",
    ),
) -> ThreadEngagement:  # fmt: skip
    """Depth needed and loads; see the module's docstring."""
    size, form = TOLERANCES[thread], METRIC[thread]
    ends = chamfer.m_as("dimensionless") * size.pitch
    carrying = engagement.m_as("millimeter") - ends
    if carrying <= 0:
        raise RefusedError("engagement", "Nothing carries: the ends alone are longer. Measure it.")
    width = _width(form.d, flats) if body == "nut" else 2.0
    part, of = METALS[metal], CLASSES[mark]
    strength = part.tensile if tensile is None else tensile.m_as("megapascal")
    strongest = HARDNESS_SHARE * of.strength(form.d).tensile
    # A strong screw has a strong thread too; the inner one must hold the strong shank.
    pair = Engaged(size, BOLT_SHEAR.get(mark, 0.65) * strongest, part.shear * strength, width)
    shank = form.stress_area * strongest
    outer, inner = pair.bolt_strips, pair.nut_strips
    needed = shank / min(outer, inner) + ends
    loads = {"the shank of the screw": shank, "the thread of the screw": outer * carrying,
             "the inner thread": inner * carrying}  # fmt: skip
    first = min(loads, key=lambda name: loads[name])
    return ThreadEngagement(
        needed=Q(needed, "mm"),
        first=first,
        shank=Q(shank, "N"),
        nut_strips=Q(inner * carrying, "N"),
        bolt_strips=Q(outer * carrying, "N"),
        diameters=Q(needed / form.d, ""),
        nut_area=Q(nut_area_per_length(size) * carrying, "mm²"),
        bolt_area=Q(bolt_area_per_length(size) * carrying, "mm²"),
        ratio=Q(pair.ratio, ""),
        findings=findings_of_engagement(
            engagement.m_as("millimeter") / form.d, needed, first, metal, body, tensile is None,
            covers(of, form.d), of.label,
        ),
    )  # fmt: skip


def _width(d: float, flats: Any) -> float:
    """Width across flats in diameters. Refuses a nut so thin that nothing is known of it."""
    across = ACROSS_FLATS[d] if flats is None else float(flats.m_as("millimeter"))
    if across < THIN * d * (1 - 1e-9):
        raise RefusedError(
            "flats",
            f"A nut narrower than {THIN:g} diameters spreads under load, and no rule here covers "
            "it. Ask the maker.",
        )
    return across / d


@thread_engagement.drawing("What gives at which load")
def _(entries: Any, results: Any) -> Bars:
    """The three loads side by side; the shortest bar gives first."""
    bars = Bars(
        "What gives at which load",
        f"First to give: {results.first}. The shank should be the shortest bar.",
    )
    for label, load in (("Strong shank breaks", results.shank),
                        ("Inner thread strips", results.nut_strips),
                        ("Screw's thread strips", results.bolt_strips)):  # fmt: skip
        bars.bar(label, load.m_as("newton"), show(load, "kN", 3))
    return bars
