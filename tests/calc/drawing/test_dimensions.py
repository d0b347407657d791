"""Dimension lines."""

import pytest

from tests.calc.drawing.reading import group, path_runs, texts
from witnessmark.calc.drawing import Drawing
from witnessmark.calc.drawing.plane import Point


def plate(width: float = 200, height: float = 100) -> Drawing:
    """Return a plate with its lower left corner at nought."""
    d = Drawing("Plate", "A plate.")
    d.rect(0, 0, width, height)
    return d


def heads(d: Drawing) -> list[list[Point]]:
    """Return the arrow heads, each with its tip first."""
    return [path_runs(shape.get("d", ""))[0] for shape in group(d.svg(), "wm-dim-head")]


def test_arrows_end_on_the_extension_lines_and_point_outward() -> None:
    """Both tips stand exactly under the points measured."""
    d = plate()
    d.dimension((0, 0), (200, 0), "200 mm")
    (outline,) = group(d.svg(), "wm-part")
    xs = [x for x, _ in path_runs(outline.get("d", ""))[0]]
    (left, right) = sorted(heads(d))
    assert left[0][0] == pytest.approx(min(xs), abs=0.02)
    assert right[0][0] == pytest.approx(max(xs), abs=0.02)
    assert all(x > left[0][0] for x, _ in left[1:])
    assert all(x < right[0][0] for x, _ in right[1:])


def test_the_text_stands_above_the_middle_of_its_line() -> None:
    """Where it fits it is centred and clear of the line."""
    d = plate()
    d.dimension((0, 0), (200, 0), "200 mm")
    (written,) = texts(d.svg())
    left, right = sorted(heads(d))
    assert written.box.x == pytest.approx((left[0][0] + right[0][0]) / 2, abs=0.02)
    assert written.box.y + written.box.height / 2 < left[0][1]
    assert written.box.y + written.box.height > left[0][1] - 6


def test_an_upright_dimension_reads_from_the_right() -> None:
    """The text is turned a quarter to the left and stands left of its line."""
    d = plate()
    d.dimension((200, 0), (200, 100), "100 mm", "right")
    (written,) = texts(d.svg())
    assert written.box.angle == -90
    assert written.box.x < heads(d)[0][0][0]


def test_arrows_of_a_narrow_dimension_stand_outside_and_point_inward() -> None:
    """So does the text."""
    d = plate()
    d.dimension((100, 0), (104, 0), "4 mm")
    left, right = sorted(heads(d), key=lambda head: head[0][0])
    assert all(x < left[0][0] for x, _ in left[1:])
    assert all(x > right[0][0] for x, _ in right[1:])
    (written,) = texts(d.svg())
    reach = written.box.extent()
    assert reach[2] < left[0][0] or reach[0] > right[0][0]


def test_levels_stand_one_row_apart_outside_the_part() -> None:
    """The second row is farther out than the first, both below the plate."""
    d = plate()
    d.dimension((0, 0), (100, 0), "100 mm")
    d.dimension((0, 0), (200, 0), "200 mm", level=2)
    (outline,) = group(d.svg(), "wm-part")
    floor = max(y for _, y in path_runs(outline.get("d", ""))[0])
    rows = sorted({head[0][1] for head in heads(d)})
    assert len(rows) == 2
    assert floor < rows[0] < rows[1]
    assert rows[1] - rows[0] == pytest.approx(19)


def test_a_dimension_along_a_slope_measures_the_true_distance() -> None:
    """Its tips are as far apart as the points, and the text lies along the line."""
    d = plate(300, 400)
    d.dimension((0, 0), (300, 400), "500 mm", "along")
    (outline,) = group(d.svg(), "wm-part")
    xs = [x for x, _ in path_runs(outline.get("d", ""))[0]]
    scale = (max(xs) - min(xs)) / 300
    (a, b) = (head[0] for head in heads(d))
    assert ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 == pytest.approx(500 * scale, abs=0.05)
    assert texts(d.svg())[0].box.angle == pytest.approx(-53.13, abs=0.01)


def test_radius_and_diameter_touch_the_circle() -> None:
    """One arrow for a radius, two opposite ones for a diameter."""
    for across, count in ((False, 1), (True, 2)):
        d = Drawing("Disc", "A disc.")
        d.circle((0, 0), 50)
        (d.diameter if across else d.radius)((0, 0), 50, 40, "Ø 100" if across else "R 50")
        (circle,) = group(d.svg(), "wm-part")
        radius = float(circle.get("r", ""))
        tips = [head[0] for head in heads(d)]
        assert len(tips) == count
        for x, y in tips:
            assert (x * x + y * y) ** 0.5 == pytest.approx(radius, abs=0.02)


def test_an_angle_has_an_arrow_at_each_leg() -> None:
    """The tips lie on the legs at the radius asked for."""
    d = Drawing("Corner", "A corner.")
    d.polyline([(100, 0), (0, 0), (0, 100)])
    d.angle((0, 0), 60, 0, 90, "90°")
    tips = sorted(head[0] for head in heads(d))
    assert tips[0][0] == pytest.approx(0, abs=0.02)
    assert tips[1][1] == pytest.approx(0, abs=0.02)
    assert -tips[0][1] == pytest.approx(tips[1][0], abs=0.02)


def test_a_dimension_of_no_length_is_refused() -> None:
    """Both ends at one point cannot be measured."""
    d = plate()
    d.dimension((10, 0), (10, 100), "0 mm")
    with pytest.raises(ValueError, match="no length"):
        d.svg()
