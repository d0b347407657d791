"""Level bars."""

import pytest

from tests.calc.drawing.reading import group, path_runs, texts
from witnessmark.calc.drawing import Bars


def lengths(b: Bars) -> list[float]:
    """Return the lengths of the solid bars."""
    runs = [path_runs(shape.get("d", ""))[0] for shape in group(b.svg(), "wm-bar")]
    return [max(x for x, _ in run) - min(x for x, _ in run) for run in runs]


def test_bars_are_as_long_as_their_shares() -> None:
    """Half the share, half the length; a full bar fills its track."""
    b = Bars("Shares", full=1.0)
    b.bar("one", 1.0, "100 %")
    b.bar("two", 0.5, "50 %")
    assert lengths(b) == pytest.approx([312, 156], abs=0.02)


def test_without_a_full_value_the_longest_bar_is_full() -> None:
    """The others are shares of it."""
    b = Bars("Shares")
    b.bar("one", 3.0, "3")
    b.bar("two", 1.5, "1.5")
    assert lengths(b) == pytest.approx([312, 156], abs=0.02)


def test_a_bar_of_nothing_shows_its_track_and_text_only() -> None:
    """All noughts divide nothing."""
    b = Bars("Shares")
    b.bar("none", 0.0, "0 %")
    assert lengths(b) == []
    assert [written.text for written in texts(b.svg())] == ["0 %", "none"]


def test_a_label_without_room_is_shortened_with_dots() -> None:
    """It never runs into the figure at the right."""
    b = Bars("Shares")
    b.bar("a label that is far too long for the width of one drawing on a telephone", 1.0, "61 %")
    figure, label = texts(b.svg())
    assert label.text.endswith("…")
    assert label.box.extent()[2] < figure.box.extent()[0]


def test_bars_are_not_negative_and_not_empty() -> None:
    """Each mistake is named."""
    with pytest.raises(ValueError, match="negative"):
        Bars("Shares").bar("x", -0.1, "")
    with pytest.raises(ValueError, match="empty"):
        Bars("Shares").svg()
