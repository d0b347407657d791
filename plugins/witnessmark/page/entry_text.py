"""The parts of a typed quantity: number, unit, tolerance. Nothing is read or judged here.

``front/entry-text.js`` takes texts apart in the same way.
"""

from __future__ import annotations

import re

_NUMBER = r"[+−-]?[\d.,/ \u00a0\u202f½¼¾⅛⅜⅝⅞⅓⅔]*[\d½¼¾⅛⅜⅝⅞⅓⅔.](?:[eE][+-]?\d+)?"
_PARTS = re.compile(
    rf"\s*(?P<number>{_NUMBER})"
    r"\s*(?P<unit>[^±+…\d\s][^±+…]*?)?"
    r"\s*(?P<tail>(?:±|\+/-|\+-|\+).*)?\s*"
)
_RANGE = re.compile(
    rf"\s*(?P<numbers>{_NUMBER}\s*(?:…|\.\.+)\s*{_NUMBER})\s*(?P<unit>[^±+…\d\s.][^±+…]*)"
)
_TAIL = re.compile(r"(?P<numbers>(?:±|\+/-|\+-|\+).*?[\d.])\s*(?P<unit>[^±+/\d\s.,…−-].*)")


def parted(typed: str) -> tuple[str, str, str]:
    """Number, unit and tolerance (with its mark) of ``480 N·m ± 4 %``; three empty texts when
    the text is not of that form (a range such as ``0.10 … 0.25 mm`` is not)."""
    match = _PARTS.fullmatch(typed)
    if match is None or ".." in typed:
        return "", "", ""
    return match["number"].strip(), (match["unit"] or "").strip(), (match["tail"] or "").strip()


def parted_range(typed: str) -> tuple[str, str]:
    """The two numbers and the unit of ``8.045 … 8.066 mm``; two empty texts for another form."""
    match = _RANGE.fullmatch(typed)
    return (match["numbers"].strip(), match["unit"].strip()) if match else ("", "")


def tail_parted(tail: str) -> tuple[str, str]:
    """A tolerance and the unit at its end: ``± 0.05 mm`` gives ``± 0.05`` and ``mm``."""
    match = _TAIL.fullmatch(tail)
    return (match["numbers"].strip(), match["unit"].strip()) if match else (tail, "")
