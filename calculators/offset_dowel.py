"""The picture of an offset dowel, seen from its end, turned to its hour."""

from __future__ import annotations

import math

from witnessmark.calc import Drawing


def draw_dowel(direction: float, offset: str) -> Drawing:
    """Shank in the engine and pin in the housing; ``direction`` in degrees from 12 o'clock."""
    shank, pin, away = 20.0, 14.0, 5.0
    turn = math.radians(90 - direction)
    middle = (away * math.cos(turn), away * math.sin(turn))
    sheet = Drawing(
        "The dowel and its clocking",
        f"The dowel seen from the flywheel side, 12 o'clock at the top. Its pin stands {offset} "
        f"off the shank, drawn larger, towards {round(direction)} degrees.",
        max_height=230,
    )
    sheet.circle((0, 0), shank)
    sheet.circle(middle, pin)
    sheet.line((0, 0), (0, 1.35 * shank), "centre")
    sheet.line((-0.25 * shank, 0), (0.25 * shank, 0), "centre")
    sheet.text((0, 1.4 * shank), "12 o'clock", "n")
    rim = shank + 2
    tip = (rim * math.cos(turn), rim * math.sin(turn))
    bearing = round(90 - direction, 3)
    sheet.line(middle, tip, "thin")
    sheet.label(tip, f"pin off by {offset}\n(drawn larger)", bearing, strong=True)
    shaft = (shank * math.cos(turn + math.pi), shank * math.sin(turn + math.pi))
    sheet.label(shaft, "shank, in the engine", bearing + 180)
    return sheet
