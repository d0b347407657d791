"""Rounding for display: as the tool is divided, once, never by the last bit."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.calc.display import (
    Rounding,
    round_number,
    show,
    show_quantity,
    significant,
    unit_system,
    with_unit,
)
from witnessmark.calc.functions import Q
from witnessmark.calc.units import KINDS


@pytest.mark.parametrize(
    ("value", "rounding", "text"),
    [
        (104.49, Rounding(step="1 N·m"), "104"),
        (104.5, Rounding(step="1 N·m"), "105"),
        (103.0, Rounding(step="5 N·m"), "105"),
        (1.5034, Rounding(figures=3), "1.50"),
        (1503.4, Rounding(figures=3), "1500"),
        (9.996, Rounding(figures=3), "10.0"),
        (0.0123456, Rounding(figures=3), "0.0123"),
        (2.675, Rounding(decimals=2), "2.68"),
        (-0.004, Rounding(decimals=2), "0.00"),
        (-1.25, Rounding(decimals=1), "−1.3"),
        (1e-17, Rounding(figures=3), "0.00"),
        (389.1197, Rounding(figures=3), "389"),
        (355.9, Rounding(step="1 N·m", toward="down"), "355"),
        (355.1, Rounding(step="1 N·m", toward="up"), "356"),
    ],
)
def test_a_number_is_rounded_as_declared(value, rounding, text):
    """Steps, decimals, figures; halves away from zero; no minus zero."""
    assert round_number(value, rounding) == text


@settings(max_examples=300, derandomize=True, deadline=None)
@given(
    st.floats(min_value=-1e6, max_value=1e6, allow_nan=False),
    st.sampled_from([Rounding(figures=3), Rounding(decimals=2), Rounding(step="5 N·m")]),
)
def test_the_last_bit_never_decides(value, rounding):
    """Numbers one bit apart are shown alike unless twelve digits tell them apart."""
    above = math.nextafter(value, math.inf)
    if format(value, ".12g") == format(above, ".12g"):
        assert round_number(value, rounding) == round_number(above, rounding)


@settings(max_examples=200, derandomize=True, deadline=None)
@given(st.floats(min_value=-1e5, max_value=1e5), st.integers(0, 3))
def test_a_limit_is_rounded_to_its_safe_side(value, places):
    """Down never exceeds, up never falls short of the number at twelve digits."""
    cut = float(format(value, ".12g")) if abs(value) >= 1e-9 else 0.0
    down = float(round_number(value, Rounding(decimals=places, toward="down")).replace("−", "-"))
    up = float(round_number(value, Rounding(decimals=places, toward="up")).replace("−", "-"))
    assert down <= cut <= up


def test_us_display_takes_the_us_unit_and_step():
    """287 lbf·ft is 389 N·m and back (NIST SP 811: 389.1197 N·m)."""
    rounding = Rounding(step="1 N·m", us_step="1 lbf·ft")
    torque = Q(389.1197, "N·m")
    assert show_quantity(torque, KINDS["torque"], rounding, "si") == ("389", "N·m")
    assert show_quantity(torque, KINDS["torque"], rounding, "us") == ("287", "lbf·ft")


def test_show_follows_the_unit_system_of_the_evaluation():
    """A force in a sentence is in lbf where the reader reads US customary units."""
    assert show(Q(1503, "N"), "kN") == "1.50\u202fkN"
    with unit_system("us"):
        assert show(Q(1503, "N"), "kN") == "338\u202flbf"
    assert show(Q(1503, "N"), "kN") == "1.50\u202fkN"


def test_the_degree_sign_follows_its_number_closely():
    """60° without a space, 20 °C and 400 N·m with one (ISO 80000-1)."""
    assert with_unit("60", "°") == "60°"
    assert with_unit("20", "°C") == "20\u202f°C"
    assert with_unit("0.83", "") == "0.83"


def test_entry_fields_get_plain_numbers():
    """Converted entries keep six figures and can be read back."""
    assert significant(354.02928) == "354.029"
    assert significant(480.0) == "480"
    assert significant(-0.005) == "-0.005"
    assert significant(1234567.8) == "1234570"
