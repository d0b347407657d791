"""What every emitted drawing keeps to."""

import math
import re
from collections import Counter
from collections.abc import Callable
from xml.etree import ElementTree

import pytest

from tests.calc.drawing.reading import SVG, drawn_points, overlapping, tree, view_box
from tests.calc.drawing.samples import ALL, multiplier
from witnessmark.calc.drawing import Bars, Chart, Drawing, Polar

Sheet = Drawing | Chart | Polar | Bars
every_sample = pytest.mark.parametrize("sample", ALL, ids=lambda sample: sample.__name__)


@every_sample
def test_no_style_attribute_and_no_colour_of_its_own(sample: Callable[[], Sheet]) -> None:
    """A strict content policy and both colour schemes: classes and currentColor only."""
    for element in tree(sample().svg()).iter():
        assert "style" not in element.attrib
        for name in ("fill", "stroke", "color"):
            assert element.get(name, "none") in ("none", "currentColor")
    assert not re.search(r"#[0-9a-fA-F]{3,}|rgb\(|url\(", sample().svg())


@every_sample
def test_the_view_box_holds_everything(sample: Callable[[], Sheet]) -> None:
    """No shape and no text reaches over the edge."""
    svg = sample().svg()
    left, top, right, bottom = view_box(svg)
    for x, y in drawn_points(svg):
        assert left <= x <= right
        assert top <= y <= bottom


@every_sample
def test_no_text_lies_over_another(sample: Callable[[], Sheet]) -> None:
    """Every text can be read."""
    assert overlapping(sample().svg()) == []


@every_sample
def test_the_sheet_is_as_wide_as_asked(sample: Callable[[], Sheet]) -> None:
    """At 320 units the letters keep their size whatever is drawn."""
    left, _, right, _ = view_box(sample().svg())
    assert right - left == pytest.approx(320, abs=0.02)


@every_sample
def test_the_same_drawing_gives_the_same_text(sample: Callable[[], Sheet]) -> None:
    """Nothing depends on the order of a set or on what was drawn before."""
    assert sample().svg() == sample().svg()


@every_sample
@pytest.mark.parametrize("toward", [math.inf, -math.inf])
def test_another_mathematical_library_gives_the_same_text(
    sample: Callable[[], Sheet], toward: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The browser's sine may differ in the last bit; the drawing may not."""
    expected = sample().svg()
    for name in ("sin", "cos", "atan2", "tan", "exp", "log", "hypot", "sqrt", "dist"):
        exact = getattr(math, name)
        monkeypatch.setattr(
            math, name, lambda *given, exact=exact: math.nextafter(exact(*given), toward)
        )
    assert sample().svg() == expected


@every_sample
def test_name_and_description_are_tied_by_ids_of_this_drawing(
    sample: Callable[[], Sheet],
) -> None:
    """The picture has a role, a title, and a description where one was given."""
    sheet = sample()
    root = tree(sheet.svg("page-7"))
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert root.get("role") == "img"
    assert root.get("aria-labelledby", "").split() == ids
    assert all(str(one).startswith("page-7-") for one in ids)
    assert root.findtext(f"{SVG}title") == sheet.title


def test_ids_differ_between_drawings_on_one_page() -> None:
    """Without a prefix the ids come from the content, with one from the prefix."""
    page = [sample().svg() for sample in ALL]
    page += [multiplier().svg("a"), multiplier().svg("b")]
    ids = Counter(one for svg in page for one in re.findall(r' id="([^"]*)"', svg))
    assert set(ids.values()) == {1}


def test_what_a_person_typed_cannot_become_markup() -> None:
    """Texts, title, description and prefix are escaped."""
    d = Drawing('<b>"nut"</b>', "a & b < c")
    d.rect(0, 0, 10, 10)
    d.label((5, 5), "<script>&amp;")
    root = tree(d.svg('p"><x'))
    assert root.findtext(f"{SVG}title") == '<b>"nut"</b>'
    assert root.findtext(f"{SVG}desc") == "a & b < c"
    assert [element.text for element in root.iter(f"{SVG}text")] == ["<script>&amp;"]


@every_sample
def test_it_parses_as_xml_alone(sample: Callable[[], Sheet]) -> None:
    """A saved drawing opens on its own."""
    assert ElementTree.fromstring(str(sample())).tag == f"{SVG}svg"


@every_sample
def test_a_drawing_stays_small(sample: Callable[[], Sheet]) -> None:
    """A page holds many drawings; none of the usual ones is heavier than 16 kB."""
    assert len(sample().svg().encode()) < 16_000
