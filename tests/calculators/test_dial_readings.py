"""Dial readings: least squares and Fourier by numpy, geometry of circles, random readings."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calculators.bore_offset import bore_offset
from calculators.dial_clock import o_clock
from calculators.dial_fit import OneSidedError, fit, widest_gap
from calculators.face_runout import face_runout
from calculators.runout import runout
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import Calculator, evaluate

MANY = settings(max_examples=60, deadline=None, derandomize=True)
OFFSET, TURN = st.floats(0.001, 0.5), st.floats(0, 359.9)
ANGLES = st.lists(st.integers(0, 71), min_size=5, max_size=14, unique=True)
EIGHT = [45.0 * k for k in range(8)]
NOTED = [0.126, 0.135, 0.123, 0.103, 0.082, 0.065, 0.069, 0.097]


def wave(angles: Sequence[float], e: float, towards: float, k: int = 1) -> np.ndarray:
    """Readings of a pure wave."""
    return e * np.cos(k * np.radians(np.array(angles) - towards))


def rows(angles: Sequence[float], *values: Sequence[float]) -> list[list[str]]:
    """Rows of hour and readings in mm."""
    return [
        [f"{angle / 30:.9f}", *(f"{v:.9f} mm" for v in cells)]
        for angle, *cells in zip(angles, *values, strict=True)
    ]


def outcome(calculator: Calculator[Any, Any], **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(calculator, entries)
    assert found["complete"], found["entries"]
    return found


def results(calculator: Calculator[Any, Any], **entries: Any) -> dict[str, Any]:
    """Result name to its value, or its text."""
    return {
        part["name"]: part.get("value", part.get("text"))
        for part in outcome(calculator, **entries)["results"]
    }


def codes(calculator: Calculator[Any, Any], **entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {f["code"]: f["level"] for f in outcome(calculator, **entries)["findings"]}


def apart(first: float, second: float) -> float:
    """Between two directions, degrees."""
    return abs((first - second + 180) % 360 - 180)


@MANY
@given(ANGLES, OFFSET, TURN, st.floats(-20, 20), st.integers(0, 99))
def test_fit_is_that_of_numpy(
    steps: list[int], e: float, towards: float, mean: float, seed: int
) -> None:
    """Offset, direction, residuals and covariance at any hours: numpy's least squares."""
    angles = [5.0 * s for s in steps]
    assume(widest_gap([(a, 0) for a in angles]) < 250)
    turns = np.radians(angles)
    noise = np.random.default_rng(seed).normal(0, 0.003, len(angles))
    values = mean + wave(angles, e, towards) + noise
    x = np.column_stack([np.ones_like(turns), np.cos(turns), np.sin(turns)])
    (_, a, b), *_ = np.linalg.lstsq(x, values, rcond=None)
    left = values - x @ np.linalg.lstsq(x, values, rcond=None)[0]
    found = fit(list(zip(angles, values, strict=True)), 0.0001)
    assert found.offset == pytest.approx(math.hypot(a, b), abs=1e-9)
    assert apart(found.direction, math.degrees(math.atan2(b, a))) * found.offset < 1e-5
    assert np.allclose(found.residuals, left, atol=1e-9)
    s2 = max(left @ left / (len(angles) - 3), 0.0001**2 / 12)
    cov = s2 * np.linalg.inv(x.T @ x)
    unit = np.array([a, b]) / math.hypot(a, b)
    assert found.u_offset == pytest.approx(math.sqrt(unit @ cov[1:, 1:] @ unit), rel=1e-6)


def test_even_readings_against_the_fourier_transform() -> None:
    """Eight readings: first and second harmonic of numpy's transform."""
    waves = np.fft.rfft(NOTED) / 4
    found = fit(list(zip(EIGHT, NOTED, strict=True)), 0.001)
    assert found.offset == pytest.approx(abs(waves[1]))
    assert found.direction == pytest.approx(math.degrees(-cmath.phase(waves[1])) % 360)
    assert found.lobes[2] == pytest.approx(abs(waves[2]))
    assert found.lobes[3] == pytest.approx(abs(waves[3]))
    assert max(map(abs, found.residuals)) == pytest.approx(0.0043, abs=5e-5)


def test_off_centre_circle_has_an_oval_part() -> None:
    """Radius 60 mm, centre off by 0.5 mm: the true distances hold 1.0417 µm of two lobes."""
    angles = [10.0 * k for k in range(36)]
    phi = np.radians(angles)
    reach = 0.5 * np.cos(phi) + np.sqrt(60**2 - (0.5 * np.sin(phi)) ** 2)
    found = fit(list(zip(angles, reach, strict=True)), 0.001)
    assert found.offset == pytest.approx(0.5, abs=1e-5)
    assert found.lobes[2] == pytest.approx(0.5**2 / (4 * 60), rel=1e-3)


@MANY
@given(ANGLES, OFFSET, TURN, st.integers(1, 71), st.floats(-5, 5))
def test_turning_labels_and_shifting_readings(
    steps: list[int], e: float, towards: float, turned: int, shift: float
) -> None:
    """A pure wave comes back whole; a shift changes nothing, other chalk marks only the way."""
    angles = [5.0 * s for s in steps]
    assume(widest_gap([(a, 0) for a in angles]) < 180)
    values = wave(angles, e, towards)
    found = fit(list(zip(angles, values + shift, strict=True)), 0.001)
    again = fit([(a + 5 * turned, v) for a, v in zip(angles, values, strict=True)], 0.001)
    assert found.offset == pytest.approx(e, abs=1e-8)
    assert again.offset == pytest.approx(e, abs=1e-8)
    assert apart(found.direction, towards) * e < 1e-4
    assert apart(again.direction, towards + 5 * turned) * e < 1e-4
    assert found.form == pytest.approx(0, abs=1e-8)


def test_uncertainty_against_random_readings() -> None:
    """Eight readings with 0.0029 mm each: 0.0014 mm and 2.4° on an offset of 0.035 mm."""
    rng, u = np.random.default_rng(7), 0.01 / math.sqrt(12)
    x = np.column_stack([np.cos(np.radians(EIGHT)), np.sin(np.radians(EIGHT))]) / 4
    parts = (wave(EIGHT, 0.035, 50) + rng.normal(0, u, (50_000, 8))) @ x
    spread_e = np.hypot(*parts.T).std()
    spread_turn = np.degrees(np.arctan2(parts[:, 1], parts[:, 0])).std()
    found = fit(list(zip(EIGHT, wave(EIGHT, 0.035, 50), strict=True)), 0.01)
    assert found.u_offset == pytest.approx(float(spread_e), rel=0.02)
    assert math.degrees(found.u_direction) == pytest.approx(float(spread_turn), rel=0.02)
    assert (found.u_offset, math.degrees(found.u_direction)) == pytest.approx(
        (0.0014, 2.4), rel=0.04
    )


def test_small_offsets_are_not_believed() -> None:
    """True 0.005 mm with 0.003 mm of noise a component reads 0.0060 mm on average: say none."""
    rng = np.random.default_rng(11)
    mean = np.hypot(0.005 + rng.normal(0, 0.003, 100_000), rng.normal(0, 0.003, 100_000)).mean()
    assert mean == pytest.approx(0.0060, abs=1e-4)
    u = 0.01 / math.sqrt(12) / 2
    small, large = wave(EIGHT, 2.9 * u, 50), wave(EIGHT, 3.1 * u, 50)
    assert "no-offset" in codes(runout, readings=rows(EIGHT, small))
    assert "no-offset" not in codes(runout, readings=rows(EIGHT, large))


@MANY
@given(OFFSET, TURN, st.floats(-0.2, 0.2))
def test_sag_off_and_on_again(e: float, towards: float, bar: float) -> None:
    """A dial carried round with a sagging bracket: the bar test takes its share off whole."""
    sagging = wave(EIGHT, e, towards) + bar * (1 - np.cos(np.radians(EIGHT))) / 2
    got = results(bore_offset, readings=rows(EIGHT, sagging), sag=f"{bar:.9f} mm")
    assert got["offset"] == pytest.approx(e, abs=1e-6)
    if "direction" in got:
        assert apart(got["direction"], towards) * e < 1e-3


@MANY
@given(OFFSET, TURN)
def test_the_move_brings_shaft_and_bore_together(e: float, towards: float) -> None:
    """Distances of a true circle to a shaft off its middle; the move given makes them equal."""
    radius, psi = 60.0, math.radians(towards)
    bore = complex(e * math.cos(psi), e * math.sin(psi))  # middle of the bore from the shaft

    def room(angle: float, middle: complex) -> float:
        ray = cmath.rect(1, math.radians(angle))
        along = (middle * ray.conjugate()).real
        across = (middle * ray.conjugate()).imag
        return along + math.sqrt(radius**2 - across**2)

    readings = [-room(angle, bore) for angle in EIGHT]  # a near wall pushes the plunger in
    got = results(bore_offset, readings=rows(EIGHT, np.array(readings) - readings[0]))
    if "direction" not in got:
        return
    moved = bore + cmath.rect(got["offset"], math.radians(got["direction"]))
    assert abs(moved) < 2e-4 + 3e-3 * e


@MANY
@given(OFFSET, TURN, st.lists(st.floats(-0.2, 0.2), min_size=8, max_size=8))
def test_two_dials_cancel_any_float(e: float, towards: float, moves: list[float]) -> None:
    """Whatever the shaft does endwise, half the difference is the swash."""
    c, f = wave(EIGHT, e, towards), np.array(moves)
    got = results(face_runout, both=rows(EIGHT, f + c, f - c), radius="100 mm", at_radius="100 mm")
    assert got["swash"] == pytest.approx(2 * e, abs=1e-6)
    assert got["endwise"] == pytest.approx(max(moves) - min(moves), abs=1e-6)
    assert got["tilt"] == pytest.approx(math.degrees(math.atan(e / 100)), abs=1e-6)


@MANY
@given(OFFSET, TURN, st.floats(0, 0.5), st.integers(0, 11))
def test_share_of_the_shaft_is_a_vector(e: float, towards: float, total: float, hour: int) -> None:
    """The part's own total by complex numbers."""
    own = 2 * abs(
        cmath.rect(e, math.radians(towards)) - cmath.rect(total / 2, math.radians(30 * hour))
    )
    got = results(
        runout, readings=rows(EIGHT, wave(EIGHT, e, towards)), shaft="phased",
        shaft_total=f"{total:.9f} mm", shaft_hour=str(hour),
    )  # fmt: skip
    assert got["without_shaft"] == pytest.approx(own, abs=1e-6)


def test_dowel_nearest_to_the_offset() -> None:
    """The pin that leaves least, a plain dowel where that is better, and what 10° cost."""
    for e, pin in ((0.04, 0.0), (0.06, 0.1), (0.124, 0.1), (0.126, 0.15), (0.9, 0.3)):
        got = results(bore_offset, readings=rows(EIGHT, wave(EIGHT, e, 30)), division="0.001 mm")
        assert got["left"] == pytest.approx(abs(e - pin), abs=1e-6), e
        assert got["dowel"].startswith("plain" if pin == 0 else f"offset {pin}"), got["dowel"]
        if pin:
            wrong = abs(cmath.rect(e, 0) - cmath.rect(pin, math.radians(10)))
            assert got["turned_off"] == pytest.approx(wrong, abs=1e-6)


@pytest.mark.parametrize(
    ("angle", "hour"),
    [(0, "12 o'clock"), (358, "12 o'clock"), (30, "1 o'clock"), (50, "1:40 o'clock"),
     (7.6, "12:20 o'clock"), (270, "9 o'clock"), (356, "11:50 o'clock")],
)  # fmt: skip
def test_hours_of_the_clock(angle: float, hour: str) -> None:
    """Thirty degrees an hour, five degrees ten minutes."""
    assert o_clock(angle) == hour


def test_judgement_of_the_readings() -> None:
    """Every finding about readings on both sides of its threshold."""
    good = wave(EIGHT, 0.05, 40)
    turn = [*EIGHT, 360.0]
    for more, said in ((0.019, False), (0.021, True)):
        found = codes(runout, readings=rows(turn, [*good, good[0] + more]))
        assert ("does-not-repeat" in found) is said
    for angles, said in (([0, 60, 120, 180], False), ([0, 60, 120, 175], True)):
        found = codes(runout, readings=rows(angles, wave(angles, 0.05, 40)))
        assert ("one-sided" in found) is said
    quarters = [0, 90, 180, 270]
    for off, said in ((0.0049, False), (0.0051, True)):
        found = codes(runout, readings=rows(quarters, np.array([1, -1, 1, -1]) * off))
        assert ("quarters-disagree" in found) is said
    for share, said in ((0.29, False), (0.31, True)):
        lobed = wave(EIGHT, 0.1, 0) + wave(EIGHT, 0.1 * share, 0, 2)
        assert ("out-of-round" in codes(runout, readings=rows(EIGHT, lobed))) is said
    lobed = wave(EIGHT, 0.05, 0) + wave(EIGHT, 0.05, 0, 3)
    texts = [f["text"] for f in outcome(runout, readings=rows(EIGHT, lobed))["findings"]]
    assert any("three lobes" in text for text in texts)


def test_judgement_of_limits() -> None:
    """Clear, undecided and beyond, for the total, the offset of a bore and the swash."""

    def of_total(total: float) -> dict[str, str]:
        return codes(runout, readings=rows(EIGHT, wave(EIGHT, total / 2, 0)), limit="0.15 mm")

    both = {"runs-out", "runout-undecided"}
    assert [both & of_total(t).keys() for t in (0.139, 0.141, 0.159, 0.161)] == [
        set(), {"runout-undecided"}, {"runout-undecided"}, {"runs-out"}]  # fmt: skip
    u = 0.01 / math.sqrt(12) / 2 * 2

    def of_bore(e: float) -> dict[str, str]:
        return codes(bore_offset, readings=rows(EIGHT, wave(EIGHT, e, 0)))

    both = {"off-line", "line-undecided"}
    near = (0.15 - u - 1e-4, 0.15 - u + 1e-4, 0.15 + u - 1e-4, 0.15 + u + 1e-4)
    assert [both & of_bore(e).keys() for e in near] == [
        set(), {"line-undecided"}, {"line-undecided"}, {"off-line"}]  # fmt: skip
    assert "no-dowel" in of_bore(0.46)
    assert "no-dowel" not in of_bore(0.44)

    def of_face(swash: float) -> dict[str, str]:
        c = wave(EIGHT, swash / 2, 0)
        return codes(face_runout, both=rows(EIGHT, c, -c))

    both = {"face-runs-out", "face-undecided"}
    near = (0.15 - 2 * u - 1e-4, 0.15 - 2 * u + 1e-4, 0.15 + 2 * u - 1e-4, 0.15 + 2 * u + 1e-4)
    assert [both & of_face(s).keys() for s in near] == [
        set(), {"face-undecided"}, {"face-undecided"}, {"face-runs-out"}]  # fmt: skip


def test_other_findings() -> None:
    """Sag of the wrong sign or not tested, totals without phase, a limit left empty."""
    assert "sag-sign" in codes(bore_offset, sag="0.02 mm")
    assert "sag-not-tested" in codes(bore_offset)
    assert "sag-not-tested" not in codes(bore_offset, sag="-0.02 mm")
    assert "shaft-without-phase" in codes(runout, shaft="total")
    assert "no-limit" in codes(runout, limit="")
    assert "no-limit" in codes(face_runout, limit="")
    assert "float-in-it" in codes(face_runout, dials="one")
    assert "moved-endwise" not in codes(
        face_runout, both=rows(EIGHT, wave(EIGHT, 0.05, 0), wave(EIGHT, -0.05, 0))
    )


def test_degrees_and_hours_agree() -> None:
    """The same readings by angle."""
    table = [[f"{angle}°", f"{v} mm"] for angle, v in zip(EIGHT, NOTED, strict=True)]
    for calculator in (runout, bore_offset):
        by_angle = results(calculator, form="degrees", readings_degrees=table)
        by_hour = results(calculator, readings=rows(EIGHT, NOTED))
        assert by_angle["offset"] == pytest.approx(by_hour["offset"])


def test_readings_that_fix_nothing_are_refused() -> None:
    """Fewer than four places, or all in one corner."""
    assert evaluate(runout, {"readings": rows([0, 90, 180, 360], [0, 0, 0, 0])})["entries"][
        "readings"
    ]["error"]
    with pytest.raises(OneSidedError):
        fit([(0, 0.0), (0.01, 0.1), (0.02, 0.1), (0.03, 0.2)], 0.01)


def test_drawings_stand() -> None:
    """A plot for every calculator, and a dowel where one is wanted."""
    still = rows(EIGHT, [0.0] * 8)
    for calculator, entries, number in (
        (runout, {}, 1), (runout, {"readings": still}, 1), (bore_offset, {}, 2),
        (bore_offset, {"readings": still}, 1), (face_runout, {}, 1),
    ):  # fmt: skip
        for units in ("si", "us"):
            assert len(evaluate(calculator, entries, units)["drawings"]) == number
