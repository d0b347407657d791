"""Is an O-ring in a groove in a face squeezed enough, and does it lie against the right wall?

Purpose at the bench: a flywheel or a cover is sealed by an O-ring in a groove of its face. The
depth of the groove alone sets the squeeze; the wall that the pressure drives the ring against
sets its size; and hot and swollen the ring must still have room, or it lifts the faces apart.

The room for the ring is the depth of the groove and what the faces stand apart. Squeeze
(CS' - h)/CS', filling A'/(b h - corners), as for a radial groove
(``calculators.o_ring_section``). Pressure from outside drives the ring against the inner wall:
it is stretched on it a little. Pressure from inside drives it against the outer wall: it is a
little too large for it and pressed in.

Symbols: d1 inside diameter of the ring, CS section, d_i and d_o walls of the groove, t depth,
g gap between the faces, b = (d_o - d_i)/2.

Assumptions: the faces are flat and meet; pressures of bilge water or an engine's oil.

Sources: as for the radial groove; limits: common practice. The drawing wins.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

from calculators.o_ring_advice import Fitted, findings_of_ring, percent
from calculators.o_ring_face_stack import Face, at_limits
from calculators.o_ring_pictures import section_of_face
from calculators.o_ring_rubber import PRACTICE
from calculators.o_ring_service import (
    COLD,
    CORNER,
    EXPANSION,
    FILLING,
    GROWTH,
    HOT,
    PERCENT,
    RUBBER,
    SIZE,
    STATE,
    SWELL,
    Service,
    bore_entry,
    in_service,
    section_entry,
)
from calculators.o_ring_sizes import (
    ISO_3601_1,
    SIZES,
    Ring,
    named,
)
from calculators.o_ring_sources import BY_HAND, CONSTANT_VOLUME, ISO_3601_2
from calculators.o_ring_suited import SUITED, rings_that_suit
from witnessmark.calc import (
    CheckValue,
    Expansion,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    RefusedError,
    Symbol,
    Temperature,
    calculator,
    caution,
    choice,
    entry,
    later,
    result,
    stop,
    table_result,
    text_result,
)

_BORE, _SECTION = bore_entry("40.94 mm"), section_entry("2.62 mm")
WANTED = {"outside": (0.0, 0.05), "inside": (-0.03, 0.0)}
"""Change of girth that a ring is chosen for, by where the pressure comes from."""
_PLAIN = {
    "bore": "40.94 mm ± 0 mm", "section": "2.5 mm ± 0 mm", "inner": "40.94 mm", "outer": "47.94 mm",
    "depth": "2 mm", "corner": "0 mm",
}  # fmt: skip


@dataclass(frozen=True)
class ORingFace:
    """Squeeze, seat and filling of a ring in a face."""

    squeeze: Fraction = result("Squeeze", lead=True, unit="%", us_unit="%", rounding=PERCENT)
    fill_hot: Fraction = result(
        "Groove filled, hot and swollen", unit="%", us_unit="%", rounding=PERCENT
    )
    stretch: Fraction = result(
        "Girth changed by its wall", unit="%", us_unit="%", rounding=PERCENT,
        help="Above zero the ring is stretched on the inner wall; below zero it is pressed into "
        "the outer one.",
    )  # fmt: skip
    ring: str = text_result("Size code of the ring")
    squeeze_cold: Fraction = result(
        "Squeeze when cold", unit="%", us_unit="%", rounding=PERCENT, seldom=True
    )
    fill: Fraction = result(
        "Groove filled at 20 °C", unit="%", us_unit="%", rounding=PERCENT, seldom=True
    )
    height: Length = result("Room from bottom to face", rounding=SIZE, seldom=True)
    width: Length = result("Width of the groove", rounding=SIZE, seldom=True)
    section_height: Length = result(
        "Height of the section before clamping", rounding=SIZE, seldom=True
    )
    suited: tuple[tuple[Any, ...], ...] = table_result(
        "Standard rings of this section that suit the groove", columns=SUITED, seldom=True,
        help="Stretched by up to 5 % on the inner wall, or pressed into the outer by up to 3 %.",
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


@calculator(
    name="o-ring-face",
    title="O-ring in a groove in a face",
    topic="seals",
    purpose="Tells the squeeze and filling of an O-ring in a groove in a face, with what the "
    "limits of all sizes, cold and heat make of them, and whether it lies against the wall that "
    "the pressure drives it to.",
    formulas=(
        Formula(r"h = t + g", "Room for the ring"),
        Formula(r"s = \frac{CS' - h}{CS'}", "Squeeze"),
        Formula(r"b = \frac{d_\mathrm{o} - d_\mathrm{i}}{2}", "Width of the groove"),
        Formula(
            r"\varepsilon = \frac{d_\mathrm{i} - d_1}{d_1}\ \text{(pressure from outside)},\quad "
            r"\varepsilon = \frac{d_\mathrm{o} - (d_1 + 2\,CS)}{d_1 + 2\,CS}\ "
            r"\text{(from inside)}",
            "Change of girth by the wall",
        ),
        FILLING,
    ),
    symbols=(
        Symbol("d_1, CS", "inside diameter and section of the ring", "mm"),
        Symbol(r"d_\mathrm{i}, d_\mathrm{o}", "inner and outer wall of the groove", "mm"),
        Symbol("t, g", "depth of the groove, gap between the faces", "mm"),
        Symbol("CS', A'", "height and area of the stretched section", "mm, mm²"),
        Symbol("r", "radius in the groove's corners", "mm"),
        GROWTH,
    ),
    assumptions=(
        "The faces are flat; where a gasket or dirt holds them apart, enter the gap.",
        "The height of a stretched section follows ISO 3601-2; one that is pressed smaller keeps "
        "its height.",
        "The metal holds the ring's girth, so all growth goes into the section.",
    ),
    sources=(ISO_3601_1, ISO_3601_2, SIZES, CONSTANT_VOLUME, PRACTICE, BY_HAND),
    check_values=(
        CheckValue(
            "section 2.5 in a depth of 2.0, not stretched", _PLAIN,
            {"squeeze": "20.00 %", "stretch": "0.0 %", "width": "3.50 mm"}, source=BY_HAND,
        ),
        CheckValue(
            "π × 2.5² / 4 over 3.5 × 2.0", _PLAIN, {"fill": "70.1 %"}, source=BY_HAND,
        ),
        CheckValue(
            "faces held 0.1 mm apart: 0.4 of 2.5 mm", {**_PLAIN, "gap": "0.1 mm"},
            {"squeeze": "16.00 %", "height": "2.10 mm"}, source=BY_HAND,
        ),
        CheckValue(
            "stretched by 2 %: 1.73 % of its height is lost",
            {"bore": "50 mm", "section": "3.53 mm", "inner": "51 mm", "outer": "61 mm",
             "depth": "2.7 mm"},
            {"stretch": "2.00 %", "section_height": "3.4689 mm", "squeeze": "22.17 %"},
            source=ISO_3601_2, remark="3.53 × (1 - 0.0173)",
        ),
        CheckValue(
            "pressure from inside: outside of the ring 47 mm, wall 46.06 mm",
            {"bore": "42 mm ± 0 mm", "section": "2.5 mm ± 0 mm", "pressure_from": "inside",
             "inner": "38.5 mm", "outer": "46.06 mm"},
            {"stretch": "-2.0 %"}, source=BY_HAND,
        ),
        CheckValue(
            "100 K warmer and swollen by 10 %: times 1.057 and 1.1",
            {**_PLAIN, "hot": "120 °C", "swell": "10 %", "expansion": "190 µm/(m·K)",
             "rubber": "FKM"},
            {"fill_hot": "81.5 %"}, source=BY_HAND, remark="70.12 % × 1.057 × 1.1",
        ),
        CheckValue(
            "a ring that hangs loose off its wall",
            {"bore": "44.12 mm", "section": "2.62 mm", "inner": "41.6 mm", "outer": "49.6 mm"},
            source=PRACTICE, findings=("off-its-wall",),
        ),
        CheckValue(
            "a groove too shallow",
            {"bore": "40.94 mm ± 0 mm", "section": "2.62 mm ± 0 mm", "depth": "1.65 mm"},

            source=PRACTICE, findings=("squeeze-high", "groove-full"),
        ),
        CheckValue(
            "walls exchanged", {"inner": "49 mm", "outer": "41 mm"}, source=BY_HAND,
            refused=("outer",),
        ),
    ),
)  # fmt: skip
def o_ring_face(
    *,
    pressure_from: str = choice(
        "What is kept out or in presses from",
        {"outside": "outside, towards the axis", "inside": "inside, away from the axis"},
        default="outside", help="Bilge water from outside; oil of the engine from inside.",
    ),
    bore: Length = _BORE,
    section: Length = _SECTION,
    inner: Length = entry(
        "Inner wall of the groove, diameter", "41.6 mm +0/-0.1", units=("mm", "in"), above=0,
        most="700 mm", why="No ring of ISO 3601 goes there.",
    ),
    outer: Length = entry(
        "Outer wall of the groove, diameter", "49.4 mm +0.2/-0", units=("mm", "in"), above=0,
        most="720 mm", why="No ring of ISO 3601 goes there.",
    ),
    depth: Length = entry(
        "Depth of the groove", "2.00 mm ± 0.05 mm", units=("mm", "in"), above=0, most="9 mm",
        why="No ring of ISO 3601 lies so deep.", help="Measured from the face, four places.",
    ),
    state: str = STATE,
    rubber: str = RUBBER,
    gap: Length = entry(
        "Faces stand apart by", "0 mm", units=("mm", "µm", "thou"), least=0, most="1 mm",
        why="Then they are not clamped.", seldom=True,
        help="Nought where they meet metal to metal.",
    ),
    corner: Length = CORNER,
    hot: Temperature = HOT,
    cold: Temperature = COLD,
    swell: Fraction = SWELL,
    expansion: Expansion = EXPANSION,
) -> ORingFace:  # fmt: skip
    """Squeeze, seat and filling; see the module's docstring."""
    ring = Face(
        pressure_from, *(each.m_as("mm") for each in (bore, section, inner, outer, depth, gap))
    )
    r, service = corner.m_as("mm"), in_service(hot, cold, swell, expansion)
    _refuse(ring, r)
    return ORingFace(
        squeeze=Q(ring.squeeze(), ""),
        fill_hot=Q(ring.fill(ring.width, r, service.hottest), ""),
        stretch=Q(ring.stretch, ""),
        ring=later(lambda: named(ring.bore, ring.section)),
        squeeze_cold=Q(ring.squeeze(service.coldest), ""),
        fill=Q(ring.fill(ring.width, r), ""),
        height=Q(ring.height, "mm"),
        width=Q(ring.width, "mm"),
        section_height=Q(ring.section_height(), "mm"),
        suited=later(
            lambda: rings_that_suit(
                ring.section, WANTED[pressure_from], lambda other: _fitted(ring, other)
            )
        ),
        findings=later(lambda: _findings(ring, r, service, rubber, state == "used")),
    )


def _findings(
    ring: Face, r: float, service: Service, rubber: str, used: bool
) -> tuple[Finding, ...]:
    """What to say of the ring with all sizes at their worst; ``r`` is the corners' radius."""
    least, most = at_limits(ring)
    low, high = ring.stretches()
    on_inner = ring.pressure_from == "outside"
    fitted = Fitted(
        case="face",
        squeeze=(least.squeeze(), most.squeeze()),
        cold_squeeze=least.squeeze(service.coldest),
        stretch=(low, high) if on_inner else (0.0, 0.0),
        pressed_girth=0.0 if on_inner else max(-low, 0.0),
        fill_hot=most.fill(ring.least_width(), r, service.hottest),
        fill=ring.fill(ring.width, r),
        rubber=rubber, cold=service.cold, hot=service.hot, used=used,
    )  # fmt: skip
    return (*_of_wall(ring, low, high), *findings_of_ring(fitted))


def _fitted(ring: Face, other: Ring) -> tuple[float, float]:
    """Change of girth and squeeze of another ring in the same groove."""
    there = dataclasses.replace(ring, bore=other.bore, section=other.section)
    return there.stretch, there.squeeze()


def _of_wall(ring: Face, low: float, high: float) -> list[Finding]:
    """Whether the ring lies against the wall that the pressure drives it to."""
    loose = -low if ring.pressure_from == "outside" else high
    findings = []
    if loose > 0.005:
        wall = "inner" if ring.pressure_from == "outside" else "outer"
        other = "smaller" if wall == "inner" else "larger"
        findings.append(
            caution(
                "off-its-wall",
                f"At the limits the ring stands off the {wall} wall by {percent(loose)} of its "
                "girth. The pressure moves it there at every change, and it wears. Take a "
                f"{other} ring.",
            )
        )
    if ring.section_height() > ring.width + 1e-9:
        findings.append(
            stop(
                "ring-too-thick",
                "The ring is thicker than the groove is wide: it cannot lie in it, and the faces "
                "will not meet. Take a thinner ring.",
                "section",
            )
        )
    return findings


def _refuse(ring: Face, r: float) -> None:
    """Refuse what cannot be put together."""
    if ring.width <= 0:
        raise RefusedError("outer", "The outer wall is larger than the inner. Exchange the two.")
    if not 0.3 * ring.section <= ring.height <= 1.5 * ring.section:
        raise RefusedError("depth", "That ring does not belong to this groove: check depth and "
                           "section.")  # fmt: skip
    if abs(ring.stretch) > 0.25:
        raise RefusedError(
            "bore", "That ring does not belong to this groove: it would have to change its girth "
            "by more than a quarter. Check the diameters.",
        )  # fmt: skip
    if 2 * r > min(ring.width, 2 * ring.depth):
        raise RefusedError("corner", "The corners would meet. Check the radius.")


o_ring_face.drawing("The ring in its groove")(section_of_face)
