"""Texts of strangers, made harmless for a terminal and for a log."""

from __future__ import annotations

import unicodedata

_HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
"""Categories of characters that steer a terminal, turn the direction of writing or are none."""


def harmless(text: str, most: int = 300) -> str:
    """The text in one line, with every character that is no writing shown as its number."""
    short = text if len(text) <= most else f"{text[:most]}…"
    return "".join(
        f"\\u{{{ord(mark):x}}}" if unicodedata.category(mark) in _HIDDEN else mark for mark in short
    )
