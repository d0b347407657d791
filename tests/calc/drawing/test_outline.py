"""Outlines of parts."""

import math

import pytest

from witnessmark.calc.drawing.outline import (
    Outline,
    hexagon_points,
    square_points,
    toothed_points,
)


@pytest.mark.parametrize("turn", [0.0, 11.0, 30.0])
def test_a_nut_is_as_wide_across_its_flats_as_asked(turn: float) -> None:
    """The distance of each flat from the axis is half the width across flats."""
    corners = hexagon_points((5.0, -3.0), 46.0, turn)
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        assert math.dist(middle, (5.0, -3.0)) == pytest.approx(23.0)
        assert math.dist(a, b) == pytest.approx(46.0 / math.sqrt(3))


def test_a_square_drive_is_as_wide_across_its_flats_as_asked() -> None:
    """Untilted, the square reaches half its width each way."""
    xs = [x for x, _ in square_points((0, 0), 19.05)]
    assert (min(xs), max(xs)) == pytest.approx((-9.525, 9.525))


def test_teeth_stand_about_the_pitch_circle() -> None:
    """Tips one module outside, roots 1.25 modules inside, as many as asked for."""
    points = toothed_points((0, 0), 121, 181.5)
    radii = [math.hypot(x, y) for x, y in points]
    assert len(points) == 4 * 121
    assert max(radii) == pytest.approx(181.5 + 3.0)
    assert min(radii) == pytest.approx(181.5 - 3.75)


def test_tooth_and_gap_are_equally_wide_on_the_pitch_circle() -> None:
    """Straight flanks cross the pitch circle half a pitch apart (small teeth, large circle)."""
    teeth, radius = 400, 400.0
    root, tip = toothed_points((0, 0), teeth, radius)[2:4][::-1]
    share = (radius - math.hypot(*root)) / (math.hypot(*tip) - math.hypot(*root))
    x, y = root[0] + share * (tip[0] - root[0]), root[1] + share * (tip[1] - root[1])
    assert math.degrees(math.atan2(y, x)) == pytest.approx(360 / teeth / 4, rel=1e-2)


def test_an_internal_ring_has_its_tips_inside() -> None:
    """Tips point to the axis."""
    radii = [math.hypot(x, y) for x, y in toothed_points((0, 0), 96, 96.0, internal=True)]
    assert (min(radii), max(radii)) == pytest.approx((94.0, 98.5))


@pytest.mark.parametrize(("clockwise", "side"), [(False, -1.0), (True, 1.0)])
def test_an_arc_bulges_to_the_side_its_sense_asks_for(clockwise: bool, side: float) -> None:
    """Going right, an anticlockwise arc dips below the chord, a clockwise one rises above."""
    points = Outline(0, 0).arc_to(10, 0, radius=5, clockwise=clockwise).points()
    extreme = max((y for _, y in points), key=abs)
    assert extreme == pytest.approx(side * 5.0, abs=0.05)
    for x, y in points:
        assert math.hypot(x - 5, y) == pytest.approx(5.0)


def test_a_radius_too_small_for_the_way_becomes_a_half_circle() -> None:
    """The arc still ends where it was sent."""
    points = Outline(0, 0).arc_to(10, 0, radius=1).points()
    assert points[-1] == (10, 0)
    assert all(math.hypot(x - 5, y) == pytest.approx(5.0) for x, y in points)
