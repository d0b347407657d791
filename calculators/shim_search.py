"""Exactly n shims out of a stock so that their sum lies in a window: whole numbers only.

Every length is a whole number of 10 nanometres, so that 0.05 mm and 0.002 in are both whole
and no float can fall out of its band by the last bit of a binary fraction. Steps common to
all sizes are divided out, which leaves a few hundred possible sums.

How many ways there are is the coefficient of a generating function, the product over the
sizes of (1 + z x^s + z^2 x^2s + ... up to the count in stock): the power of z counts shims,
that of x their sum. The polynomial is held as one large integer for each power of z. Which
sums can be reached at all from the sizes still to come is held as bits, so that a search for
the shims of one sum never walks into a dead end.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

MICRON = 100
"""A micrometre in the whole numbers used here."""
_MOST_SUMS = 20_000
_FIELD = 24
"""Bits for one coefficient; 24 sizes and 6 shims make at most 475,020 ways."""

Stock = tuple[tuple[int, int], ...]
"""Pairs of size and count, sizes rising, each once."""


@dataclass(frozen=True)
class Pack:
    """A choice of shims: their sizes, thickest first, and their sum."""

    sizes: tuple[int, ...]

    @property
    def sum(self) -> int:
        """The thickness of the pack."""
        return sum(self.sizes)


@dataclass(frozen=True)
class Found:
    """Packs in the window, nearest to its middle first; how many ways there are in all.

    ``below`` and ``above`` are the nearest packs outside the window, too thin and too thick.
    """

    packs: tuple[Pack, ...]
    ways: int
    below: Pack | None
    above: Pack | None


def whole(millimetres: float) -> int:
    """A length as a whole number of 10 nm, the nearest one."""
    return math.floor(millimetres * 1000 * MICRON + 0.5)


def stock_of(rows: Iterator[tuple[float, int]]) -> Stock:
    """Sizes in mm with their counts as a stock; equal sizes are put together, none left out."""
    counts: dict[int, int] = {}
    for size, count in rows:
        counts[whole(size)] = counts.get(whole(size), 0) + count
    return tuple(sorted((size, count) for size, count in counts.items() if count > 0))


def step_of(stock: Stock, shims: int) -> int:
    """The common step of all sums; a micrometre where sizes in mm and inches are mixed."""
    step = math.gcd(*(size for size, _ in stock))
    thickest = shims * max(size for size, _ in stock)
    return step if thickest // step <= _MOST_SUMS else MICRON


@lru_cache(maxsize=16)
def search(stock: Stock, shims: int, least: int, most: int, packs: int = 5) -> Found:
    """Packs of exactly ``shims`` with ``least`` <= sum <= ``most``; see the module's docstring.

    The middle may lie between two whole numbers. Of packs with the same sum the one with the
    fewest different sizes is given, then the one that leaves most of its scarcest size.
    """
    if shims == 0:
        empty = Pack(())
        inside = least <= 0 <= most
        return Found(
            (empty,) if inside else (), int(inside),
            empty if least > 0 else None, empty if most < 0 else None,
        )  # fmt: skip
    step = step_of(stock, shims)
    sizes = [(round(size / step), size, count) for size, count in stock]
    reach = _reach([(steps, count) for steps, _, count in sizes], shims)
    low, high = -(-least // step), most // step
    ends = (2 * high + 1 if high < low else low + high, low, high)

    def pack(total: int) -> Pack:
        return _simplest(sizes, reach, shims, total)

    sums = _sums_near(reach[0][shims], *ends)
    below, above = _last_below(reach[0][shims], low), _first_above(reach[0][shims], high)
    return Found(
        tuple(pack(total) for total in sums[:packs]),
        _ways([(steps, count) for steps, _, count in sizes], shims, low, high),
        pack(below) if below is not None else None,
        pack(above) if above is not None else None,
    )


def _reach(sizes: list[tuple[int, int]], shims: int) -> list[list[int]]:
    """Bit s of ``reach[i][k]``: sum s can be made of k shims of the sizes from i on."""
    after = [1] + [0] * shims
    table = [after]
    for size, count in reversed(sizes):
        here = [0] * (shims + 1)
        for k in range(shims + 1):
            for taken in range(min(k, count) + 1):
                here[k] |= after[k - taken] << (taken * size)
        table.append(here)
        after = here
    table.reverse()
    return table


def _ways(sizes: list[tuple[int, int]], shims: int, low: int, high: int) -> int:
    """The sum of the coefficients of x^low to x^high with z^shims."""
    low = max(low, 0)
    if high < low:
        return 0
    poly = [1] + [0] * shims
    for size, count in sizes:
        for k in range(shims, 0, -1):
            for taken in range(1, min(k, count) + 1):
                poly[k] += poly[k - taken] << (taken * size * _FIELD)
    window = (poly[shims] >> (low * _FIELD)) & ((1 << ((high - low + 1) * _FIELD)) - 1)
    ways = 0
    for field in range(0, window.bit_length(), _FIELD):
        ways += (window >> field) & ((1 << _FIELD) - 1)
    return ways


def _sums_near(bits: int, twice_middle: int, low: int, high: int) -> list[int]:
    """The sums that can be made in the window, nearest to its middle first, thinner first."""
    if high < max(low, 0):
        return []
    low = max(low, 0)
    window = (bits >> low) & ((1 << (high - low + 1)) - 1)
    sums = []
    while window:
        lowest = window & -window
        sums.append(low + lowest.bit_length() - 1)
        window ^= lowest
    return sorted(sums, key=lambda total: (abs(2 * total - twice_middle), total))


def _last_below(bits: int, low: int) -> int | None:
    under = bits & ((1 << max(low, 0)) - 1)
    return under.bit_length() - 1 if under else None


def _first_above(bits: int, high: int) -> int | None:
    start = max(high + 1, 0)
    over = bits >> start
    return start + (over & -over).bit_length() - 1 if over else None


def _simplest(
    sizes: list[tuple[int, int, int]], reach: list[list[int]], shims: int, total: int
) -> Pack:
    """Of all packs with this sum, one with the fewest different sizes."""
    for different in range(1, shims + 1):
        best = max(
            _packs(sizes, reach, 0, shims, total, different),
            key=lambda taken: min(sizes[i][2] - number for i, number in taken),
            default=None,
        )
        if best is not None:
            chosen = [sizes[i][1] for i, number in best for _ in range(number)]
            return Pack(tuple(sorted(chosen, reverse=True)))
    raise AssertionError("a sum that can be reached has a pack")


def _packs(
    sizes: list[tuple[int, int, int]], reach: list[list[int]],
    start: int, left: int, total: int, different: int,
) -> Iterator[tuple[tuple[int, int], ...]]:  # fmt: skip
    """All packs of ``left`` shims and exactly ``different`` sizes: pairs of index and number."""
    if left == 0:
        if total == 0 and different == 0:
            yield ()
        return
    if different == 0:
        return
    for i in range(start, len(sizes)):
        if not (reach[i][left] >> total) & 1:
            return
        size, _, count = sizes[i]
        for number in range(1, min(left, count) + 1):
            rest = total - number * size
            if rest < 0:
                break
            if (reach[i + 1][left - number] >> rest) & 1:
                for more in _packs(sizes, reach, i + 1, left - number, rest, different - 1):
                    yield ((i, number), *more)
