"""The picture of a dowel pin, pressed into the flange and standing into the flywheel."""

from __future__ import annotations

from typing import Any

from witnessmark.calc import Drawing, show


def draw_pin(results: Any) -> Drawing:
    """Section along the pin, the clearance of the slip hole drawn larger."""
    sheet = Drawing(
        "The pin in both parts",
        f"Section along the pin: pressed into the flange at the left, with room in the flywheel "
        f"at the right. Pin {results.pin}; the room is drawn larger.",
        max_height=240,
    )
    half, room, block, depth = 9.0, 2.2, 24.0, 34.0
    for up in (1, -1):
        sheet.polygon(
            [(0, up * half), (depth, up * half), (depth, up * block), (0, up * block)], cut="/"
        )
        slip = up * (half + room)
        sheet.polygon(
            [(depth, slip), (2 * depth, slip), (2 * depth, up * block), (depth, up * block)],
            cut="\\",
        )
    sheet.polygon(
        [(4, half), (2 * depth - 8, half), (2 * depth - 6, half - 2), (2 * depth - 6, 2 - half),
         (2 * depth - 8, -half), (4, -half)],
    )  # fmt: skip
    sheet.line((-4, 0), (2 * depth + 6, 0), "centre")
    sheet.text((0.5 * depth, block), f"flange\n{_span(results.press_from, results.press_to)}", "n")
    sheet.text((1.5 * depth, -block), f"flywheel\n{_span(results.slip_from, results.slip_to)}", "s")
    return sheet


def _span(least: Any, most: Any) -> str:
    first, _, unit = show(least, "mm", 4).partition("\u202f")
    return f"{first} … {show(most, 'mm', 4).partition('\u202f')[0]}\u202f{unit}"
