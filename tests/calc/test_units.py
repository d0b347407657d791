"""Units: factors against a reference library, spellings, and kinds that share a dimension."""

import pint
import pytest
from scipy import constants

from witnessmark.calc.units import (
    KINDS,
    REGISTRY,
    UNITS,
    as_quantity,
    fits,
    kinds_with_unit,
    magnitude_in,
    read_unit,
)

# Reference: scipy.constants (CODATA and the exact definitions of NIST SP 811).
FACTORS = [
    ("in", "m", constants.inch),
    ("ft", "m", constants.foot),
    ("thou", "m", constants.mil),
    ("lb", "kg", constants.pound),
    ("oz", "kg", constants.oz),
    ("lbf", "N", constants.pound_force),
    ("kgf", "N", constants.kilogram_force),
    ("psi", "kPa", constants.psi / 1e3),
    ("ksi", "MPa", constants.psi / 1e3),
    ("bar", "kPa", constants.bar / 1e3),
    ("hp", "W", constants.hp),
    ("lbf·ft", "N·m", constants.pound_force * constants.foot),
    ("lbf·in", "N·m", constants.pound_force * constants.inch),
    ("ozf·in", "N·m", constants.pound_force / 16 * constants.inch),
    ("kgf·m", "N·m", constants.g),
    ("kgf·cm", "N·m", constants.g / 100),
    ("PS", "W", 75 * constants.g),
    ("°", "rad", constants.degree),
    ("turn", "rad", 2 * constants.pi),
    ("r/min", "rad/s", constants.pi / 30),
    ("h", "s", constants.hour),
    ("d", "s", constants.day),
    ("L", "mL", 1000),
    ("mm³", "mL", 1e-3),
    ("in³", "mL", constants.inch**3 * 1e6),
    ("lb/in³", "kg/m³", constants.pound / constants.inch**3),
    ("ft/min", "m/s", constants.foot / 60),
]


@pytest.mark.parametrize(("unit", "base", "factor"), FACTORS)
def test_a_unit_has_the_factor_of_the_reference_library(unit, base, factor):
    """Each factor agrees with scipy.constants."""
    assert magnitude_in(as_quantity(1.0, unit), base) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(
    ("value", "scale", "kelvin"), [(20.0, "Celsius", 293.15), (68.0, "Fahrenheit", 293.15)]
)
def test_a_temperature_is_kept_in_kelvin(value, scale, kelvin):
    """scipy.constants.convert_temperature gives the same kelvin."""
    unit = {"Celsius": "°C", "Fahrenheit": "°F"}[scale]
    got = as_quantity(value, unit, KINDS["temperature"]).magnitude
    assert got == pytest.approx(constants.convert_temperature(value, scale, "Kelvin"), rel=1e-12)
    assert got == pytest.approx(kelvin)


def test_a_temperature_difference_is_not_a_temperature():
    """10 °C of difference is 10 K, and 18 °F of difference is 10 K."""
    difference = KINDS["temperature difference"]
    assert as_quantity(10, "°C", difference).magnitude == pytest.approx(10)
    assert as_quantity(18, "°F", difference).magnitude == pytest.approx(10)
    assert magnitude_in(as_quantity(10, "K", difference), "°F", difference) == pytest.approx(18)


def test_torque_and_energy_are_kinds_apart():
    """No unit of energy is accepted for a torque, nor the other way round."""
    assert not set(KINDS["torque"].units) & set(KINDS["energy"].units)
    assert read_unit(KINDS["torque"], "J") is None
    assert read_unit(KINDS["energy"], "N·m") is None


@pytest.mark.parametrize(
    ("kind", "spelling", "unit"),
    [
        ("torque", "Nm", "N·m"),
        ("torque", "N.m", "N·m"),
        ("torque", "N m", "N·m"),
        ("torque", "NM", "N·m"),
        ("torque", "lbf ft", "lbf·ft"),
        ("torque", "ft-lb", "lbf·ft"),
        ("torque", "ft lbs", "lbf·ft"),
        ("torque", "in-lb", "lbf·in"),
        ("torque", "kgf m", "kgf·m"),
        ("length", '"', "in"),
        ("length", "um", "µm"),
        ("length", "μm", "µm"),
        ("stress", "mpa", "MPa"),
        ("rotational speed", "rpm", "r/min"),
        ("temperature", "C", "°C"),
        ("area", "mm2", "mm²"),
    ],
)
def test_the_usual_spellings_are_read(kind, spelling, unit):
    """Spellings that fitters and keyboards vary mean the one unit."""
    assert read_unit(KINDS[kind], spelling) == (unit, False)


def test_kilograms_of_an_old_torque_table_are_read_with_a_remark():
    """ "kg m" is read as kgf·m and marked as a loose spelling (NIST SP 811, B.7 on kgf)."""
    assert read_unit(KINDS["torque"], "kg m") == ("kgf·m", True)


def test_every_unit_of_every_kind_has_its_dimension():
    """A kind's units convert to each other."""
    for kind in KINDS.values():
        for unit in kind.units:
            assert unit in UNITS
            assert fits(as_quantity(1.0, unit, kind), kind)


def test_no_spelling_is_in_doubt_within_a_kind():
    """Without case, a spelling never means two units of one kind."""
    for kind in KINDS.values():
        seen: dict[str, str] = {}
        for unit in kind.units:
            for spelling in (unit, *UNITS[unit].aliases):
                assert seen.setdefault(spelling.casefold(), unit) == unit


def test_the_kinds_of_a_unit_are_known():
    """A unit of the wrong kind can be named in the message."""
    assert "energy" in [kind.name for kind in kinds_with_unit("J")]


def test_kept_factors_are_those_of_the_registry():
    """A number in another unit is what the registry gives, to the last bit, for every pair of
    units of a kind, scales with another zero included."""
    for kind in KINDS.values():
        for have in kind.units:
            quantity = as_quantity(12.3456789, have, kind)
            for wanted in kind.units:
                expression = UNITS[wanted].expression or "dimensionless"
                if kind.name == "temperature difference" and "degree" in expression:
                    expression = f"delta_{expression}"
                reference = quantity.to(expression).magnitude
                assert magnitude_in(quantity, wanted, kind) == reference, (have, wanted)


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_the_quick_conversion_is_the_registry_s_own(kind):
    """Between all units of a kind, both ways in, to the last bits; scales keep their zero."""
    plainly = type(REGISTRY.Quantity(1.0, "meter")).__mro__[1].to
    expressions = [UNITS[unit].expression or "dimensionless" for unit in kind.units]
    if kind.name == "temperature difference":
        expressions = [e if e == "kelvin" else f"delta_{e}" for e in expressions]
    for have in expressions:
        for wanted in expressions:
            quantity = REGISTRY.Quantity(12.345678901, have)
            slow = plainly(quantity, wanted)
            quick = quantity.to(wanted)
            assert quick.units == slow.units
            assert quick.magnitude == pytest.approx(slow.magnitude, rel=1e-14)
            assert quantity.m_as(wanted) == quick.magnitude
            assert quantity.to(REGISTRY.Unit(wanted)).magnitude == quick.magnitude


def test_the_quick_conversion_refuses_as_the_registry_does():
    """Another dimension raises; a second time too."""
    length = REGISTRY.Quantity(1.0, "meter")
    for _ in range(2):
        with pytest.raises(pint.DimensionalityError):
            length.to("second")
