"""Shapes and views of a workshop drawing."""

import math
from collections.abc import Callable

import pytest

from tests.calc.drawing.reading import SVG, group, path_runs, texts, tree, view_box
from witnessmark.calc.drawing import Drawing, Outline
from witnessmark.calc.drawing.regions import Region


def test_a_drawing_is_to_scale() -> None:
    """A nut of 46 mm on a plate of 92 mm is drawn half as wide as the plate."""
    d = Drawing("Nut", "A nut on a plate.")
    d.rect(-46, -46, 92, 92)
    d.hexagon((0, 0), 46)
    plate, nut = (path_runs(shape.get("d", ""))[0] for shape in group(d.svg(), "wm-part"))
    across_plate = max(x for x, _ in plate) - min(x for x, _ in plate)
    across_nut = max(x for x, _ in nut) - min(x for x, _ in nut)
    assert across_nut / across_plate == pytest.approx(0.5, abs=1e-3)


def test_up_on_the_part_is_up_on_paper() -> None:
    """Y runs up in millimetres and down on paper."""
    d = Drawing("Steps", "Two circles.")
    d.circle((0, 0), 5)
    d.circle((0, 100), 5)
    lower, upper = (float(c.get("cy", "")) for c in tree(d.svg()).iter(f"{SVG}circle"))
    assert upper < lower


def test_a_drawing_keeps_its_greatest_height() -> None:
    """A tall part is scaled by its height, and the sheet stays as wide as asked."""
    d = Drawing("Rod", "A tall rod.", max_height=200)
    d.rect(0, 0, 10, 1000)
    d.dimension((10, 0), (10, 1000), "1000 mm", "right")
    left, top, right, bottom = view_box(d.svg())
    assert bottom - top <= 200.01
    assert right - left == pytest.approx(320)


def test_texts_keep_their_size_and_the_part_gives_way() -> None:
    """Long labels at both sides shrink the part, not the letters."""
    d = Drawing("Bar", "A bar with long labels.")
    d.rect(0, 0, 300, 40)
    d.dimension((300, 0), (300, 40), "40 mm", "right")
    d.force((0, 20), "e", "a rather long text")
    svg = d.svg()
    left, _, right, _ = view_box(svg)
    assert right - left == pytest.approx(320, abs=0.02)
    assert all(written.box.height == 12 for written in texts(svg))


def test_cut_metal_is_hatched_inside_its_outline() -> None:
    """Hatch lines end on the outline of the part, and keep off its hole."""
    outer, hole = [(0, 0), (80, 0), (80, 60), (0, 60)], [(20, 20), (60, 20), (60, 40), (20, 40)]
    d = Drawing("Block", "A hollow block.")
    d.polygon(outer, cut="/", holes=[hole])
    d.polygon(hole)
    svg = d.svg()
    loops = [path_runs(shape.get("d", ""))[0] for shape in group(svg, "wm-part")]
    lines = [run for shape in group(svg, "wm-hatch") for run in path_runs(shape.get("d", ""))]
    assert len(lines) > 20
    for (x1, y1), (x2, y2) in lines:
        assert Region(loops).holds((x1 + x2) / 2, (y1 + y2) / 2)


def test_hatching_is_broken_around_a_text() -> None:
    """A text in cut metal stands clear of the lines."""
    d = Drawing("Block", "A block.")
    d.rect(0, 0, 200, 100, cut="/")
    d.text((100, 50), "housing")
    svg = d.svg()
    (written,) = texts(svg)
    for shape in group(svg, "wm-hatch"):
        for (x1, y1), (x2, y2) in path_runs(shape.get("d", "")):
            assert written.box.length_inside((x1, y1, x2, y2)) == 0


def test_neighbouring_parts_are_hatched_the_other_way() -> None:
    """One rises to the right, the other falls."""
    d = Drawing("Joint", "Two parts.")
    d.rect(0, 0, 50, 50, cut="/")
    d.rect(50, 0, 50, 50, cut="\\")
    slopes = [
        {round((b[1] - a[1]) / (b[0] - a[0]), 1) for a, b in path_runs(shape.get("d", ""))}
        for shape in group(d.svg(), "wm-hatch")
    ]
    assert slopes[0] == {-1.0}
    assert slopes[1] == {1.0}


def test_a_part_in_front_hides_what_lies_behind() -> None:
    """A line behind a nut is drawn only outside it, and nothing else is changed."""
    d = Drawing("Lever behind a nut", "A line across.")
    d.line((-100, 0), (100, 0))
    d.circle((0, 60), 10)
    d.hexagon((0, 0), 46, covers=True)
    line, *_ = group(d.svg(), "wm-part")
    runs = path_runs(line.get("d", ""))
    scale = (runs[1][1][0] - runs[0][0][0]) / 200
    assert len(runs) == 2
    assert runs[0][1][0] == pytest.approx(-23 * scale, abs=0.02)
    assert runs[1][0][0] == pytest.approx(23 * scale, abs=0.02)
    assert len(list(tree(d.svg()).iter(f"{SVG}circle"))) == 1


def test_arcs_are_drawn_as_arcs() -> None:
    """A quarter turn anticlockwise becomes one exact arc with the matching flags."""
    d = Drawing("Arc", "A quarter.")
    d.arc((0, 0), 100, 0, 90)
    (shape,) = group(d.svg(), "wm-part")
    data = shape.get("d", "")
    (start, end) = path_runs(data)[0]
    radius = float(data.split("A")[1].split()[0])
    assert data.count("A") == 1
    assert " 0 0 0 " in data
    assert start == pytest.approx((radius, 0), abs=0.02)
    assert end == pytest.approx((0, -radius), abs=0.02)


def test_an_outline_turns_its_arcs_over_with_y() -> None:
    """An anticlockwise arc of the model is anticlockwise as the reader sees it."""
    d = Drawing("Half round", "A half round.")
    d.outline(Outline(0, 0).to(100, 0).arc_to(0, 0, radius=50))
    (shape,) = group(d.svg(), "wm-part")
    assert " 0 0 0 " in shape.get("d", "")
    _, top, _, bottom = view_box(d.svg())
    assert bottom - top == pytest.approx((320 - 8) / 2 + 8, abs=1.0)


def test_a_force_that_presses_ends_at_its_point_and_one_that_pulls_starts_there() -> None:
    """The head of a pressing force touches the point it acts on."""
    for pulls in (False, True):
        d = Drawing("Force", "On a bar.")
        d.rect(0, 0, 100, 10)
        d.force((50, 10), "s", "10 N", pulls=pulls)
        svg = d.svg()
        (bar,) = group(svg, "wm-part")
        top = min(y for _, y in path_runs(bar.get("d", ""))[0])
        (head,) = group(svg, "wm-arrow")
        tip = path_runs(head.get("d", ""))[0][0]
        assert tip[1] == pytest.approx(top + (36 if pulls else 0), abs=0.02)


def test_a_moment_turns_the_way_its_angles_run() -> None:
    """From 0 to 90 degrees the head points to the left, at the top of the arc."""
    d = Drawing("Moment", "On a disc.")
    d.circle((0, 0), 50)
    d.moment((0, 0), 60, 0, 90, "100 N·m")
    (head,) = group(d.svg(), "wm-arrow")
    tip, *back = path_runs(head.get("d", ""))[0]
    assert tip[0] == pytest.approx(0, abs=0.02)
    assert all(x > tip[0] for x, _ in back)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda d: d.polygon([(0, 0), (1, 1)]), "three points"),
        (lambda d: d.circle((0, 0), 0), "radius above nought"),
        (lambda d: d.label((0, 0), "x", toward="up"), "n, ne|e, ne"),
    ],
)
def test_shapes_that_cannot_be_drawn_are_refused_where_they_are_asked_for(
    act: Callable[[Drawing], None], words: str
) -> None:
    """The message says what was found and what would do."""
    with pytest.raises(ValueError, match=words):
        act(Drawing("t", "d"))


def test_a_drawing_has_a_title_and_something_to_show() -> None:
    """An empty title or an empty sheet is an author's mistake."""
    with pytest.raises(ValueError, match="title"):
        Drawing(" ")
    with pytest.raises(ValueError, match="no shapes"):
        Drawing("Nothing").svg()


def test_a_gear_shows_its_teeth_and_its_pitch_circle() -> None:
    """As many tips as teeth, and the pitch circle as a centre line."""
    d = Drawing("Pinion", "Eleven teeth.")
    d.gear((0, 0), 11, 16.5)
    svg = d.svg()
    (outline,) = group(svg, "wm-part")
    points = path_runs(outline.get("d", ""))[0]
    reach = max(math.hypot(x, y) for x, y in points)
    assert sum(math.hypot(x, y) > reach - 0.05 for x, y in points) == 22
    (pitch,) = group(svg, "wm-centre")
    assert float(pitch.get("r", "")) / reach == pytest.approx(16.5 / 19.5, abs=1e-3)
