"""Places that are made when they are looked at are those a list would hold."""

import pytest

from witnessmark.calc.drawing.leaders import beside, leader_places, near_places, over_places
from witnessmark.calc.drawing.places import ranked

POINT, SIZE = (120.5, -33.25), (42.0, 12.0)


@pytest.mark.parametrize(
    "about",
    [
        lambda point: leader_places(point, SIZE, 30.0, start=3.0, dearer=20.0),
        lambda point: near_places(point, SIZE, None, clear=4.0),
        lambda point: over_places(point, SIZE, clear=1.0),
    ],
)
def test_places_move_with_their_point(about):
    """Box and leader lie about the point as they lie about nought; the rest is the same."""
    here, nought = list(about(POINT)), list(about((0.0, 0.0)))
    assert len(here) == len(nought) > 30
    for moved, still in zip(here, nought, strict=True):
        assert (moved.box.x, moved.box.y) == pytest.approx(
            (still.box.x + POINT[0], still.box.y + POINT[1])
        )
        assert (moved.lean, moved.anchor) == (still.lean, still.anchor)
        for one, other in zip(moved.leader, still.leader, strict=True):
            shift = (*POINT, *POINT)
            assert one == pytest.approx([a + b for a, b in zip(other, shift, strict=True)])


def test_places_behind_others_come_second_among_equals():
    """The order is by lean; of two alike the one named first is tried first."""
    led = leader_places(POINT, SIZE, None)
    own = [beside(POINT, 0.0, SIZE)._replace(lean=lean) for lean in (0.0, 7.0)]
    places = led.after(own)
    assert (places[0], places[1], places[-1]) == (own[0], own[1], led[-1])
    assert [*places] == [*own, *led]
    leans, order = ranked(places)
    assert order[0] == 0
    assert [leans[number] for number in order] == sorted(round(each.lean, 3) for each in places)
    with pytest.raises(IndexError):
        places[len(places)]
