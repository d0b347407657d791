"""Text as it may stand in SVG.

The standard library's own functions for it bring the network modules along, which every
reader's browser would have to load.
"""

from __future__ import annotations


def escaped(text: str) -> str:
    """Text between two tags."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def quoted(text: str) -> str:
    """The value of an attribute, in double quotes."""
    return '"' + escaped(text).replace('"', "&quot;") + '"'
