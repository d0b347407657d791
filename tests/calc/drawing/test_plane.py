"""Clipping, hatching and boxes."""

import math
import random

import pytest

from witnessmark.calc.drawing.plane import (
    Box,
    Loop,
    apart,
    circle_loop,
    clip,
    crosses,
    hatch_lines,
    inside,
)

L_SHAPE: Loop = [(0, 0), (60, 0), (60, 20), (20, 20), (20, 50), (0, 50)]
WINDOW: Loop = [(5, 5), (15, 5), (15, 15), (5, 15)]


@pytest.mark.parametrize("rising", [True, False])
@pytest.mark.parametrize("loops", [[L_SHAPE], [L_SHAPE, WINDOW], [circle_loop((30, 30), 25)]])
def test_hatching_keeps_inside_the_metal(loops: list[Loop], rising: bool) -> None:
    """No point of a hatch line lies outside the outline or in a hole."""
    lines = hatch_lines(loops, 4.0, rising=rising)
    assert len(lines) > 5
    for x1, y1, x2, y2 in lines:
        for k in range(1, 20):
            share = 0.005 + 0.99 * k / 20
            assert inside((x1 + share * (x2 - x1), y1 + share * (y2 - y1)), loops)


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
            for piece in clip(segment, [L_SHAPE, WINDOW], keep_inside=keep)
        )
        assert math.isclose(total, math.dist(segment[:2], segment[2:]), abs_tol=1e-6)


def test_boxes_overlap_when_they_share_a_point() -> None:
    """Random boxes, turned or level, agree with a fine grid of points laid over them."""
    dice = random.Random(11)
    for _ in range(150):
        a, b = (
            Box(
                dice.uniform(0, 30),
                dice.uniform(0, 30),
                dice.uniform(4, 30),
                dice.uniform(4, 12),
                dice.choice([0.0, -90.0, 30.0, -50.0]),
            )
            for _ in range(2)
        )
        grid = [
            (a.x + u, a.y + v)
            for u in (k * 0.5 for k in range(-40, 41))
            for v in (k * 0.5 for k in range(-40, 41))
        ]
        shared = any(inside(p, [a.corners()]) and inside(p, [b.corners()]) for p in grid)
        if shared:
            assert a.overlaps(b)
        if not a.overlaps(b):
            assert not shared
        assert a.overlaps(b) == b.overlaps(a)


def test_boxes_apart_by_more_than_the_gap_do_not_overlap() -> None:
    """The gap asked for counts as part of the box."""
    a, b = Box(0, 0, 10, 10), Box(13, 0, 10, 10)
    assert not a.overlaps(b)
    assert not a.overlaps(b, 2.9)
    assert a.overlaps(b, 3.1)


def test_length_of_a_line_in_a_box() -> None:
    """A level line through a box is as long inside as the box is wide; a turned box as well."""
    assert Box(0, 0, 10, 4).length_inside((-50, 0, 50, 0)) == pytest.approx(10)
    assert Box(0, 0, 10, 4, 90).length_inside((-50, 0, 50, 0)) == pytest.approx(4)
    assert Box(0, 0, 10, 4).length_inside((-50, 3, 50, 3)) == 0


def test_lines_cross_or_do_not() -> None:
    """Two segments cross only where both reach."""
    assert crosses((0, 0, 10, 10), (0, 10, 10, 0))
    assert not crosses((0, 0, 4, 4), (0, 10, 10, 0))


def test_a_segment_apart_from_a_loop_is_left_whole() -> None:
    """What ``apart`` tells to be clear of a loop, clipping leaves as it is; never the other way."""
    dice = random.Random(5)
    clear = 0
    for _ in range(400):
        segment = tuple(dice.uniform(-60, 120) for _ in range(4))
        if apart((segment[:2], segment[2:]), L_SHAPE):
            clear += 1
            assert clip(segment, [L_SHAPE], keep_inside=False) == [pytest.approx(segment)]
    assert clear > 50
