"""Drawings of a seal in its seat: out of square, and beside the groove of the old lip.

Cut metal is hatched as in ISO 128; shafts are not cut along. What is too small to see is
drawn larger, and the drawing says how much.
"""

from __future__ import annotations

import math
from typing import Any

from calculators.seal_section import LIP, Place, draw_seal, outline_of, round_factor
from calculators.worn_seal_land_advice import WAYS
from witnessmark.calc import Drawing, Q, show

HOURS = ("12", "3", "6", "9")


def section_of_tilt(entries: Any, results: Any) -> Drawing:
    """Section through the deepest and the shallowest side, the tilt drawn larger."""
    # Cut through the deepest and the shallowest side; drawn in one size.
    radius, h, b, inset = 22.0, 13.0, 13.0, 7.0
    tilt, across = results.tilt.m_as("mm"), entries.diameter.m_as("mm")
    true = tilt / across
    factor = round_factor(0.12 / true) if true > 1e-6 else 1
    lean = math.atan(min(true * factor, 0.16))
    found = show(results.tilt, "mm", 2)
    drawn = f"{found} out of square,\ndrawn {factor} times as much" if tilt > 0 else "square"
    sheet = Drawing(
        "The seal in its bore",
        f"Section through the deepest and the shallowest side of the seal: {found} out of square "
        f"over {show(entries.diameter, 'mm')}, drawn {factor} times as much.",
    )
    bore = radius + h
    for up in (1, -1):
        block = [
            (0, bore), (2.0 * b, bore), (2.0 * b, bore - 0.4 * h), (2.5 * b, bore - 0.4 * h),
            (2.5 * b, bore + 0.6 * h), (0, bore + 0.6 * h),
        ]  # fmt: skip
        sheet.polygon([(x, up * y) for x, y in block], cut="/")
        # The lower side leans deeper: anticlockwise about the middle of the air side.
        draw_seal(sheet, Place(inset, up * radius, up, lean, (inset, 0.0)), b, h - 1, 0.14 * h)
    sheet.line((-4, 0), (2.5 * b + 8, 0), "centre")
    for up in (1, -1):
        reach = up * (bore - 1.0)
        rim = (inset - math.sin(lean) * reach, math.cos(lean) * reach)
        shallow = up == 1
        hour = results.tap if shallow else results.deepest
        named = "" if hour in ("nowhere", "no side") else f"{hour}: "
        mean = results.depth.m_as("mm")
        depth = show(Q(mean + (-tilt if shallow else tilt) / 2, "mm"), "mm")
        sheet.dimension((0, rim[1]), rim, f"{named}{depth}", side="above" if shallow else "below")
    sheet.text((inset, 0.45 * radius), drawn, "e")
    return sheet


def clock_of_depths(entries: Any, results: Any) -> Drawing:
    """The seal as the fitter sees it, with its four depths."""
    outer, inner = 40.0, 32.0
    middle = (outer + inner) / 2
    sheet = Drawing(
        "Depths round the clock",
        "The seal seen from the flywheel side with its four depths. "
        f"Deepest at {results.deepest}; bring it in at {results.tap}.",
    )
    sheet.ring((0, 0), outer, inner)
    for k, hour in enumerate(HOURS):
        turn = math.radians(90 - 90 * k)
        spot = (middle * math.cos(turn), middle * math.sin(turn))
        depth = show(getattr(entries, f"at_{hour}"), "mm", 4)
        sheet.mark(spot)
        edge = (inner * math.cos(turn), inner * math.sin(turn))
        sheet.text(edge, f"{hour} o'clock\n{depth}", ("s", "w", "n", "e")[k])
    if results.direction is not None:
        for name, more in (("deepest", 0.0), ("bring it in here", 180.0)):
            bearing = 90 - results.direction.m_as("degree") - more
            turn = math.radians(bearing)
            rim = (outer * math.cos(turn), outer * math.sin(turn))
            sheet.label(rim, name, round(bearing, 3), strong=more > 0)
    return sheet


def section_of_land(entries: Any, results: Any) -> Drawing:
    """Half section along the shaft: groove, old seat and new one."""
    z, b, bore, g = (
        getattr(entries, name).m_as("mm")
        for name in ("old_depth", "seal_width", "bore_depth", "groove_width")
    )
    h = 1.1 * b
    sleeve = results.way == WAYS["sleeve"]
    move = results.new_depth.m_as("mm") - z if results.new_depth is not None else 0.0
    worn = entries.groove_depth.m_as("mm")
    factor = round_factor(0.1 * b / worn) if worn > 0 else 1
    dent = min(worn * factor, 0.15 * b)
    lip = z + LIP * b
    ends = (
        lip - g / 2 - entries.land_outward.m_as("mm"), lip + g / 2 + entries.land_inward.m_as("mm")
    )  # fmt: skip
    shift = show(results.shift, "mm", 2)
    sheet = Drawing(
        "Seal, bore and groove",
        f"Half section along the shaft, engine at the right. The old lip has worn a groove; "
        f"{results.way}. The groove is drawn {factor} times as deep.",
    )
    right = max(bore + 0.35 * b, ends[1] + 0.25 * b)
    block = [
        (0, h), (bore, h), (bore, 0.55 * h), (right, 0.55 * h), (right, 1.4 * h), (0, 1.4 * h),
    ]  # fmt: skip
    sheet.polygon(block, cut="/")
    step = 0.16 * b
    left = min(ends[0], 0) - 0.3 * b
    sheet.polyline([
        (left, -step), (ends[0] - step, -step), (ends[0], 0), (lip - g / 2, 0),
        (lip - g / 2, -dent), (lip + g / 2, -dent), (lip + g / 2, 0), (ends[1], 0),
        (ends[1], -step), (right, -step),
    ])  # fmt: skip
    if sleeve:
        sheet.rect(ends[0], 0, ends[1] - ends[0], 0.06 * b, cut="\\")
        draw_seal(sheet, Place(z, 0.06 * b), b, h - 0.06 * b, 0.13 * b)
    else:
        draw_seal(sheet, Place(z + move, 0), b, h, 0.13 * b)
        if move:
            sheet.polygon(outline_of(Place(z, 0), b, h), "hidden")
    if move:
        first, last = sorted((lip, lip + move))
        sheet.dimension((first, -step), (last, -step), f"shift {shift}", side="below")
    level = 2 if move else 1
    sheet.dimension((ends[0], 0), (ends[1], 0), "land " + show(
        Q(ends[1] - ends[0], "mm"), "mm"), side="below", level=level)  # fmt: skip
    sheet.dimension((0, 1.4 * h), (bore, 1.4 * h), f"bore {show(entries.bore_depth, 'mm')}",
                    side="above")  # fmt: skip
    sheet.label((lip - g / 4, -dent), f"groove, drawn\n{factor} times as deep", "sw", on="line")
    if sleeve:
        wall = show(entries.sleeve_wall, "mm", 2)
        sheet.label((ends[0] + 0.1 * b, 0.06 * b), f"sleeve {wall},\ndrawn thick", "nw")
    return sheet
