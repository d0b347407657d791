"""How long until it holds: Arrhenius, factors and findings by independent routes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants
from scipy.interpolate import PchipInterpolator

from calculators.cure_findings import ACTIVE, SLOW
from calculators.threadlocker_cure import threadlocker_cure
from witnessmark.calc import evaluate

MANY = settings(max_examples=20, deadline=None, derandomize=True)
PLAIN = {"bench": "22 °C ± 0 K", "gap": "94 µm"}
SHEET = (("0.5 h", "20 %"), ("2 h", "60 %"), ("6 h", "80 %"), ("24 h", "98 %"))


def outcome(units: str = "si", **entries: Any) -> dict[str, Any]:
    """The whole outcome of a case that can be read."""
    found = evaluate(threadlocker_cure, entries, units)
    assert found["complete"], found["entries"]
    return found


def results(units: str = "si", **entries: Any) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome(units, **entries)["results"]}


def value(name: str, **entries: Any) -> float:
    """The number of a result in its own unit."""
    return float(results(**entries)[name]["value"])


def codes(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {finding["code"]: finding["level"] for finding in outcome(**entries)["findings"]}


def error(name: str, **entries: Any) -> str:
    """The message with which an entry is refused."""
    part = evaluate(threadlocker_cure, entries)["entries"][name]["error"]
    assert part is not None
    return str(part["message"])


@MANY
@given(st.floats(0, 45), st.floats(12, 35), st.floats(30, 100))
def test_temperature_acts_by_arrhenius(bench: float, reference: float, energy: float) -> None:
    """The factor is the ratio of exp(-Ea/RT) with the gas constant of scipy."""
    rate = [
        math.exp(-energy * 1e3 / (constants.R * constants.convert_temperature(t, "C", "K")))
        for t in (reference, bench)
    ]
    found = value(
        "slower", bench=f"{bench:.9f} °C", reference=f"{reference:.9f} °C",
        activation=f"{energy:.9f} kJ/mol", gap="94 µm",
    )  # fmt: skip
    assert found == pytest.approx(rate[0] / rate[1], rel=1e-7)


@pytest.mark.parametrize(("energy", "factor"), [("45 kJ/mol", 3.07), ("65 kJ/mol", 5.05)])
def test_range_of_activation_energy_at_5_degrees(energy: str, factor: float) -> None:
    """45 to 65 kJ/mol spreads the factor at 5 °C from 3.07 to 5.05."""
    rate = float(energy.split()[0]) * 1e3 / constants.R * (1 / 278.15 - 1 / 295.15)
    found = value("slower", bench="5 °C", gap="94 µm", activation=energy)
    assert found == pytest.approx(math.exp(rate), rel=1e-9)
    assert found == pytest.approx(factor, abs=0.005)


@MANY
@given(st.floats(0.05, 200))
def test_at_reference_with_unit_factors_the_sheet_holds(hours: float) -> None:
    """t_eq = t: the strength is that of the curve, the factor 1."""
    found = results(**PLAIN, elapsed=f"{hours:.9f} h", points=SHEET)
    assert found["slower"]["value"] == pytest.approx(1.0, rel=1e-12)
    times = np.log([0.5, 2, 6, 24])
    if 0.5 <= hours <= 24:
        expected = 100 * float(PchipInterpolator(times, [0.2, 0.6, 0.8, 0.98])(math.log(hours)))
        assert found["strength"]["value"] == pytest.approx(expected, abs=1e-6)
    if hours > 24:
        assert found["strength"]["value"] == pytest.approx(98)


def test_curve_passes_every_point_of_the_sheet() -> None:
    """Each row is given back."""
    for time, strength in SHEET:
        found = value("strength", **PLAIN, points=SHEET, elapsed=time)
        assert found == pytest.approx(float(strength.split()[0]), abs=1e-9)


@MANY
@given(st.lists(st.floats(0.5, 44.5), min_size=2, max_size=2, unique=True))
def test_colder_is_slower(pair: list[float]) -> None:
    """The colder bench takes longer and has less strength so far."""
    cold, warm = sorted(pair)
    there = results(bench=f"{cold:.9f} °C")
    here = results(bench=f"{warm:.9f} °C")
    assert there["full"]["value"] >= here["full"]["value"]
    assert there["handling"]["value"] >= here["handling"]["value"]
    assert there["strength"]["value"] <= here["strength"]["value"]


@MANY
@given(st.floats(0, 300), st.floats(0, 300))
def test_strength_rises_with_time(first: float, second: float) -> None:
    """Within 0 and 100 % and never falling."""
    early, late = sorted((first, second))
    a = value("strength", elapsed=f"{early:.9f} h")
    b = value("strength", elapsed=f"{late:.9f} h")
    assert 0 <= a <= b <= 100


def test_times_lead_back_to_their_strengths() -> None:
    """Waiting for the stated times gives 95 % and the handling strength."""
    found = results(second="zinc")
    at_full = value("strength", second="zinc", elapsed=f"{found['full']['value']:.12g} h")
    at_handling = value("strength", second="zinc", elapsed=f"{found['handling']['value']:.12g} min")
    assert at_full == pytest.approx(95, abs=1e-6)
    assert at_handling == pytest.approx(20, abs=1e-6)


@MANY
@given(st.floats(20, 400), st.floats(20, 400), st.floats(0, 2))
def test_gap_acts_by_its_power(gap: float, reference: float, exponent: float) -> None:
    """(g / g_ref)^k, nothing at k = 0."""
    found = value(
        "slower", bench="22 °C", gap=f"{gap:.6f} µm", reference_gap=f"{reference:.6f} µm",
        gap_exponent=f"{exponent:.6f}",
    )  # fmt: skip
    assert found == pytest.approx((gap / reference) ** exponent, rel=1e-4)
    flat = value("slower", bench="22 °C", gap=f"{gap:.6f} µm", gap_exponent="0")
    assert flat == pytest.approx(1.0)


@pytest.mark.parametrize("first", [*ACTIVE, *SLOW])
@pytest.mark.parametrize("second", ["steel", "stainless"])
def test_the_less_active_metal_governs(first: str, second: str) -> None:
    """One slow metal is enough, and two are no slower than one."""
    found = results(**PLAIN, first=first, second=second, slow_factor="6")
    slow = first in SLOW or second in SLOW
    assert found["slower"]["value"] == pytest.approx(6.0 if slow else 1.0)
    assert (found["governs"]["text"] in SLOW.values()) is slow


def test_primer_shortens_and_weakens() -> None:
    """0.2 of the time; a quarter of the strength gone for good."""
    entries = {**PLAIN, "primer": "primed", "primer_factor": "0.2", "primer_cost": "25 %"}
    without, primed = results(**PLAIN), results(**entries)
    assert primed["slower"]["value"] == pytest.approx(0.2)
    assert primed["full"]["value"] == pytest.approx(0.2 * without["full"]["value"])
    late = value("strength", **entries, elapsed="5000 h")
    assert late == pytest.approx(75, abs=0.01)
    # 20 % of full strength is 26.7 % of what it will reach.
    need = value("handling", **{**PLAIN, "handle_at": f"{20 / 0.75:.12f} %"})
    assert primed["handling"]["value"] == pytest.approx(0.2 * need)


def test_activation_energy_from_a_second_temperature() -> None:
    """The law taken backwards gives the times it was made from."""
    entries = {"energy_by": "sheet", "other": "5 °C", "times": "4", "gap": "94 µm"}
    assert value("slower", **entries, bench="5 °C") == pytest.approx(4.0)
    assert value("slower", **entries, bench="22 °C") == pytest.approx(1.0)


def test_bands_are_wide_and_name_what_drives_them() -> None:
    """On a slow metal the metal's factor drives the time, from a seventh of the longest."""
    band = results(first="stainless")["full"]["band"]
    assert band["worst"]["high"] / band["worst"]["low"] > 20 / 3
    assert band["drivers"][0]["entry"] == "slow_factor"


def test_band_of_the_cold_bench_is_the_range_of_activation_energy() -> None:
    """At 5 °C ± 0 with 45 … 65 kJ/mol the full time spreads as 3.07 to 5.05."""
    band = results(bench="5 °C ± 0 K", gap="94 µm")["full"]["band"]["worst"]
    assert band["high"] / band["low"] == pytest.approx(5.0467 / 3.0679, rel=1e-3)


@pytest.mark.parametrize(
    ("entries", "code", "level"),
    [
        ({"surface": "oily"}, "oil", "caution"),
        ({"surface": "antiseize"}, "anti-seize", "stop"),
        ({"moved": "yes"}, "moved", "stop"),
        ({"bench": "4.9 °C"}, "cold", "caution"),
        ({"first": "zinc"}, "slow-metal", "caution"),
        ({"first": "zinc"}, "mixed-metals", "note"),
        ({"primer": "primed"}, "primer", "caution"),
        ({"elapsed": "10 min"}, "leave-alone", "caution"),
        ({"elapsed": "24 h"}, "not-full", "caution"),
        ({}, "past-last-point", "note"),
    ],
)
def test_finding_is_raised(entries: dict[str, str], code: str, level: str) -> None:
    """Each condition raises its finding at its level."""
    assert codes(**entries)[code] == level


@pytest.mark.parametrize(
    ("entries", "code"),
    [
        ({}, "oil"),
        ({}, "anti-seize"),
        ({}, "moved"),
        ({"bench": "5 °C"}, "cold"),
        ({}, "slow-metal"),
        ({"first": "zinc", "primer": "primed"}, "slow-metal"),
        ({"first": "zinc", "second": "zinc"}, "mixed-metals"),
        ({"first": "copper"}, "mixed-metals"),
        ({}, "primer"),
        ({"elapsed": "2 h"}, "leave-alone"),
        ({"elapsed": "2 h", "bench": "0 °C", "first": "zinc"}, "not-full"),
        ({"elapsed": "200 h"}, "not-full"),
        ({"points": SHEET}, "past-last-point"),
        ({"points": (("2 h", "50 %"), ("60 h", "96 %"))}, "past-last-point"),
    ],
)
def test_finding_is_not_raised(entries: dict[str, Any], code: str) -> None:
    """On the other side of each condition it is quiet."""
    assert code not in codes(**entries)


@pytest.mark.parametrize(
    "rows",
    [
        (("2 h", "50 %"), ("24 h", "50 %")),
        (("2 h", "50 %"), ("2 h", "60 %")),
        (("2 h", "50 %"), ("24 h", "100 %")),
        (("1 h", "20 %"), ("2 h", "50 %"), ("24 h", "94 %")),
        (("2 h", "50 %"),),
        (("2 h", "0.5"), ("24 h", "90 %")),
        (("2 kg", "50 %"), ("24 h", "90 %")),
    ],
)
def test_odd_points_are_refused(rows: tuple[tuple[str, str], ...]) -> None:
    """With a message at the table."""
    assert error("points", points=rows)


def test_rows_may_stand_in_any_order() -> None:
    """The order of the rows is no matter."""
    assert value("full", points=SHEET[::-1]) == value("full", points=SHEET)


@pytest.mark.parametrize(
    ("entries", "name"),
    [
        ({"energy_by": "sheet", "other": "20 °C", "times": "4"}, "other"),
        ({"energy_by": "sheet", "other": "5 °C", "times": "0.5"}, "times"),
        ({"energy_by": "sheet", "other": "35 °C", "times": "2"}, "times"),
        ({"primer": "primed", "primer_cost": "60 %", "handle_at": "50 %"}, "handle_at"),
        ({"bench": "-1 °C"}, "bench"),
        ({"bench": "46 °C"}, "bench"),
        ({"activation": "10 kJ/mol"}, "activation"),
        ({"gap_exponent": "2.1"}, "gap_exponent"),
        ({"elapsed": "-1 h"}, "elapsed"),
    ],
)
def test_contradictions_are_refused(entries: dict[str, str], name: str) -> None:
    """At the entry to mend."""
    assert error(name, **entries)


def test_time_is_shown_as_a_fitter_reads_it() -> None:
    """Two figures: about 41 h at the data sheet's own temperature."""
    assert results(**PLAIN)["full"]["display"] == "41\u202fh"


def test_nothing_left_to_wait() -> None:
    """After the full time the remaining time is nought, not below."""
    assert value("remaining", elapsed="3000 h") == 0


def test_us_units() -> None:
    """Fahrenheit is read and gives the same times."""
    si, us = results(bench="5 °C"), results("us", bench="41 °F")
    assert us["full"]["value"] == pytest.approx(si["full"]["value"], rel=1e-9)
    assert us["full"]["unit_text"] == "h"
    text = next(f["text"] for f in outcome("us", bench="39 °F")["findings"] if f["code"] == "cold")
    assert "41" in text
    assert "°F" in text


@pytest.mark.parametrize(
    "entries",
    [
        {},
        {"elapsed": "0 h"},
        {"elapsed": "5000 h"},
        {"bench": "0 °C", "first": "titanium", "slow_factor": "50"},
        {"points": SHEET, "primer": "primed"},
    ],
)
def test_chart_stands_for_extreme_entries(entries: dict[str, Any]) -> None:
    """The chart comes and names both temperatures."""
    svg = outcome(**entries)["drawings"][0]["svg"]
    assert svg.startswith("<svg")
    assert "here, " in svg
