"""Numbers as a fitter reads them: rounded once, at the end, the way his tool is divided.

Every number is first cut to twelve significant digits, so that the last bit of a float
(which may differ between two maths libraries) can never decide a rounding. Then it is
rounded in decimal arithmetic, halves away from zero. Limits are rounded outward for a
band that must contain the result.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import cache, lru_cache
from typing import Any, Literal

from witnessmark.calc.units import KINDS, UNITS, Kind, magnitude_in

NARROW_SPACE = "\u202f"
MINUS = "\u2212"
NOTHING = 1e-9
"""Smaller than this in its display unit, a number is shown as 0: no bench resolves it."""

Toward = Literal["nearest", "down", "up"]
_ONE = Decimal(1)
_MODES = {"nearest": ROUND_HALF_UP, "down": ROUND_FLOOR, "up": ROUND_CEILING}


@dataclass(frozen=True)
class Rounding:
    """How a result is rounded for display: to a graduation, to decimals, or to figures.

    ``step`` is a graduation such as ``"1 N·m"`` (``us_step`` the one in US customary
    units); ``decimals`` counts places behind the point; ``figures`` counts significant
    figures. Give one of them. Where a US step is missing, US display takes ``us_decimals``
    or as many ``figures`` as given, at least three.
    ``toward`` rounds a permissible limit to the safe side.
    """

    figures: int | None = None
    decimals: int | None = None
    step: str | None = None
    us_step: str | None = None
    us_decimals: int | None = None
    toward: Toward = "nearest"


DEFAULT_ROUNDING = Rounding(figures=3)


def exact(value: float) -> Decimal:
    """The number cut to twelve significant digits, as a decimal."""
    if abs(value) < NOTHING:
        return Decimal(0)
    return Decimal(format(value, ".12g"))


def _to_quantum(value: Decimal, quantum: Decimal, toward: Toward) -> Decimal:
    """A whole multiple of ``quantum``, written with as many places as it has."""
    rounded = (value / quantum).to_integral_value(_MODES[toward]) * quantum
    return rounded.quantize(quantum if _has_places(quantum) else _ONE)


def _has_places(quantum: Decimal) -> bool:
    """Whether a step is written with places behind the point."""
    exponent = quantum.as_tuple().exponent
    return isinstance(exponent, int) and exponent < 0


def _quantum_of_figures(value: Decimal, figures: int) -> Decimal:
    return _ONE.scaleb((value.adjusted() if value else 0) - figures + 1)


def quantum(value: Decimal, rounding: Rounding, system: str) -> Decimal:
    """The step that ``rounding`` gives a display number, cut to its digits, in a unit system."""
    if system == "us":
        if rounding.us_step:
            return Decimal(rounding.us_step.split()[0])
        if rounding.us_decimals is not None:
            return _ONE.scaleb(-rounding.us_decimals)
        if rounding.figures is None:
            return _quantum_of_figures(value, 3)
    if rounding.step:
        return Decimal(rounding.step.split()[0])
    if rounding.decimals is not None:
        return _ONE.scaleb(-rounding.decimals)
    return _quantum_of_figures(value, rounding.figures or 3)


def plain(value: Decimal) -> str:
    """A decimal as text: no exponent up to nine digits, a true minus sign, no minus zero."""
    if value == 0:
        value = abs(value)
    if value and not -6 <= value.adjusted() <= 9:
        digits = format(value.normalize(), "e")
        mantissa, _, exponent = digits.partition("e")
        return f"{mantissa.replace('-', MINUS)}×10^{int(exponent)}"
    return format(value, "f").replace("-", MINUS)


def round_number(
    value: float, rounding: Rounding, system: str = "si", toward: Toward | None = None
) -> str:
    """``value`` (in its display unit) rounded and written out."""
    toward = toward or rounding.toward
    number = exact(value)
    rounded = _to_quantum(number, quantum(number, rounding, system), toward)
    if rounded and number and rounded.adjusted() > number.adjusted():
        # 9.996 to three figures has become 10.00: write 10.0.
        rounded = _to_quantum(rounded, quantum(rounded, rounding, system), toward)
    return plain(rounded)


@lru_cache(maxsize=1024)
def significant(value: float, figures: int = 6) -> str:
    """``value`` to ``figures`` significant figures, trailing zeros dropped (for entry fields)."""
    number = exact(value)
    rounded = _to_quantum(number, _quantum_of_figures(number, figures), "nearest")
    text = format(rounded, "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text or "0"


def with_unit(number: str, unit: str) -> str:
    """Number and unit set apart by a narrow space; none before the degree sign of an angle
    and none where there is no unit."""
    if not unit:
        return number
    return f"{number}{unit}" if unit == "°" else f"{number}{NARROW_SPACE}{unit}"


def unit_for(kind: Kind, system: str, unit: str | None = None, us_unit: str | None = None) -> str:
    """The unit a quantity of ``kind`` is shown in, in a unit system."""
    own = unit if unit is not None else kind.own
    if system != "us":
        return own
    if us_unit is not None:
        return us_unit
    return kind.us if unit is None or kind.us in kind.units else own


def show_quantity(
    quantity: Any,
    kind: Kind,
    rounding: Rounding,
    system: str = "si",
    unit: str | None = None,
    us_unit: str | None = None,
    toward: Toward | None = None,
) -> tuple[str, str]:
    """Number text and unit of a quantity in a unit system."""
    shown_in = unit_for(kind, system, unit, us_unit)
    value = magnitude_in(quantity, shown_in, kind)
    return round_number(value, rounding, system, toward), shown_in


_SYSTEM = ["si"]


class unit_system:
    """The unit system that ``show`` writes in while a block runs."""

    def __init__(self, system: str) -> None:
        self.system = system

    def __enter__(self) -> None:
        _SYSTEM.append(self.system)

    def __exit__(self, *_: object) -> None:
        _SYSTEM.pop()


_US_UNIT = {
    "mm": "in", "µm": "thou", "cm": "in", "m": "ft", "N": "lbf", "kN": "lbf", "N·m": "lbf·ft",
    "kg": "lb", "g": "oz", "MPa": "ksi", "bar": "psi", "°C": "°F", "m/s": "ft/min", "kW": "hp",
    "mm²": "in²", "N/mm": "lbf/in",
}  # fmt: skip


def show(quantity: Any, unit: str, figures: int = 3, *, of: str | None = None) -> str:
    """A quantity inside a sentence: ``show(force, "kN")`` gives "1.50 kN".

    In US customary display the unit's counterpart is taken (lbf for kN). ``of`` names the
    kind where the unit alone does not tell it (``of="temperature difference"``).
    """
    system = _SYSTEM[-1]
    kind = KINDS[of] if of else _kind_with(unit)
    shown_in = _US_UNIT.get(unit, unit) if system == "us" else unit
    if kind.name == "temperature difference" and system == "us" and unit == "K":
        shown_in = "°F"
    value = magnitude_in(quantity, shown_in, kind)
    return with_unit(round_number(value, Rounding(figures=figures)), shown_in)


@cache
def _kind_with(unit: str) -> Kind:
    """The first kind that is written in a unit."""
    return next((kind for kind in KINDS.values() if unit in kind.units), KINDS["number"])


def in_every_unit(quantity: Any, kind: Kind, units: tuple[str, ...]) -> dict[str, str]:
    """The number of a quantity in each unit, as an entry field would hold it."""
    return {
        unit: significant(magnitude_in(quantity, unit, kind)) for unit in units if unit in UNITS
    }
