"""Charts of a result against an entry."""

import pytest

from tests.calc.drawing.reading import group, longest_stretch, path_runs, texts
from witnessmark.calc.drawing import Chart


def falling() -> Chart:
    """Return a wrench setting that falls with efficiency."""
    c = Chart("Setting", "Falls.", x="Efficiency", y="Setting, N·m")
    c.curve_of(lambda share: 96 / share, 0.7, 1.0, "setting")
    return c


def test_a_curve_passes_through_its_points() -> None:
    """The marked point lies on the curve, as it does in the figures."""
    c = falling()
    c.mark(0.8, 120.0, "120 N·m")
    svg = c.svg()
    (curve,) = group(svg, "wm-curve")
    run = path_runs(curve.get("d", ""))[0]
    (ring,) = group(svg, "wm-arrow")
    corners = path_runs(ring.get("d", ""))[0]
    x, y = sum(p[0] for p in corners) / 4, sum(p[1] for p in corners) / 4
    left, right = max(p for p in run if p[0] <= x), min(p for p in run if p[0] >= x)
    assert min(left[1], right[1]) - 0.05 <= y <= max(left[1], right[1]) + 0.05


def test_lines_drop_from_the_mark_to_both_axes() -> None:
    """One level, one upright, both from the mark."""
    c = falling()
    c.mark(0.8, 120.0, "120 N·m", x_text="0.80", y_text="120")
    drops = [run for shape in group(c.svg(), "wm-drop") for run in path_runs(shape.get("d", ""))]
    assert any(a[0] == b[0] for a, b in drops)
    assert any(a[1] == b[1] for a, b in drops)
    assert {"120 N·m", "0.80", "120"} <= {written.text for written in texts(c.svg())}


def test_axes_are_labelled_with_their_unit() -> None:
    """Both labels stand on the chart as the caller gave them."""
    words = {written.text for written in texts(falling().svg())}
    assert {"Efficiency", "Setting, N·m", "setting"} <= words


def test_a_curve_is_cut_off_at_a_range_held_still() -> None:
    """Nothing is drawn outside the axes."""
    c = Chart("Cut", "Cut off.", x="x", y="y", y_range=(0, 10))
    c.curve([(0, 0), (5, 20), (10, 0)])
    runs = [run for shape in group(c.svg(), "wm-curve") for run in path_runs(shape.get("d", ""))]
    axis_top = min(
        y for shape in group(c.svg(), "wm-thin") for _, y in path_runs(shape.get("d"))[0]
    )
    assert len(runs) == 2
    assert min(y for run in runs for _, y in run) == pytest.approx(axis_top, abs=0.02)


def test_points_of_a_function_are_even_on_the_axis_as_drawn() -> None:
    """On a logarithmic axis the points are a fixed ratio apart."""
    c = Chart("Log", "Log.", x="Time, h", y="%", x_log=True, y_range=(0, 100))
    c.curve_of(lambda _hours: 50.0, 0.1, 1000, points=41)
    (curve,) = group(c.svg(), "wm-curve")
    run = path_runs(curve.get("d", ""))[0]
    assert longest_stretch(run) == pytest.approx((run[-1][0] - run[0][0]) / 40, abs=0.02)


def test_limits_are_named_and_stand_at_their_value() -> None:
    """A limit of y is level, a limit of x upright."""
    c = falling()
    c.limit(110, "wrench ends")
    c.limit(0.95, "as new", axis="x")
    runs = [run for shape in group(c.svg(), "wm-limit") for run in path_runs(shape.get("d", ""))]
    assert any(a[1] == b[1] for a, b in runs)
    assert any(a[0] == b[0] for a, b in runs)
    assert {"wrench ends", "as new"} <= {written.text for written in texts(c.svg())}


def test_own_ticks_take_the_place_of_the_reckoned_ones() -> None:
    """A time axis may speak in minutes, hours and days."""
    ticks = [(1 / 60, "1 min"), (1.0, "1 h"), (24.0, "1 d")]
    c = Chart("Time", "Time.", x="Time", y="%", x_log=True, x_ticks=ticks)
    c.curve([(0.02, 1), (100, 90)])
    assert {"1 min", "1 h", "1 d"} <= {written.text for written in texts(c.svg())}


def test_a_chart_needs_a_title_a_known_axis_and_something_to_show() -> None:
    """Each mistake is named."""
    with pytest.raises(ValueError, match="title"):
        Chart("", x="x", y="y")
    with pytest.raises(ValueError, match="axis x or y"):
        falling().limit(1, "l", axis="z")
    with pytest.raises(ValueError, match="nothing to show"):
        Chart("Empty", x="x", y="y").svg()
