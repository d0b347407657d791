"""Cutting lines at loops, and hatching."""

import math
import random

import pytest

from witnessmark.calc.drawing.plane import Loop, circle_loop
from witnessmark.calc.drawing.regions import Region, hatch_lines

L_SHAPE: Loop = [(0, 0), (60, 0), (60, 20), (20, 20), (20, 50), (0, 50)]
WINDOW: Loop = [(5, 5), (15, 5), (15, 15), (5, 15)]


@pytest.mark.parametrize("rising", [True, False])
@pytest.mark.parametrize("loops", [[L_SHAPE], [L_SHAPE, WINDOW], [circle_loop((30, 30), 25)]])
def test_hatching_keeps_inside_the_metal(loops: list[Loop], rising: bool) -> None:
    """No point of a hatch line lies outside the outline or in a hole."""
    region, lines = Region(loops), hatch_lines(loops, 4.0, rising=rising)
    assert len(lines) > 5
    for x1, y1, x2, y2 in lines:
        for k in range(1, 20):
            share = 0.005 + 0.99 * k / 20
            assert region.holds(x1 + share * (x2 - x1), y1 + share * (y2 - y1))


def test_hatching_runs_at_45_degrees_and_the_other_way_for_the_neighbour() -> None:
    """Slope is one in one, its sign told by the way asked for; y runs down on paper."""
    for rising, slope in ((True, -1.0), (False, 1.0)):
        for x1, y1, x2, y2 in hatch_lines([L_SHAPE], 4.0, rising=rising):
            assert math.isclose((y2 - y1) / (x2 - x1), slope, abs_tol=1e-9)


def test_hatching_fills_the_area_evenly() -> None:
    """Length of all lines times their spacing is about the area they fill."""
    spacing = 1.0
    length = sum(math.dist(s[:2], s[2:]) for s in hatch_lines([L_SHAPE], spacing, rising=True))
    assert math.isclose(length * spacing, 60 * 20 + 20 * 30, rel_tol=0.02)


def test_clipping_a_line_loses_and_gains_nothing() -> None:
    """The parts inside and outside a loop add up to the line."""
    dice = random.Random(3)
    for _ in range(300):
        line = tuple(dice.uniform(-20, 80) for _ in range(4))
        segment = (line[0], line[1], line[2], line[3])
        total = sum(
            math.dist(piece[:2], piece[2:])
            for keep in (True, False)
            for piece in Region([L_SHAPE, WINDOW]).cut(segment, keep_inside=keep)
        )
        assert math.isclose(total, math.dist(segment[:2], segment[2:]), abs_tol=1e-6)


def test_a_segment_apart_from_a_loop_is_left_whole() -> None:
    """What is told to be clear of a region, cutting leaves as it is; never the other way."""
    dice = random.Random(5)
    clear, region = 0, Region([L_SHAPE])
    for _ in range(400):
        x1, y1, x2, y2 = (dice.uniform(-60, 120) for _ in range(4))
        segment = (x1, y1, x2, y2)
        if region.clear_of(segment):
            clear += 1
            assert region.cut(segment, keep_inside=False) == [pytest.approx(segment)]
            assert region.outside([segment]) == [segment]
    assert clear > 50
