"""How much room a text takes, without a font at hand.

The widths are those of a wide screen face (DejaVu Sans, rounded up to a fiftieth of the
type size), so that a text set in any usual sans-serif takes the room reserved for it or less.
"""

from __future__ import annotations

TYPE_SIZE = 12.0
LINE_STEP = 1.2
_BOLD = 1.13

_WIDTHS = {
    0.21: "\u202f\u2009",
    0.28: "ijl'\u2032",
    0.30: "IJ",
    0.33: ",. \u00b7\u2019\u2018\u00a0",
    0.35: "/:;\\|",
    0.38: "f-\u2033",
    0.41: "t!()[]\u00b2\u00b3\u00b9\u2070\u2074\u2075\u2076\u2077\u2078\u2079\u207b",
    0.43: "r",
    0.47: '"',
    0.51: "*_`\u00b0\u2013",
    0.53: "sz\u201c\u201d",
    0.56: "c?Lε",
    0.60: "kFvxyPγλπ⌀",
    0.62: "aeoTYäößéàδθ",
    0.64: "0123456789bdghnpquES${}üµμηβρσ√",
    0.68: "ABKVXZÄΔαφ",
    0.71: "CR",
    0.77: "NUÜHΩ",
    0.79: "DGOQ&ÖØ",
    0.84: "w#+<=>^~±×\u2212ω≤≥→",
    0.87: "M",
    0.98: "%½¼¾mW",
    1.00: "@\u2014…",
}
_WIDTH_OF = {letter: width for width, letters in _WIDTHS.items() for letter in letters}


def line_width(text: str, size: float = TYPE_SIZE, *, strong: bool = False) -> float:
    """Return the room one line of ``text`` needs, in the units of ``size``."""
    ems = sum(_WIDTH_OF.get(letter, 0.7 if ord(letter) < 0x2E80 else 1.0) for letter in text)
    return ems * size * (_BOLD if strong else 1.0)


def text_size(text: str, size: float = TYPE_SIZE, *, strong: bool = False) -> tuple[float, float]:
    """Return width and height of a text of one or more lines (separated by line feeds)."""
    lines = text.split("\n")
    width = max(line_width(line, size, strong=strong) for line in lines)
    return width, size * (1.0 + LINE_STEP * (len(lines) - 1))
