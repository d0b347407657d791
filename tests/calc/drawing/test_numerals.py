"""Coordinates as text."""

import math
import random

import pytest

from witnessmark.calc.drawing.numerals import fixed, plain


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (-0.004, "0"),
        (1.0, "1"),
        (1.5, "1.5"),
        (2.345, "2.35"),
        (-2.345, "-2.35"),
        (1.005, "1.01"),
        (-0.005, "-0.01"),
        (0.004999, "0"),
        (1234.999, "1235"),
    ],
)
def test_coordinates_round_half_away_and_never_show_minus_nought(
    value: float, expected: str
) -> None:
    """Two decimals at most, halves away from nought, no trailing noughts."""
    assert fixed(value) == expected


def test_the_last_bits_of_a_float_do_not_change_the_text() -> None:
    """A value off by a few units in the last place gives the same characters."""
    dice = random.Random(7)
    for _ in range(2000):
        value = round(dice.uniform(-500, 500), 3)
        nearby = value
        for _ in range(3):
            nearby = math.nextafter(nearby, math.inf)
        assert fixed(nearby) == fixed(value)


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_a_coordinate_is_a_finite_number(value: float) -> None:
    """Infinity and not-a-number are refused, not written."""
    with pytest.raises(ValueError, match="finite"):
        fixed(value)


def test_numbers_on_scales_carry_a_true_minus_and_fixed_decimals() -> None:
    """A scale shows all its numbers with the same decimals."""
    assert [plain(v, 1) for v in (-0.5, 0.0, 10.0)] == ["\u22120.5", "0.0", "10.0"]
    assert plain(-0.0001, 2) == "0.00"
