"""The tables of ISO 286 against the formulas behind them and against their own rules."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.stats import norm

from calculators.dowel_pins import dowel_pin_holes
from calculators.iso_286 import (
    ABOVE,
    BELOW,
    BELOW_FINE,
    FINE_STEPS,
    GRADES,
    LETTERS,
    STEPS,
    grade,
    hole,
    read_class,
    shaft,
)
from calculators.limits_and_fits import limits_and_fit
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MEANS = [math.sqrt(low * high) for low, high in pairwise((1, *STEPS))]
FINE_MEANS = [math.sqrt(low * high) for low, high in pairwise((1, *FINE_STEPS))]
INSIDE = [(low + high) / 2 for low, high in pairwise((0, *STEPS))]
MULTIPLES = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}


def rounded(value: float) -> int:
    """To whole numbers, above 100 to fives, above 200 to tens."""
    step = 1 if value <= 100 else 5 if value <= 200 else 10
    return round(value / step) * step


# Steps (counted from 0) where the standard's own rounding departs from plain rounding.
OFF_THE_FORMULA = {
    5: (), 6: (0, 1, 11, 12), 7: (0, 2, 3, 12), 8: (), 9: (0, 1), 10: (0, 1, 2, 3),
    11: (0, 1, 5, 6, 11, 12),
}  # fmt: skip


@pytest.mark.parametrize("number", MULTIPLES)
def test_grades_follow_the_unit_of_tolerance(number: int) -> None:
    """Unit i = 0.45 D^(1/3) + 0.001 D times 7 to 100; the departures are those of the standard."""
    found = []
    for k, d in enumerate(MEANS):
        wanted = MULTIPLES[number] * (0.45 * d ** (1 / 3) + 0.001 * d)
        if rounded(wanted) != GRADES[number][k]:
            found.append(k)
        assert GRADES[number][k] == pytest.approx(wanted, rel=0.16 if k == 0 else 0.08, abs=1.5)
    assert tuple(found) == OFF_THE_FORMULA[number]


def test_grades_rise() -> None:
    """With the size, and from grade to grade."""
    for table in GRADES.values():
        assert list(table) == sorted(table)
    for finer, coarser in pairwise(sorted(GRADES)):
        assert all(a < b or finer == 4 for a, b in zip(GRADES[finer], GRADES[coarser], strict=True))


@pytest.mark.parametrize(
    ("letter", "formula"),
    [("f", lambda d: -5.5 * d**0.41), ("g", lambda d: -2.5 * d**0.34),
     ("k", lambda d: 0.6 * d ** (1 / 3)), ("n", lambda d: 5 * d**0.34)],
)  # fmt: skip
def test_deviations_follow_powers_of_the_size(letter: str, formula: object) -> None:
    """Within one and a half micrometres beyond 3 mm, as far as the standard rounds by hand."""
    table = {**ABOVE, **BELOW}[letter]
    for k, d in enumerate(MEANS[1:], 1):
        assert table[k] == pytest.approx(formula(d), abs=1.5), (letter, STEPS[k])  # type: ignore[operator]


def test_deviations_defined_by_grades() -> None:
    """The m is IT7 less IT6; p is IT7 and up to 5 µm; s is IT7 + 0.4 D or IT8 and 1 to 4 µm."""
    for k in range(1, 13):
        assert BELOW["m"][k] == GRADES[7][k] - GRADES[6][k], STEPS[k]
        assert 0 <= BELOW["p"][k] - GRADES[7][k] <= 5, STEPS[k]
    for k, d in enumerate(FINE_MEANS):
        r, s, size = BELOW_FINE["r"][k], BELOW_FINE["s"][k], FINE_STEPS[k]
        p = BELOW["p"][next(i for i, step in enumerate(STEPS) if size <= step)]
        assert r == pytest.approx(math.sqrt(p * s), abs=1.2), size
        if size > 50:
            assert s == pytest.approx(grade(7, size) + 0.4 * d, abs=1.0), size
        elif size > 3:
            assert 1 <= s - grade(8, size) <= 4 or size <= 6, size


@pytest.mark.parametrize("size", INSIDE)
def test_tolerance_is_the_width(size: float) -> None:
    """Every class is as wide as its grade; H and h start at nought; JS is symmetrical."""
    for number in range(5, 12):
        for letter in LETTERS:
            for limits in (shaft(letter, number, size), hole(letter.upper(), number, size)):
                assert limits.width == grade(number, size)
        assert hole("H", number, size).lower == 0
        assert shaft("h", number, size).upper == 0
        assert hole("JS", number, size).upper == -hole("JS", number, size).lower
        for letter in "fg":
            above, below = hole(letter.upper(), number, size), shaft(letter, number, size)
            assert (above.lower, above.upper) == (-below.upper, -below.lower)


@pytest.mark.parametrize("size", INSIDE)
def test_delta_makes_hole_based_and_shaft_based_fits_alike(size: float) -> None:
    """Hole P7 with shaft h6 is as tight as hole H7 with shaft p6, least and most; one exception."""
    cases = [(x, n) for x in "KMN" for n in (6, 7, 8)] + [(x, n) for x in "PRS" for n in (6, 7)]
    for letter, n in cases:
        if size <= 3 or (letter == "K" and n == 8):
            continue  # k8 has no deviation of its own
        bore, pin = hole(letter, n, size), shaft("h", n - 1, size)
        base, mate = hole("H", n, size), shaft(letter.lower(), n - 1, size)
        shaft_based = (bore.lower - pin.upper, bore.upper - pin.lower)
        hole_based = (base.lower - mate.upper, base.upper - mate.lower)
        if (letter, n) == ("M", 6) and 250 < size <= 315:
            assert shaft_based != hole_based
        else:
            assert shaft_based == hole_based, (letter, n, size)


def test_no_delta_for_coarse_holes() -> None:
    """P8 and R8 are plain mirror images; N9 and K9 end at the nominal size."""
    for size in INSIDE[1:]:
        assert hole("P", 8, size).upper == -shaft("p", 8, size).lower
        assert hole("R", 9, size).upper == -shaft("r", 9, size).lower
        assert hole("N", 9, size).upper == hole("K", 9, size).upper == 0
    assert hole("N", 9, 2).upper == -4
    assert hole("P", 7, 2).upper == -6


def test_steps_belong_to_the_size_below() -> None:
    """Over ... up to and including: 50 is of 30 to 50, a hair more is not."""
    assert (grade(7, 50), grade(7, 50.001)) == (25, 30)
    assert (shaft("s", 6, 65).lower, shaft("s", 6, 65.001).lower) == (53, 59)
    for bad in (0, -1, 500.001):
        with pytest.raises(ValueError, match="500 mm"):
            grade(7, bad)


@pytest.mark.parametrize(
    ("text", "is_hole", "said"),
    [("h7", True, "Write H7"), ("M6", False, "Write m6"), ("Js7", True, "Write JS7"),
     ("H4", True, "grades 5 to 11"), ("X7", True, "X is not"), ("7H", True, "such as H7"),
     ("", False, "such as m6")],
)  # fmt: skip
def test_classes_that_cannot_be_read(text: str, is_hole: bool, said: str) -> None:
    """The message says what would be right."""
    with pytest.raises(ValueError, match=said):
        read_class(text, hole=is_hole)


def results(calculator: object, **entries: object) -> dict[str, float | str]:
    """Result name to value or text."""
    found = evaluate_undrawn(calculator, entries)  # type: ignore[arg-type]
    assert found["complete"], found["entries"]
    return {part["name"]: part.get("value", part.get("text")) for part in found["results"]}


def codes(calculator: object, **entries: object) -> dict[str, str]:
    """Codes of the findings with their levels."""
    found = evaluate_undrawn(calculator, entries)  # type: ignore[arg-type]
    assert found["complete"], found["entries"]
    return {f["code"]: f["level"] for f in found["findings"]}


def test_likely_fit_against_random_pairs() -> None:
    """Normal sizes on centre, six sigma wide: 300,000 pairs of 25 H7/n6."""
    rng = np.random.default_rng(2)
    bore = rng.normal(10.5, 21 / 6, 300_000)
    pin = rng.normal((15 + 28) / 2, 13 / 6, 300_000)
    clearance = bore - pin
    got = results(limits_and_fit, size="25 mm", classes=[["H7", "n6"]])
    low, high = (float(np.quantile(clearance, q)) for q in (norm.cdf(-3), norm.cdf(3)))
    assert (got["likely_least"], got["likely_most"]) == pytest.approx((low, high), abs=0.4)
    assert got["tight"] == pytest.approx(100 * float((clearance < 0).mean()), abs=0.2)


def test_verdicts_and_findings_of_fits() -> None:
    """Loose, tight, either; measured parts; warm parts."""

    def verdict(*classes: str, **more: object) -> object:
        return results(limits_and_fit, size="50 mm", classes=[list(classes)], **more)["verdict"]

    assert verdict("H7", "g6") == "loose"
    assert verdict("H7", "h6") == "loose or just free"
    assert verdict("H7", "k6") == "loose or tight, as it comes"
    assert verdict("H7", "p6") == "tight"
    assert verdict("H7", "k6", hole_size="50.001 mm", shaft_size="50.010 mm") == "tight"

    def said(*classes: str, **more: object) -> dict[str, str]:
        return codes(limits_and_fit, size="50 mm", classes=[list(classes)], **more)

    assert "transition" in said("H7", "k6")
    assert "transition" not in said("H7", "g6")
    for hole_size, code in (("50.0255 mm", True), ("50.0245 mm", False), ("49.9995 mm", True)):
        assert ("hole-out" in said("H7", "g6", hole_size=hole_size)) is code
    near = {"hole_size": "50.010 mm", "hole_u": "0.003 mm", "shaft_u": "0.004 mm"}
    assert "undetermined" in said("H7", "g6", shaft_size="50.0001 mm", **near)  # 9.9 < 10 µm
    assert "undetermined" not in said("H7", "g6", shaft_size="49.9999 mm", **near)
    warm = {"hole_metal": "aluminium", "temperature": "100 °C"}  # gains 46 µm
    assert "lets-go-warm" in said("H7", "p6", **warm)
    assert "lets-go-warm" in said("H7", "p6", temperature="22.0 °C", hole_metal="aluminium")
    assert "lets-go-warm" not in said("H7", "s6", temperature="40 °C", hole_metal="aluminium")
    cold = {"shaft_metal": "aluminium", "hole_metal": "iron"}
    assert "seizes-warm" in said("H7", "g6", temperature="40 °C", **cold)  # loses 12.5 of 9
    assert "seizes-warm" not in said("H7", "g6", temperature="30 °C", **cold)


def test_pin_fits_whatever_comes() -> None:
    """Any pin of the class in any slip hole of the limits has the clearance asked for."""
    for size in ("4 mm", "8 mm", "10 mm", "16 mm"):
        got = results(dowel_pin_holes, size=size)
        assert got["slip_from"] - got["pin_to"] == pytest.approx(0.030)
        assert got["slip_to"] - got["pin_from"] == pytest.approx(0.060)
        assert got["tight_least"] == pytest.approx(1000 * (got["pin_from"] - got["press_to"]))
        assert got["tight_most"] == pytest.approx(1000 * (got["pin_to"] - got["press_from"]))


def test_force_on_a_pin_is_that_of_a_thick_wall() -> None:
    """Lamé's ring 50 times as wide as its bore, solved as a linear system of displacements."""
    d, tight, wide = 8.0, 0.039, 400.0
    e_b, v_b, e_p, v_p = 110_000, 0.26, 206_000, 0.30  # grey iron, steel
    ri, ro = d / 2, wide / 2

    # Unknowns A, B of the block (u = A r + B/r) and C of the pin (u = C r).
    def stress(e: float, v: float, r: float) -> tuple[float, float]:
        return e / (1 - v), -e / (1 + v) / r**2

    system = np.array([
        [*stress(e_b, v_b, ro), 0],
        [*stress(e_b, v_b, ri), -e_p / (1 - v_p)],
        [ri, 1 / ri, -ri],
    ])  # fmt: skip
    a, b, _ = np.linalg.solve(system, [0, 0, tight / 2])
    pressure = -float(np.dot(stress(e_b, v_b, ri), (a, b)))
    got = results(dowel_pin_holes, block="iron", length="14 mm", friction="0.15")
    force = 0.15 * pressure * math.pi * d * 14 / 1000
    assert got["force"] == pytest.approx(force, rel=1e-3)


def test_findings_of_pins() -> None:
    """Loose, perhaps loose, oversize, slip hole without width, odd sizes."""
    assert "may-be-loose" not in codes(dowel_pin_holes, press="P7")
    assert "may-be-loose" in codes(dowel_pin_holes, press="H7")
    assert codes(dowel_pin_holes, press="H7", measured="8.0000 mm")["loose-pin"] == "stop"
    assert "loose-pin" not in codes(dowel_pin_holes, press="H7", measured="8.0005 mm")
    assert "slip-empty" in codes(dowel_pin_holes, room="0.030 … 0.0385 mm")
    assert "slip-empty" not in codes(dowel_pin_holes, room="0.030 … 0.0395 mm")
    assert "pin-out" in codes(dowel_pin_holes, measured="8.0055 mm")
    assert "pin-out" not in codes(dowel_pin_holes, measured="8.0065 mm")
    assert "size-not-listed" in codes(dowel_pin_holes, size="7 mm")
    assert "oversize" not in codes(dowel_pin_holes)
    assert "hardened" not in codes(dowel_pin_holes, pin_class="m6")


@pytest.mark.parametrize(
    ("worn", "pin"), [("7.90 mm", 8.0), ("8.00 mm", 8.1), ("8.03 mm", 8.1), ("8.04 mm", 8.2)]
)
def test_first_oversize_that_cleans_up(worn: str, pin: float) -> None:
    """8.1 P7 begins at 8.076: with 0.04 mm to clean up it takes holes to 8.036 mm."""
    assert results(dowel_pin_holes, worn=worn)["pin_from"] == pytest.approx(pin + 0.006)


def test_refusals_and_drawings() -> None:
    """A band without width, another pin, and pictures in both systems."""
    for entries, name in (({"room": "0.04 mm"}, "room"), ({"measured": "9 mm"}, "measured")):
        assert evaluate(dowel_pin_holes, entries)["entries"][name]["error"]
    for calculator in (limits_and_fit, dowel_pin_holes):
        for units in ("si", "us"):
            assert evaluate(calculator, {}, units)["drawings"][0]["svg"].startswith("<svg")
    for classes in (["F11", "s5"], ["S7", "f7"], ["JS5", "js11"]):
        assert evaluate(limits_and_fit, {"classes": [classes], "size": "400 mm"})["drawings"]
