"""Sizes and tolerances of O-rings against what is in print."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calculators.o_ring_sizes import RINGS, bore_tolerance, named, of_section, section_tolerance

# ISO 3601-1, table of class B: inside diameter and tolerance, mm, as printed.
CLASS_B = [(5, 0.15), (20, 0.26), (80, 0.69), (320, 2.27), (640, 4.28)]
# ISO 3601-1: section and tolerance, mm, as printed.
SECTIONS = [
    (1.78, 0.08), (2.25, 0.08), (2.62, 0.09), (3.15, 0.09), (3.53, 0.10), (4.5, 0.10),
    (5.33, 0.13), (6.3, 0.13), (6.99, 0.15), (8.4, 0.15),
]  # fmt: skip
# Size codes with inside diameter and section, mm; from memory of AS 568 and ISO 3601-1.
CODES = {
    "010": (6.07, 1.78), "050": (133.07, 1.78), "110": (9.19, 2.62), "178": (247.32, 2.62),
    "214": (24.99, 3.53), "230": (63.09, 3.53), "284": (456.06, 3.53), "325": (37.47, 5.33),
    "349": (113.67, 5.33), "425": (113.67, 6.99),
}  # fmt: skip


@pytest.mark.parametrize(("bore", "printed"), CLASS_B)
def test_inside_diameter_of_class_b(bore: float, printed: float) -> None:
    """The formula gives the printed figure."""
    assert round(bore_tolerance(bore), 2) == printed


@pytest.mark.parametrize(("section", "printed"), SECTIONS)
def test_section_tolerance(section: float, printed: float) -> None:
    """Steps are up to and including."""
    assert section_tolerance(section) == printed


def test_size_codes() -> None:
    """First, last and some of each series have the printed size: no row is missing between."""
    by_code = {ring.code: (ring.bore, ring.section) for ring in RINGS}
    assert {code: by_code[code] for code in CODES} == CODES
    assert len(by_code) == len(RINGS)


@pytest.mark.parametrize("section", [1.78, 2.62, 3.53, 5.33, 6.99])
def test_sizes_step_by_fractions_of_an_inch(section: float) -> None:
    """The sizes come from 1/32 in steps doubled as they grow; a slip of a digit breaks one.

    Rings 005 to 006 and 281 to 282 alone are odd in the standard.
    """
    odd = {("005", "006"), ("281", "282")}
    for small, large in pairwise(of_section(section)):
        if (small.code, large.code) in odd:
            continue
        steps = (large.bore - small.bore) / 25.4 * 32
        assert steps == pytest.approx(2 ** round(steps).bit_length() / 2, abs=0.05), large.code


def test_a_ring_is_known_by_its_size() -> None:
    """Within the rounding of inches a ring has a code; others have none."""
    assert named(63.1, 3.5) == "230"
    assert named(63.09, 3.53) == "230"
    assert named(63.5, 3.53) == "no standard size"
    assert named(63.09, 3.0) == "no standard size"
