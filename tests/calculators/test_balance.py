"""Balance: complex numbers, a general optimiser, quadrature of the chips, random readings."""

from __future__ import annotations

import cmath
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import least_squares

from calculators.balance_drilling import GRADES, balance_drilling
from calculators.balance_phase import balance_two_runs
from calculators.balance_runs import balance_four_runs
from calculators.balance_vectors import split
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import Calculator, evaluate

MANY = settings(max_examples=50, deadline=None, derandomize=True)
THIRDS = [cmath.rect(1, math.radians(120 * k)) for k in range(3)]
AMOUNT, TURN = st.floats(300, 9000), st.floats(0, 359.9)


def outcome(calculator: Calculator[Any, Any], **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(calculator, entries)
    assert found["complete"], found["entries"]
    return found


def results(calculator: Calculator[Any, Any], **entries: Any) -> dict[str, Any]:
    """Result name to value, text or rows."""
    return {
        part["name"]: part.get("value", part.get("text", part.get("rows")))
        for part in outcome(calculator, **entries)["results"]
    }


def codes(calculator: Calculator[Any, Any], **entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    return {f["code"]: f["level"] for f in outcome(calculator, **entries)["findings"]}


def vector(amount: float, angle: float) -> complex:
    """A vector from its length and its angle in degrees."""
    return cmath.rect(amount, math.radians(angle))


def apart(first: float, second: float) -> float:
    """Between two directions, degrees."""
    return abs((first - second + 180) % 360 - 180)


def runs(u: complex, trial: float, k: float) -> dict[str, str]:
    """Four readings of a machine that answers with k."""
    readings = [abs(u), *(abs(u + trial * place) for place in THIRDS)]
    names = ("first", "at_0", "at_120", "at_240")
    return {n: f"{k * v:.12f}" for n, v in zip(names, readings, strict=True)} | {
        "trial_mass": f"{trial / 100} g", "trial_radius": "100 mm", "radius": "100 mm"}  # fmt: skip


@MANY
@given(AMOUNT, TURN, st.floats(400, 3000), st.floats(1e-3, 10))
def test_four_runs_give_the_vector_back(u: float, angle: float, trial: float, k: float) -> None:
    """Any unbalance, any answer of the machine: its scale does not matter, the readings agree."""
    got = results(balance_four_runs, **runs(vector(u, angle), trial, k))
    assert got["unbalance"] == pytest.approx(u, rel=1e-4)
    assert apart(got["heavy"], angle) < 0.01
    assert got["trust"] == pytest.approx(100, abs=0.05)


@MANY
@given(AMOUNT, TURN)
def test_the_correction_leaves_nothing(u: float, angle: float) -> None:
    """Mass added at the place given, or taken off, cancels the unbalance."""
    given_runs = runs(vector(u, angle), 1500, 0.01)
    for remove, sign in (("add", 1), ("remove", -1)):
        got = results(balance_four_runs, remove=remove, **given_runs)
        left = vector(u, angle) + sign * vector(100 * got["mass"], got["at"])
        assert abs(left) < 1e-3 * u


def test_four_runs_against_a_general_optimiser() -> None:
    """Readings with a per cent of noise: SciPy's least squares on the model lands close by."""
    rng = np.random.default_rng(4)
    for _ in range(10):
        u, k = vector(rng.uniform(1000, 4000), rng.uniform(0, 360)), 0.002
        clean = runs(u, 2000, k)
        noisy = {
            name: str(float(v) * (1 + rng.normal(0, 0.005))) if "t" in name and "_m" not in name
            and "_r" not in name else v for name, v in clean.items()
        }  # fmt: skip
        wanted = np.array([float(noisy[n]) for n in ("first", "at_0", "at_120", "at_240")])

        def miss(p: np.ndarray, wanted: np.ndarray = wanted) -> np.ndarray:
            here = complex(p[0], p[1])
            model = [abs(here), *(abs(here + 2000 * place) for place in THIRDS)]
            return p[2] * 1e-3 * np.array(model) - wanted

        start = [u.real * 1.1, u.imag * 0.9, 2.0]
        best = least_squares(miss, start, x_scale=[1000, 1000, 1], xtol=1e-14)
        got = results(balance_four_runs, **noisy)
        fitted = complex(best.x[0], best.x[1])
        assert abs(vector(got["unbalance"], got["heavy"]) - fitted) < 0.06 * abs(fitted)


def test_noise_of_four_runs() -> None:
    """Noise of 0.05 on readings near 6: 3.0 g·mm on 48 and 1.06° (20,000 trials)."""
    rng = np.random.default_rng(8)
    u, trial, k = vector(48, 200), 20.0, 0.13
    clean = k * np.array([abs(u), *(abs(u + trial * p) for p in THIRDS)])
    v = clean + rng.normal(0, 0.05, (20_000, 4))
    a = np.sqrt((v[:, 1:] ** 2).sum(axis=1) / 3 - v[:, 0] ** 2)
    turned = (v[:, 1:] ** 2) @ np.array(THIRDS)
    assert float((trial * v[:, 0] / a).std()) == pytest.approx(3.0, abs=0.15)
    assert float(np.degrees(np.angle(turned * cmath.rect(1, math.radians(160)))).std()) == (
        pytest.approx(1.06, abs=0.05)
    )


@MANY
@given(AMOUNT, TURN, st.floats(400, 3000), TURN, st.floats(1e-3, 10), TURN)
def test_two_runs_with_phase(
    u: float, angle: float, trial: float, place: float, k: float, lag: float
) -> None:
    """A machine that answers with any factor and lag: off again or left on, nothing is left."""
    rotor, weight, answer = vector(u, angle), vector(trial, place), vector(k, lag)
    v0, v1 = answer * rotor, answer * (rotor + weight)
    assume(abs(v1) > 1e-3 * abs(v0))
    entries = {
        "first": repr(abs(v0)), "first_angle": f"{math.degrees(cmath.phase(v0)):.10f}°",
        "second": repr(abs(v1)), "second_angle": f"{math.degrees(cmath.phase(v1)):.10f}°",
        "trial_mass": f"{trial / 100} g", "trial_radius": "100 mm", "radius": "100 mm",
        "trial_angle": f"{place}°", "remove": "add",
    }  # fmt: skip
    off = results(balance_two_runs, **entries)
    assert abs(rotor + vector(100 * off["mass"], off["at"])) < 1e-4 * u
    assert apart(off["lag"], lag) < 0.01
    on = results(balance_two_runs, trial="on", **entries)
    assert abs(rotor + weight + vector(100 * on["mass"], on["at"])) < 1e-4 * (u + trial)
    drilled = results(balance_two_runs, **entries | {"remove": "remove"})
    assert apart(drilled["at"], off["at"] + 180) < 1e-3
    assert off["misplaced"] == pytest.approx(u * abs(vector(1, 10) - 1), rel=1e-4)


def test_sense_of_the_meter() -> None:
    """Angles counted the other way are turned over."""
    plain = {"first_angle": "40°", "second_angle": "75°"}
    over = {"first_angle": "-40°", "second_angle": "-75°", "sense": "against"}
    assert results(balance_two_runs, **plain)["at"] == pytest.approx(
        results(balance_two_runs, **over)["at"]
    )


@MANY
@given(st.floats(0.1, 100), TURN, st.integers(3, 72))
def test_shares_add_up(amount: float, angle: float, places: int) -> None:
    """Two neighbouring places recombine to the vector; none is negative."""
    parts = split(amount, angle, places)
    assert abs(sum(vector(m, a) for a, m in parts) - vector(amount, angle)) < 1e-4 * amount
    assert all(m >= 0 for _, m in parts)
    assert all(round(a / (360 / places), 6).is_integer() for a, _ in parts)


def test_shares_by_hand() -> None:
    """10 at 20° between 0° and 60°."""
    (a, first), (b, second) = split(10, 20, 6)
    assert (a, b) == (0, 60)
    assert (first, second) == pytest.approx((7.422, 3.949), abs=5e-4)
    assert split(10, 359.9999999, 6) == [(0, 10)]
    with pytest.raises(ValueError, match="two places"):
        split(1, 0, 2)


@MANY
@given(st.floats(1, 100), st.floats(300, 12_000), st.sampled_from(sorted(GRADES)))
def test_permissible_unbalance(mass: float, speed: float, grade: str) -> None:
    """9549.3 G m/n: proportional to mass and grade, against the speed."""
    got = results(balance_drilling, mass=f"{mass} kg", speed=f"{speed} r/min", grade=grade)
    assert got["allowed"] == pytest.approx(9549.297 * float(grade) * mass / speed, rel=1e-6)


@MANY
@given(st.floats(100, 4000), st.floats(60, 300), st.floats(5, 16), st.booleans(), st.booleans())
def test_chips_by_quadrature(
    u: float, radius: float, drill: float, radial: bool, flat: bool
) -> None:
    """The moment of the metal of the hole, slice by slice, is the unbalance found."""
    entries = {
        "found": f"{u} g·mm", "radius": f"{radius} mm", "drill": f"{drill} mm",
        "deepest": "200 mm", "way": "radial" if radial else "axial", "metal": "steel",
        "tool": "flat" if flat else "drill",
    }  # fmt: skip
    found = evaluate_undrawn(balance_drilling, entries)
    assume(found["complete"])
    got = results(balance_drilling, **entries)
    assume(got["holes"] == 1 and got["full_depth"] > 0)
    full, tip = got["full_depth"], got["depth"]

    def section(x: float) -> float:
        return drill if x <= full else drill * (tip - x) / (tip - full)

    def slice_at(x: float, arm: float) -> float:
        return 7.85e-3 * math.pi / 4 * section(x) ** 2 * arm

    moment = sum(
        quad(lambda x: slice_at(x, radius - x if radial else radius), low, high)[0]
        for low, high in ((0, full), (full, tip))
    )
    assert moment == pytest.approx(u, rel=1e-5)
    parts = ((0, full), (full, tip))
    chips = sum(quad(lambda x: slice_at(x, 1), low, high)[0] for low, high in parts)
    assert got["mass"] == pytest.approx(chips, rel=1e-5)


def test_holes_side_by_side_as_vectors() -> None:
    """Each hole at its own angle: their moments add up to the unbalance found."""
    got = results(balance_drilling, found="6000 g·mm", radius="150 mm", drill="10 mm")
    number, beta = int(got["holes"]), 1.5 * 10 / 150
    assert number > 2
    each = got["mass"] / number * 150
    total = sum(
        each * cmath.rect(1, beta * (k - (number - 1) / 2)) for k in range(number)
    )  # fmt: skip
    assert abs(total) == pytest.approx(6000, rel=1e-6)
    assert got["depth"] <= 15
    fewer = results(balance_drilling, found="6000 g·mm", radius="150 mm", drill="10 mm",
                    deepest=f"{got['depth'] - 0.01} mm")  # fmt: skip
    assert fewer["holes"] == number + 1


def test_less_than_the_point() -> None:
    """A few tenths of a gram are taken by part of the point alone."""
    got = results(balance_drilling, found="20 g·mm", radius="100 mm", metal="steel")
    tip = got["depth"]
    width = 2 * tip * math.tan(math.radians(59))
    assert 7.85e-3 * math.pi / 12 * width**2 * tip == pytest.approx(0.2, rel=1e-6)
    assert tip < 5 / math.tan(math.radians(59))


def test_findings_of_drilling() -> None:
    """Within what may stay, too much, several holes, and a rim that is not enough."""
    allowed = results(balance_drilling)["allowed"]
    for share, said in ((0.99, True), (1.01, False)):
        assert ("within" in codes(balance_drilling, found=f"{share * allowed} g·mm")) is said
    assert "side-by-side" in codes(balance_drilling, found="3000 g·mm")
    assert "side-by-side" not in codes(balance_drilling, found="500 g·mm")
    assert codes(balance_drilling, found="50000 g·mm")["too-much"] == "stop"
    assert "too-much" not in codes(balance_drilling, found="5000 g·mm")
    small = {"found": "3000 g·mm", "radius": "20 mm", "way": "radial", "drill": "10 mm"}
    assert evaluate(balance_drilling, small)["entries"]["found"]["error"]


def test_findings_of_runs() -> None:
    """Trust, weight and pull of the trial mass, on both sides."""
    clean = runs(vector(3000, 70), 1500, 0.001)
    assert not {"readings-disagree", "trial-too-light"} & codes(balance_four_runs, **clean).keys()
    wrong = clean | {"first": str(float(clean["first"]) * 1.06)}
    assert "readings-disagree" in codes(balance_four_runs, **wrong)
    for trial, said in ((590, True), (610, False)):
        light = runs(vector(3000, 70), trial, 0.001)
        assert ("trial-too-light" in codes(balance_four_runs, **light)) is said
    for speed, said in ((1750, False), (1770, True)):  # 15 g at 1 m x omega² = 500 N at 1743.5
        found = codes(balance_four_runs, trial_mass="15 g", trial_radius="1000 mm",
                      speed=f"{speed * 1743.5 / 1760} r/min")  # fmt: skip
        assert ("trial-pull" in found) is said
    assert "may-stay" in codes(balance_four_runs, allowed="3300 g·mm")
    assert "may-stay" not in codes(balance_four_runs, allowed="3100 g·mm")
    near = {"first": "1", "first_angle": "0°", "second_angle": "0°"}
    assert "trial-too-light" in codes(balance_two_runs, second="1.24", **near)
    assert "trial-too-light" not in codes(balance_two_runs, second="1.26", **near)


def test_drawings_stand() -> None:
    """Every picture, in both systems and with odd cases."""
    for calculator, entries in (
        (balance_drilling, {}), (balance_drilling, {"found": "0 g·mm"}),
        (balance_drilling, {"found": "10 g·mm", "way": "radial"}),
        (balance_drilling, {"tool": "flat"}), (balance_four_runs, {}),
        (balance_four_runs, {"remove": "add", "holes": "3"}), (balance_two_runs, {}),
        (balance_two_runs, {"second": "0"}),
    ):  # fmt: skip
        for units in ("si", "us"):
            assert evaluate(calculator, entries, units)["drawings"][0]["svg"].startswith("<svg")
