"""Tables of seals against printed figures."""

from __future__ import annotations

import pytest

from calculators.seal_lookup import ELASTOMER_LIMITS, GASKET_FACTORS, O_RINGS, RUNOUT_LIMITS


def test_an_o_ring_with_its_tolerances() -> None:
    """Size 230: 63.09 ± 0.57 by 3.53 ± 0.10 mm (ISO 3601-1, class B by its formula)."""
    row = next(row for row in O_RINGS.rows if row[0] == "230")
    sizes = [round(cell.m_as("millimeter"), 2) for cell in row[1:]]
    assert sizes == [63.09, 0.57, 3.53, 0.10]


def test_seating_stresses_as_printed() -> None:
    """ASME VIII-1, table 2-5.1, in psi."""
    printed = (1100, 0, 200, 3700, 8800, 13_000)
    assert [row[2].m_as("psi") for row in GASKET_FACTORS.rows] == pytest.approx(printed)


def test_speed_and_runout_in_order() -> None:
    """No maker's bold figure is below the careful one; faster shafts are allowed less runout."""
    for _, safe, utmost, _ in ELASTOMER_LIMITS.rows:
        assert safe <= utmost
    runouts = [row[1].m_as("millimeter") for row in RUNOUT_LIMITS.rows]
    assert runouts == sorted(runouts, reverse=True)
