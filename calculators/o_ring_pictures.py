"""Sections of O-rings in their grooves, to scale; the gap between the parts is drawn wide.

The ring is drawn squeezed: flat where it touches, round at the sides, its area that of the ring.
The broken circle is the section as it comes from the bag.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal

from calculators.o_ring_section import section_of_volume
from witnessmark.calc import Drawing, Q, show


@dataclass(frozen=True)
class GroovePicture:
    """Sizes of a groove and its ring in mm: height with the gap, free section, area squeezed.

    ``aside`` is where the ring lies between the walls: -1 at the left, 0 midway, 1 right.
    """

    width: float
    height: float
    corner: float
    section: float
    area: float
    aside: float = 0.0


def section_of_radial(entries: Any, results: Any) -> Drawing:
    """Section along the shaft through groove and ring."""
    cs, d1 = entries.section.m_as("mm"), entries.bore.m_as("mm")
    girth = d1 * (1 + results.stretch.m_as("dimensionless"))
    picture = GroovePicture(
        entries.width.m_as("mm"), results.height.m_as("mm"), entries.corner.m_as("mm"), cs,
        math.pi / 4 * section_of_volume(d1, cs, girth) ** 2,
    )  # fmt: skip
    below = entries.seat == "shaft"
    names = ("bore", "shaft") if below else ("shaft", "bore")
    sheet = _sheet(results, "along the shaft")
    _draw(sheet, picture, up=1 if below else -1)
    _names(sheet, picture, names, up=1 if below else -1)
    return sheet


def section_of_face(entries: Any, results: Any) -> Drawing:
    """Section through a groove in a face, the axis at the left."""
    cs, d1 = entries.section.m_as("mm"), entries.bore.m_as("mm")
    girth = d1 * (1 + max(results.stretch.m_as("dimensionless"), 0.0))
    outside = entries.pressure_from == "outside"
    picture = GroovePicture(
        results.width.m_as("mm"), results.height.m_as("mm"), entries.corner.m_as("mm"), cs,
        math.pi / 4 * section_of_volume(d1, cs, girth) ** 2, aside=-1 if outside else 1,
    )  # fmt: skip
    sheet = _sheet(results, "through the joint, the axis at the left")
    _draw(sheet, picture, up=1)
    clear: Literal["left", "right"] = "left" if outside else "right"
    _names(sheet, picture, ("face laid on", "grooved face"), up=1, side=clear)
    edge = picture.width / 2 + _reach(picture)
    from_side = (edge, 180.0) if outside else (-edge, 0.0)
    sheet.force((from_side[0], picture.height - _gap(picture) / 2), from_side[1], "pressure",
                length=24.0)  # fmt: skip
    return sheet


def _sheet(results: Any, where: str) -> Drawing:
    squeezed = show(Q(round(100 * results.squeeze.m_as("dimensionless"), 6), "%"), "%", 3)
    filled = show(Q(round(100 * results.fill.m_as("dimensionless"), 6), "%"), "%", 3)
    return Drawing(
        "The ring in its groove",
        f"Section {where}: the ring is flattened by {squeezed} and fills {filled} of the groove. "
        "The broken circle is its free section. To scale, but for the gap between the parts, "
        "which is drawn wide.",
    )


def _gap(picture: GroovePicture) -> float:
    return 0.07 * picture.height


def _reach(picture: GroovePicture) -> float:
    """How far the parts are shown beside the groove."""
    return 0.9 * picture.width


def _draw(sheet: Drawing, picture: GroovePicture, up: int) -> None:
    """The two parts and the ring; the bottom of the groove is y = 0."""
    half, h, r = picture.width / 2, picture.height, picture.corner
    gap, reach, thick = _gap(picture), _reach(picture), 0.7 * picture.height
    edge = h - gap
    grooved = [(-half - reach, edge), (-half, edge)]
    grooved += _corner((-half + r, r), r, 180, 270) if r > 0 else [(-half, 0.0)]
    grooved += _corner((half - r, r), r, 270, 360) if r > 0 else [(half, 0.0)]
    grooved += [(half, edge), (half + reach, edge), (half + reach, -thick), (-half - reach, -thick)]
    sheet.polygon([(x, up * y) for x, y in grooved], cut="/")
    laid = [(-half - reach, h), (half + reach, h), (half + reach, h + thick),
            (-half - reach, h + thick)]  # fmt: skip
    sheet.polygon([(x, up * y) for x, y in laid], cut="\\")
    flat = (picture.area - math.pi / 4 * h * h) / h
    middle = (0.0, up * h / 2)
    if flat <= 0:
        sheet.circle((0.0, up * picture.section / 2), picture.section / 2)
        return
    room = max(half - (flat + h) / 2, 0.0)
    x = picture.aside * room
    if flat + h <= picture.width:
        left = _corner((x - flat / 2, h / 2), h / 2, 90, 270)
        right = _corner((x + flat / 2, h / 2), h / 2, 270, 450)
        sheet.polygon([(px, up * py) for px, py in left + right], cut="\\")
    else:  # wider than the groove: it fills it from wall to wall
        sheet.rect(-half, min(0.0, up * h), picture.width, h, cut="\\")
    sheet.circle((x, middle[1]), picture.section / 2, "hidden")


def _corner(centre: tuple[float, float], r: float, start: float, end: float) -> list[Any]:
    steps = 12
    turns = (math.radians(start + (end - start) * k / steps) for k in range(steps + 1))
    return [(centre[0] + r * math.cos(t), centre[1] + r * math.sin(t)) for t in turns]


def _names(
    sheet: Drawing,
    picture: GroovePicture,
    names: tuple[str, str],
    up: int,
    side: Literal["left", "right"] = "right",
) -> None:
    half, h = picture.width / 2, picture.height
    reach, thick = _reach(picture), 0.7 * h
    sheet.dimension((-half, 0), (half, 0), show(Q(picture.width, "mm"), "mm"),
                    side="below" if up > 0 else "above")  # fmt: skip
    edge = half + reach if side == "right" else -half - reach
    sheet.dimension((edge, 0), (edge, up * h), show(Q(h, "mm"), "mm"), side=side)
    sheet.text((-half - 0.55 * reach, up * (h + thick / 2)), names[0])
    sheet.text((-half - 0.55 * reach, -up * thick / 2), names[1])
    sheet.label((0.0, up * (h / 2 + picture.section / 2)),
                f"free section\nØ {show(Q(picture.section, 'mm'), 'mm')}",
                "n" if up > 0 else "s", on="line")  # fmt: skip


__all__ = ["GroovePicture", "section_of_face", "section_of_radial"]
