"""Tables of lip seals against the formulas of ISO 286-1 and against themselves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.lip_seal_tables import (
    CASES,
    ELASTOMERS,
    RUNOUTS,
    allowance,
    allowed_offset,
    allowed_runout,
    h8,
    h11,
)

MANY = settings(max_examples=40, deadline=None, derandomize=True)
STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
# Where plain rounding of the formula differs from the printed table of IT11 (see ISO 286-1,
# which rounds for itself): steps up to these sizes.
IT11_ODD = (3, 6, 50, 80, 400, 500)


def unit(step: int) -> float:
    """Tolerance unit i = 0.45 D^(1/3) + 0.001 D (µm) of the step that ends there."""
    low = 1 if step == 3 else STEPS[STEPS.index(step) - 1]
    mean = (low * step) ** 0.5
    return float(0.45 * mean ** (1 / 3) + 0.001 * mean)


@pytest.mark.parametrize("step", STEPS)
def test_h8_is_25_tolerance_units(step: int) -> None:
    """IT8 = 25 i of ISO 286-1, rounded to whole micrometres."""
    low, high = h8(step)
    assert low == step
    assert (high - low) * 1000 == pytest.approx(25 * unit(step), abs=0.5 + 0.5 * (step > 400))


@pytest.mark.parametrize("step", [s for s in STEPS if s not in IT11_ODD])
def test_h11_is_100_tolerance_units(step: int) -> None:
    """IT11 = 100 i of ISO 286-1, rounded to 5 µm above 100 µm and to 10 µm above 200 µm."""
    low, high = h11(step)
    it = 100 * unit(step)
    assert high == step
    assert (high - low) * 1000 == pytest.approx(it, abs=5.0 if it > 200 else 2.5)


@pytest.mark.parametrize(
    ("size", "h8_upper", "h11_lower"),
    [(10, 22, -90), (18, 27, -110), (30, 33, -130), (50, 39, -160), (80, 46, -190),
     (120, 54, -220), (180, 63, -250), (250, 72, -290), (315, 81, -320), (400, 89, -360)],
)  # fmt: skip
def test_limits_printed_for_seals(size: float, h8_upper: int, h11_lower: int) -> None:
    """Housing and shaft tolerances as seal makers print them from ISO 286-2, in µm."""
    assert (h8(size)[1] - size) * 1000 == pytest.approx(h8_upper)
    assert (h11(size)[0] - size) * 1000 == pytest.approx(h11_lower)


def test_a_step_ends_with_its_size() -> None:
    """Steps are "over … up to and including": 80 is in the step before, 80.1 in the next."""
    assert h8(80)[1] - 80 == pytest.approx(0.046)
    assert h8(80.1)[1] - 80.1 == pytest.approx(0.054)
    assert allowance("metal", 80) == (0.09, 0.23)
    assert allowance("metal", 80.1) == (0.10, 0.25)


@pytest.mark.parametrize("size", [0, -1, 501])
def test_no_limits_outside_the_table(size: float) -> None:
    """The tables are never carried on."""
    with pytest.raises(ValueError, match="500 mm"):
        h8(size)
    with pytest.raises(ValueError, match="500 mm"):
        h11(size)


def test_no_allowance_outside_the_table() -> None:
    """Nor is that of the seal's outside."""
    with pytest.raises(ValueError, match="300 mm"):
        allowance("rubber", 301)


@pytest.mark.parametrize("bore", [20, 50, 65, 95, 150, 250])
def test_rubber_is_larger_than_metal(bore: float) -> None:
    """A rubber cover needs more interference than a bare case, and always some over H8."""
    metal, rubber = (allowance(case, bore) for case in ("metal", "rubber"))
    assert rubber[0] > metal[0]
    assert rubber[1] > metal[1]
    for case in CASES:
        assert allowance(case, bore)[0] > h8(bore)[1] - bore


@MANY
@given(st.floats(500, 6000))
def test_runout_is_straight_between_points(speed: float) -> None:
    """The same as numpy's interpolation of the points."""
    expected = np.interp(speed, *zip(*RUNOUTS, strict=True))
    assert allowed_runout(speed) == pytest.approx(expected, rel=1e-12)


def test_runout_ends() -> None:
    """Level below the first point, none above the last."""
    assert allowed_runout(20) == 0.30
    assert allowed_runout(6000) == pytest.approx(0.10)
    assert allowed_runout(6000.1) is None


@MANY
@given(st.floats(1, 5999), st.floats(0, 1))
def test_faster_never_allows_more(speed: float, more: float) -> None:
    """The allowed runout falls with speed."""
    slow, fast = allowed_runout(speed), allowed_runout(speed + more)
    assert slow is not None
    assert fast is not None
    assert fast <= slow + 1e-12


@pytest.mark.parametrize(("shaft", "offset"), [(10, 0.10), (30, 0.10), (90, 0.175), (150, 0.25),
                                               (400, 0.25)])  # fmt: skip
def test_offset_grows_with_the_shaft(shaft: float, offset: float) -> None:
    """0.10 mm to 0.25 mm from 30 mm to 150 mm, held at both ends."""
    assert allowed_offset(shaft) == pytest.approx(offset)


def test_elastomers_are_ordered() -> None:
    """Safe never above utmost; heat rises from nitrile to fluorocarbon."""
    assert all(item.safe <= item.utmost for item in ELASTOMERS.values())
    heat = [ELASTOMERS[key].hottest for key in ("NBR", "ACM", "VMQ", "FKM")]
    assert heat == sorted(heat)
