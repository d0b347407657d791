"""Room for texts."""

import pytest

from witnessmark.calc.drawing.letters import line_width, text_size

# Advance widths in ems of Liberation Sans (metric equal of the usual office sans-serif), read
# from its horizontal metrics table.
NARROWER = {"0": 0.556, "m": 0.833, "W": 0.944, "i": 0.222, "N": 0.722, " ": 0.278, "%": 0.889}


@pytest.mark.parametrize("letter", NARROWER)
def test_the_room_reserved_is_enough_for_a_usual_face(letter: str) -> None:
    """Every width in the table is at least that of a common narrower face."""
    assert line_width(letter, 1.0) >= NARROWER[letter]


def test_a_text_of_several_lines_is_as_wide_as_its_widest() -> None:
    """And higher by a line step for each line more."""
    width, height = text_size("reaction bar\nx", 10.0)
    assert width == line_width("reaction bar", 10.0)
    assert height == pytest.approx(22.0)


def test_strong_letters_and_unknown_ones_take_more_room() -> None:
    """A letter not in the table is reckoned wide rather than narrow."""
    assert line_width("nut", 10, strong=True) > line_width("nut", 10)
    assert line_width("ж", 10) >= 7.0
    assert line_width("漢", 10) >= 10.0
