"""A value keeps its author's digits in its own system and is converted as finely in the other."""

import pytest

from witnessmark.calc import KINDS
from witnessmark.databook.book import Value
from witnessmark.databook.shown import show_text, show_value

# Conversions: NIST SP 811 (2008) appendix B.8 factors, worked by hand to the figures shown:
# 1 lbf·ft = 1.355818 N·m, 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 psi = 6894.757 Pa.
SHOWN = [
    ("480 N·m ± 4 %", "torque", "480 N·m ± 4 %", "354 lbf·ft ± 4 %"),
    ("480 ± 20 N·m", "torque", "480 ± 20 N·m", "354 ± 15 lbf·ft"),
    ("354 ft-lb", "torque", "480 N·m", "354 lbf·ft"),
    ("49 kgf·m", "torque", "49 kgf·m", "354 lbf·ft"),
    ("0.10 … 0.25 mm", "length", "0.10 … 0.25 mm", "0.0039 … 0.0098 in"),
    ("0,12 mm", "length", "0.12 mm", "0.0047 in"),
    ("382 mm", "length", "382 mm", "15.04 in"),
    ("75 mm +0.1/-0.2", "length", "75 +0.1 / −0.2 mm", "2.953 +0.0039 / −0.0079 in"),
    ("-0.05 mm", "length", "−0.05 mm", "−0.0020 in"),
    ("1 7/16 in", "length", "36.51 mm", "1 7/16 in"),
    ("½ in", "length", "12.70 mm", "0.500 in"),
    ("31 kg", "mass", "31 kg", "68 lb"),
    ("6 bar", "pressure", "6 bar", "87 psi"),
    ("250 °C", "temperature", "250 °C", "482 °F"),
    ("180 °C ± 10 K", "temperature", "180 ± 10 °C", "356 ± 18 °F"),
    ("60 deg", "angle", "60°", "60°"),
    ("1500 rpm", "rotational speed", "1500 r/min", "1500 r/min"),
    ("20 min", "time", "20 min", "20 min"),
    ("92 %", "fraction", "92 %", "92 %"),
    ("0.92 ± 0.02", "fraction", "0.92 ± 0.02", "0.92 ± 0.02"),
    ("8", "count", "8", "8"),
]


@pytest.mark.parametrize(("text", "kind", "si", "us"), SHOWN)
def test_a_quantity_is_shown_in_both_systems(text, kind, si, us):
    """The space before a unit is the narrow one."""
    shown = [show_text(text, KINDS[kind], system).replace("\u202f", " ") for system in ("si", "us")]

    assert shown == [si, us]


def test_texts_and_sizes_stay_as_they_are():
    """A thread and a fit have no other unit system."""
    assert show_value(Value("nut.thread", "M30x2"), "us") == "M30x2"
    assert show_value(Value("seal_land.diameter", "75 mm h11", "size"), "us") == "75 mm h11"


def test_number_and_unit_are_set_apart_by_a_narrow_space():
    """So that they never break apart at the end of a line."""
    value = Value("nut.torque", "480 N·m", "torque", "N·m", 480.0, 480.0)

    assert show_value(value) == "480\u202fN·m"
