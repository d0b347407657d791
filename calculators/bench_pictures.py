"""Pictures of an engine on its stand: the base from above, the forces from the flywheel end."""

from __future__ import annotations

from typing import Any

from witnessmark.calc import Drawing, Q, show


def draw_plan(entries: Any, results: Any) -> Drawing:
    """Feet, their hull, weight and centre of pressure."""
    feet = [(foot.x.m_as("mm"), foot.y.m_as("mm")) for foot in entries.feet]
    sheet = Drawing(
        "Feet and centre of pressure, from above",
        f"The hull of {len(feet)} feet seen from above, flywheel at the bottom. The engine "
        f"{results.verdict}.",
        max_height=260,
    )
    sheet.polygon(list(results.corners), "thin")
    size = 0.02 * max(abs(c) for foot in feet for c in foot)
    for foot in feet:
        sheet.circle(foot, size)
    weight = (entries.mass_x.m_as("mm"), entries.mass_y.m_as("mm"))
    sheet.mark(weight, "weight", "n")
    if results.pressure_x is not None:
        spot = (results.pressure_x.m_as("mm"), results.pressure_y.m_as("mm"))
        reach = 3 * max(abs(c) for foot in feet for c in foot)
        shown = tuple(max(-reach, min(reach, c)) for c in spot)
        sheet.line(weight, shown, "hidden")
        sheet.mark(shown, "centre of pressure", "s", strong=True)
    return sheet


def draw_path(entries: Any, results: Any) -> Drawing:
    """Seen from the flywheel end: weight, pull, and where what holds them acts."""
    feet = [foot.x.m_as("mm") for foot in entries.feet]
    left, right = min(feet), max(feet)
    high = entries.mass_z.m_as("mm")
    hand = (entries.hand_x.m_as("mm"), entries.hand_z.m_as("mm"))
    pull = show(entries.force, "N", 2)
    inside = "bears on the engine itself: its pair of forces stays within it"
    told = inside if entries.reaction == "engine" else "bears on the floor"
    sheet = Drawing(
        "The forces and their way to the floor",
        f"Seen from the flywheel end. A pull of {pull} at the bar; the tool {told}.",
        max_height=270,
    )
    nut = (entries.mass_x.m_as("mm"), max(hand[1], 0.5 * high) if entries.way in ("down", "up")
           else high)  # fmt: skip
    body = 0.7 * (right - left)
    middle = (left + right) / 2
    bottom, top = 0.45 * high, 1.45 * high
    sheet.rect(middle - body / 2, bottom, body, top - bottom)
    sheet.line((left, 0), (middle - body / 2, bottom))
    sheet.line((right, 0), (middle + body / 2, bottom))
    sheet.line((min(left, hand[0]) - 40, 0), (max(right, hand[0]) + 40, 0), "thin")
    sheet.circle(nut, 0.06 * (right - left))
    sheet.line(nut, hand)
    weight = show(Q(entries.mass.m_as("kg") * 9.80665, "N"), "kN", 2)
    sheet.force((entries.mass_x.m_as("mm"), bottom), "s", weight, pulls=True, strong=False)
    way = {"down": "s", "up": "n", "right": "e", "left": "w"}[entries.way]
    sheet.force(hand, way, pull, pulls=True)
    if entries.reaction == "floor":
        arm = (entries.prop_x.m_as("mm"), 0)
        sheet.line(nut, arm, "hidden")
        sheet.force(arm, "n", show(entries.prop, "N", 2), strong=False)
    if results.pressure_x is not None:
        spot = results.pressure_x.m_as("mm")
        if abs(spot) < 4 * max(abs(left), abs(right)):
            sheet.line(nut, (spot, 0), "hidden")
            sheet.mark((spot, 0), "held up here", "s")
    return sheet
