"""A running lip seal: speed, friction and limits by independent routes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calculators.lip_seal import lip_seal_running
from calculators.lip_seal_tables import ELASTOMERS
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)


def outcome(units: str = "si", **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(lip_seal_running, entries, units)
    assert found["complete"], found["entries"]
    return found


def drawn(units: str = "si", **entries: Any) -> list[str]:
    """The drawings of a case, as SVG."""
    return [part["svg"] for part in evaluate(lip_seal_running, entries, units)["drawings"]]


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
    part = evaluate(lip_seal_running, entries)["entries"][name]["error"]
    assert part is not None
    return str(part["message"])


@MANY
@given(st.floats(6, 400), st.floats(1, 8000))
def test_lip_speed_is_the_derivative_of_the_way(d: float, n: float) -> None:
    """Differentiating a point on the land along its turn gives the lip speed."""
    omega, step = 2 * math.pi * n / 60, 1e-6

    def place(t: float) -> np.ndarray:
        return d / 2000 * np.array([math.cos(omega * t), math.sin(omega * t)])

    by_difference = np.linalg.norm(place(step) - place(-step)) / (2 * step)
    found = value("lip_speed", shaft=f"{d!r} mm", speed=f"{n!r} r/min")
    assert found == pytest.approx(by_difference, rel=1e-6)


def test_lip_speed_is_linear() -> None:
    """Twice the diameter or twice the speed, twice the lip speed."""
    one = value("lip_speed", shaft="60 mm", speed="1500 r/min")
    assert value("lip_speed", shaft="120 mm", speed="1500 r/min") == pytest.approx(2 * one)
    assert value("lip_speed", shaft="60 mm", speed="3000 r/min") == pytest.approx(2 * one)


@MANY
@given(st.floats(6, 400), st.floats(1, 8000), st.floats(0.05, 0.5), st.floats(0.05, 0.9))
def test_friction_summed_round_the_lip(d: float, n: float, load: float, mu: float) -> None:
    """Friction of each piece of the lip times its lever, summed round; loss is force times way."""
    torque, _ = quad(lambda _: load * d / 2 * mu * d / 2, 0, 2 * math.pi)
    given_ = {
        "shaft": f"{d!r} mm", "speed": f"{n!r} r/min", "line_load": f"{load!r} N/mm ± 0 N/mm",
        "friction": f"{mu!r} ± 0",
    }  # fmt: skip
    got = results(**given_)
    assert got["friction_torque"]["value"] == pytest.approx(torque / 1000, rel=1e-9)
    force = mu * load * math.pi * d
    assert got["loss"]["value"] == pytest.approx(force * got["lip_speed"]["value"], rel=1e-9)


def test_friction_has_a_band_and_the_speed_none() -> None:
    """Line load and friction are known within wide limits: 0.08…0.20 N/mm and 0.2…0.5."""
    got = results(shaft="70 mm", speed="6000 r/min")
    corner = math.pi * 70 * 35 / 1000
    worst = got["friction_torque"]["band"]["worst"]
    assert worst["low"] == pytest.approx(0.08 * 0.2 * corner)
    assert worst["high"] == pytest.approx(0.20 * 0.5 * corner)
    assert got["lip_speed"]["band"] is None


def at_lip_speed(v: float) -> dict[str, str]:
    """Entries for a lip speed in m/s on a shaft of 100 mm."""
    return {"shaft": "100 mm", "speed": f"{v * 60000 / math.pi / 100:.9f} r/min"}


@pytest.mark.parametrize("elastomer", sorted(set(ELASTOMERS) - {"PTFE"}))
def test_speed_findings_step_up_at_each_limit(elastomer: str) -> None:
    """Nothing, near, between makers, over: each begins at its own speed."""
    item = ELASTOMERS[elastomer]
    speeds = {"speed-near-limit", "speed-between-limits", "speed-over-limit"}
    for v, expected in (
        (0.79 * item.safe, set()),
        (0.81 * item.safe, {"speed-near-limit"}),
        (0.999 * item.safe, {"speed-near-limit"}),
        (1.001 * item.safe, {"speed-between-limits"}),
        (0.999 * item.utmost, {"speed-between-limits"}),
        (1.001 * item.utmost, {"speed-over-limit"}),
    ):
        assert speeds & codes(elastomer=elastomer, **at_lip_speed(v)).keys() == expected, v


@pytest.mark.parametrize("lip", ["dust", "poor"])
def test_a_dust_lip_or_little_oil_halves_the_limit(lip: str) -> None:
    """Half of 12 m/s for nitrile; over half of 14 m/s it stops."""
    assert value("speed_limit", lip=lip) == pytest.approx(6)
    assert codes(lip=lip, **at_lip_speed(7.01))["speed-over-limit"] == "stop"
    assert "speed-over-limit" not in codes(lip=lip, **at_lip_speed(6.99))
    assert "speed-over-limit" not in codes(lip="oil", **at_lip_speed(7.01))


def test_the_makers_speed_wins() -> None:
    """The maker's limit is not halved and has no range."""
    given_ = {"speed_limit": "16 m/s", "lip": "dust"}
    assert value("speed_limit", **given_) == pytest.approx(16)
    assert "speed-over-limit" not in codes(**given_, **at_lip_speed(15.99))
    assert codes(**given_, **at_lip_speed(16.01))["speed-over-limit"] == "stop"


def test_runout_findings_on_both_sides() -> None:
    """At 3000 r/min 0.15 mm is allowed: near within 0.02 mm, over beyond."""
    speed = {"speed": "3000 r/min"}
    assert not {"runout-near", "runout-over"} & codes(runout="0.13 mm", **speed).keys()
    assert codes(runout="0.14 mm", **speed)["runout-near"] == "caution"
    assert "runout-over" not in codes(runout="0.15 mm", **speed)
    assert codes(runout="0.151 mm", **speed)["runout-over"] == "stop"
    assert value("runout_reserve", runout="0.18 mm", **speed) == pytest.approx(-0.03)


def test_above_the_table_no_runout_is_made_up() -> None:
    """Above 6000 r/min there is no figure, unless the maker gives one."""
    case = {"speed": "6500 r/min", "elastomer": "FKM"}
    assert {"allowed_runout", "runout_reserve"} & results(**case).keys() == set()
    assert codes(**case)["runout-unknown"] == "caution"
    assert "runout-unknown" not in codes(runout_limit="0.08 mm", **case)
    assert codes(runout_limit="0.04 mm", **case)["runout-over"] == "stop"


def test_a_sweep_is_twice_the_offset() -> None:
    """Largest less least distance from an axis set off by e to a circle is 2 e."""
    e, angle = 0.07, np.linspace(0, 2 * math.pi, 3601)
    circle = np.hypot(47.5 * np.cos(angle) - e, 47.5 * np.sin(angle))
    sweep = float(circle.max() - circle.min())
    assert value("offset", offset_from="sweep", bore_sweep=f"{sweep!r} mm") == pytest.approx(e)
    assert value("offset", offset_from="offset", offset="0.07 mm") == pytest.approx(e)


def test_offset_and_total_findings() -> None:
    """Offset against its limit, and the sum of runout and offset against 0.25 mm and 0.4 mm."""
    slow = {"speed": "500 r/min", "offset_from": "offset", "shaft": "150 mm"}
    assert "offset-over" not in codes(offset="0.25 mm", **slow)
    assert codes(offset="0.26 mm", **slow)["offset-over"] == "stop"
    totals = {"total-high", "total-over"}
    assert totals & codes(offset="0.15 mm", runout="0.10 mm", **slow).keys() == set()
    assert totals & codes(offset="0.16 mm", runout="0.10 mm", **slow).keys() == {"total-high"}
    assert totals & codes(offset="0.20 mm", runout="0.20 mm", **slow).keys() == {"total-high"}
    assert totals & codes(offset="0.21 mm", runout="0.20 mm", **slow).keys() == {"total-over"}
    assert "offset-over" in codes(offset="0.11 mm", offset_limit="0.1 mm", **slow)


def test_land_findings() -> None:
    """Finish, hardness and diameter outside what is right, and nothing when inside."""
    land = {"finish-rough", "finish-smooth", "land-soft", "shaft-outside-h11"}
    good = {"finish": "0.4 µm", "hardness": "56", "shaft_measured": "74.9 mm"}
    assert land & codes(**good).keys() == set()
    assert "finish-rough" in codes(finish="0.81 µm")
    assert "finish-smooth" in codes(finish="0.19 µm")
    assert "land-soft" in codes(hardness="54")
    assert "land-soft" not in codes(hardness="46", speed="900 r/min")
    assert "land-soft" in codes(hardness="44", speed="900 r/min")
    assert "shaft-outside-h11" not in codes(shaft_measured="74.81 mm")
    assert "shaft-outside-h11" in codes(shaft_measured="74.80 mm")
    assert "shaft-outside-h11" in codes(shaft_measured="75.01 mm")


def test_measured_shaft_counts_for_speed() -> None:
    """The nominal size only chooses limits; the measured one is reckoned with."""
    assert value("lip_speed", shaft_measured="74 mm") == pytest.approx(math.pi * 74 * 2600 / 6e4)
    assert value("shaft_least", shaft_measured="74 mm") == pytest.approx(74.81)


def test_warmth_findings() -> None:
    """The lip is up to 50 K over the oil at 17.5 m/s; nitrile stands 100 °C."""
    fast = {"elastomer": "ACM", **at_lip_speed(17.5)}
    assert value("lip_temperature", oil_temperature="70 °C", **fast) == pytest.approx(120)
    assert "lip_temperature" not in results(**fast)
    warm = {"lip-too-hot", "oil-too-hot"}
    assert warm & codes(oil_temperature="79 °C", **fast).keys() == set()
    assert warm & codes(oil_temperature="81 °C", **fast).keys() == {"lip-too-hot"}
    assert warm & codes(oil_temperature="131 °C", **fast).keys() == {"oil-too-hot"}


def test_how_to_fit_it() -> None:
    """Rubber lips are oiled; PTFE follows its maker; a dust lip gets grease."""
    assert codes()["oil-the-lip"] == "caution"
    ptfe = codes(elastomer="PTFE")
    assert "oil-the-lip" not in ptfe
    assert ptfe["ptfe-lip"] == "note"
    assert "grease-the-dust-lip" in codes(lip="dust")
    makers = {"speed_limit": "14 m/s", "runout_limit": "0.1 mm", "offset_limit": "0.15 mm"}
    assert "limits-of-practice" in codes()
    assert "limits-of-practice" not in codes(**makers)


def test_refused_entries() -> None:
    """Outside what such seals are made for an entry is refused with its reason."""
    assert "6 mm to 400 mm" in error("shaft", shaft="5.9 mm")
    assert "a length is wanted" in error("shaft", shaft="75 kg")
    assert error("speed", speed="0 r/min")
    assert error("runout", runout="-0.01 mm")
    assert error("hardness", hardness="80")


def test_us_units() -> None:
    """Speed in feet a minute, runout in inches; the verdict is the same."""
    got = results("us", shaft="3 in", speed="2600 r/min")
    assert got["lip_speed"]["unit_text"] == "ft/min"
    assert float(got["lip_speed"]["number"]) == pytest.approx(math.pi * 0.25 * 2600, rel=5e-3)
    assert got["total"]["unit_text"] == "in"
    assert got["speed_share"]["unit_text"] == "%"
    chart = drawn("us")[1]
    assert "Runout, in" in chart
    assert "Runout, mm" in drawn()[1]


@pytest.mark.parametrize(
    "entries",
    [
        {"runout": "0 mm", "bore_sweep": "0 mm"}, {"runout": "2 mm", "bore_sweep": "6 mm"},
        {"shaft": "6 mm", "speed": "8000 r/min", "runout": "1 µm"},
        {"shaft": "400 mm", "speed": "1 r/min", "runout_limit": "0.1 mm"},
    ],
)  # fmt: skip
def test_drawings_stand_at_the_ends(entries: dict[str, str]) -> None:
    """Both drawings come out however small or large the entries are."""
    assert [svg[:4] for svg in drawn(**entries)] == ["<svg", "<svg"]


def test_exaggeration_is_told() -> None:
    """The section says how many times larger runout and offset are drawn."""
    svg = drawn(runout="0.05 mm", offset_from="offset", offset="0.06 mm")[0]
    assert "drawn 50 times as large" in svg
    assert "not to scale" in svg
