"""Places of texts."""

import random

import pytest

from tests.calc.drawing.reading import drawn_points, overlapping, texts, view_box
from witnessmark.calc.drawing import Drawing
from witnessmark.calc.drawing.places import Place
from witnessmark.calc.drawing.placing import Ground
from witnessmark.calc.drawing.plane import Box

WORDS = ("nut", "reaction bar", "480 N·m", "seal land", "Ø 75 h11", "M30x2", "dowel 2,\n0.012 off")


@pytest.mark.parametrize("seed", range(12))
def test_random_labels_never_lie_over_each_other_nor_leave_the_sheet(seed: int) -> None:
    """Up to fourteen labels at random points, some of them all but on top of each other."""
    dice = random.Random(seed)
    d = Drawing("Labels", "Random labels.")
    d.rect(0, 0, 200, 120)
    count = dice.randint(2, 14)
    for _ in range(count):
        at = (dice.gauss(100, 30), dice.gauss(60, 20))
        what = dice.choice((d.label, d.mark, d.text))
        what(at, dice.choice(WORDS), toward=dice.choice((None, "n", "se", "w")))
    svg = d.svg()
    assert len(texts(svg)) == count
    assert overlapping(svg) == []
    left, top, right, bottom = view_box(svg)
    for x, y in drawn_points(svg):
        assert left <= x <= right
        assert top <= y <= bottom


def test_a_text_keeps_off_the_lines_when_there_is_room() -> None:
    """Of two places as good, the one that covers no line is taken."""
    ground = Ground()
    ground.extent.take([(-100, -100), (100, 100)])
    ground.add_line((-50, 0, 50, 0), 1.0)
    over, clear = Place(Box(0, 0, 20, 10)), Place(Box(0, 30, 20, 10), lean=1.0)
    assert ground.settle([over, clear]) == clear


def test_a_text_that_finds_no_room_moves_under_everything() -> None:
    """The last resort is below the drawing, never over another text."""
    ground = Ground()
    place = Place(Box(0, 0, 20, 10))
    first, second = ground.settle([place]), ground.settle([place])
    assert first == place
    assert not first.box.overlaps(second.box)
    assert second.box.y > first.box.y


def test_a_text_keeps_inside_limits() -> None:
    """A place across the limits is refused though it is the nearer one."""
    ground = Ground(limits=(0, 0, 100, 100))
    outside, within = Place(Box(5, 50, 20, 10)), Place(Box(50, 50, 20, 10), lean=9.0)
    assert ground.settle([outside, within]) == within


def test_a_leader_does_not_run_through_a_text() -> None:
    """A longer way round is taken instead."""
    ground = Ground()
    ground.settle([Place(Box(20, 0, 20, 10))])
    through = Place(Box(60, 0, 20, 10), leader=((0, 0, 50, 0),))
    clear = Place(Box(0, -60, 20, 10), lean=15.0, leader=((0, 0, 0, -55),))
    assert ground.settle([through, clear]) == clear
