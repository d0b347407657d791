"""Ring gear: Lamé as a linear system, rotating rings as a boundary value problem, heat by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from calculators.metals import GREY_IRON, STEEL, Metal
from calculators.ring_gear import ring_gear_heat
from calculators.ring_gear_advice import colour_of
from calculators.shrink_ring import ShrunkRing
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=40, deadline=None, derandomize=True)
RIGID = Metal("rigid", 1e15, 0.0, 0.0, 0.0)
PLAIN = {
    "bore": "260 mm", "seat": "260.4 mm", "outer": "290 mm", "hole": "0 mm", "width": "12 mm",
    "seat_metal": "steel", "ring_rz": "0 µm", "seat_rz": "0 µm", "speed": "0 r/min",
}  # fmt: skip


def body(hole: float = 0.0, joint: float = 260.0, outer: float = 290.0) -> ShrunkRing:
    """A ring of steel on a disc of grey iron."""
    return ShrunkRing(hole, joint, outer, 12.0, STEEL, GREY_IRON)


def by_linear_system(ring: ShrunkRing, tight: float) -> tuple[float, float]:
    """Pressure and hoop stress from u = A r + B/r in both parts and four conditions."""
    ra, rb, rc = ring.hole / 2, ring.joint / 2, ring.outer / 2

    def stress(metal: Metal, r: float, sign: int) -> np.ndarray:
        return np.array(
            [metal.modulus / (1 - metal.poisson), sign * metal.modulus / (1 + metal.poisson) / r**2]
        )

    system = np.zeros((4, 4))
    system[0, :2] = stress(ring.disc, ra, -1)
    system[1, 2:] = stress(ring.ring, rc, -1)
    system[2] = [*stress(ring.disc, rb, -1), *-stress(ring.ring, rb, -1)]
    system[3] = [-rb, -1 / rb, rb, 1 / rb]
    scale = np.abs(system).max(axis=1)
    right = np.array([0, 0, 0, tight / 2])
    solved = np.linalg.solve(system / scale[:, None], right / scale)
    return (
        -float(stress(ring.ring, rb, -1) @ solved[2:]),
        float(stress(ring.ring, rb, 1) @ solved[2:]),
    )


def results(units: str = "si", **entries: Any) -> dict[str, Any]:
    """Result name to value or text."""
    found = evaluate_undrawn(ring_gear_heat, entries, units)
    assert found["complete"], found["entries"]
    return {part["name"]: part.get("value", part.get("text")) for part in found["results"]}


def codes(**entries: Any) -> dict[str, str]:
    """Codes of the findings with their levels."""
    found = evaluate_undrawn(ring_gear_heat, entries)
    assert found["complete"], found["entries"]
    return {f["code"]: f["level"] for f in found["findings"]}


@MANY
@given(st.floats(20, 240), st.floats(265, 400), st.floats(0.01, 1.0))
def test_pressure_and_stress_by_a_linear_system(hole: float, outer: float, tight: float) -> None:
    """Any proportions: displacements from their boundary conditions give the same."""
    ring = body(hole, 260.0, outer)
    pressure, hoop = by_linear_system(ring, tight)
    assert ring.pressure(tight) == pytest.approx(pressure, rel=1e-6)
    assert ring.hoop(ring.pressure(tight)) == pytest.approx(hoop, rel=1e-6)


@MANY
@given(st.floats(0.01, 1.0), st.floats(1.1, 5))
def test_pressure_is_linear_in_the_interference(tight: float, times: float) -> None:
    """Nothing at nought or below, and so many times as much."""
    assert body().pressure(0) == body().pressure(-tight) == 0
    assert body().pressure(times * tight) == pytest.approx(times * body().pressure(tight))


def test_limits_of_proportion() -> None:
    """A small hole is none; a thin ring on a rigid disc has E d/D; a very thick one ends."""
    assert body(0.01).pressure(0.4) == pytest.approx(body(0.0).pressure(0.4), rel=1e-6)
    thin = ShrunkRing(0.0, 260.0, 260.02, 12.0, STEEL, RIGID)
    assert thin.hoop(thin.pressure(0.4)) == pytest.approx(206_000 * 0.4 / 260, rel=1e-3)
    thick = body(0.0, 260.0, 1e6).pressure(0.4)
    assert body(0.0, 260.0, 1e7).pressure(0.4) == pytest.approx(thick, rel=1e-4)


@pytest.mark.parametrize(("hole", "omega"), [(0.001, 300.0), (60.0, 628.3), (120.0, 1000.0)])
def test_growth_by_a_boundary_value_problem(hole: float, omega: float) -> None:
    """Equilibrium of a rotating annulus with free edges, integrated by SciPy."""
    ring = body(hole)

    def free(metal: Metal, inner: float, outer: float, at: float) -> float:
        load = metal.density * 1e-12 * omega**2  # t/mm^3 and mm give MPa/mm
        e, v = metal.modulus, metal.poisson

        def slope(r: np.ndarray, y: np.ndarray) -> np.ndarray:
            return np.vstack([y[1], y[0] / r**2 - y[1] / r - load * r * (1 - v**2) / e])

        def edges(a: np.ndarray, b: np.ndarray) -> np.ndarray:
            return np.array([a[1] + v * a[0] / inner, b[1] + v * b[0] / outer])

        grid = np.geomspace(inner, outer, 400)
        found = solve_bvp(slope, edges, grid, np.zeros((2, grid.size)), tol=1e-8, max_nodes=50_000)
        assert found.success
        return float(found.sol(at)[0])

    inner = max(hole / 2, 0.5)
    wanted = 2 * (
        free(STEEL, 130.0, 145.0, 130.0) - free(GREY_IRON, inner, 130.0, 130.0)
    )  # fmt: skip
    assert ring.growth(omega) == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize(
    ("tight", "room", "heat"), [(0.40, 0.10, 187.2), (0.40, 0.15, 203.9), (0.40, 0.20, 220.7),
                                (0.45, 0.15, 220.7)],
)  # fmt: skip
def test_heat_by_hand(tight: float, room: float, heat: float) -> None:
    """20 °C + (interference + room)/(11.5e-6 x 260 mm), worked by hand."""
    got = results(**PLAIN | {"seat": f"{260 + tight} mm", "clearance": f"{room} mm"})
    assert got["heat_to"] == pytest.approx(heat, abs=0.06)


def test_worst_pair_decides_the_heat_and_the_other_the_hold() -> None:
    """Limits of both parts: corners of the box, all tried."""
    got = results(**PLAIN | {"bore": "260.00 ± 0.02 mm", "seat": "260.40 ± 0.03 mm"})
    corners = [
        results(**PLAIN | {"bore": f"{b} mm", "seat": f"{s} mm"})
        for b in (259.98, 260.02) for s in (260.37, 260.43)
    ]  # fmt: skip
    assert got["heat_to"] == pytest.approx(max(c["heat_to"] for c in corners))
    assert got["room"] == pytest.approx(min(c["room"] for c in corners))
    assert got["loose_at"] == pytest.approx(min(c["loose_at"] for c in corners), rel=1e-3)


def test_nothing_holds_at_the_speed_given_as_loose() -> None:
    """There the slip torque is nil, a little below it is not."""
    loose = results(**PLAIN)["loose_at"]
    most = 12_000
    assert loose > most
    small = PLAIN | {"seat": "260.10 mm"}
    loose = results(**small)["loose_at"]
    assert results(**small | {"speed": f"{loose * 1.001} r/min"})["slip_torque"] == 0
    assert results(**small | {"speed": f"{loose * 0.99} r/min"})["slip_torque"] > 0


def test_cooling_makes_up_the_rest() -> None:
    """Ring at the ceiling and seat cooled: the room asked for is there."""
    hot = PLAIN | {"seat": "260.60 mm", "clearance": "0.10 mm"}
    got = results(**hot)
    ring = 260 * 11.5e-6 * (200 - 20)
    disc = 260 * 0.74 * 11.5e-6 * (20 - got["cool_to"])
    assert ring + disc - 0.60 == pytest.approx(0.10)


def test_judgements() -> None:
    """Ceiling, soft teeth, hold, stretch: on both sides."""
    room = PLAIN | {"seat": "260.40 mm"}
    for clearance, said in (("0.13 mm", False), ("0.14 mm", True)):  # 200 °C gives 0.138
        assert ("above-ceiling" in codes(**room | {"clearance": clearance})) is said
    assert codes(**room)["above-ceiling"] == "stop"
    assert "soft-teeth" not in codes(ceiling="220 °C")
    assert "soft-teeth" in codes(ceiling="221 °C")
    assert codes(**PLAIN | {"seat": "260.01 mm", "ring_rz": "10 µm",
                            "seat_rz": "10 µm"})["does-not-hold"] == "stop"  # fmt: skip
    slip = results(**PLAIN)["slip_torque"]
    for share, code in ((1.01, "slips"), (0.99, "little-hold"), (0.51, "little-hold"), (0.49, "")):
        found = codes(**PLAIN | {"torque": f"{share * slip} N·m"})
        assert {"slips", "little-hold"} & found.keys() == ({code} if code else set())
    hoop = results(**PLAIN)["hoop"]
    assert "stretched" in codes(**PLAIN | {"strength": f"{hoop / 0.61} MPa"})
    assert "stretched" not in codes(**PLAIN | {"strength": f"{hoop / 0.59} MPa"})


@pytest.mark.parametrize(
    ("heat", "colour"), [(199, "none yet"), (215, "pale straw"), (290, "dark blue"),
                         (400, "grey, spoilt")],
)  # fmt: skip
def test_colours_rise_with_heat(heat: float, colour: str) -> None:
    """Temper colours of carbon steel, common practice."""
    assert colour_of(heat) == colour


def test_refusals() -> None:
    """Parts that cannot be."""
    for entries, name in (({"seat": "339 mm"}, "seat"), ({"outer": "339 mm"}, "outer"),
                          ({"hole": "341 mm"}, "hole")):  # fmt: skip
        assert evaluate(ring_gear_heat, entries)["entries"][name]["error"]


def test_us_units_and_drawing() -> None:
    """The same temperature in Fahrenheit, and a chart in both systems."""
    shown = evaluate(ring_gear_heat, {}, "us")
    lead = next(part for part in shown["results"] if part["lead"])
    assert lead["display"].endswith("°F")
    assert math.isclose(float(lead["number"]), 1.8 * results()["heat_to"] + 32, abs_tol=1)
    for units in ("si", "us"):
        assert evaluate(ring_gear_heat, {"seat": "341 mm"}, units)["drawings"][0]["svg"]
