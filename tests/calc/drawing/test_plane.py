"""Boxes and lines in the plane."""

import random

import pytest

from witnessmark.calc.drawing.plane import Box, crosses
from witnessmark.calc.drawing.regions import Region


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
        first, second = Region([a.corners()]), Region([b.corners()])
        shared = any(first.holds(*p) and second.holds(*p) for p in grid)
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
