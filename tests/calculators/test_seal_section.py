"""The section of a seal stands where it is put."""

from __future__ import annotations

import math

import pytest

from calculators.seal_section import Place, draw_seal, outline_of, round_factor
from witnessmark.calc import Drawing


def test_upside_down_below_the_shaft() -> None:
    """Below the shaft the bore side points down."""
    assert Place(2, -20, -1).at(3, 5) == pytest.approx((5, -25))


def test_tilt_turns_about_its_centre() -> None:
    """A quarter turn about the origin takes (1, 0) to (0, 1)."""
    assert Place(0, 0, 1, math.pi / 2).at(1, 0) == pytest.approx((0, 1))
    assert Place(0, 0, 1, math.pi, (1, 1)).at(0, 0) == pytest.approx((2, 2))


def test_outline_is_width_by_height() -> None:
    """Four corners of the seal."""
    assert outline_of(Place(1, 2), 10, 5) == [(1, 2), (11, 2), (11, 7), (1, 7)]


@pytest.mark.parametrize(
    ("wanted", "factor"),
    [(0.3, 1), (1.9, 1), (2, 2), (4.9, 2), (5, 5), (9.99, 5), (10, 10), (70, 50), (199, 100),
     (2000, 2000)],
)  # fmt: skip
def test_exaggeration_is_a_round_number(wanted: float, factor: int) -> None:
    """1, 2, 5, 10 … never above what is wanted, never below 1."""
    assert round_factor(wanted) == factor


def test_a_cover_adds_one_cut_part() -> None:
    """Case and rubber, and a coat where the case is covered."""
    counts = []
    for covered in (False, True):
        sheet = Drawing("Seal")
        draw_seal(sheet, Place(), 10, 10, 1.3, covered=covered)
        counts.append(sheet.svg("x").count("Z"))
    assert counts[1] == counts[0] + 1
