"""Tables of reference against printed figures, and against the calculators beside them."""

from __future__ import annotations

import pytest

from calculators.thread_lookup import INCH_SPANNERS, METRIC_THREADS, SPANNERS, THREAD_LIMITS
from calculators.thread_strength import thread_strength
from calculators.tool_lookup import CONVERSIONS, DRIVE_SQUARES, TORQUES
from tests.calculators.outcomes import Answers
from tests.calculators.test_thread_tables import PRINTED
from witnessmark.calc import number

# NIST SP 811, appendix B.8: exact factors.
NIST = {
    ("lbf·ft", "N·m"): 1.3558179483314004, ("lbf·in", "N·m"): 0.1129848290276167,
    ("kgf·m", "N·m"): 9.80665, ("kgf·cm", "N·m"): 0.0980665, ("lbf", "N"): 4.4482216152605,
    ("in", "mm"): 25.4, ("psi", "kPa"): 6.894757293168362, ("hp", "kW"): 0.7456998715822702,
    ("PS", "kW"): 0.73549875, ("lb", "kg"): 0.45359237, ("bar", "kPa"): 100.0,
}  # fmt: skip


def test_proof_loads_as_printed() -> None:
    """ISO 898-1 within its own rounding; nothing beyond its end."""
    rows = {row[0].replace("×", "x"): row for row in METRIC_THREADS.rows}
    for name, (*_, area, low, middle, high) in PRINTED.items():
        row = rows[name]
        assert float(f"{row[5].m_as('millimeter**2'):.3g}") == area
        loads = [cell.m_as("kilonewton") for cell in row[6:]]
        assert loads == pytest.approx([low, middle, high], rel=5e-3)
    assert rows["M42x3"][6:] == (None, None, None)


def test_table_and_calculator_agree() -> None:
    """What the table prints the calculator answers, within the rounding of the standard."""
    ask = Answers(thread_strength)
    for row in METRIC_THREADS.rows[::7]:
        if row[7] is not None:
            load = ask.value("proof", thread=row[0].replace("×", "x"), mark="10.9")
            assert row[7].m_as("kilonewton") == pytest.approx(load, rel=5e-3)


def test_limits_stand_in_order() -> None:
    """Least below most, bolt inside nut, and M12x1.25 as in ASME B1.13M: 11.368 and 10.647."""
    for _, *cells in THREAD_LIMITS.rows:
        sizes = [cell.m_as("millimeter") for cell in cells]
        for low, high in zip(sizes[::2], sizes[1::2], strict=True):
            assert low < high
        assert sizes[3] < sizes[4]
    row = next(row for row in THREAD_LIMITS.rows if row[0] == "M12×1.25")
    assert row[6].m_as("millimeter") == pytest.approx(11.368, abs=5e-4)
    assert row[7].m_as("millimeter") == pytest.approx(10.647, abs=5e-4)


def test_factors() -> None:
    """The exact factors of NIST SP 811, and back again."""
    found = {(row[1], row[2]): row[3:] for row in CONVERSIONS.rows}
    for pair, factor in NIST.items():
        there, back = (number(cell) for cell in found[pair])
        assert there == pytest.approx(factor, rel=1e-13)
        assert there * back == pytest.approx(1, rel=1e-13)


def test_torques_and_squares() -> None:
    """400 N·m are 295.0 lbf·ft; a 10 mm square is 9.525 mm."""
    row = next(row for row in TORQUES.rows if row[0] == "400 N·m")
    assert number(row[1]) == pytest.approx(295.025, abs=5e-4)
    assert number(row[3]) == pytest.approx(40.789, abs=5e-4)
    assert DRIVE_SQUARES.rows[1][1].m_as("millimeter") == pytest.approx(9.525)


def test_spanners() -> None:
    """M12 has 18 mm and had 19 mm; a 1/2 in bolt has 3/4 in."""
    m12 = next(row for row in SPANNERS.rows if row[0] == "M12")
    assert (number(m12[1]), number(m12[2])) == (18, 19)
    half = next(row for row in INCH_SPANNERS.rows if row[0] == "1/2 in")
    assert half[1] == "3/4 in"
    assert number(half[2]) == pytest.approx(19.05)
