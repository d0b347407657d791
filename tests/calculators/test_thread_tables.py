"""Thread forms, classes and spanner sizes against the printed tables of their standards."""

from __future__ import annotations

import math

import pytest

from calculators import fastener_classes as classes
from calculators import spanner_sizes as sizes
from calculators.thread_form import INCH, ThreadForm
from calculators.thread_gap import THREADS as GAP_THREADS
from calculators.thread_sizes import (
    COARSE,
    METRIC,
    PITCHES_OF,
    THREADS,
    UNIFIED,
    inches,
    is_standard,
    look_alikes,
)

# ISO 724: d2 and D1; ISO 68-1: d3 = d - 1.226869 P; ISO 898-1 tables 4 to 7: As to three figures
# and proof loads in kN for 8.8, 10.9 and 12.9. From memory beyond the cells named in
# PRINTED_PROOF; the standard rounds some loads up, so 0.5 % is allowed.
PRINTED = {
    "M5x0.8": (4.480, 4.019, 4.134, 14.2, 8.24, 11.8, 13.8),
    "M6x1": (5.350, 4.773, 4.917, 20.1, 11.7, 16.7, 19.5),
    "M8x1.25": (7.188, 6.466, 6.647, 36.6, 21.2, 30.4, 35.5),
    "M8x1": (7.350, 6.773, 6.917, 39.2, 22.7, 32.5, 38.0),
    "M10x1.5": (9.026, 8.160, 8.376, 58.0, 33.6, 48.1, 56.3),
    "M10x1.25": (9.188, 8.466, 8.647, 61.2, 35.5, 50.8, 59.4),
    "M10x1": (9.350, 8.773, 8.917, 64.5, 37.4, 53.5, 62.6),
    "M12x1.75": (10.863, 9.853, 10.106, 84.3, 48.9, 70.0, 81.8),
    "M12x1.5": (11.026, 10.160, 10.376, 88.1, 51.1, 73.1, 85.5),
    "M12x1.25": (11.188, 10.466, 10.647, 92.1, 53.4, 76.4, 89.3),
    "M14x2": (12.701, 11.546, 11.835, 115, 66.7, 95.4, 112),
    "M14x1.5": (13.026, 12.160, 12.376, 125, 72.5, 104, 121),
    "M16x2": (14.701, 13.546, 13.835, 157, 91.1, 130, 152),
    "M16x1.5": (15.026, 14.160, 14.376, 167, 96.9, 139, 162),
    "M18x2.5": (16.376, 14.933, 15.294, 192, 115, 159, 186),
    "M18x1.5": (17.026, 16.160, 16.376, 216, 130, 179, 210),
    "M20x2.5": (18.376, 16.933, 17.294, 245, 147, 203, 238),
    "M20x1.5": (19.026, 18.160, 18.376, 272, 163, 226, 264),
    "M22x2.5": (20.376, 18.933, 19.294, 303, 182, 251, 294),
    "M22x1.5": (21.026, 20.160, 20.376, 333, 200, 276, 323),
    "M24x3": (22.051, 20.319, 20.752, 353, 212, 293, 342),
    "M24x2": (22.701, 21.546, 21.835, 384, 230, 319, 372),
    "M27x3": (25.051, 23.319, 23.752, 459, 275, 381, 445),
    "M27x2": (25.701, 24.546, 24.835, 496, 298, 412, 481),
    "M30x3.5": (27.727, 25.706, 26.211, 561, 337, 466, 544),
    "M30x2": (28.701, 27.546, 27.835, 621, 373, 515, 602),
    "M33x3.5": (30.727, 28.706, 29.211, 694, 416, 576, 673),
    "M33x2": (31.701, 30.546, 30.835, 761, 457, 632, 738),
    "M36x4": (33.402, 31.093, 31.670, 817, 490, 678, 792),
    "M36x3": (34.051, 32.319, 32.752, 865, 519, 718, 839),
    "M39x4": (36.402, 34.093, 34.670, 976, 586, 810, 947),
}

# ISO 898-1 tables of proof loads as read: N.
PRINTED_PROOF = [
    ("M16x2", "8.8", 91_000), ("M18x2.5", "8.8", 115_000), ("M24x3", "10.9", 293_000),
    ("M10x1.5", "12.9", 56_300), ("M10x1.5", "8.8", 33_700),
]  # fmt: skip

# ASME B1.1 table of tensile stress areas in in², to three or four figures.
PRINTED_INCH = {
    "1/4-20": 0.0318, "1/4-28": 0.0364, "5/16-18": 0.0524, "5/16-24": 0.0581, "3/8-16": 0.0775,
    "3/8-24": 0.0878, "7/16-14": 0.1063, "7/16-20": 0.1187, "1/2-13": 0.1419, "1/2-20": 0.160,
    "9/16-12": 0.182, "9/16-18": 0.203, "5/8-11": 0.226, "5/8-18": 0.256, "3/4-10": 0.334,
    "3/4-16": 0.373, "7/8-9": 0.462, "7/8-14": 0.509, "1-8": 0.606, "1-12": 0.663,
    "1-1/8-7": 0.763, "1-1/8-12": 0.856, "1-1/4-7": 0.969, "1-1/4-12": 1.073, "1-1/2-6": 1.405,
    "1-1/2-12": 1.581,
}  # fmt: skip

# SAE J429 table of proof loads, kip, coarse threads.
PRINTED_GRADES = [
    ("1/4-20", "grade 5", 2.7), ("1/4-20", "grade 8", 3.8), ("5/16-18", "grade 5", 4.45),
    ("5/16-18", "grade 8", 6.3), ("3/8-16", "grade 5", 6.6), ("3/8-16", "grade 8", 9.3),
    ("1/2-13", "grade 5", 12.1), ("1/2-13", "grade 8", 17.0),
]  # fmt: skip


def three_figures(value: float) -> float:
    """Rounded as ISO 898-1 prints stress areas."""
    return float(f"{value:.3g}")


@pytest.mark.parametrize("name", PRINTED)
def test_metric_threads(name: str) -> None:
    """Diameters to a micrometre, stress area to three figures, proof loads within 0.5 % of it."""
    form, (d2, d3, bore, area, *loads) = THREADS[name], PRINTED[name]
    assert (form.d2, form.d3, form.nut_bore) == pytest.approx((d2, d3, bore), abs=6e-4)
    assert three_figures(form.stress_area) == area
    for mark, load in zip(("8.8", "10.9", "12.9"), loads, strict=True):
        proof = classes.CLASSES[mark].strength(form.d).proof
        assert 1e-3 * proof * three_figures(form.stress_area) == pytest.approx(load, rel=5e-3)


@pytest.mark.parametrize(("name", "mark", "load"), PRINTED_PROOF)
def test_proof_loads_as_printed(name: str, mark: str, load: float) -> None:
    """ISO 898-1 prints 33 700 N for M10 of 8.8 where area times stress is 33 640 N."""
    form = THREADS[name]
    stress = classes.CLASSES[mark].strength(form.d).proof
    assert stress * form.stress_area == pytest.approx(load, rel=5e-3)


@pytest.mark.parametrize("name", PRINTED_INCH)
def test_inch_areas(name: str) -> None:
    """ASME B1.1, to the figures printed."""
    printed = PRINTED_INCH[name]
    area = UNIFIED[name].stress_area / INCH**2
    assert area == pytest.approx(printed, abs=6e-4 if printed > 0.15 else 6e-5)


def test_the_metric_constant_is_wrong_for_inch_threads() -> None:
    """1/2-13 would come out with 0.1438 in² instead of 0.1419 in²."""
    inch = UNIFIED["1/2-13"]
    metric = ThreadForm("as metric", inch.d, inch.pitch)
    assert metric.stress_area / INCH**2 == pytest.approx(0.1438, abs=5e-5)
    assert inch.stress_area / INCH**2 == pytest.approx(0.1419, abs=5e-5)


@pytest.mark.parametrize(("name", "grade", "kip"), PRINTED_GRADES)
def test_grades(name: str, grade: str, kip: float) -> None:
    """SAE J429 within the rounding of its table."""
    form = UNIFIED[name]
    load = classes.CLASSES[grade].strength(form.d).proof * form.stress_area
    assert load / 4448.2216152605 == pytest.approx(kip, abs=0.07)


@pytest.mark.parametrize("name", THREADS)
def test_diameters_stand_in_order(name: str) -> None:
    """Nominal > d2 > D1 > d3; the stress area lies between those of d3 and d2."""
    form = THREADS[name]
    assert form.d > form.d2 > form.nut_bore > form.d3
    assert math.pi / 4 * form.d3**2 < form.stress_area < math.pi / 4 * form.d2**2


def test_finer_pitch_has_more_area() -> None:
    """At one diameter the fine thread is the stronger one."""
    for d, pitches in PITCHES_OF.items():
        areas = [METRIC[f"M{d:g}x{pitch:g}"].stress_area for pitch in sorted(pitches)]
        assert areas == sorted(areas, reverse=True)


def test_strengths_rise() -> None:
    """Proof below yield below tensile, in every class and at every diameter."""
    for of in classes.CLASSES.values():
        for _, strength in of.steps:
            assert strength.proof < strength.yields < strength.tensile


def test_the_boundary_of_8_8_belongs_to_the_lower_group() -> None:
    """16 mm: 580, above: 600 (ISO 898-1 table 3)."""
    of = classes.CLASSES["8.8"]
    assert [of.strength(d).proof for d in (5, 16, 16.001, 18, 39)] == [580, 580, 600, 600, 600]
    grade = classes.CLASSES["grade 5"]
    assert [round(grade.strength(25.4 * d).proof / classes.KSI) for d in (1, 1.001, 1.5)] == [
        85, 74, 74,
    ]  # fmt: skip


def test_no_mark_is_the_weakest() -> None:
    """A fastener without a mark counts as the class with the least strength."""
    for unified in (False, True):
        weakest = classes.class_of(classes.UNKNOWN, unified).strength(10).tensile
        assert weakest == min(
            of.strength(10).tensile for of in classes.CLASSES.values() if of.unified is unified
        )


def test_every_gap_thread_is_a_thread() -> None:
    """The tolerances of ``thread_gap`` are for threads that the size table knows."""
    assert set(GAP_THREADS) <= set(METRIC)
    for name, size in GAP_THREADS.items():
        assert size.d2 == pytest.approx(METRIC[name].d2, abs=1e-6)


def test_look_alikes() -> None:
    """The pairs that the trade warns of: M10 and 3/8, M12 and 7/16 or 1/2, and own pitches."""
    names = {name: [other.name for other in look_alikes(THREADS[name], 9)] for name in THREADS}
    assert {"M10x1.25", "M10x1", "3/8-16"} <= set(names["M10x1.5"])
    assert {"M12x1.75", "M12x1.5", "1/2-13", "7/16-14"} <= set(names["M12x1.25"])
    assert "M30x1.5" in names["M30x2"]
    assert all(name not in alike for name, alike in names.items())


def test_standard_pairs() -> None:
    """A pair outside the table is told."""
    assert is_standard(30, 2)
    assert not is_standard(30, 1.25)
    assert is_standard(12.7, 25.4 / 13)


def test_spanner_sizes() -> None:
    """Flats rise with the diameter; older widths differ; a washer face fits between."""
    flats = [sizes.ACROSS_FLATS[d] for d in COARSE]
    assert flats == sorted(flats)
    assert all(sizes.ACROSS_FLATS[d] != old for d, old in sizes.OLDER.items())
    for d, face in sizes.WASHER_FACE.items():
        assert d < sizes.CLEARANCE_HOLE[d] < face < sizes.ACROSS_FLATS[d]
    assert sizes.spanner(12.7) == "3/4 in"
    assert sizes.spanner(12.0) == "18 mm; older heads 19 mm"
    assert sizes.spanner(30.0) == "46 mm"
    assert sizes.spanner(13.0) == "measure it"
    assert inches("1-1/8") == 1.125
