"""Limits of size after ISO 286 up to 500 mm: grades 5 to 11, deviations f to s and F to S.

The figures are those of the standard's tables, in micrometres, for sizes "over ... up to and
including" the steps. They are kept as data: the formulas behind them (i = 0.45 D^(1/3) +
0.001 D and the powers of D of the deviations) miss a fifth of the table by a micrometre or
more, because the standard rounded by hand. The tests lay one beside the other.

Holes mirror the shafts: EI = -es for F, G, H; ES = -ei for the rest, raised by
delta = IT(n) - IT(n-1) for K, M, N up to grade 8 and P to S up to grade 7, so that hole P7
with shaft h6 is as tight as hole H7 with shaft p6. No delta up to 3 mm; ES = 0 for K and N
coarser than grade 8; M6 from 250 mm to 315 mm is -9 where the rule gives -11.

Source: ISO 286-1:2010 and ISO 286-2:2010.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass

from witnessmark.calc import Source

ISO_286_1 = Source(
    "iso-286-1-2010",
    "ISO 286-1:2010 ISO code system for tolerances on linear sizes - Basis of tolerances, "
    "deviations and fits",
)
ISO_286_2 = Source(
    "iso-286-2-2010",
    "ISO 286-2:2010 ISO code system for tolerances on linear sizes - Tables of standard "
    "tolerance classes and limit deviations for holes and shafts",
)

STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
FINE_STEPS = (
    3, 6, 10, 18, 30, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450,
    500,
)  # fmt: skip
GRADES = {
    4: (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20),  # only for the delta of grade 5
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
}
ABOVE = {  # es of shafts that lie below the nominal size
    "f": (-6, -10, -13, -16, -20, -25, -30, -36, -43, -50, -56, -62, -68),
    "g": (-2, -4, -5, -6, -7, -9, -10, -12, -14, -15, -17, -18, -20),
    "h": (0,) * 13,
}
BELOW = {  # ei of shafts that lie above it
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5),  # grades 4 to 7; 0 otherwise
    "m": (2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68),
}
BELOW_FINE = {
    "r": (10, 15, 19, 23, 28, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126,
          132),
    "s": (14, 19, 23, 28, 35, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208,
          232, 252),
}  # fmt: skip
LETTERS = (*ABOVE, "js", *BELOW, *BELOW_FINE)
_CLASS = re.compile(r"([A-Za-z]{1,2})\s*(\d{1,2})")
_LARGEST = 500.0


@dataclass(frozen=True)
class Limits:
    """Lower and upper deviation from the nominal size, in micrometres."""

    lower: float
    upper: float

    @property
    def width(self) -> float:
        """The tolerance."""
        return self.upper - self.lower


def grade(number: int, size: float) -> int:
    """Standard tolerance IT in micrometres for a grade and a size in mm."""
    if not 0 < size <= _LARGEST:
        raise ValueError(f"the table of ISO 286-2 kept here ends at 500 mm, found {size:g} mm")
    return GRADES[number][bisect_left(STEPS, size)]


def read_class(text: str, *, hole: bool) -> tuple[str, int]:
    """Letter and grade of a class such as H7 or m6; ValueError says what would be right."""
    what, example = ("hole", "H7") if hole else ("shaft", "m6")
    match = _CLASS.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"Write the class of the {what} as letter and grade, such as {example}.")
    letter, number = match[1], int(match[2])
    proper = letter.upper() if hole else letter.lower()
    if letter.lower() not in LETTERS:
        known = ", ".join(name.upper() if hole else name for name in LETTERS)
        raise ValueError(f"{letter} is not among the deviations kept here: {known}.")
    if letter != proper:
        raise ValueError(
            f"{letter}{number} is a {'shaft' if hole else 'hole'}: capitals are holes, small "
            f"letters shafts. Write {proper}{number} if you mean the {what}."
        )
    if not 5 <= number <= 11:
        raise ValueError(f"Grade {number} is not kept here; there are grades 5 to 11.")
    return letter, number


def shaft(letter: str, number: int, size: float, *, even: bool = False) -> Limits:
    """Limits of a shaft; ``even`` rounds the half tolerance of js to whole micrometres."""
    tolerance = grade(number, size)
    if letter == "js":
        return _symmetrical(tolerance, number, even)
    if letter in ABOVE:
        upper = ABOVE[letter][bisect_left(STEPS, size)]
        return Limits(upper - tolerance, upper)
    lower = _lower(letter, size)
    if letter == "k" and number > 7:
        lower = 0
    return Limits(lower, lower + tolerance)


def hole(letter: str, number: int, size: float, *, even: bool = False) -> Limits:
    """Limits of a hole; ``even`` rounds the half tolerance of JS to whole micrometres."""
    tolerance, small = grade(number, size), letter.lower()
    if letter == "JS":
        return _symmetrical(tolerance, number, even)
    if small in ABOVE:
        lower = -ABOVE[small][bisect_left(STEPS, size)]
        return Limits(lower, lower + tolerance)
    upper = _upper(small, number, size)
    return Limits(upper - tolerance, upper)


def _upper(small: str, number: int, size: float) -> int:
    """ES of the holes K to S."""
    near = small in "kmn"
    if size > 3 and number > 8 and small in "kn":
        return 0
    if small == "m" and number == 6 and 250 < size <= 315:
        return -9
    delta = 0
    if size > 3 and number <= (8 if near else 7):
        delta = grade(number, size) - GRADES[number - 1][bisect_left(STEPS, size)]
    return delta - _lower(small, size)


def _lower(letter: str, size: float) -> int:
    """Lower deviation of the shafts k to s."""
    if letter in BELOW:
        return BELOW[letter][bisect_left(STEPS, size)]
    return BELOW_FINE[letter][bisect_left(FINE_STEPS, size)]


def _symmetrical(tolerance: int, number: int, even: bool) -> Limits:
    half = tolerance // 2 if even and 7 <= number <= 11 else tolerance / 2
    return Limits(-half, half)
