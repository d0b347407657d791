"""Quick arithmetic on quantities gives what the units library gives, to the last bit.

Reference: pint itself (a general-purpose library), a registry of the same definitions whose
quantities were left alone.
"""

import itertools
import operator

import pint
import pytest

from witnessmark.calc.units import _DEFINITIONS, REGISTRY, UNITS

PLAIN = pint.UnitRegistry(None)
PLAIN.load_definitions(_DEFINITIONS.strip().splitlines())

EXPRESSIONS = sorted(
    {unit.expression for unit in UNITS.values()}
    | {"delta_degree_Celsius", "delta_degree_Fahrenheit", "kilogram*meter**2/second**3"}
)
PAIRS = [
    operator.mul, operator.truediv, operator.add, operator.sub,
    operator.lt, operator.le, operator.gt, operator.ge, operator.eq, operator.ne,
    operator.imul, operator.itruediv, operator.iadd, operator.isub,
]  # fmt: skip
NUMBERS = [0, 0.0, 1, 2, -3.5, float("nan"), float("inf"), True]
POWERS = [0, 1, 2, 2.0, -1, 0.5, 1.5]
MAGNITUDES = [(3.7, -0.2), (0.0, 5), (2, 7), (1e-9, 3e12)]


def _told(registry, operation, first, second):
    """What comes out, with its units to the letter; or the kind of the refusal."""
    made = [
        each if not isinstance(each, tuple) else registry.Quantity(each[0], registry.Unit(each[1]))
        for each in (first, second)
    ]
    try:
        answer = operation(*made)
    except (ValueError, TypeError, ZeroDivisionError) as refused:
        return type(refused).__name__
    if isinstance(answer, registry.Quantity):
        number = answer.magnitude  # a whole number that was converted is a float here
        return repr(float(number) if type(number) is int else number), dict(answer._units)
    return answer


def _agree(operation, first, second):
    # Twice: the first time the units are found, the second time they are known.
    for _ in range(2):
        ours = _told(REGISTRY, operation, first, second)
        assert ours == _told(PLAIN, operation, first, second), (operation, first, second)


@pytest.mark.parametrize("operation", PAIRS, ids=lambda each: each.__name__)
def test_two_quantities(operation):
    """Every unit with every other: all digits and units, or the same refusal."""
    every = 1 if operation in (operator.mul, operator.add, operator.lt) else 5
    pairs = list(itertools.product(EXPRESSIONS, repeat=2))[::every]
    for place, (first, second) in enumerate(pairs):
        one, other = MAGNITUDES[place % len(MAGNITUDES)]
        _agree(operation, (one, first or "dimensionless"), (other, second or "dimensionless"))


@pytest.mark.parametrize("operation", PAIRS, ids=lambda each: each.__name__)
def test_a_quantity_and_a_number(operation):
    """Every unit with numbers, on either side."""
    for unit, number in itertools.product(EXPRESSIONS, NUMBERS):
        for magnitude in (3.7, 4, 0.0):
            _agree(operation, (magnitude, unit or "dimensionless"), number)
            _agree(operation, number, (magnitude, unit or "dimensionless"))


@pytest.mark.parametrize("units", list(itertools.permutations(("kelvin", "degC", "degF"), 2)))
def test_thermometers(units):
    """Temperatures from scale to scale, to the last bit, whole and broken."""
    have, wanted = units
    for number in (0, 20, -40.0, 293.15, *(-459.67 + 7.77 * place for place in range(300))):
        for convert in (lambda one: one.to(wanted).magnitude, lambda one: one.m_as(wanted)):
            ours, plain = (
                convert(registry.Quantity(number, have)) for registry in (REGISTRY, PLAIN)
            )
            assert float(ours) == float(plain), (number, units)


def test_powers():
    """Every unit to whole and broken powers, and to powers that are no numbers."""
    for unit, power in itertools.product(EXPRESSIONS, POWERS):
        _agree(operator.pow, (2.3, unit or "dimensionless"), power)
    for power in ((2.0, "dimensionless"), (50.0, "percent"), (2.0, "meter"), "2", None):
        _agree(operator.pow, (2.3, "meter"), power)


def test_what_is_no_quantity_is_refused_alike():
    """Texts, None and lists are refused as the library refuses them."""
    for operation in PAIRS:
        for other in ("2", None, [1.0], object):
            _agree(operation, (2.3, "meter"), other)


def test_a_quantity_of_another_registry_is_refused():
    """Quantities of two registries never mix."""
    for operation in (operator.mul, operator.add, operator.lt):
        with pytest.raises(ValueError):
            operation(REGISTRY.Quantity(1.0, "meter"), PLAIN.Quantity(1.0, "meter"))


def test_an_operation_in_place_leaves_the_other_name_alone():
    """A quantity that has two names does not change under the one."""
    first = again = REGISTRY.Quantity(2.0, "meter")
    first *= 3
    first += REGISTRY.Quantity(1.0, "foot")
    assert again.magnitude == 2.0
