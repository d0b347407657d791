"""Icons of the findings: three shapes that differ before any colour does.

The same shapes are drawn by ``front/icons.js``; a browser test compares the two.
"""

from __future__ import annotations

from witnessmark.page.elements import Html, element

ICON_PATHS = {
    "note": "M3 4h18v13H10l-5 4v-4H3zM12 7v1.5M12 10.5v4",
    "caution": "M12 3 22.5 21H1.5zM12 9.5v6M12 17.5v1.5",
    "stop": "M8 2h8l6 6v8l-6 6H8l-6-6V8zM7 12h10",
}
"""Outline of each level's icon in a 24 by 24 box: a sheet with a tail, a triangle, an octagon."""


def icon(level: str) -> Html:
    """The icon of a finding's level, hidden from screen readers: its word is read."""
    return element(
        "svg",
        {"class": "wm-icon", "viewBox": "0 0 24 24", "aria-hidden": "true"},
        element("path", {"d": ICON_PATHS[level]}),
    )
