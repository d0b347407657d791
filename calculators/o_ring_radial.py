"""Is an O-ring in a groove round a shaft or in a bore squeezed enough, and is there room for it?

Purpose at the bench: a carrier or a plug is sealed in its bore by an O-ring. Ring, groove and
bore each have limits, and what counts is the squeeze that is left when all of them are at
their worst, the parts lie off centre and the engine is cold; and the room that is left when
the rubber is hot and swollen.

h = (D - d_g)/2 is the height of the groove when the parts lie centred; off centre by e it is
h + e on one side and h - e on the other. The squeeze is (CS' - h)/CS' with the height CS' of
the stretched section, the filling A'/(b h - corners) with its area A'
(``calculators.o_ring_section`` holds both).

Symbols: d1 inside diameter of the ring, CS section, d_g bottom of the groove, D what the ring
seals against, b width of the groove, e offset of the axes, alpha linear expansion of the rubber.

Assumptions: pressures of an engine's oil, below 1 MPa, so that no ring is pushed into the gap;
metal grows so much less than rubber that its growth is left out; the girth is held by metal.

Sources: ISO 3601-1 (tolerances, sizes), ISO 3601-2 (height of a stretched section), constant
volume; limits: common practice. The drawing and the ring maker's sheet win.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

from calculators.o_ring_advice import Fitted, findings_of_ring
from calculators.o_ring_pictures import section_of_radial
from calculators.o_ring_radial_checks import CHECKS
from calculators.o_ring_radial_stack import Radial, at_limits
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
    bore_entry,
    in_service,
    section_entry,
)
from calculators.o_ring_sizes import (
    ISO_3601_1,
    SIZES,
    Ring,
    bore_tolerance,
    named,
)
from calculators.o_ring_sources import CONSTANT_VOLUME, ISO_3601_2
from calculators.o_ring_suited import SUITED, rings_that_suit
from witnessmark.calc import (
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
    choice,
    entry,
    later,
    result,
    show,
    table_result,
    text_result,
)

_BORE, _SECTION = bore_entry("63.09 mm"), section_entry("3.53 mm")
WANTED = {"shaft": (0.01, 0.05), "bore": (-0.03, 0.0)}
"""Stretch that a ring is chosen for, by where its groove is."""


@dataclass(frozen=True)
class ORingRadial:
    """Squeeze, stretch and filling of a ring in a radial groove."""

    squeeze: Fraction = result(
        "Squeeze, parts centred", lead=True, unit="%", us_unit="%", rounding=PERCENT
    )
    squeeze_far: Fraction | None = result(
        "Squeeze where the gap is widest", unit="%", us_unit="%", rounding=PERCENT,
        help="Parts off centre by the offset entered.",
    )  # fmt: skip
    squeeze_cold: Fraction = result(
        "Squeeze there when cold", unit="%", us_unit="%", rounding=PERCENT
    )
    fill_hot: Fraction = result(
        "Groove filled, hot and swollen", unit="%", us_unit="%", rounding=PERCENT
    )
    stretch: Fraction = result(
        "Stretch of the ring", unit="%", us_unit="%", rounding=PERCENT,
        help="Of the inside diameter on a shaft, of the outside in a bore; below zero it is "
        "pressed smaller.",
    )  # fmt: skip
    ring: str = text_result("Size code of the ring")
    fill: Fraction = result(
        "Groove filled at 20 °C", unit="%", us_unit="%", rounding=PERCENT, seldom=True
    )
    height: Length = result("Height of the groove, centred", rounding=SIZE, seldom=True)
    section_height: Length = result(
        "Height of the section once stretched", rounding=SIZE, seldom=True
    )
    bore_tolerance: Length = result(
        "Class B: inside diameter may differ by ±", rounding=SIZE, band=False, seldom=True
    )
    suited: tuple[tuple[Any, ...], ...] = table_result(
        "Standard rings of this section that suit the groove", columns=SUITED, seldom=True,
        help="Stretched by 1 % to 5 % on a shaft, pressed smaller by up to 3 % in a bore.",
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


@calculator(
    name="o-ring-radial",
    title="O-ring round a shaft or in a bore",
    topic="seals",
    purpose="Tells the squeeze, stretch and filling of an O-ring in a groove cut into a shaft or "
    "into a bore, with what the limits of all sizes, cold and heat make of them.",
    formulas=(
        Formula(r"h = \frac{D - d_\mathrm{g}}{2}", "Height of the groove"),
        Formula(r"s = \frac{CS' - (h \pm e)}{CS'}", "Squeeze on the two sides"),
        Formula(
            r"R = 0.01 + 1.06\,\varepsilon - 0.1\,\varepsilon^2\ (\varepsilon \le 3),\quad "
            r"R = 0.56 + 0.59\,\varepsilon - 0.0046\,\varepsilon^2",
            "Loss of height by stretch, both in per cent",
        ),
        Formula(
            r"CS'^2\left(d_\mathrm{g} + CS'\right) = CS^2\left(d_1 + CS\right)",
            "Section of equal volume, for the filling",
        ),
        FILLING,
    ),
    symbols=(
        Symbol("d_1, CS", "inside diameter and section of the ring", "mm"),
        Symbol(r"d_\mathrm{g}", "bottom of the groove", "mm"),
        Symbol("D", "bore or shaft it seals against", "mm"),
        Symbol("e", "offset of the axes", "mm"),
        Symbol(r"\varepsilon", "stretch", "%"),
        Symbol("b, r", "width of the groove, radius in its corners", "mm"),
        GROWTH,
    ),
    assumptions=(
        "Oil of an engine, below 1 MPa: nothing pushes the ring into the gap.",
        "The metal holds the ring's girth, so all growth goes into the section; the metal's own "
        "growth is left out.",
        "A ring in a bore that is pressed smaller loses no height.",
    ),
    sources=(ISO_3601_1, ISO_3601_2, SIZES, CONSTANT_VOLUME, PRACTICE),
    check_values=CHECKS,
)  # fmt: skip
def o_ring_radial(
    *,
    seat: str = choice(
        "The groove is cut into",
        {"shaft": "the shaft or plug", "bore": "the bore"}, default="shaft",
    ),
    motion: str = choice(
        "The parts", {"rest": "stand still", "sliding": "slide or turn slowly"}, default="rest"
    ),
    bore: Length = _BORE,
    section: Length = _SECTION,
    groove: Length = entry(
        "Bottom of the groove, diameter", "64.4 mm +0/-0.074", units=("mm", "in"), above=0,
        most="700 mm", why="No ring of ISO 3601 goes there.",
        help="With its limits, as on the drawing.",
    ),
    mate: Length = entry(
        "Bore over it, or shaft through it", "70 mm +0.046/-0", units=("mm", "in"), above=0,
        most="700 mm", why="No ring of ISO 3601 goes there.",
        help="Diameter the ring seals against, with its limits.",
    ),
    width: Length = entry(
        "Width of the groove", "4.8 mm +0.2/-0", units=("mm", "in"), above=0, most="20 mm",
        why="No ring of ISO 3601 needs more.",
    ),
    state: str = STATE,
    rubber: str = RUBBER,
    offset: Length = entry(
        "Axes lie apart by", "0 mm", units=("mm", "µm", "thou"), least=0, most="2 mm",
        why="Then the parts do not belong together.", seldom=True,
        help="At most half the clearance of the parts beside the groove.",
    ),
    corner: Length = CORNER,
    hot: Temperature = HOT,
    cold: Temperature = COLD,
    swell: Fraction = SWELL,
    expansion: Expansion = EXPANSION,
    thinning: str = choice(
        "Height of a stretched section by",
        {"iso": "ISO 3601-2, it goes oval", "volume": "equal volume, it stays round"},
        default="iso", seldom=True, help="The first is the careful one.",
    ),
) -> ORingRadial:  # fmt: skip
    """Squeeze, stretch and filling; see the module's docstring."""
    d1, cs, dg, d, b, e, r = (
        each.m_as("mm") for each in (bore, section, groove, mate, width, offset, corner)
    )
    service = in_service(hot, cold, swell, expansion)
    ring = Radial(seat, thinning, d1, cs, dg, d)
    _refuse(ring, b, e, r)

    def findings() -> tuple[Finding, ...]:
        """What to say of the ring with all sizes at their worst."""
        least, most = at_limits(ring)
        stretches = ring.stretches()
        return findings_of_ring(Fitted(
            case=motion,
            squeeze=(least.squeeze(e), most.squeeze(-e)),
            cold_squeeze=least.squeeze(e, service.coldest),
            stretch=stretches,
            pressed_girth=max(-stretches[0], 0.0) if seat == "bore" else 0.0,
            fill_hot=most.fill(ring.least_width(b), r, service.hottest),
            fill=ring.fill(b, r),
            rubber=rubber, cold=service.cold, hot=service.hot, used=state == "used",
            off_centre=ring.squeeze(0.0) - ring.squeeze(e),
        ))  # fmt: skip

    return ORingRadial(
        squeeze=Q(ring.squeeze(0.0), ""),
        squeeze_far=Q(ring.squeeze(e), "") if e else None,
        squeeze_cold=Q(ring.squeeze(e, service.coldest), ""),
        fill_hot=Q(ring.fill(b, r, service.hottest), ""),
        stretch=Q(ring.stretch, ""),
        ring=later(lambda: named(d1, cs)),
        fill=Q(ring.fill(b, r), ""),
        height=Q(ring.height, "mm"),
        section_height=Q(ring.section_height(), "mm"),
        bore_tolerance=Q(bore_tolerance(d1), "mm"),
        suited=later(lambda: rings_that_suit(cs, WANTED[seat], lambda other: _fitted(ring, other))),
        findings=later(findings),
    )


def _fitted(ring: Radial, other: Ring) -> tuple[float, float]:
    """Stretch and squeeze of another ring in the same groove."""
    there = dataclasses.replace(ring, bore=other.bore, section=other.section)
    return there.stretch, there.squeeze(0.0)


def _refuse(ring: Radial, b: float, e: float, r: float) -> None:
    """Refuse what cannot be put together."""
    if ring.height <= 0:
        where = "smaller" if ring.seat == "shaft" else "larger"
        raise RefusedError(
            "groove",
            f"The bottom of a groove in {'the shaft' if ring.seat == 'shaft' else 'the bore'} is "
            f"{where} than what the ring seals against. Check both diameters.",
        )
    if ring.height < 0.3 * ring.section or ring.height > 1.5 * ring.section:
        raise RefusedError(
            "section",
            "That ring does not belong to this groove: section and groove height are "
            f"{_pair(ring.section, ring.height)}. Check the diameters, and that none is a radius.",
        )
    if abs(ring.stretch) > 0.25:
        raise RefusedError(
            "bore", "That ring does not belong to this groove: it would have to change its girth "
            "by more than a quarter. Check both diameters.",
        )  # fmt: skip
    if e >= ring.height:
        raise RefusedError("offset", "So far apart the parts touch. Check the offset.")
    if 2 * r > min(b, 2 * ring.height):
        raise RefusedError("corner", "The corners would meet. Check the radius.")


def _pair(first: float, second: float) -> str:
    return " and ".join(show(Q(each, "mm"), "mm") for each in (first, second))


o_ring_radial.drawing("The ring in its groove")(section_of_radial)
