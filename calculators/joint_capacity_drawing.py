"""The picture of a flywheel joint from the end of the crankshaft."""

from __future__ import annotations

import math
from typing import Any

from witnessmark.calc import Drawing, show


def draw_joint(entries: Any, results: Any) -> Drawing:
    """Face, nut or screws, dowels, the radius of friction and what it holds."""
    radius = results.radius.m_as("millimeter")
    pin, place = (each.m_as("millimeter") for each in (entries.dowel, entries.dowel_radius))
    nut = entries.held == "nut"
    outer = (entries.outer if nut else entries.circle).m_as("millimeter")
    outer = max(outer if nut else 1.35 * outer, place + pin if entries.dowels else 0.0)
    hold = show(results.hold, "N·m")
    sheet = Drawing(
        "The joint, seen from the end",
        f"Flywheel flange with {entries.dowels} dowels, held by "
        f"{'one nut' if nut else str(entries.screws) + ' screws'}. Friction acts at a radius of "
        f"{show(results.radius, 'mm')} and holds {hold}.",
        max_height=230.0,
    )
    sheet.circle((0, 0), outer)
    sheet.circle((0, 0), radius, "hidden")
    if nut:
        sheet.hexagon((0, 0), 1.1 * radius, covers=False)
    else:
        for k in range(entries.screws):
            turn = 2 * math.pi * k / entries.screws
            spot = (radius * math.cos(turn), radius * math.sin(turn))
            sheet.circle(spot, 0.13 * radius)
    for k in range(entries.dowels):
        turn = 2 * math.pi * (k + 0.5) / entries.dowels
        spot = (place * math.cos(turn), place * math.sin(turn))
        sheet.circle(spot, pin / 2)
    sheet.centre_lines((0, 0), 1.08 * outer)
    sheet.moment((0, 0), 1.16 * outer, 150, 60, hold)
    sheet.radius((0, 0), radius, -30, f"R{show(results.radius, 'mm')}")
    return sheet
