"""The parts of a typed quantity: number, unit, tolerance. Nothing is read or judged here.

``front/entry_text.js`` takes texts apart in the same way.
"""

from __future__ import annotations

import re

_PARTS = re.compile(
    r"\s*(?P<number>[+−-]?[\d.,/ \u00a0\u202f½¼¾⅛⅜⅝⅞⅓⅔]*[\d½¼¾⅛⅜⅝⅞⅓⅔.](?:[eE][+-]?\d+)?)"
    r"\s*(?P<unit>[^±+…\d\s][^±+…]*?)?"
    r"\s*(?P<tail>(?:±|\+/-|\+-|\+).*)?\s*"
)


def parted(typed: str) -> tuple[str, str, str]:
    """Number, unit and tolerance (with its mark) of ``480 N·m ± 4 %``; three empty texts when
    the text is not of that form (a range such as ``0.10 … 0.25 mm`` is not)."""
    match = _PARTS.fullmatch(typed)
    if match is None or ".." in typed:
        return "", "", ""
    return match["number"].strip(), (match["unit"] or "").strip(), (match["tail"] or "").strip()
