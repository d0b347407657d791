"""What there is to say about a pack of shims: findings, in whole numbers of 10 nm."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from calculators.shim_search import MICRON, Found, Pack
from witnessmark.calc import Finding, Q, caution, note, show, stop


@dataclass(frozen=True)
class Reckoned:
    """Gap and limits in 10 nm, what was found, twice the uncertainty and growth in mm."""

    gap: int
    low: int
    high: int
    shims: int
    found: Found
    pack: Pack
    guard: float
    growth: float

    def axial(self, pack: Pack) -> float:
        """Float in mm with a pack."""
        return (self.gap - pack.sum) / (1000 * MICRON)


def length_text(tens: int) -> str:
    """A length in 10 nm as a dial shows it: hundredths, or thousandths where there are any.

    In inches one figure more, a ten-thousandth.
    """
    decimals = 2 if tens % (10 * MICRON) == 0 else 3
    size = abs(tens) / (1000 * MICRON)
    figures = decimals + (math.floor(math.log10(size)) + 1 if size >= 1e-3 else 1)
    text = show(Q(tens / (1000 * MICRON), "mm"), "mm", max(figures, 1))
    return text if text.endswith("mm") else show(Q(tens / (1000 * MICRON), "mm"), "mm", figures + 1)


def pack_text(pack: Pack) -> str:
    """The shims of a pack, thickest first: "0.35 + 2 × 0.25 mm"."""
    parts, unit = [], ""
    for size, number in Counter(pack.sizes).items():
        text, _, unit = length_text(size).partition("\u202f")
        parts.append(text if number == 1 else f"{number} × {text}")
    return f"{' + '.join(parts)}\u202f{unit}" if parts else "no shims"


def findings_of(case: Reckoned) -> Iterator[Finding]:
    """Whether the float will do, how sure that is, and what to mind."""
    if not case.found.packs:
        yield _none(case)
    else:
        axial, least, most = case.axial(case.pack), *_limits(case)
        if min(axial - least, most - axial) < case.guard - 1e-9:
            yield caution(
                "float-unsure",
                f"The float is nearer to its limit than the readings can tell, "
                f"{_mm(case.guard)}. Measure the shims and read the float again after fitting.",
            )
        if most - least < 2 * case.guard - 1e-9:
            yield caution(
                "band-too-narrow",
                "With these readings no float can be shown to lie in so narrow a band. Read to a "
                "finer division, or measure the pack as one.",
                "band",
            )
    hot = case.axial(case.pack) + case.growth
    if hot <= 0:
        yield stop(
            "no-float-warm",
            f"Warm, the float would be {_mm(hot)}: the shaft would be clamped. Do not run it; "
            "check case, length and band with the maker's manual.",
        )
    yield note(
        "how-to-read",
        "Push the shaft hard to one end, turn it, zero the dial, push it to the other end, read, "
        "and do it again. Thrust faces clean and oiled; the seal or paper that sets the housing "
        "in its place, at the torque of service.",
    )
    if case.shims:
        number = {1: "one shim", 2: "two shims"}.get(case.shims, f"{case.shims} shims")
        yield note(
            "the-shims",
            f"Exactly {number}: flat, clean, no burr, each measured. After fitting read the "
            "float once more; that reading counts.",
        )


def _none(case: Reckoned) -> Finding:
    least, most = (max(case.gap - end, 0) for end in (case.high, case.low))
    tries = [
        f"{pack_text(pack)} gives {_mm(case.axial(pack))}"
        for pack in (case.found.below, case.found.above)
        if pack is not None
    ]
    if case.gap < case.low:
        way = "Even with no shim the float is too small: something is in the way or not seated."
    else:
        way = (
            f"The pack must be {length_text(least)} to {length_text(most)} thick: get the size "
            "that is missing. Do not add or leave out a shim."
        )
    return stop(
        "no-pack",
        f"No {case.shims} shims in stock bring the float into its band. Nearest: "
        f"{'; '.join(tries)}. {way}",
        "stock",
    )


def _limits(case: Reckoned) -> tuple[float, float]:
    return case.low / (1000 * MICRON), case.high / (1000 * MICRON)


def _mm(millimetres: float) -> str:
    return show(Q(round(millimetres, 6), "mm"), "mm", 2)
