"""Readings round a circle."""

import math

import pytest

from tests.calc.drawing.reading import group, texts
from witnessmark.calc.drawing import Polar


def dots(p: Polar) -> list[tuple[float, float]]:
    """Return the centres of the drawn readings."""
    return [
        (float(shape.get("cx", "")), float(shape.get("cy", "")))
        for shape in group(p.svg(), "wm-mark-dot")
    ]


def test_nought_stands_at_the_top_and_angles_run_clockwise() -> None:
    """As one looks at the flywheel's face with the witness mark up."""
    p = Polar("Runout", radial="0.01 mm")
    p.readings([(0, 1), (90, 1), (180, 1), (270, 1)])
    top, right, bottom, left = dots(p)
    assert top[1] < 0
    assert top[0] == pytest.approx(0, abs=0.01)
    assert right[0] > 0
    assert bottom[1] > 0
    assert left[0] < 0


def test_equal_differences_are_equally_far_apart() -> None:
    """The radial scale is even, also through nought."""
    p = Polar("Runout", radial="0.01 mm", radial_range=(-4, 4))
    p.readings([(0, -2), (120, 0), (240, 2)])
    low, middle, high = (math.hypot(x, y) for x, y in dots(p))
    assert high - middle == pytest.approx(middle - low, abs=0.02)
    assert low > 0


def test_the_plot_names_angles_scale_limits_and_marks() -> None:
    """Everything a reader needs stands on it."""
    p = Polar("Runout", radial="0.01 mm")
    p.readings([(0, -2), (120, 4), (240, 2)], "dial")
    p.limit(5, "limit")
    p.mark(120, 4, "high spot")
    words = {written.text for written in texts(p.svg())}
    assert {"0°", "90°", "330°", "0.01 mm", "limit", "high spot", "dial"} <= words


def test_two_readings_make_no_circle() -> None:
    """Three are the least."""
    with pytest.raises(ValueError, match="three or more"):
        Polar("Runout", radial="mm").readings([(0, 1), (180, 1)])
    with pytest.raises(ValueError, match="no readings"):
        Polar("Runout", radial="mm").svg()
