"""Which shims bring the axial float into its band: exactly so many, out of what is in stock.

Purpose at the bench: the float is read once, without shims or with known ones. The pack that
brings it nearest to the middle of its band is looked for among the sizes in the drawer, with
as many shims as the engine takes, not one more and not one less.

float = G - sum of s_i, with G the gap with no shims at all (a float measured with shims and
the shims themselves added back). Everything is compared in whole numbers of 10 nm, so that
1.02 - (0.25 + 0.30 + 0.40) is 0.07 and not a hair less (``calculators.shim_search``).
The float is uncertain by u^2 = 2 a^2/3 + w^2/3 + m t^2/3, with m the shims involved, or
(m t)^2/3 where one batch is off in one sense. It is surely in the band when it is there by
2 u. Warm, it changes by L (alpha_case - alpha_shaft) dT.

Symbols: G gap, s_i shims, a reading limits at each end, w repeatability, t limits of a shim,
L length between the thrust faces, alpha expansion, dT warming.

Assumptions: the shims lie flat under the thrust; the shaft is steel and as warm as the case.

Sources: combinatorics; JCGM 100 for the uncertainty; ISO 14253-1 for the guard of 2 u.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.metals import CHOICES, METAL_VALUES, METALS, STEEL
from calculators.shim_advice import Reckoned, findings_of, pack_text
from calculators.shim_pack import draw_pack
from calculators.shim_search import MICRON, Pack, search, stock_of, whole
from witnessmark.calc import (
    CheckValue,
    Count,
    Drawing,
    Finding,
    Formula,
    Fraction,
    Length,
    Q,
    RefusedError,
    Rounding,
    Rows,
    Source,
    Symbol,
    TemperatureDifference,
    as_entered,
    calculator,
    choice,
    column,
    entry,
    result,
    table,
    table_result,
    text_result,
)

COMBINATIONS = Source(
    "combinations-with-repetition",
    "Stanley, Enumerative Combinatorics, volume 1: multisets and their generating function",
    "1.2", kind="handbook",
)  # fmt: skip
COUNTED = Source(
    "packs-counted", "The packs of the case written out and counted, and the same count as a "
    "coefficient of (1 + z x^a + ...)(1 + z x^b + ...)", kind="derivation",
)  # fmt: skip
GUM = Source(
    "jcgm-100-2008",
    "JCGM 100:2008 Guide to the expression of uncertainty in measurement", "4.3.7 and 5.1",
)  # fmt: skip
GUARD = Source(
    "iso-14253-1-2017",
    "ISO 14253-1:2017 Decision rules for verifying conformity or nonconformity with "
    "specifications, from memory", kind="from memory",
)  # fmt: skip
BY_HAND = Source("subtracted-by-hand", "Lengths subtracted by hand", kind="derivation")
_FINE = Rounding(decimals=3, us_decimals=4)
_DIAL = Rounding(decimals=2, us_decimals=4)
_FIVE = [[f"{size} mm", "9"] for size in ("0.20", "0.25", "0.30", "0.35", "0.40")]
_NINE = {"stock": _FIVE, "shims": "3", "measured": "1.02 mm", "band": "0.07 … 0.13 mm"}


@dataclass(frozen=True)
class ShimChoice:
    """The pack to fit, the float it gives and how sure that is."""

    pack: str = text_result("Fit", lead=True)
    axial_float: Length = result("Float then", rounding=_DIAL)
    in_hand: Length = result(
        "To the nearer limit", rounding=Rounding(decimals=2, us_decimals=4, toward="down"),
        help="Below zero the float is out of its band.",
    )  # fmt: skip
    others: tuple[tuple[Any, ...], ...] = table_result(
        "Other packs that do",
        columns=(column("Shims"), column("Float", Length, rounding=_FINE)), seldom=True,
    )  # fmt: skip
    hot: Length = result("Float when warm", rounding=_DIAL, seldom=True)
    uncertainty: Length = result(
        "Uncertainty of the float (2 u)", rounding=_FINE, band=False, seldom=True
    )
    surely_least: Length = result(
        "Surely inside from", rounding=Rounding(decimals=3, us_decimals=4, toward="up"),
        band=False, seldom=True,
    )  # fmt: skip
    surely_most: Length = result(
        "Surely inside up to", rounding=Rounding(decimals=3, us_decimals=4, toward="down"),
        band=False, seldom=True,
    )  # fmt: skip
    chance: Fraction = result(
        "Chance that it is inside", unit="%", us_unit="%",
        rounding=Rounding(decimals=1, us_decimals=1, toward="down"), band=False, seldom=True,
    )  # fmt: skip
    ways: Count = result("Packs that do, in all", seldom=True)
    findings: tuple[Finding, ...] = ()
    chosen: Pack | None = None


@calculator(
    name="shim-choice",
    title="Which shims make the float right",
    topic="axial float",
    purpose="From the float read once and the shims in the drawer: which to fit, and the float "
    "that follows.",
    formulas=(
        Formula(r"f = G - \sum s_i", "Float with a pack of shims"),
        Formula(
            r"u = \sqrt{\frac{1}{3}\left(2 a^2 + w^2 + m t^2\right)}",
            "Standard uncertainty; with one batch of shims (m t)² for m t²",
        ),
        Formula(r"f_w = f + L\,(\alpha_c - \alpha_s)\,\Delta T", "Float when warm"),
    ),
    symbols=(
        Symbol("G", "gap with no shims", "mm"),
        Symbol("s_i", "thickness of a shim", "mm"),
        Symbol("a, w, t", "limits of a reading at each end, of its repetition, of a shim", "mm"),
        Symbol("m", "shims involved: the new, and the old ones added back", "1"),
        Symbol("L", "length between the thrust faces", "mm"),
        Symbol(r"\alpha_c, \alpha_s", "expansion of case and shaft", "1/K"),
    ),
    assumptions=(
        "Of packs with the same float the one with the fewest different sizes is named, then the "
        "one that leaves most of its scarcest size.",
        "Limits are taken as rectangular distributions; the float counts as surely inside at a "
        "distance of 2 u from both ends.",
        "A steel shaft, as warm as the case.",
        "Lengths are whole numbers of 10 nm; sizes in mm and inches mixed, of 1 µm.",
    ),
    sources=(COMBINATIONS, GUM, GUARD, METAL_VALUES),
    check_values=(
        CheckValue(
            "five sizes, three shims: 9 of 35 packs lie in the band",
            _NINE, {"ways": "9", "axial_float": "0.12 mm"}, source=COUNTED,
            remark="0.90 mm can be made in 5 ways and 0.95 mm in 4: floats of 0.12 and 0.07 mm.",
        ),
        CheckValue(
            "a float on the very limit counts as inside",
            {"stock": [["0.25 mm", "1"], ["0.30 mm", "1"], ["0.40 mm", "1"]], "shims": "3",
             "measured": "1.02 mm", "band": "0.07 … 0.13 mm"},
            {"axial_float": "0.0700 mm", "in_hand": "0.0000 mm", "ways": "1"}, source=BY_HAND,
            findings=("float-unsure",),
            remark="In binary fractions 1.02 - (0.25 + 0.30 + 0.40) is 0.06999999999999995.",
        ),
        CheckValue(
            "budget of one reading and three shims",
            _NINE | {"reading": "0.005 mm", "repeat": "0.01 mm", "shim_limit": "0.005 mm"},
            {"uncertainty": "0.01732 mm"}, source=GUM,
            remark="2 √((2·25 + 100 + 3·25)/3) µm = 17.32 µm.",
        ),
        CheckValue(
            "the same with shims of one batch",
            _NINE | {"reading": "0.005 mm", "repeat": "0.01 mm", "shim_limit": "0.005 mm",
                     "batch": "one"},
            {"uncertainty": "0.02236 mm"}, source=GUM,
            remark="2 √((2·25 + 100 + 9·25)/3) µm = 22.36 µm.",
        ),
        CheckValue(
            "aluminium case, 25 mm, 80 K: 23 µm more",
            _NINE | {"case": "aluminium", "length": "25 mm", "warming": "80 K"},
            {"hot": "0.1430 mm"}, source=METAL_VALUES,
            remark="0.12 mm + 25 mm × (23 - 11.5)·10⁻⁶/K × 80 K.",
        ),
        CheckValue(
            "read with 0.50 mm fitted: the shims are added back",
            {"known": "fitted", "measured": "0.28 mm", "fitted": "0.50 mm", "shims": "2",
             "stock": [["0.25 mm", "2"], ["0.30 mm", "2"], ["0.35 mm", "2"]],
             "band": "0.10 … 0.25 mm"},
            {"axial_float": "0.180 mm", "ways": "4"}, source=BY_HAND,
            remark="0.55, 0.60 (two ways) and 0.65 mm leave 0.23, 0.18 and 0.13 mm of 0.78 mm.",
        ),
        CheckValue(
            "nothing in the drawer does",
            {"stock": [["0.20 mm", "2"], ["0.50 mm", "2"]], "measured": "0.78 mm", "shims": "2",
             "band": "0.10 … 0.25 mm"},
            {"ways": "0"}, source=BY_HAND, findings=("no-pack",),
            remark="0.40, 0.70 and 1.00 give 0.38, 0.08 and less than nothing.",
        ),
        CheckValue(
            "one limit is no band", {"band": "0.15 mm"}, source=BY_HAND, refused=("band",)
        ),
    ),
)  # fmt: skip
def shim_choice(
    *,
    measured: Length = entry(
        "Float read", "0.78 mm", units=("mm", "in"), least=0, most="10 mm",
        why="Read it again: the dial must move.",
        help="Shaft pushed to and fro, with force, turned between the readings.",
    ),
    known: str = choice(
        "Read with", {"bare": "no shims at all", "fitted": "shims fitted"}, default="bare"
    ),
    fitted: Length = entry(
        "Those shims, together", "0.50 mm", units=("mm", "in"), least=0, most="10 mm",
        when={"known": "fitted"}, why="Measure them with the micrometer as one pack.",
    ),
    stock: Rows = table(
        "Shims in stock",
        {"size": column("Thickness", Length, units=("mm", "in", "µm", "thou"), least="0.01 mm",
                        most="5 mm"),
         "count": column("How many", Count, least=0, most=99)},
        default=(("0.20", "4"), ("0.25", "3"), ("0.30", "1"), ("0.35", "4"), ("0.40", "2"),
                 ("0.50", "2")),
        most_rows=20, help="As measured, not as stamped.",
    ),
    band: Length = entry(
        "Float wanted", "0.10 … 0.25 mm", units=("mm", "in"), least=0, most="10 mm",
        why="A shaft needs some float.", help="Both limits, cold: 0.10 … 0.25 mm.",
    ),
    shims: Count = entry(
        "How many shims", "2", least=0, most=6,
        why="The engine takes a fixed number of shims, at most six here.", seldom=True,
    ),
    reading: Length = entry(
        "Each end read to ±", "0.005 mm", units=("mm", "µm", "thou"), least=0, most="0.5 mm",
        seldom=True, why="With that no float can be judged.", help="Half the dial's division.",
    ),
    repeat: Length = entry(
        "The reading repeats to ±", "0.01 mm", units=("mm", "µm", "thou"), least=0,
        most="0.5 mm", seldom=True, why="With that no float can be judged.",
    ),
    shim_limit: Length = entry(
        "Each shim known to ±", "0.005 mm", units=("mm", "µm", "thou"), least=0, most="0.1 mm",
        seldom=True, why="Measure the shims.",
    ),
    batch: str = choice(
        "The shims are off", {"own": "each by itself", "one": "all in one sense (one batch)"},
        default="own", seldom=True,
    ),
    case: str = choice("Case of", CHOICES, default="iron", seldom=True),
    length: Length = entry(
        "Between the thrust faces", "62 mm", units=("mm", "in"), above=0, most="2 m", seldom=True,
        why="Enter the length of case that the float depends on.",
    ),
    warming: TemperatureDifference = entry(
        "Warmer by", "60 K", units=("K", "°C", "°F"), least="-80 K", most="250 K", seldom=True,
        why="An engine block does not get there.",
    ),
) -> ShimChoice:  # fmt: skip
    """The pack and its float; see the module's docstring."""
    limits = as_entered("band", band)
    least, most = (limit.m_as("mm") for limit in (limits.low, limits.high))
    if most <= least:
        raise RefusedError("band", "Write both limits, such as 0.10 … 0.25 mm.")
    drawer = stock_of((row.size.m_as("mm"), row.count) for row in stock)
    have = sum(count for _, count in drawer)
    if have < shims:
        raise RefusedError("stock", f"{have} shims in stock, but the engine takes {shims}.")
    # What is decided follows from the figures as entered, not from the ends of a tolerance.
    with_old = known == "fitted"
    read = as_entered("measured", measured).value.m_as("mm")
    old = as_entered("fitted", fitted).value.m_as("mm") if with_old else 0.0
    gap = whole(read + old)
    low, high = math.ceil(least * 1000 * MICRON - 1e-6), math.floor(most * 1000 * MICRON + 1e-6)
    found = search(drawer, shims, gap - high, gap - low)
    pack = found.packs[0] if found.packs else _nearer(found.below, found.above, gap, low, high)
    there = measured.m_as("mm") + (fitted.m_as("mm") if with_old else 0.0)
    axial = round(there - pack.sum / (1000 * MICRON), 9)
    u = _uncertainty(
        reading.m_as("mm"), repeat.m_as("mm"), shim_limit.m_as("mm"),
        shims * (2 if with_old else 1), batch == "one",
    )  # fmt: skip
    growth = length.m_as("mm") * (METALS[case].expansion - STEEL.expansion) * warming.m_as("K")
    reckoned = Reckoned(gap, low, high, shims, found, pack, 2 * u, growth)
    return ShimChoice(
        pack=pack_text(pack) if found.packs else f"none; nearest {pack_text(pack)}",
        axial_float=Q(axial, "mm"),
        in_hand=Q(round(min(axial - least, most - axial), 9), "mm"),
        others=tuple(
            (pack_text(other), Q((gap - other.sum) / (1000 * MICRON), "mm"))
            for other in found.packs[1:]
        ),
        hot=Q(round(axial + growth, 9), "mm"),
        uncertainty=Q(2 * u, "mm"),
        surely_least=Q(least + 2 * u, "mm"),
        surely_most=Q(most - 2 * u, "mm"),
        chance=Q(_chance(axial, least, most, u), ""),
        ways=found.ways,
        findings=tuple(findings_of(reckoned)),
        chosen=pack,
    )


def _nearer(below: Pack | None, above: Pack | None, gap: int, low: int, high: int) -> Pack:
    """The pack nearest to the band where none lies in it."""
    packs = [pack for pack in (below, above) if pack is not None]
    return min(packs, key=lambda pack: max(low - (gap - pack.sum), gap - pack.sum - high))


def _uncertainty(reading: float, repeat: float, limit: float, shims: int, batch: bool) -> float:
    """Standard uncertainty of the float, mm: rectangular limits by their root of three."""
    pack = (shims * limit) ** 2 if batch else shims * limit**2
    return math.sqrt((2 * reading**2 + repeat**2 + pack) / 3)


def _chance(axial: float, least: float, most: float, u: float) -> float:
    """Probability that a normally distributed float lies in the band."""
    if u < 1e-9:
        return float(least - 1e-9 <= axial <= most + 1e-9)
    spread = u * math.sqrt(2)
    return round(
        (math.erf((most - axial) / spread) - math.erf((least - axial) / spread)) / 2, 9
    )  # fmt: skip


@shim_choice.drawing("The pack under the thrust")
def _draw(entries: Any, results: ShimChoice) -> Drawing:
    return draw_pack(entries, results)
