"""What to ream for a dowel pin: tight in the one part, with room in the other.

Purpose at the bench: a parallel pin is pressed into the flange and lets the flywheel slide
over it. Pins come as m6 or h8; the class of the hole decides whether a pin holds. A worn hole
is cleaned up to the next oversize, and the reamer for the pin in hand is told.

Pressed hole: the limits of its class (``calculators.iso_286``) at the nominal size of the
pin. Interference between d_min - D_max and d_max - D_min; with the pin measured, its own size
stands for both. Slip hole: D from d_max + c_min to d_min + c_max, for any pin of its class to
have a clearance from c_min to c_max; with a measured pin d + c_min to d + c_max.
Oversize: the first in stock whose pressed hole is larger by the clean-up than the worn one.
Force to press in: F = mu p pi d l with Lamé's pressure of a solid pin in a wide block,
p = i/(d ((1 + nu_b)/E_b + (1 - nu_p)/E_p)), at the greatest interference i.

Symbols: d pin, D hole, c clearance, i interference, l length, mu friction, E, nu stiffness.

Assumptions: round holes, steel pin, a block wide beside the pin.

Sources: ISO 2338 (m6 and h8 pins), ISO 8734 (hardened m6 pins), ISO 286-2; Lamé.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.iso_286 import ISO_286_2, hole, read_class, shaft
from calculators.metals import CHOICES, METALS, STEEL
from calculators.pin_picture import draw_pin
from witnessmark.calc import (
    CheckValue,
    Drawing,
    Finding,
    Force,
    Formula,
    Length,
    Number,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Symbol,
    as_entered,
    calculator,
    caution,
    choice,
    column,
    entry,
    note,
    result,
    show,
    stop,
    table,
    text_result,
)

ISO_2338 = Source(
    "iso-2338-1997",
    "ISO 2338:1997 Parallel pins, of unhardened steel and austenitic stainless steel",
    "tolerance classes m6 and h8",
)
ISO_8734 = Source(
    "iso-8734-1997",
    "ISO 8734:1997 Parallel pins, of hardened steel and martensitic stainless steel (Dowel pins)",
    "tolerance class m6, 1 mm to 20 mm",
)
LAME = Source(
    "lame-solid-pin",
    "Solid pin in an infinite block, Lamé: p = i/(d ((1 + ν)/E + (1 - ν)/E)) = i E/(2 d) where "
    "both are of one metal",
    kind="derivation",
)
BY_HAND = Source("limits-subtracted", "Limits of size subtracted by hand", kind="derivation")
PRACTICE = Source(
    "dowel-practice", "Workshop practice with dowel pins, oversizes and reaming; no published "
    "source", kind="common practice",
)  # fmt: skip

PINS = {
    "hardened": "hardened, ISO 8734 (m6)",
    "m6": "soft, ISO 2338 (m6)",
    "h8": "soft, ISO 2338 (h8)",
}
_CLASSES = {"hardened": ("m", 6), "m6": ("m", 6), "h8": ("h", 8)}
STANDARD_SIZES = (1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20)
_PRESSES = {name: name for name in ("P7", "N7", "M7", "K7", "H7", "R7", "S7")}
_UPPER = Rounding(decimals=3, us_decimals=5, toward="down")
_LOWER = Rounding(decimals=3, us_decimals=5, toward="up")


@dataclass(frozen=True)
class DowelPin:
    """Both holes, how tight and how loose the pin then is, and what pressing takes."""

    press_from: Length = result("Ream the pressed hole from", lead=True, rounding=_LOWER)
    press_to: Length = result("Pressed hole to", rounding=_UPPER)
    slip_from: Length = result("Slip hole from", rounding=_LOWER)
    slip_to: Length = result("Slip hole to", rounding=_UPPER)
    tight_least: Length = result(
        "Tight by at least", unit="µm", us_unit="thou",
        rounding=Rounding(decimals=0, us_decimals=2, toward="down"),
        help="Below zero the pin may be loose.",
    )  # fmt: skip
    tight_most: Length = result(
        "Tight by at most", unit="µm", us_unit="thou",
        rounding=Rounding(decimals=0, us_decimals=2, toward="up"), seldom=True,
    )  # fmt: skip
    pin: str = text_result("Pin", help="The one these holes are for.")
    pin_from: Length = result("Pins of this class from", rounding=_LOWER, seldom=True)
    pin_to: Length = result("Pins of this class to", rounding=_UPPER, seldom=True)
    force: Force = result(
        "Force to press it in, at most", unit="kN", us_unit="lbf",
        rounding=Rounding(figures=2, toward="up"), seldom=True,
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


@calculator(
    name="dowel-pin-holes",
    title="What to ream for a dowel pin",
    topic="fits",
    purpose="Limits of the hole that holds a parallel pin and of the hole that slides over it, for "
    "new pins and for oversize pins in worn holes.",
    formulas=(
        Formula(r"i_{max} = d_{max} - D_{min},\quad i_{min} = d_{min} - D_{max}", "Interference"),
        Formula(r"d_{max} + c_{min} \le D \le d_{min} + c_{max}", "Slip hole"),
        Formula(
            r"F = \mu\,\pi\,l\,\frac{i}{\frac{1 + \nu_b}{E_b} + \frac{1 - \nu_p}{E_p}}",
            "Force to press in",
        ),
    ),
    symbols=(
        Symbol("d, D", "diameter of pin and hole", "mm"),
        Symbol("i, c", "interference, clearance on the diameter", "mm"),
        Symbol("l", "length of the pin in its hole", "mm"),
        Symbol(r"\mu", "friction", "1"),
        Symbol(r"E, \nu", "modulus and Poisson's ratio of block and pin", "MPa, 1"),
    ),
    assumptions=(
        "Round holes; a block wide beside the pin; surfaces oiled.",
        "An oversize pin has the class of the nominal one at its own size.",
    ),
    sources=(ISO_2338, ISO_8734, ISO_286_2, LAME, PRACTICE),
    check_values=(
        CheckValue(
            "8 mm: pin m6 is 8.006 to 8.015, hole P7 7.976 to 7.991", {"press": "P7"},
            {"pin_from": "8.006 mm", "pin_to": "8.015 mm", "press_from": "7.976 mm",
             "press_to": "7.991 mm", "tight_least": "15 µm", "tight_most": "39 µm"},
            source=ISO_286_2,
        ),
        CheckValue(
            "8 mm in H7: 15 µm tight to 9 µm loose", {"press": "H7"},
            {"tight_least": "-9 µm", "tight_most": "15 µm"}, source=ISO_286_2,
            findings=("may-be-loose",),
        ),
        CheckValue(
            "8 mm in N7", {"press": "N7"}, {"press_from": "7.981 mm", "press_to": "7.996 mm",
                                            "tight_least": "10 µm"}, source=ISO_286_2,
        ),
        CheckValue(
            "slip hole for any m6 pin, 30 µm to 60 µm", {"room": "0.030 … 0.060 mm"},
            {"slip_from": "8.045 mm", "slip_to": "8.066 mm"}, source=BY_HAND,
            remark="8.015 + 0.030 and 8.006 + 0.060.",
        ),
        CheckValue(
            "slip hole for the pin in hand", {"measured": "8.011 mm"},
            {"slip_from": "8.041 mm", "slip_to": "8.071 mm", "tight_least": "20 µm",
             "tight_most": "35 µm"}, source=BY_HAND, remark="8.011 - 7.991 and 8.011 - 7.976.",
        ),
        CheckValue(
            "h8 pin of 8 mm is 7.978 to 8.000", {"pin_class": "h8"},
            {"pin_from": "7.978 mm", "pin_to": "8.000 mm", "tight_least": "-13 µm"},
            source=ISO_286_2, findings=("may-be-loose",),
        ),
        CheckValue(
            "a hole worn to 8.12 mm takes a pin 0.2 mm oversize",
            {"worn": "8.12 mm", "cleanup": "0.04 mm"},
            {"press_from": "8.176 mm", "press_to": "8.191 mm"}, source=PRACTICE,
            findings=("oversize",), remark="8.1 P7 begins at 8.076, 8.2 P7 at 8.176.",
        ),
        CheckValue(
            "steel in steel, 10 mm by 20 mm, 30 µm: p = iE/(2d) = 309 MPa, 29.1 kN",
            {"size": "10 mm", "measured": "10.006 mm", "block": "steel", "length": "20 mm",
             "friction": "0.15", "press": "P7"},
            {"tight_most": "30 µm", "force": "29.12 kN"}, source=LAME,
            remark="10 P7 begins at 9.976; 0.15 × 309 MPa × π × 10 mm × 20 mm.",
        ),
        CheckValue(
            "worn beyond every oversize", {"worn": "9.0 mm"}, source=PRACTICE, refused=("worn",)
        ),
    ),
)  # fmt: skip
def dowel_pin_holes(
    *,
    size: Length = entry(
        "Nominal size of the pin", "8 mm", units=("mm", "in"), least="1 mm", most="50 mm",
        why="Parallel pins are 1 mm to 50 mm thick.",
    ),
    pin_class: str = choice("Pin", PINS, default="hardened"),
    press: str = choice(
        "Class of the pressed hole", _PRESSES, default="P7", help="N7 or P7 holds an m6 pin."
    ),
    room: Length = entry(
        "Clearance in the slip hole", "0.030 … 0.060 mm", units=("mm", "µm", "in", "thou"),
        least=0, most="1 mm", why="More than that guides nothing.", help="Both limits.",
    ),
    measured: Length | None = entry(
        "Pin as measured", "", units=("mm", "in"), above=0, most="51 mm", optional=True,
        why="Parallel pins are 1 mm to 50 mm thick.",
    ),
    worn: Length | None = entry(
        "Worn hole, widest", "", units=("mm", "in"), above=0, most="60 mm", optional=True,
        why="Too wide for a pin of this kind.", help="Leave empty for a sound hole.",
    ),
    oversizes: Rows = table(
        "Oversize pins in stock",
        {"more": column("Oversize", Length, units=("mm", "in", "thou"), least="0.01 mm",
                        most="5 mm")},
        default=(("0.10",), ("0.20",), ("0.50",)), most_rows=8, seldom=True,
    ),
    cleanup: Length = entry(
        "Reamer takes off at least", "0.04 mm", units=("mm", "µm", "thou"), least=0, most="1 mm",
        seldom=True, why="That is a drill, not a reamer.", help="On the diameter, to clean up.",
    ),
    length: Length = entry(
        "Length pressed in", "14 mm", units=("mm", "in"), above=0, most="200 mm", seldom=True,
        why="No pin is that long.",
    ),
    block: str = choice("Pressed into", CHOICES, default="steel", seldom=True),
    friction: Number = entry(
        "Friction", "0.15", above=0, most=0.6, usual=("0.08", "0.25"), seldom=True,
        why="Oiled metal on metal does not go beyond that.",
    ),
) -> DowelPin:  # fmt: skip
    """Holes for a pin; see the module's docstring."""
    limits = as_entered("room", room)
    c_least, c_most = (limit.m_as("mm") for limit in (limits.low, limits.high))
    if c_most <= c_least:
        raise RefusedError("room", "Write both limits, such as 0.030 … 0.060 mm.")
    nominal = d = size.m_as("mm")
    if worn is not None:
        more = sorted(row.more.m_as("mm") for row in oversizes)
        d = _oversize(nominal, worn.m_as("mm") + cleanup.m_as("mm"), more, press)
    zone, bore = shaft(*_CLASSES[pin_class], d), hole(*read_class(press, hole=True), d)
    pin_from, pin_to = d + zone.lower / 1000, d + zone.upper / 1000
    least, most = (measured.m_as("mm"),) * 2 if measured is not None else (pin_from, pin_to)
    if measured is not None and abs(least - d) > 0.05 * d:
        raise RefusedError(
            "measured",
            f"A pin of {show(Q(d, 'mm'), 'mm', 4)} is wanted; this one is another size. Change "
            "the nominal size, or the worn hole.",
        )
    press_from, press_to = d + bore.lower / 1000, d + bore.upper / 1000
    tight = (least - press_to, most - press_from)
    slip = (most + c_least, least + c_most)
    oversized = d > nominal + 1e-9
    return DowelPin(
        press_from=_mm(press_from),
        press_to=_mm(press_to),
        slip_from=_mm(slip[0]),
        slip_to=_mm(slip[1]),
        tight_least=Q(round(1000 * tight[0], 6), "µm"),
        tight_most=Q(round(1000 * tight[1], 6), "µm"),
        pin=f"{show(Q(round(d, 6), 'mm'), 'mm', 3)}{', oversize' if oversized else ''}",
        pin_from=_mm(pin_from),
        pin_to=_mm(pin_to),
        force=Q(_force(max(tight[1], 0.0), length.m_as("mm"), block, friction.m_as("")), "N"),
        findings=tuple(
            _findings(d, nominal, (pin_from, pin_to), measured, tight, slip, pin_class)
        ),
    )  # fmt: skip


def _oversize(nominal: float, clean: float, more: list[float], press: str) -> float:
    """The first size whose pressed hole is at least ``clean`` wide, mm."""
    letter, number = read_class(press, hole=True)
    for step in (0.0, *more):
        if nominal + step + hole(letter, number, nominal + step).lower / 1000 >= clean - 1e-9:
            return nominal + step
    raise RefusedError(
        "worn",
        f"The largest oversize in stock, {show(Q(max(more), 'mm'), 'mm', 2)}, does not clean "
        "this hole up. Plug the hole and drill it anew, or get a larger pin.",
    )


def _mm(length: float) -> Any:
    return Q(round(length, 9), "mm")


def _force(tight: float, length: float, block: str, friction: float) -> float:
    """Force in N to press a steel pin ``tight`` mm too thick into a wide block."""
    metal = METALS[block]
    give = (1 + metal.poisson) / metal.modulus + (1 - STEEL.poisson) / STEEL.modulus
    return friction * math.pi * length * tight / give


def _findings(
    d: float, nominal: float, zone: tuple[float, float], measured: Any,
    tight: tuple[float, float], slip: tuple[float, float], pin_class: str,
) -> Iterator[Finding]:  # fmt: skip
    if d > nominal + 1e-9:
        yield caution(
            "oversize",
            f"Worn: ream for a pin of {show(Q(round(d, 6), 'mm'), 'mm', 3)}, both parts bolted "
            "together where their holes must agree, the mark stamped beside it. Oversize in one "
            "hole means oversize in its mate.",
            "worn",
        )
    if measured is not None and not zone[0] - 1e-6 <= measured.m_as("mm") <= zone[1] + 1e-6:
        yield caution(
            "pin-out",
            "The pin is outside its class: a worn pin, or another kind. Take a new one.",
            "measured",
        )
    if tight[1] <= 1e-9:
        yield stop(
            "loose-pin",
            "No pin of this class is tight in this hole. A loose dowel frets and walks out: take "
            "another class of hole.",
            "press",
        )
    elif tight[0] < -1e-9:
        yield caution(
            "may-be-loose",
            f"This pin may be {show(Q(-1000 * tight[0], 'µm'), 'µm', 2)} loose in this hole. "
            "Measure both, or take P7; a pin that can be pushed in by hand will walk out.",
            "press",
        )
    if slip[0] > slip[1] + 1e-9:
        yield caution(
            "slip-empty",
            "No one hole gives every pin of this class so narrow a clearance. Measure the pin and "
            "ream for it.",
            "room",
        )
    if nominal not in STANDARD_SIZES and d == nominal:
        yield note(
            "size-not-listed",
            "Not a common size of parallel pin: an oversize, or an inch pin? Measure it.",
            "size",
        )
    if pin_class == "hardened":
        yield note(
            "hardened",
            "A hardened pin is not turned down or filed: ream the hole. Into a blind hole only "
            "with a flat or a vent, or the air drives it out again.",
        )
    yield note(
        "ream-it",
        "Drill 0.2 mm to 0.3 mm under, ream by hand, oiled, turning one way only; measure before "
        "the last pass. Holes that must agree are reamed with the parts bolted together.",
    )


@dowel_pin_holes.drawing("The pin in both parts")
def _draw(entries: Any, results: DowelPin) -> Drawing:
    return draw_pin(results)
