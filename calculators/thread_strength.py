"""A thread's diameters, its stress area and the load it is proved with.

Purpose at the bench: what thread is this, what does a fastener of this mark bear, which spanner
fits, and what is it taken for by mistake.

A = pi/4 d_s^2 of the thread (``calculators.thread_form``), or of the waist where that is
thinner, less the area of a bore. Proof load A S_p, yield load A R_p0.2, tensile load A R_m, all
least values (``calculators.fastener_classes``). Where the thread is worn, its diameters are
taken smaller by as much as its crests are: a loss of 0.1 mm on M10 costs 2.3 % of the area.

Assumptions: load along the axis, no bending; the nut is strong enough (its class number is at
least the bolt's first number) and fully engaged.

Sources: ISO 68-1, ISO 724, ISO 898-1, ASME B1.1, SAE J429.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.chosen_thread import (
    DIAMETER,
    PITCH,
    SYSTEM,
    chosen_thread,
    diameter_text,
    findings_of_thread,
    thread_choice,
)
from calculators.fastener_classes import (
    CHOICES,
    ISO_898,
    ISO_898_2,
    SAE_J429,
    UNKNOWN,
    FastenerClass,
    class_of,
    covers,
)
from calculators.spanner_sizes import ASME_B18, ISO_272, spanner
from calculators.thread_form import ThreadForm
from calculators.thread_friction import Section
from calculators.thread_gap import THREADS as TOLERANCES
from witnessmark.calc import (
    Area,
    CheckValue,
    Drawing,
    Finding,
    Force,
    Formula,
    Length,
    Q,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    calculator,
    caution,
    choice,
    entry,
    note,
    result,
    show,
    text_result,
)

ISO_724 = Source("iso-724", "ISO 68-1 and ISO 724 Metric screw threads - Basic profile and sizes")
ASME_B1_1 = Source("asme-b1-1", "ASME B1.1 Unified inch screw threads", "table of stress areas")
BY_HAND = Source("strength-by-hand", "Areas of circles and rings, by hand", kind="derivation")
PRACTICE = Source(
    "thread-practice", "Bench practice with threads, no published source", kind="common practice"
)

_FINE = Rounding(decimals=3, us_decimals=4)


@dataclass(frozen=True)
class ThreadStrength:
    """Loads, area and diameters of one fastener."""

    proof: Force = result(
        "Proof load", lead=True, unit="kN", us_unit="lbf",
        help="It bears this and is as long as before. It is no figure to tighten to.",
    )  # fmt: skip
    yields: Force = result("Yield load, least", unit="kN", us_unit="lbf")
    tensile: Force = result("Tensile load, least", unit="kN", us_unit="lbf")
    area: Area = result("Area that bears", unit="mm²", us_unit="in²", rounding=Rounding(figures=3))
    governs: str = text_result("Weakest section")
    spanner: str = text_result("Spanner")
    counted: str = text_result("Counted as", seldom=True)
    d2: Length = result("Pitch diameter", rounding=_FINE, band=False, seldom=True)
    d3: Length = result("Root of the bolt", rounding=_FINE, band=False, seldom=True)
    nut_bore: Length = result("Bore of the nut", rounding=_FINE, band=False, seldom=True)
    pitch: Length = result("Pitch", rounding=_FINE, band=False, seldom=True)
    findings: tuple[Finding, ...] = ()


def _case(label: str, thread: str, mark: str, proof: str, rel: float, source: Source) -> CheckValue:
    return CheckValue(
        label, {"thread": thread, "mark": mark}, {"proof": proof}, source=source, rel=rel,
        remark="the table multiplies the area rounded to three figures",
    )  # fmt: skip


@calculator(
    name="thread-strength",
    title="Thread, stress area and proof load",
    topic="threads",
    purpose="Tells the diameters of a thread, what a fastener with a given mark bears, which "
    "spanner fits and which other threads it is taken for.",
    formulas=(
        Formula(r"A_s = \frac{\pi}{4}\left(d - \frac{13}{12} H\right)^2",
                "Stress area, metric thread"),
        Formula(r"A_t = \frac{\pi}{4}\left(d - \frac{9}{8} H\right)^2",
                "Stress area, unified thread"),
        Formula(r"F_p = A\,S_p", "Proof load"),
    ),
    symbols=(
        Symbol("d", "nominal diameter, or the diameter measured over the crests", "mm"),
        Symbol("H", "height of the sharp triangle, 0.866 pitches", "mm"),
        Symbol("A", "area of thread or waist, whichever is less, without the bore", "mm²"),
        Symbol("S_p", "stress under proof load", "MPa"),
    ),
    assumptions=(
        "The load acts along the axis; nothing bends the fastener.",
        "The nut is at least of the bolt's class and engaged over its whole height.",
        "Strengths are the least ones of the class: a fastener may be a good deal stronger.",
    ),
    sources=(ISO_724, ISO_898, ISO_898_2, ASME_B1_1, SAE_J429, ISO_272, ASME_B18, PRACTICE),
    check_values=(
        _case("M16×2, class 8.8: the lower group", "M16x2", "8.8", "91.0 kN", 5e-3, ISO_898),
        _case("M18×2.5, class 8.8: the upper group", "M18x2.5", "8.8", "115 kN", 5e-3, ISO_898),
        _case("M24×3, class 10.9", "M24x3", "10.9", "293 kN", 5e-3, ISO_898),
        _case("M10×1.5, class 12.9", "M10x1.5", "12.9", "56.3 kN", 5e-3, ISO_898),
        _case("1/2-13, grade 5", "1/2-13", "grade 5", "12100 lbf", 5e-3, SAE_J429),
        CheckValue(
            "M10×1.5 diameters", {"thread": "M10x1.5"},
            {"d2": "9.026 mm", "d3": "8.160 mm", "nut_bore": "8.376 mm", "area": "58.0 mm²"},
            source=ISO_724,
        ),
        CheckValue(
            "1/2-13 area", {"thread": "1/2-13"}, {"area": "0.1419 in²"}, source=ASME_B1_1,
        ),
        CheckValue(
            "hollow M30×1.5, bore 14 mm", {"thread": "M30x1.5", "bore": "14 mm"},
            {"area": "488.2 mm²"}, source=BY_HAND, rel=5e-4,
            remark="642.1 mm² less a circle of 14 mm",
        ),
        CheckValue(
            "waist of 9 mm under M12×1.25", {"waist": "9 mm"}, {"area": "63.6 mm²"}, source=BY_HAND,
            findings=("waist-governs",),
        ),
        CheckValue("no mark", {"mark": UNKNOWN}, source=PRACTICE, findings=("mark-unknown",)),
        CheckValue("bore as wide as the root", {"bore": "10.5 mm"}, source=BY_HAND,
                   refused=("bore",)),
    ),
)  # fmt: skip
def thread_strength(
    *,
    thread: str = thread_choice("M12x1.25"),
    diameter: Length = DIAMETER,
    pitch: Length = PITCH,
    system: str = SYSTEM,
    mark: str = choice(
        "Mark on the head", CHOICES, default=UNKNOWN,
        help="Two numbers with a point are a property class, radial strokes an inch grade: three "
        "for 5, six for 8.",
    ),
    hand: str = choice(
        "Hand", {"right": "right-hand", "left": "left-hand"}, default="right",
        help="Hold it upright: a right-hand thread climbs to the right.",
    ),
    measured: Length | None = entry(
        "Over the crests, measured", "", units=("mm", "in"), above=0, most="80 mm", optional=True,
        seldom=True, help="Leave empty for a sound thread. A worn or stretched one bears less.",
    ),
    bore: Length = entry(
        "Bore through the fastener", "0 mm", units=("mm", "in"), least="0 mm", most="70 mm",
        seldom=True, help="Hollow screws and drilled shafts; 0 for a solid one.",
    ),
    waist: Length | None = entry(
        "Thinnest part of the shank", "", units=("mm", "in"), above=0, most="80 mm", optional=True,
        seldom=True, help="Leave empty where the shank is not thinner than its thread.",
    ),
) -> ThreadStrength:  # fmt: skip
    """Loads, areas and diameters; see the module's docstring."""
    form = chosen_thread(thread, diameter, pitch, system)
    lost = 0.0 if measured is None else _lost(form, measured.m_as("millimeter"))
    b = bore.m_as("millimeter")
    threaded = Section(form.stress_diameter - lost, b)
    shank = None if waist is None else Section(waist.m_as("millimeter"), b)
    if b >= form.d3 - lost or (shank is not None and b >= shank.outer):
        raise RefusedError("bore", "The bore would leave no wall. Check it and the thread.")
    waisted = shank is not None and shank.area < threaded.area
    area = shank.area if shank is not None and waisted else threaded.area
    of = class_of(mark, form.unified)
    strength = of.strength(form.d)
    return ThreadStrength(
        proof=Q(strength.proof * area, "N"),
        yields=Q(strength.yields * area, "N"),
        tensile=Q(strength.tensile * area, "N"),
        area=Q(area, "mm²"),
        governs="the waist" if waisted else "the thread",
        spanner=spanner(form.d),
        counted=of.label if of.unified else f"class {of.label}",
        d2=Q(form.d2 - lost, "mm"),
        d3=Q(form.d3 - lost, "mm"),
        nut_bore=Q(form.nut_bore, "mm"),
        pitch=Q(form.pitch, "mm"),
        findings=(
            *findings_of_class(of, mark, form),
            *_findings_of_section(form, lost, waisted),
            *findings_of_thread(form),
            *_findings_of_hand(hand),
            note(
                "proof-is-no-target",
                "The proof load is a limit of the fastener, not a clamp force to tighten to. The "
                "stated torque rules.",
            ),
        ),
    )


def _lost(form: ThreadForm, over: float) -> float:
    """By how much in mm a thread's crests are worn; refuses what is no such thread."""
    if over > form.d + 0.05 or over < form.d3:
        raise RefusedError(
            "measured",
            f"A bolt {form.label} measures up to {show(Q(form.d, 'mm'), 'mm', 4)} over the crests, "
            f"and {show(Q(form.d3, 'mm'), 'mm', 4)} at the root. Check thread and reading.",
        )
    lost = float(form.d - over) - _play(form)
    return lost if lost > 1e-6 else 0.0


def _play(form: ThreadForm) -> float:
    """By how much in mm a new bolt of tolerance 6g may be under its nominal diameter."""
    if form.name in TOLERANCES:
        size = TOLERANCES[form.name]
        return float(size.allowance + size.t_d)
    return float(
        1e-3 * (15 + 11 * form.pitch + 180 * form.pitch ** (2 / 3) - 3.15 / form.pitch**0.5)
    )


def findings_of_class(of: FastenerClass, mark: str, form: ThreadForm) -> list[Finding]:
    """What there is to say about a class on this thread."""
    found = []
    if mark == UNKNOWN:
        found.append(
            caution(
                "mark-unknown",
                f"Without a mark the fastener counts as the weakest there is, {of.label}. Never "
                "put one in the place of a marked one.",
                "mark",
            )
        )
    elif of.unified is not form.unified:
        found.append(
            caution(
                "mark-of-other-system",
                "Grades are marked on inch fasteners, property classes on metric ones. Check mark "
                "and thread: one of the two was misread.",
                "mark",
            )
        )
    if not covers(of, form.d):
        found.append(
            caution(
                "beyond-class",
                f"The standard of {of.label} ends at {of.steps[-1][0]:g} mm. Beyond it the loads "
                "here are an extension; the maker's own figure rules.",
                "mark",
            )
        )
    if of.name == "8.8" and abs(form.d - 16) < 1e-6:
        found.append(
            note(
                "class-boundary",
                "16 mm still belongs to the lower group of class 8.8; above 16 mm the class bears "
                "a little more.",
            )
        )
    found.append(
        note(
            "nut-class",
            "The nut's class number is at least the first number of the bolt's. Stainless steel "
            "and titanium have classes of their own and are not worked out here.",
        )
    )
    return found


def _findings_of_section(form: ThreadForm, lost: float, waisted: bool) -> list[Finding]:
    found = []
    if lost > 0:
        least = show(Q(form.d - _play(form), "mm"), "mm", 4)
        found.append(
            caution(
                "thread-worn",
                f"A new {form.label} measures at least {least} over its crests. It is worn or has "
                "been stretched: compare its length with a new one, and renew it.",
                "measured",
            )
        )
    if waisted:
        found.append(
            note(
                "waist-governs",
                "The shank is thinner than the thread and bears the load. That is meant so in "
                "stretch bolts; where a new one has no waist, this one has necked: renew it.",
                "waist",
            )
        )
    return found


def _findings_of_hand(hand: str) -> list[Finding]:
    if hand == "left":
        return [
            caution(
                "left-hand",
                "Left-hand thread: it is undone clockwise and tightened anticlockwise. Mark the "
                "direction on the part before anyone puts a bar on it.",
                "hand",
            )
        ]
    return []


def _profile(form: ThreadForm, turns: int) -> list[tuple[float, float]]:
    """The bolt's profile above the root, crest flat P/8, root flat P/6, ``turns`` pitches."""
    p, top = form.pitch, (form.d - form.d3) / 2
    corners = []
    for turn in range(turns):
        at = turn * p
        run = top / 3**0.5
        crest = at + p / 2
        corners += [(crest - p / 16 - run, 0.0), (crest - p / 16, top),
                    (crest + p / 16, top), (crest + p / 16 + run, 0.0)]  # fmt: skip
    return corners


@thread_strength.drawing("The thread's diameters")
def _(entries: Any, results: Any) -> Drawing:
    """A flank of the bolt with its diameters, to scale along and across."""
    form = chosen_thread(entries.thread, entries.diameter, entries.pitch, entries.system)
    p, top = form.pitch, (form.d - form.d3) / 2
    sheet = Drawing(
        "The thread's diameters",
        f"Section through the crests of the bolt {form.label}: nominal diameter, pitch diameter "
        "and root, the pitch between two crests.",
        max_height=200.0,
    )
    outline = _profile(form, 3)
    left, right = outline[0][0], outline[-1][0]
    sheet.polygon([*outline, (right, -0.5 * p), (left, -0.5 * p)], cut="/")
    ends = (left - 0.35 * p, right + 0.35 * p)
    for over, name, diameter in (
        (top, "d", form.d), (top - (form.d - form.d2) / 2, "d2", form.d2), (0.0, "d3", form.d3),
    ):  # fmt: skip
        sheet.line((ends[0], over), (ends[1], over), "thin")
        sheet.text((ends[1], over), f"{name} {diameter_text(diameter)}", "e")
    sheet.dimension((p / 2, top), (1.5 * p, top), f"P {show(Q(p, 'mm'), 'mm')}", "above")
    return sheet
