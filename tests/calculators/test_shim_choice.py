"""Shims: every pack written out, the generating function, and random stocks."""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from calculators.shim_choice import shim_choice
from calculators.shim_search import MICRON, Pack, search, stock_of
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=60, deadline=None, derandomize=True)
STOCKS = st.dictionaries(st.integers(5, 60), st.integers(0, 4), min_size=1, max_size=7)
HUNDREDTH = 10 * MICRON


def stock(counts: dict[int, int]) -> Any:
    """A stock of sizes in hundredths of a millimetre."""
    return stock_of((size / 100, count) for size, count in counts.items())


def all_packs(counts: dict[int, int], shims: int) -> list[tuple[int, ...]]:
    """Every multiset of the sizes that the counts allow, written out."""
    return [
        pack
        for pack in itertools.combinations_with_replacement(sorted(counts), shims)
        if all(number <= counts[size] for size, number in Counter(pack).items())
    ]


def outcome(units: str = "si", **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(shim_choice, entries, units)
    assert found["complete"], found["entries"]
    return found


def results(**entries: Any) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome(**entries)["results"]}


def codes(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome(**entries)["findings"]}


@MANY
@given(STOCKS, st.integers(1, 5), st.integers(0, 200), st.integers(0, 40))
def test_against_every_pack_written_out(
    counts: dict[int, int], shims: int, low: int, width: int
) -> None:
    """Count, nearest sum, simplest pack and nearest outside are those of the full list."""
    if sum(counts.values()) < shims:
        return
    every, high = all_packs(counts, shims), low + width
    inside = [pack for pack in every if low <= sum(pack) <= high]
    found = search(stock(counts), shims, low * HUNDREDTH, high * HUNDREDTH)
    assert found.ways == len(inside)
    sums = sorted({sum(pack) for pack in inside}, key=lambda s: (abs(2 * s - low - high), s))
    assert [pack.sum for pack in found.packs] == [s * HUNDREDTH for s in sums[:5]]
    for pack in found.packs:
        assert len(pack.sizes) == shims
        same = [other for other in inside if sum(other) * HUNDREDTH == pack.sum]
        fewest = min(len(set(other)) for other in same)
        assert len(set(pack.sizes)) == fewest

        def scarcest_left(sizes: Any) -> int:
            return min(counts[s] - n for s, n in Counter(sizes).items())

        chosen = [size // HUNDREDTH for size in pack.sizes]
        assert scarcest_left(chosen) == max(
            scarcest_left(other) for other in same if len(set(other)) == fewest
        )
    under = max((sum(p) for p in every if sum(p) < low), default=None)
    over = min((sum(p) for p in every if sum(p) > high), default=None)
    assert (found.below.sum // HUNDREDTH if found.below else None) == under
    assert (found.above.sum // HUNDREDTH if found.above else None) == over


def test_count_is_a_coefficient_of_the_generating_function() -> None:
    """Five sizes without end: the packs of three are coefficients of numpy's polynomial."""
    grid = np.zeros((4, 25), dtype=int)  # power of z, sum in steps of 0.05 mm
    grid[0, 0] = 1
    for size in (4, 5, 6, 7, 8):
        for k in range(1, 4):
            grid[k, size:] += grid[k - 1, :-size]
    assert grid[3].sum() == 35
    sizes = {20: 9, 25: 9, 30: 9, 35: 9, 40: 9}
    for low, high in ((18, 19), (12, 24), (15, 15), (23, 24)):
        found = search(stock(sizes), 3, low * 5 * HUNDREDTH, high * 5 * HUNDREDTH)
        assert found.ways == grid[3, low : high + 1].sum()


@MANY
@given(st.permutations([("0.20", "2"), ("0.25", "1"), ("0.30", "2"), ("0.35", "1")]))
def test_order_of_the_stock_does_not_matter(rows: list[tuple[str, str]]) -> None:
    """The same drawer in any order gives the same pack."""
    got = results(stock=[list(row) for row in rows])
    assert got["pack"]["text"] == results(stock=[["0.20", "2"], ["0.25", "1"], ["0.30", "2"],
                                                 ["0.35", "1"]])["pack"]["text"]  # fmt: skip


def test_rows_of_one_size_are_put_together() -> None:
    """Two rows with the same thickness are one size with both counts."""
    assert stock_of([(0.3, 1), (0.300, 2), (0.2, 0)]) == ((300 * MICRON, 3),)


@pytest.mark.parametrize("shims", [1, 2, 3])
def test_inch_sizes_are_whole_numbers_too(shims: int) -> None:
    """Shims in thou, gap and band in inches: the limits themselves count as inside."""
    rows = [["0.010 in", "3"]]
    gap = 0.010 * shims + 0.004
    got = results(stock=rows, shims=str(shims), measured=f"{gap:.3f} in", band="0.004 … 0.010 in")
    assert got["ways"]["value"] == 1
    assert got["in_hand"]["value"] == pytest.approx(0, abs=1e-9)


def test_sizes_in_both_units() -> None:
    """A drawer with mm and thou still answers, counted to a micrometre."""
    got = results(stock=[["0.3333 mm", "3"], ["0.0101 in", "3"]], measured="0.78 mm")
    assert got["axial_float"]["value"] == pytest.approx(0.78 - 0.3333 - 0.25654, abs=1e-3)


def test_float_trap() -> None:
    """The limits 0.07 and 0.13 belong to the band, whatever binary fractions say."""
    assert 1.02 - (0.25 + 0.30 + 0.40) < 0.07
    rows = [["0.25", "1"], ["0.30", "1"], ["0.40", "1"]]
    for measured in ("1.02", "1.08"):
        got = results(stock=rows, shims="3", measured=measured, band="0.07 … 0.13 mm")
        assert got["ways"]["value"] == 1


def test_many_sizes_are_found_fast() -> None:
    """Twenty sizes to the micrometre, six shims: no pack is missed and no list is written out.

    The work is counted in packs looked at, not in time: the simplest pack of the nearest sums
    comes out of a stock of 177,100 packs.
    """
    dice = random.Random(17)
    sizes = dice.sample(range(150, 1000), 20)
    drawer = stock_of((size / 1000, 6) for size in sizes)
    middle = 3000
    found = search(drawer, 6, (middle - 75) * MICRON, (middle + 75) * MICRON)
    every = np.array([sum(p) for p in itertools.combinations_with_replacement(sizes, 6)])
    assert found.ways == int(((every >= middle - 75) & (every <= middle + 75)).sum())
    nearest = sorted(np.unique(every), key=lambda s: (abs(int(s) - middle), s))[:5]
    assert [pack.sum // MICRON for pack in found.packs] == [int(s) for s in nearest]


def test_uncertainty_against_random_readings() -> None:
    """200,000 floats with rectangular errors of reading, repetition and three shims."""
    rng = np.random.default_rng(5)
    a, w, t = 0.005, 0.01, 0.005

    def err(limit: float) -> np.ndarray:
        return rng.uniform(-limit, limit, 200_000)

    own = err(a) + err(a) + err(w) + err(t) + err(t) + err(t)
    batch = err(a) + err(a) + err(w) + 3 * err(t)
    for errors, kind in ((own, "own"), (batch, "one")):
        got = results(shims="3", stock=[["0.2", "9"]], measured="0.78", batch=kind)
        assert got["uncertainty"]["value"] == pytest.approx(2 * float(errors.std()), rel=0.01)


@pytest.mark.parametrize(("axial", "chance"), [(0.10, 0.9973), (0.08, 0.841), (0.125, 0.691)])
def test_chance_inside(axial: float, chance: float) -> None:
    """Band 0.07 to 0.13, u 0.01: the normal distribution of scipy and rounded table values."""
    got = results(
        stock=[["1.000", "1"]], shims="1", measured=f"{1 + axial} mm", band="0.07 … 0.13 mm",
        reading="0 mm", repeat=f"{0.01 * math.sqrt(3)} mm", shim_limit="0 mm",
    )["chance"]["value"] / 100  # fmt: skip
    assert got == pytest.approx(chance, abs=6e-4)
    assert got == pytest.approx(norm.cdf(0.13, axial, 0.01) - norm.cdf(0.07, axial, 0.01), 1e-6)


def test_hot_float() -> None:
    """Magnesium on steel, 25 mm, 80 K: 29 µm more; grey iron loses a little."""
    plain = {"length": "25 mm", "warming": "80 K"}
    got = results(case="magnesium", **plain)
    grown = got["hot"]["value"] - got["axial_float"]["value"]
    assert grown == pytest.approx(25 * 14.5e-6 * 80)
    got = results(case="iron", **plain)
    assert got["hot"]["value"] < got["axial_float"]["value"]


def test_judgement_on_both_sides() -> None:
    """Two u from either limit is sure; nearer is unsure; outside is a stop."""

    def case(measured: str) -> dict[str, str]:
        return codes(stock=[["0.30", "2"]], measured=measured)

    assert "float-unsure" not in case("0.717 mm")  # 0.117 in 0.10 ... 0.25, 2u = 0.0163
    assert case("0.715 mm")["float-unsure"] == "caution"
    assert "no-pack" not in case("0.70 mm")
    assert case("0.6999 mm")["no-pack"] == "stop"
    assert "band-too-narrow" in codes(band="0.17 … 0.20 mm")
    assert "band-too-narrow" not in codes(band="0.16 … 0.20 mm")


def test_shaft_that_would_clamp_is_a_stop() -> None:
    """A long iron case loses its float over a hot steel shaft."""
    assert "no-float-warm" not in codes(length="2000 mm", warming="80 K")  # 0.18 - 0.16 mm
    assert codes(length="2000 mm", warming="95 K")["no-float-warm"] == "stop"


def test_missing_thickness_is_named() -> None:
    """Where nothing fits, the text says how thick the pack must be and what the nearest give."""
    case = outcome(stock=[["0.20", "2"], ["0.50", "2"]])
    text = next(f["text"] for f in case["findings"] if f["code"] == "no-pack")
    for part in ("0.53\u202fmm to 0.68\u202fmm", "2 × 0.20\u202fmm gives 0.38\u202fmm", "0.08"):
        assert part in text, text
    pack = next(r for r in case["results"] if r["name"] == "pack")
    assert pack["text"].startswith("none; nearest")


def test_exactly_so_many_shims() -> None:
    """No pack with one shim more or less is offered, though it would fit."""
    got = results(stock=[["0.60", "1"], ["0.10", "2"]], shims="2")
    assert got["ways"]["value"] == 0
    assert results(shims="0", measured="0.18 mm")["pack"]["text"] == "no shims"


def test_refused() -> None:
    """Too few in stock, and a band without width."""
    for entries, name in (({"stock": [["0.3", "1"]]}, "stock"), ({"band": "0.2 mm"}, "band")):
        assert evaluate(shim_choice, entries)["entries"][name]["error"]


def test_tolerance_of_the_reading_moves_the_float_not_the_pack() -> None:
    """The pack is decided once; a typed tolerance gives the float a band."""
    got = results(measured="0.78 ± 0.02 mm")
    assert got["axial_float"]["band"]["worst"]["low"] == pytest.approx(
        got["axial_float"]["value"] - 0.02
    )


def test_drawings_stand() -> None:
    """One picture with a pack, without shims, without float and in inches."""
    for units, entries in (("si", {}), ("us", {}), ("si", {"shims": "0", "measured": "0.18"}),
                           ("si", {"stock": [["0.80", "2"]]}),
                           ("si", {"shims": "6", "measured": "1.7"})):  # fmt: skip
        assert evaluate(shim_choice, entries, units)["drawings"][0]["svg"].startswith("<svg")


def test_empty_pack() -> None:
    """No shims: the gap itself is the float, inside or out."""
    assert search((), 0, -5, 5).packs == (Pack(()),)
    assert search((), 0, 1, 5).below == Pack(())
    assert search((), 0, -5, -1).above == Pack(())
