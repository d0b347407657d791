"""The picture of the zones of hole and shaft about the nominal size."""

from __future__ import annotations

from typing import Any, Literal

from witnessmark.calc import Drawing, Q, show

Cut = Literal["/", "\\"]
_HEIGHT = 60.0


def draw_zones(size: Any, results: Any) -> Drawing:
    """Zones of hole and shaft to one scale, their deviations written at their ends."""
    bore = (results.hole_lower.m_as("um"), results.hole_upper.m_as("um"))
    pin = (results.shaft_lower.m_as("um"), results.shaft_upper.m_as("um"))
    hole, shaft = results.names
    scale = _HEIGHT / (max(*bore, *pin, 0.0) - min(*bore, *pin, 0.0))
    sheet = Drawing(
        "The two zones",
        f"Zones of hole {hole} and shaft {shaft} about the nominal size of "
        f"{show(size, 'mm', 4)}; deviations from it at their ends.",
        max_height=240,
    )
    sheet.line((0, 0), (112, 0), "centre")
    for x, (low, high), name in ((14, bore, hole), (64, pin, shaft)):
        cut: Cut = "/" if name == hole else "\\"
        sheet.rect(x, low * scale, 34, (high - low) * scale, cut=cut)
        sheet.text((x + 17, (low + high) / 2 * scale), name, strong=True)
        for end, side in ((high, "n"), (low, "s")):
            sheet.text((x + 17, end * scale), _deviation(end), side)
    sheet.text((112, 0), show(size, "mm", 4), "e")
    return sheet


def _deviation(microns: float) -> str:
    figures = 3 if abs(microns) >= 100 or microns % 1 else 2 if abs(microns) >= 10 else 1
    text = show(Q(microns, "µm"), "µm", figures)
    return text if microns <= 0 else f"+{text}"
