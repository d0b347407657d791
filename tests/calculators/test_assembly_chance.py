"""How many patterns go together: closed forms, another generator, the full search."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linprog

from calculators import pattern_chance
from calculators.assembly_chance import assembly_chance
from calculators.pattern_chance import ring, tally
from calculators.pattern_draws import Dowel, Drawn, draw
from calculators.pattern_fit import least_squares, minimax
from calculators.pattern_interior import Point
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

SIGMA = {"hole_zone": "0.18 mm", "dowel_zone": "0 mm", "dowel": "8 mm", "spread": "normal"}


def outcome(**entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(assembly_chance, entries)
    assert found["complete"], {k: v["error"] for k, v in found["entries"].items() if v["error"]}
    return found


def value(name: str, **entries: Any) -> float:
    """The number of a result in its own unit."""
    return float(next(p["value"] for p in outcome(**entries)["results"] if p["name"] == name))


def codes(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {each["code"]: each["level"] for each in outcome(**entries)["findings"]}


@pytest.mark.parametrize(("hole", "c"), [("8.04 mm", 0.02), ("8.08 mm", 0.04), ("8.12 mm", 0.06)])
def test_two_dowels_in_closed_form(hole: str, c: float) -> None:
    """Only the distance of two dowels counts: erf(c/σ), within four standard errors."""
    share = math.erf(c / 0.03)
    got = value("chance", **SIGMA, hole=hole, count="2", drawings="3000") / 100
    assert got == pytest.approx(share, abs=4 * math.sqrt(share * (1 - share) / 3000))


@pytest.mark.parametrize("count", [2, 4, 8])
def test_held_fast_in_closed_form(count: int) -> None:
    """Each offset is Rayleigh distributed and independent: (1 - exp(-c²/2σ²))^N."""
    share = (1 - math.exp(-(0.08**2) / (2 * 0.03**2))) ** count
    got = value("fixed", **SIGMA, hole="8.16 mm", count=str(count), drawings="3000") / 100
    assert got == pytest.approx(share, abs=4 * math.sqrt(share * (1 - share) / 3000))


def test_even_places_fill_the_zone_evenly() -> None:
    """Held fast in an even zone of radius 0.05 mm with c = 0.03: (0.03/0.05)² for each of two."""
    case = {"hole_zone": "0.1 mm", "dowel_zone": "0 mm", "dowel": "8 mm", "hole": "8.06 mm"}
    got = value("fixed", **case, count="2", drawings="3000") / 100
    assert got == pytest.approx(0.36**2, abs=0.025)


def test_four_dowels_by_another_generator_and_a_linear_program() -> None:
    """Another generator draws; the best place by bounding the offsets with 64 sides."""
    dice = np.random.default_rng(21)
    places = np.array([(at.real, at.imag) for at in ring(4, 27)])
    sides = np.arange(64) * math.tau / 64
    directions = np.c_[np.cos(sides), np.sin(sides)]
    across = np.c_[-places[:, 1], places[:, 0]]
    clearance, goes, total = 0.055, 0, 600
    for _ in range(total):
        errors = dice.normal(0, 0.03, (4, 2))
        rows, right = [], []
        for place, error in zip(across, errors, strict=True):
            for u in directions:
                rows.append([-u[0], -u[1], -(u @ place), -1.0])
                right.append(-(u @ error))
        found = linprog([0, 0, 0, 1], A_ub=rows, b_ub=right, bounds=[(None, None)] * 4)
        goes += found.fun <= clearance
    share = goes / total
    got = value("chance", **SIGMA, hole="8.11 mm", drawings="3000") / 100
    assert got == pytest.approx(share, abs=4 * math.sqrt(share * (1 - share) / total))


CASES = [
    Drawn(4, 31, 0.04, 0.03, (8.04, 8.066), (8.006, 8.015), even=True),
    Drawn(12, 60, 0.06, 0.03, (8.06, 8.086), (8.006, 8.015), even=True),
    Drawn(3, 20, 0.2, 0.1, (8.06, 8.2), (8.0, 8.0), even=False),
    # Zones so wide for the ring that a turn moves the dowels a good way along their arms.
    Drawn(4, 5, 1.6, 1.2, (2.9, 3.1), (2.0, 2.0), even=True),
    Drawn(3, 6, 1.5, 1.5, (3.2, 3.4), (2.0, 2.0), even=False),
]


@pytest.mark.parametrize("case", CASES)
def test_a_tally_is_the_fits_of_every_drawing(case: Drawn) -> None:
    """Counted as wholes, the drawings give what the fits of the pattern give one by one."""
    drawn = draw(case, 400, 5)
    goes = squares = fixed = 0
    for row in range(400):
        pins, holes, clearances = _drawing(case, drawn, row)
        fixed += all(
            math.dist(*pair) <= c for *pair, c in zip(pins, holes, clearances, strict=True)
        )
        offsets = least_squares(pins, holes).offsets(pins, holes)
        squares += all(math.hypot(*e) <= c for e, c in zip(offsets, clearances, strict=True))
        goes += minimax(pins, holes, clearances).excess <= 1e-9
    assert 20 < goes < 395
    counted = tally(case, 400, 5)
    assert (counted.best, counted.squares, counted.fixed) == (goes, squares, fixed)


@pytest.mark.parametrize("case", CASES[:3])
def test_short_proofs_leave_little_to_the_full_search(
    case: Drawn, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The search is for the few drawings that sums cannot tell."""
    searched = []

    def counting(*pattern: Any) -> Any:
        searched.append(pattern)
        return minimax(*pattern)

    monkeypatch.setattr(pattern_chance, "minimax", counting)
    tally(case, 300, 5)
    assert len(searched) < 10


def _drawing(
    case: Drawn, drawn: list[Dowel], row: int
) -> tuple[list[Point], list[Point], list[float]]:
    """Dowels, holes and clearances of one drawing."""
    places = ring(case.count, case.radius)
    pins, holes = (
        [(at.real + by.real, at.imag + by.imag) for at, by in zip(places, off, strict=True)]
        for off in ([each.own[row] for each in drawn], [each.hole[row] for each in drawn])
    )
    return pins, holes, [each.clearance[row] for each in drawn]


def test_places_lie_in_their_zones_and_sizes_within_limits() -> None:
    """Evenly spread: half of the places beyond 1/√2 of the radius, none outside of it."""
    case = Drawn(2, 31, 0.1, 0.06, (8.04, 8.066), (8.006, 8.015), even=True)
    for each in draw(case, 2000, 3):
        for places, radius in ((each.hole, 0.05), (each.own, 0.03)):
            reach = abs(np.array(places))
            assert reach.max() <= radius
            assert np.mean(reach > radius / math.sqrt(2)) == pytest.approx(0.5, abs=0.05)
        assert 0.0125 <= min(each.clearance) < max(each.clearance) <= 0.03


def test_parts_without_play_or_scatter_go() -> None:
    """Perfect parts of one size: nothing is lacking, whatever rounding says."""
    counted = tally(Drawn(5, 31, 0, 0, (8, 8), (8, 8), even=True), 50, 3)
    assert (counted.fixed, counted.squares, counted.best) == (50, 50, 50)


def test_the_same_seed_gives_the_same_count() -> None:
    """Counts are alike from run to run, differ with the seed, and grow with the clearance."""
    case = Drawn(4, 27, 0.18, 0.0, (8.1, 8.1), (8.0, 8.0), even=False)
    first = tally(case, 400, 3)
    assert tally(case, 400, 3) == first
    assert tally(case, 400, 4) != first
    assert first.fixed <= first.squares <= first.best


def test_certainty_is_the_virtual_sizes() -> None:
    """Room at the worst: with none lacking every even drawing goes, even held fast."""
    sure = {"hole": "8.040 … 8.066 mm", "dowel": "8.006 … 8.015 mm", "dowel_zone": "0.010 mm"}
    assert value("sure", **sure, hole_zone="0.015 mm") == pytest.approx(0, abs=1e-6)
    assert "always-goes" in codes(**sure, hole_zone="0.015 mm")
    assert value("fixed", **sure, hole_zone="0.015 mm") == 100
    assert "always-goes" not in codes(**sure, hole_zone="0.016 mm")
    assert "none-failed" in codes(**sure, hole_zone="0.016 mm")


def test_findings_on_both_sides() -> None:
    """Half, ninety-nine in a hundred, and what turning by hand brings."""
    assert codes(**SIGMA, hole="8.03 mm")["seldom-goes"] == "stop"
    some = codes(**SIGMA, hole="8.10 mm")
    assert some["some-will-not"] == "caution"
    assert some["find-the-place"] == "note"
    good = codes(**SIGMA, hole="8.3 mm")
    assert {"seldom-goes", "some-will-not", "find-the-place"} & good.keys() == set()


def test_uncertainty_of_a_count() -> None:
    """Twice the standard uncertainty, Agresti and Coull's; never nought."""
    case = SIGMA | {"hole": "8.11 mm", "drawings": "1000"}
    share = (value("chance", **case) * 10 + 2) / 1004
    told = value("uncertainty", **case)
    assert told == pytest.approx(200 * math.sqrt(share * (1 - share) / 1004), rel=1e-6)
    assert value("uncertainty", **SIGMA, hole="8.5 mm") > 0


def test_refused_and_drawn() -> None:
    """Holes that meet are refused; the bars name the three ways."""
    part = evaluate(assembly_chance, {"count": "12", "radius": "15 mm"})["entries"]["radius"]
    assert "run into each other" in part["error"]["message"]
    assert "held at its true place" in evaluate(assembly_chance, {})["drawings"][0]["svg"]
