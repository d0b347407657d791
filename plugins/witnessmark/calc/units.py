"""Units of the workshop: one registry, the kinds of quantity, and how units are spelled.

The registry holds only what the flywheel end of an engine needs. A small set reads at a
glance, starts fast in the browser, and cannot resolve a typing slip to an exotic unit.

Two things a bare units library cannot know are kept here as a *kind* of quantity:

* torque and energy share their dimension, but 420 N·m of torque is never 420 J;
* a temperature and a temperature difference share their dimension, but 10 °C is 283.15 K
  as the one and 10 K as the other.

This is the only module of the package that imports pint.
Source of the factors: NIST SP 811 (2008), appendix B.8 (exact factors), checked in the
tests against ``scipy.constants``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

import pint

from witnessmark.calc.arithmetic import calculate_by_units
from witnessmark.calc.conversion import convert_by_factor

_DEFINITIONS = """
meter = [length] = m
second = [time] = s
kilogram = [mass] = kg
kelvin = [temperature]; offset: 0 = K
mole = [substance] = mol
radian = [] = rad
percent = 0.01
degree = 3.141592653589793238462643383279502884 / 180 * radian = deg
turn = 2 * 3.141592653589793238462643383279502884 * radian
minute = 60 * second
hour = 60 * minute
day = 24 * hour
millimeter = 1e-3 * meter = mm
micrometer = 1e-6 * meter = um
centimeter = 1e-2 * meter = cm
inch = 0.0254 * meter
thou = 1e-3 * inch
foot = 12 * inch
liter = 1e-3 * meter ** 3
milliliter = 1e-3 * liter
gram = 1e-3 * kilogram
pound = 0.45359237 * kilogram
ounce = pound / 16
newton = kilogram * meter / second ** 2 = N
kilonewton = 1e3 * newton = kN
standard_gravity = 9.80665 * meter / second ** 2
kilogram_force = kilogram * standard_gravity
pound_force = pound * standard_gravity
ounce_force = ounce * standard_gravity
pascal = newton / meter ** 2 = Pa
kilopascal = 1e3 * pascal = kPa
megapascal = 1e6 * pascal = MPa
gigapascal = 1e9 * pascal = GPa
bar = 1e5 * pascal
psi = pound_force / inch ** 2
ksi = 1e3 * psi
joule = newton * meter = J
kilojoule = 1e3 * joule = kJ
watt = joule / second = W
kilowatt = 1e3 * watt = kW
horsepower = 550 * foot * pound_force / second
metric_horsepower = 75 * kilogram_force * meter / second
degree_Celsius = kelvin; offset: 273.15 = degC
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = degF
"""


def _registry() -> Any:
    registry: Any = pint.UnitRegistry(None)
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    return registry


REGISTRY = _registry()
convert_by_factor(REGISTRY.Quantity)
calculate_by_units(REGISTRY.Quantity)

if TYPE_CHECKING:
    # pint's arithmetic is not typed precisely enough for a formula to pass a strict
    # checker; dimensions are checked when the formula runs, which is the check that counts.
    type Quantity = Any
else:
    Quantity = REGISTRY.Quantity


@dataclass(frozen=True)
class Unit:
    """A unit as the shop writes it.

    ``text`` is the one spelling shown; ``expression`` is what the registry calls it;
    ``aliases`` are other spellings that are read; ``loose`` are spellings that old books
    use for it although they mean something else (kg for kgf), read with a caution.
    """

    text: str
    expression: str
    aliases: tuple[str, ...] = ()
    us: bool = False
    loose: tuple[str, ...] = ()


_UNITS = (
    Unit("m", "meter", ("metre", "meter", "metres", "meters")),
    Unit("cm", "centimeter", ("centimetre", "centimeter")),
    Unit("mm", "millimeter", ("millimetre", "millimeter", "millimetres", "millimeters")),
    Unit("µm", "micrometer", ("um", "μm", "micron", "microns", "micrometre", "micrometer")),
    Unit("in", "inch", ('"', "inch", "inches", "″"), us=True),
    Unit("thou", "thou", ("mil", "mils"), us=True),
    Unit("ft", "foot", ("'", "foot", "feet", "′"), us=True),
    Unit("mm²", "millimeter**2", ("mm2", "mm^2", "sqmm")),
    Unit("cm²", "centimeter**2", ("cm2", "cm^2")),
    Unit("in²", "inch**2", ("in2", "in^2", "sqin"), us=True),
    Unit("mm³", "millimeter**3", ("mm3", "mm^3")),
    Unit("cm³", "centimeter**3", ("cm3", "cm^3", "ccm", "cc")),
    Unit("mL", "milliliter", ("ml", "millilitre", "milliliter")),
    Unit("L", "liter", ("l", "litre", "liter")),
    Unit("in³", "inch**3", ("in3", "in^3", "cuin"), us=True),
    Unit("kg", "kilogram", ("kilogram", "kilograms", "kilo", "kilos")),
    Unit("g", "gram", ("gram", "grams")),
    Unit("lb", "pound", ("lbs", "pound", "pounds", "lbm"), us=True),
    Unit("oz", "ounce", ("ounce", "ounces"), us=True),
    Unit("s", "second", ("sec", "second", "seconds")),
    Unit("min", "minute", ("minute", "minutes")),
    Unit("h", "hour", ("hr", "hrs", "hour", "hours")),
    Unit("d", "day", ("day", "days")),
    Unit("N", "newton", ("newton", "newtons")),
    Unit("kN", "kilonewton", ("kilonewton",)),
    Unit("kgf", "kilogram_force", ("kp",), loose=("kg",)),
    Unit("lbf", "pound_force", ("poundforce",), us=True, loose=("lb", "lbs")),
    Unit("N·m", "newton*meter", ("Nm", "newtonmetre", "newtonmeter")),
    Unit("N·mm", "newton*millimeter", ("Nmm",)),
    Unit("kN·m", "kilonewton*meter", ("kNm",)),
    Unit(
        "lbf·ft",
        "pound_force*foot",
        (
            "lbfft",
            "ftlbf",
            "ftlb",
            "ftlbs",
            "lbft",
            "lbsft",
            "footpound",
            "footpounds",
            "poundfoot",
        ),
        us=True,
    ),
    Unit(
        "lbf·in",
        "pound_force*inch",
        ("lbfin", "inlbf", "inlb", "inlbs", "lbin", "lbsin", "inchpound", "inchpounds"),
        us=True,
    ),
    Unit("ozf·in", "ounce_force*inch", ("ozfin", "inozf", "ozin", "inoz"), us=True),
    Unit(
        "kgf·m", "kilogram_force*meter", ("kgfm", "mkgf", "kpm", "mkp"), loose=("kgm", "mkg", "kg")
    ),
    Unit("kgf·cm", "kilogram_force*centimeter", ("kgfcm", "cmkgf", "kpcm"), loose=("kgcm", "cmkg")),
    Unit("J", "joule", ("joule", "joules")),
    Unit("kJ", "kilojoule", ("kilojoule",)),
    Unit("W", "watt", ("watt", "watts")),
    Unit("kW", "kilowatt", ("kilowatt",)),
    Unit("hp", "horsepower", ("horsepower", "bhp"), us=True),
    Unit("PS", "metric_horsepower", ("cv", "metrichorsepower")),
    Unit("MPa", "megapascal", ("megapascal",)),
    Unit("N/mm²", "newton/millimeter**2", ("N/mm2", "N/mm^2")),
    Unit("GPa", "gigapascal", ("gigapascal",)),
    Unit("kPa", "kilopascal", ("kilopascal",)),
    Unit("bar", "bar", ()),
    Unit("psi", "psi", ("lbf/in²", "lbf/in2", "lb/in²", "lb/in2"), us=True),
    Unit("ksi", "ksi", (), us=True),
    Unit("°", "degree", ("deg", "degree", "degrees", "º")),
    Unit("rad", "radian", ("radian", "radians")),
    Unit("turn", "turn", ("turns", "rev", "revs", "revolution", "revolutions")),
    Unit("r/min", "turn/minute", ("rpm", "rev/min", "1/min", "min⁻¹", "min^-1", "u/min")),
    Unit("rad/s", "radian/second", ()),
    Unit("m/s", "meter/second", ("m/sec", "mps")),
    Unit("ft/min", "foot/minute", ("fpm", "sfpm"), us=True),
    Unit("°C", "degree_Celsius", ("C", "degC", "ºC", "℃", "celsius")),
    Unit("°F", "degree_Fahrenheit", ("F", "degF", "ºF", "℉", "fahrenheit"), us=True),
    Unit("K", "kelvin", ("kelvin",)),
    Unit("%", "percent", ("percent", "pc", "per cent")),
    Unit("kg/m³", "kilogram/meter**3", ("kg/m3", "kg/m^3")),
    Unit("g/cm³", "gram/centimeter**3", ("g/cm3", "g/cm^3", "g/mL")),
    Unit("lb/in³", "pound/inch**3", ("lb/in3", "lb/in^3"), us=True),
    Unit("1/K", "1/kelvin", ("K⁻¹", "/K")),
    Unit("µm/(m·K)", "micrometer/meter/kelvin", ("um/(m*K)", "1e-6/K", "10⁻⁶/K", "ppm/K")),
    Unit("kJ/mol", "kilojoule/mole", ("kj/mol",)),
    Unit("m/s²", "meter/second**2", ("m/s2", "m/s^2")),
    Unit("N/mm", "newton/millimeter", ()),
    Unit("kN/mm", "kilonewton/millimeter", ()),
    Unit("lbf/in", "pound_force/inch", ("lb/in",), us=True),
    Unit("g·mm", "gram*millimeter", ("gmm",)),
    Unit("oz·in", "ounce*inch", ("ozin",), us=True),
    Unit("kg·m²", "kilogram*meter**2", ("kgm2", "kgm²", "kgm^2")),
    Unit("", "", ("1",)),
)
UNITS = {unit.text: unit for unit in _UNITS}


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its name, its accepted units (own SI unit first) and its US unit."""

    name: str
    label: str
    units: tuple[str, ...]
    us: str
    difference: str = ""
    """Kind of a difference between two values, when it is not the same (temperatures)."""

    @property
    def own(self) -> str:
        """The unit a bare number is in."""
        return self.units[0]


KINDS = {
    kind.name: kind
    for kind in (
        Kind("length", "length", ("mm", "µm", "cm", "m", "in", "thou", "ft"), "in"),
        Kind("area", "area", ("mm²", "cm²", "in²"), "in²"),
        Kind("volume", "volume", ("mL", "mm³", "cm³", "L", "in³"), "mL"),
        Kind("mass", "mass", ("kg", "g", "lb", "oz"), "lb"),
        Kind("time", "time", ("h", "min", "s", "d"), "h"),
        Kind("force", "force", ("N", "kN", "lbf", "kgf"), "lbf"),
        Kind(
            "torque",
            "torque",
            ("N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "N·mm", "kN·m", "ozf·in"),
            "lbf·ft",
        ),
        Kind("energy", "energy", ("J", "kJ"), "J"),
        Kind("power", "power", ("W", "kW", "PS", "hp"), "hp"),
        Kind("pressure", "pressure", ("bar", "MPa", "kPa", "psi"), "psi"),
        Kind("stress", "stress", ("MPa", "N/mm²", "GPa", "ksi", "psi"), "ksi"),
        Kind("angle", "angle", ("°", "rad", "turn"), "°"),
        Kind("rotational speed", "speed of rotation", ("r/min", "rad/s"), "r/min"),
        Kind("speed", "speed", ("m/s", "ft/min"), "ft/min"),
        Kind("acceleration", "acceleration", ("m/s²",), "m/s²"),
        Kind(
            "temperature",
            "temperature",
            ("°C", "°F", "K"),
            "°F",
            difference="temperature difference",
        ),
        Kind("temperature difference", "temperature difference", ("K", "°C", "°F"), "°F"),
        Kind("density", "density", ("kg/m³", "g/cm³", "lb/in³"), "lb/in³"),
        Kind("expansion", "coefficient of expansion", ("µm/(m·K)", "1/K"), "µm/(m·K)"),
        Kind("activation energy", "activation energy", ("kJ/mol",), "kJ/mol"),
        Kind("line load", "force per length", ("N/mm", "lbf/in"), "lbf/in"),
        Kind("stiffness", "stiffness", ("kN/mm", "N/mm", "lbf/in"), "lbf/in"),
        Kind("unbalance", "unbalance", ("g·mm", "oz·in"), "oz·in"),
        Kind("inertia", "moment of inertia", ("kg·m²",), "kg·m²"),
        Kind("number", "number", ("",), ""),
        Kind("fraction", "fraction", ("", "%"), ""),
        Kind("count", "whole number", ("",), ""),
    )
}

_SEPARATORS = re.compile(r"[\s·⋅∙*.\-‐‑]+")


def squeeze(spelling: str) -> str:
    """A unit's spelling without the marks between its parts: ``ft-lb``, ``ft lb`` and
    ``ft·lb`` are one spelling."""
    return _SEPARATORS.sub("", spelling.strip())


@cache
def _spellings(kind_name: str) -> dict[str, tuple[str, bool]]:
    """Squeezed spelling to (unit, loose) for the units of a kind."""
    table: dict[str, tuple[str, bool]] = {}
    kind = KINDS[kind_name]
    for text in kind.units:
        unit = UNITS[text]
        for spelling in (unit.text, *unit.aliases):
            table.setdefault(squeeze(spelling), (text, False))
    for text in kind.units:
        for spelling in UNITS[text].loose:
            table.setdefault(squeeze(spelling), (text, True))
    return table


@cache
def _folded_spellings(kind_name: str) -> dict[str, tuple[str, bool]]:
    table: dict[str, tuple[str, bool]] = {}
    for spelling, meaning in _spellings(kind_name).items():
        table.setdefault(spelling.casefold(), meaning)
    return table


def read_unit(kind: Kind, spelling: str) -> tuple[str, bool] | None:
    """The unit of ``kind`` that ``spelling`` means and whether it is a loose spelling.

    Exact case first (MPa is not mPa); then without case, because a tablet's keyboard
    likes capitals and no kind has two units that differ in case only.
    Returns None when the kind has no such unit.
    """
    squeezed = squeeze(spelling)
    return _spellings(kind.name).get(squeezed) or _folded_spellings(kind.name).get(
        squeezed.casefold()
    )


def kinds_with_unit(spelling: str) -> list[Kind]:
    """The kinds that know a unit of this spelling (to say "J is a unit of energy")."""
    squeezed = squeeze(spelling)
    return [kind for kind in KINDS.values() if squeezed and squeezed in _spellings(kind.name)]


def kind_named(name: str) -> Kind:
    """The kind called ``name``; KeyError when there is none."""
    return KINDS[name]


@cache
def _unit(expression: str) -> Any:
    """The registry's unit, parsed once for every expression."""
    return REGISTRY.Unit(expression or "dimensionless")


def as_quantity(value: float, unit: str, kind: Kind | None = None) -> Quantity:
    """A quantity of ``value`` in the unit spelled ``unit``.

    Absolute temperatures come back in kelvin, so that arithmetic on them is plain.
    ``kind`` tells a temperature difference (10 °C is 10 K) from a temperature.
    """
    expression = UNITS[unit].expression if unit in UNITS else unit
    if expression in ("degree_Celsius", "degree_Fahrenheit"):
        if kind is not None and kind.name == "temperature difference":
            return REGISTRY.Quantity(value, _unit("delta_" + expression)).to("kelvin")
        return REGISTRY.Quantity(value, _unit(expression)).to("kelvin")
    return REGISTRY.Quantity(value, _unit(expression))


def magnitude_in(quantity: Any, unit: str, kind: Kind | None = None) -> float:
    """The number of ``quantity`` in the unit spelled ``unit`` (a plain number passes)."""
    if not isinstance(quantity, REGISTRY.Quantity):
        quantity = REGISTRY.Quantity(quantity, _unit(""))
    expression = UNITS[unit].expression if unit in UNITS else unit
    scale = expression in ("degree_Celsius", "degree_Fahrenheit")
    if scale and kind is not None and kind.name == "temperature difference":
        expression = "delta_" + expression
    have = quantity._units
    factor = _factors.get((have, expression))
    if factor is None:
        factor = _factors[have, expression] = _factor(have, expression)
    if factor:
        return float(quantity.magnitude * factor)
    return float(quantity.to(_unit(expression)).magnitude)


_factors: dict[tuple[Any, str], float] = {}
"""What a number is multiplied by from one unit to another: worked out by the registry once
for each pair, and 0 for scales with another zero. The registry multiplies by the same number."""


def _factor(have: Any, expression: str) -> float:
    wanted = _unit(expression)
    if have == wanted._units:
        return 1.0
    if any("degree_" in name and "delta" not in name for name in (expression, *have)):
        return 0.0
    return float(REGISTRY.Quantity(1.0, have).to(wanted).magnitude)


def fits(quantity: Any, kind: Kind) -> bool:
    """Whether the dimension of ``quantity`` is that of ``kind``."""
    probe = as_quantity(1.0, kind.own, kind)
    if not isinstance(quantity, REGISTRY.Quantity):
        return bool(probe.dimensionless)
    return bool(quantity.dimensionality == probe.dimensionality)
