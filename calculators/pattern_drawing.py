"""The picture of holes on dowels in the best place, with the gaps drawn large."""

from __future__ import annotations

import math

from calculators.pattern_fit import centroid
from calculators.pattern_positions import Laid
from witnessmark.calc import Drawing, Q, show

_SIZE = 0.13
"""Radius of a dowel as a share of the ring's radius, unless they stand too close for it."""
_GAP = 0.8
"""The widest gap as a share of a dowel's radius, at most."""


def draw_pattern(laid: Laid, tight: str) -> Drawing:
    """Dowels with the holes about them; gaps and offsets are one number of times as large.

    So a hole that is drawn touching a dowel touches, and one drawn across it binds. ``tight``
    names the tightest dowels.
    """
    pairs = laid.position.pairs
    places = [pair.dowel for pair in pairs]
    middle = centroid(places)
    reach, size = laid.position.reach, _radius(laid)
    times = _times(laid, size)
    word = "lacks" if laid.margin < -1e-9 else "room"
    room = show(Q(round(abs(laid.margin), 9), "mm"), "µm", 2)
    gaps = "gaps to scale" if times == 1 else f"gaps × {times}"
    sheet = Drawing(
        "Dowels and holes in the best place",
        f"{len(places)} dowels (thin) and their holes (thick), not to scale; {gaps}. Tightest at "
        f"{tight}: {word} {room}. Crosses mark where a tight dowel comes nearest to its hole.",
    )
    sheet.circle(middle, reach, "centre")
    tightest = laid.tightest
    for i, (place, pair, (x, y)) in enumerate(zip(places, pairs, laid.offsets, strict=True)):
        sheet.circle(place, size, "thin")
        bore = max(size + times * pair.clearance, 0.15 * size)
        sheet.circle((place[0] + times * x, place[1] + times * y), bore)
        if i in tightest and math.hypot(x, y) > 1e-4:
            share = size / math.hypot(x, y)
            sheet.mark((place[0] - share * x, place[1] - share * y))
        inward = math.dist(place, middle)
        share = 1 - 1.5 * max(size, bore + times * math.hypot(x, y)) / inward
        number = (
            middle[0] + share * (place[0] - middle[0]),
            middle[1] + share * (place[1] - middle[1]),
        )
        sheet.text(number, str(i + 1))
    name = "all alike" if len(tightest) == len(places) > 1 else tight
    sheet.text(middle, f"{name}:\n{word} {room}\n({gaps})")
    return sheet


def _radius(laid: Laid) -> float:
    """Radius of a dowel on the drawing, mm: the gaps of neighbours do not meet."""
    places = [pair.dowel for pair in laid.position.pairs]
    nearest = min(math.dist(a, b) for i, a in enumerate(places) for b in places[:i])
    return min(_SIZE * laid.position.reach, 0.45 * nearest / (1 + _GAP))


def _times(laid: Laid, size: float) -> int:
    """How many times gaps are drawn as large: 1, 2 or 5 times a power of ten."""
    widest = max(
        abs(pair.clearance) + math.hypot(*offset)
        for pair, offset in zip(laid.position.pairs, laid.offsets, strict=True)
    )
    wanted = _GAP * size / max(widest, 1e-4)
    if wanted < 2:
        return 1
    power = int(10 ** math.floor(math.log10(wanted) + 1e-9))
    return max(step * power for step in (1, 2, 5) if step * power <= wanted * (1 + 1e-9))
