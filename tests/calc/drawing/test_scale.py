"""Scales of charts."""

import pytest

from witnessmark.calc.drawing.scale import linear_scale, log_scale, nice_step


@pytest.mark.parametrize(
    ("span", "count", "expected"),
    [(1.0, 5, 0.2), (10.0, 5, 2.0), (44.0, 5, 10.0), (0.03, 5, 0.01), (100.0, 4, 50.0)],
)
def test_steps_are_one_two_or_five_times_a_power_of_ten(
    span: float, count: int, expected: float
) -> None:
    """The smallest such step that needs no more than the count."""
    assert nice_step(span, count) == pytest.approx(expected)


def test_a_linear_scale_reaches_over_its_values_in_whole_steps() -> None:
    """Ends fall on ticks unless they were given."""
    scale = linear_scale([96.1, 137.4])
    assert (scale.low, scale.high) == (90, 140)
    assert [tick.text for tick in scale.ticks] == ["90", "100", "110", "120", "130", "140"]


def test_given_ends_hold() -> None:
    """A range asked for is neither widened nor narrowed."""
    scale = linear_scale([12.0], low=0.0, high=95.0)
    assert (scale.low, scale.high) == (0.0, 95.0)
    assert [tick.text for tick in scale.ticks] == ["0", "20", "40", "60", "80"]


@pytest.mark.parametrize("value", [0.0, 5.0, -3.0, 1e-9])
def test_a_single_value_still_has_a_scale(value: float) -> None:
    """A result that does not change is a level line, not an error."""
    scale = linear_scale([value, value])
    assert scale.low < value < scale.high
    assert len(scale.ticks) >= 2


def test_a_logarithmic_scale_names_its_decades_and_marks_between() -> None:
    """Minor ticks carry no text; equal ratios take equal room."""
    scale = log_scale([0.2, 180.0])
    assert [tick.text for tick in scale.ticks if tick.text] == ["0.1", "1", "10", "100", "1000"]
    assert sum(not tick.text for tick in scale.ticks) == 4 * 8
    assert scale.share(10) - scale.share(1) == pytest.approx(scale.share(1) - scale.share(0.1))


def test_a_short_logarithmic_scale_names_two_and_five() -> None:
    """With one or two decades the steps between are named as well."""
    named = [tick.text for tick in log_scale([1.0, 9.0]).ticks if tick.text]
    assert named == ["1", "2", "5", "10"]


def test_large_powers_are_written_as_powers() -> None:
    """Six noughts cannot be read at arm's length."""
    assert [t.text for t in log_scale([1e5, 1e8]).ticks if t.text] == ["10⁵", "10⁶", "10⁷", "10⁸"]


def test_nought_has_no_place_on_a_logarithmic_scale() -> None:
    """The message says so."""
    with pytest.raises(ValueError, match="above nought"):
        log_scale([0.0, 10.0])
