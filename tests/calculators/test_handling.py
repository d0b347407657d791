"""Handling: linear programming of foot forces, optimisers for sliding, random points for mass."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog, minimize
from scipy.spatial import ConvexHull

from calculators.bench_stability import bench_stability
from calculators.flywheel_mass import flywheel_mass
from calculators.support import Base, Push, foot_loads, grip, hull, tipping_factor, total
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import Calculator, evaluate

MANY = settings(max_examples=40, deadline=None, derandomize=True)
SQUARE = [(-200.0, -250.0), (200.0, -250.0), (200.0, 250.0), (-200.0, 250.0)]
COORDINATE = st.integers(-400, 400).map(float)
FEET = st.lists(st.tuples(COORDINATE, COORDINATE), min_size=3, max_size=6, unique=True)
VECTOR = st.tuples(*[st.floats(-500, 500)] * 3)
PLACE = st.tuples(st.floats(-800, 800), st.floats(-800, 800), st.floats(0, 1200))


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


def feet_can_hold(pushes: list[Push], feet: list[tuple[float, float]]) -> bool:
    """Whether upward forces at the feet can balance the pushes (linear programme)."""
    f = np.sum([p.force for p in pushes], axis=0)
    m = np.sum([np.cross(p.at, p.force) for p in pushes], axis=0)
    rows = np.array([[1.0, y / 100, -x / 100] for x, y in feet]).T
    found = linprog(np.zeros(len(feet)), A_eq=rows, b_eq=[-f[2], -m[0] / 100, -m[1] / 100])
    return bool(found.status == 0)


@MANY
@given(FEET, VECTOR, PLACE, st.floats(-150, 150), st.floats(-150, 150))
def test_stands_where_foot_forces_exist(
    feet: list[tuple[float, float]], force: Any, at: Any, x: float, y: float
) -> None:
    """The factor of tipping is the largest push that upward foot forces can balance."""
    corners = hull(feet)
    assume(corners)
    rest = [Push((0, 0, -900), (x, y, 300))]
    assume(feet_can_hold(rest, feet))
    factor = tipping_factor(rest, Push(force, at), corners)
    for share, stands in ((0.99, True), (1.01, False)):
        if factor * share < 1e4 and factor > 1e-3:
            held = feet_can_hold([*rest, Push(force, at).times(share * factor)], feet)
            assert held is stands, (factor, share)
    if math.isinf(factor):
        assert feet_can_hold([*rest, Push(force, at).times(50)], feet)


@MANY
@given(FEET)
def test_hull_is_that_of_scipy(feet: list[tuple[float, float]]) -> None:
    """The same corners, whatever the order of the feet; none for feet in a line."""
    corners = hull(feet)
    if not corners:
        return
    wanted = {tuple(np.array(feet)[i]) for i in ConvexHull(np.array(feet)).vertices}
    assert {tuple(c) for c in corners} <= wanted
    assert set(hull(feet[::-1])) == set(corners)


def test_feet_in_a_line_have_no_hull() -> None:
    """Three in a row, or two."""
    assert hull([(0, 0), (100, 0), (200, 0)]) == []
    assert hull([(0, 0), (1, 1)]) == []


@MANY
@given(FEET, st.floats(0.02, 0.9), st.floats(0.02, 0.9), st.data())
def test_foot_loads_balance(
    feet: list[tuple[float, float]], first: float, second: float, data: Any
) -> None:
    """None pulls; their sum and their moments are those of the centre of pressure."""
    corners = hull(feet)
    assume(corners)
    i = data.draw(st.integers(0, len(corners) - 1))
    a, b, c = corners[i], corners[(i + 1) % len(corners)], corners[(i + 2) % len(corners)]
    u = 1 - first
    spot = tuple(first * a[k] + u * ((1 - second) * b[k] + second * c[k]) for k in (0, 1))
    base = Base(1000.0, (0, 0), 0.0, (1000 * spot[0], 1000 * spot[1]))
    loads = foot_loads(base, feet)
    assert min(loads) >= 0
    assert sum(loads) == pytest.approx(1000, rel=1e-5)
    for k in (0, 1):
        moment = sum(n * foot[k] for n, foot in zip(loads, feet, strict=True))
        assert moment == pytest.approx(1000 * spot[k], abs=1.0)


def slides_at(
    feet: list[tuple[float, float]], loads: list[float], friction: float, push: Any
) -> tuple[float, float]:
    """Largest factor that friction forces at the feet can balance: 64 directions, both bounds."""
    hx, hy, twist = push
    sides = 64
    turns = 2 * np.pi * np.arange(sides) / sides
    n = len(feet)
    rows = []
    for turn in turns:
        for k in range(n):
            row = np.zeros(2 * n + 1)
            row[2 * k : 2 * k + 2] = np.cos(turn), np.sin(turn)
            rows.append(row)
    right = np.tile(friction * np.array(loads), sides)
    equal = np.zeros((3, 2 * n + 1))
    equal[0, 0 : 2 * n : 2], equal[1, 1 : 2 * n : 2] = 1, 1
    for k, (x, y) in enumerate(feet):
        equal[2, 2 * k : 2 * k + 2] = -y, x
    equal[:, -1] = hx, hy, twist
    cost = np.zeros(2 * n + 1)
    cost[-1] = -1
    found = linprog(cost, A_ub=np.array(rows), b_ub=right, A_eq=equal, b_eq=np.zeros(3),
                    bounds=[(None, None)] * (2 * n) + [(0, None)])  # fmt: skip
    outer = -found.fun
    return float(outer * math.cos(math.pi / sides)), float(outer)


@MANY
@given(
    st.lists(st.floats(20, 900), min_size=4, max_size=4), st.floats(0, 300), st.floats(0, 300),
    st.floats(-90_000, 90_000), st.floats(0.1, 0.6),
)  # fmt: skip
def test_sliding_against_friction_forces(
    loads: list[float], hx: float, hy: float, twist: float, friction: float
) -> None:
    """The least work of friction meets the largest push that friction forces can balance."""
    assume(math.hypot(hx, hy) > 5 or abs(twist) > 2000)
    feet = [(300.0, 250.0), (200.0, -250.0), (-200.0, 250.0), (-200.0, -250.0)]
    base = Base(sum(loads), (hx, hy), twist, (0, 0))
    low, high = slides_at(feet, loads, friction, (hx, hy, twist))
    assert low * (1 - 1e-6) <= grip(base, feet, loads, friction) <= high * (1 + 1e-6)


def test_turning_by_hand_and_by_an_optimiser() -> None:
    """Pure couples: 113.0 N·m for four like feet, 115.96 N·m for four unlike ones."""
    even = [90 * 9.80665 / 4] * 4
    base = Base(sum(even), (0, 0), 1000.0, (0, 0))
    assert grip(base, SQUARE, even, 0.4) == pytest.approx(113.03, abs=0.03)
    feet = [(300.0, 250.0), (200.0, -250.0), (-200.0, 250.0), (-200.0, -250.0)]
    loads = [150.0, 250.0, 250.0, 232.6]

    def work(c: np.ndarray) -> float:
        return 0.4 * sum(n * math.hypot(x - c[0], y - c[1])
                         for n, (x, y) in zip(loads, feet, strict=True))  # fmt: skip

    best = minimize(work, [0, 0], method="Nelder-Mead", options={"xatol": 1e-6, "fatol": 1e-9})
    base = Base(sum(loads), (0, 0), 1000.0, (0, 0))
    assert grip(base, feet, loads, 0.4) == pytest.approx(best.fun / 1000, rel=1e-6)
    assert best.fun / 1000 == pytest.approx(115.96, abs=0.02)
    middle = work(np.average(feet, axis=0, weights=loads)) / 1000
    assert middle > best.fun / 1000  # about the centroid: an upper bound only


@MANY
@given(st.integers(-300, 300), st.integers(-300, 300))
def test_the_origin_does_not_matter(dx: int, dy: int) -> None:
    """Everything moved along the floor: the same pull tips, the same grip is used."""
    base = {"way": "right", "hand_x": "100 mm", "hand_y": "0 mm", "hand_z": "500 mm",
            "force": "150 N", "mass": "90 kg", "mass_x": "0 mm", "mass_y": "0 mm",
            "mass_z": "300 mm"}  # fmt: skip
    feet = [[f"{x} mm", f"{y} mm"] for x, y in SQUARE]
    moved = [[f"{x + dx} mm", f"{y + dy} mm"] for x, y in SQUARE]
    there = base | {"hand_x": f"{100 + dx} mm", "hand_y": f"{dy} mm", "mass_x": f"{dx} mm",
                    "mass_y": f"{dy} mm"}  # fmt: skip
    one = results(bench_stability, feet=feet, **base)
    other = results(bench_stability, feet=moved, **there)
    for name in ("tips_at", "margin", "used"):
        assert other[name] == pytest.approx(one[name], rel=1e-6)


def test_findings_of_the_bench() -> None:
    """Every judgement on both sides of its threshold, by statics by hand."""
    feet = [[f"{x} mm", f"{y} mm"] for x, y in SQUARE]
    plain = {"feet": feet, "mass": "90 kg", "mass_x": "0 mm", "mass_y": "0 mm",
             "mass_z": "300 mm", "hand_x": "600 mm", "hand_y": "0 mm", "hand_z": "300 mm",
             "friction": "0.4"}  # fmt: skip

    def said(**more: str) -> dict[str, str]:
        return codes(bench_stability, **plain | more)

    weight = 90 * 9.80665
    tips = weight * 0.2 / 0.4
    assert "tips" not in said(force=f"{tips - 1} N")
    assert said(force=f"{tips + 1} N")["tips"] == "stop"
    # margin 0.2 of the half width of 200 mm: centre of pressure at 160 mm
    near = weight * 0.16 / (0.6 - 0.16)
    assert "little-margin" not in said(force=f"{near - 1} N")
    assert "little-margin" in said(force=f"{near + 1} N")
    level = {"way": "right", "hand_z": "0 mm", "hand_x": "0 mm"}
    for share, codes_said in ((0.79, set()), (0.81, {"little-grip"}), (1.01, {"slides"})):
        found = said(force=f"{share * 0.4 * weight} N", **level)
        assert {"little-grip", "slides"} & found.keys() == codes_said
    up = {"way": "up", "hand_x": "0 mm"}
    assert "lifted" in said(force=f"{0.71 * weight} N", **up)
    assert "lifted" not in said(force=f"{0.69 * weight} N", **up)
    assert said(force="0 N", mass_x="201 mm")["falls-by-itself"] == "stop"
    assert "falls-by-itself" not in said(force="0 N", mass_x="199 mm")
    assert "back-lash" in said(force=f"{weight * 0.2 / 0.8 + 1} N")
    assert "back-lash" not in said(force=f"{weight * 0.2 / 0.8 - 1} N")
    assert "floor-takes-it" in said(force="0 N", reaction="floor")
    verdict = results(bench_stability, **plain | {"force": "10 N"})["verdict"]
    assert verdict == "stands"


def test_strap_balances_the_tipping_side() -> None:
    """With the strap's own force added the centre of pressure stands on the tipping side."""
    feet = [[f"{x} mm", f"{y} mm"] for x, y in SQUARE]
    got = results(
        bench_stability, feet=feet, mass="90 kg", mass_x="0 mm", mass_y="0 mm", mass_z="300 mm",
        way="right", hand_x="0 mm", hand_y="0 mm", hand_z="900 mm", force="583.33 N",
        strap_height="600 mm", strap_in="400 mm", strap_angle="45°",
    )  # fmt: skip
    t = got["strap_load"] / math.sqrt(2)
    base = total([
        Push((0, 0, -90 * 9.80665), (0, 0, 300)), Push((583.33, 0, 0), (0, 0, 900)),
        Push((-t, 0, -t), (-200, 0, 600)),
    ])  # fmt: skip
    assert base.centre[0] == pytest.approx(200, abs=1e-6)


def test_mass_by_random_points() -> None:
    """A million points in the section of rim, web and hub: mass, inertia, centre."""
    rng = np.random.default_rng(6)
    rings = [(280, 220, 30, 15), (220, 90, 12, 6), (90, 35, 40, 20)]
    r = 140 * np.sqrt(rng.uniform(0, 1, 1_000_000))
    z = rng.uniform(0, 40, r.size)
    inside = np.zeros(r.size, dtype=bool)
    for outer, inner, thick, middle in rings:
        inside |= (r < outer / 2) & (r > inner / 2) & (abs(z - middle) < thick / 2)
    whole = 7200e-9 * math.pi * 140**2 * 40
    got = results(flywheel_mass, rings=[[str(c) for c in ring] for ring in rings], holes=[])
    assert got["mass"] == pytest.approx(whole * inside.mean(), rel=5e-3)
    inertia = whole * (inside * r**2).mean() * 1e-6
    assert got["inertia"] == pytest.approx(inertia, rel=5e-3)
    assert got["centre"] == pytest.approx(z[inside].mean(), rel=5e-3)


@MANY
@given(st.floats(100, 400), st.floats(0.1, 0.9), st.floats(5, 80), st.floats(0.1, 0.9))
def test_a_ring_cut_in_two_is_the_same(outer: float, hole: float, thick: float, cut: float) -> None:
    """Cut across or along: mass, inertia and centre stay."""
    inner, first = hole * outer, cut * thick
    mid = inner + cut * (outer - inner)
    whole = results(flywheel_mass, rings=[[str(outer), str(inner), str(thick), "0"]], holes=[])
    rest = thick - first
    along = [
        [str(outer), str(inner), str(first), str(first / 2 - thick / 2)],
        [str(outer), str(inner), str(rest), str(thick / 2 - rest / 2)],
    ]
    across = [[str(outer), str(mid), str(thick), "0"], [str(mid), str(inner), str(thick), "0"]]
    for rings in (along, across):
        got = results(flywheel_mass, rings=rings, holes=[])
        for name in ("mass", "inertia", "centre"):
            assert got[name] == pytest.approx(whole[name], rel=1e-6, abs=1e-6)


def test_holes_by_the_parallel_axis() -> None:
    """Holes that are rings about their own axis: Steiner's term and their own."""
    plain = {"rings": [["400", "0", "20", "0"]], "metal": "steel"}
    solid = results(flywheel_mass, holes=[], **plain)
    got = results(flywheel_mass, holes=[["6", "30", "150", "20", "0"]], **plain)
    each = 7850e-9 * math.pi / 4 * 30**2 * 20
    assert solid["mass"] - got["mass"] == pytest.approx(6 * each)
    taken = 6 * each * (150**2 + 30**2 / 8) * 1e-6
    assert solid["inertia"] - got["inertia"] == pytest.approx(taken, rel=1e-6)


@pytest.mark.parametrize(
    ("mass", "lift", "code"),
    [(14.9, "one person, close to the body", ""), (15.1, "two persons, or one with good grip",
     "heavy"), (25.1, "with the hoist, or two persons", "two-or-hoist"),
     (40.1, "with the hoist", "hoist")],
)  # fmt: skip
def test_who_lifts(mass: float, lift: str, code: str) -> None:
    """Thresholds of 15, 25 and 40 kg."""
    thick = mass / (7850e-9 * math.pi / 4 * 300**2)
    entries = {"rings": [["300", "0", f"{thick:.6f}", "0"]], "holes": [], "metal": "steel"}
    assert results(flywheel_mass, **entries)["lift"] == lift
    assert {"heavy", "two-or-hoist", "hoist"} & codes(flywheel_mass, **entries).keys() == (
        {code} if code else set()
    )


def test_refusals_and_drawings() -> None:
    """Rings inside out, holes of more than all, and every picture."""
    for entries, name in (
        ({"rings": [["100", "120", "10", "0"]]}, "rings"),
        ({"rings": [["100", "0", "10", "0"]], "holes": [["9", "90", "0", "10", "0"]]}, "holes"),
    ):
        assert evaluate(flywheel_mass, entries)["entries"][name]["error"]
    for entries in (
        {}, {"force": "3000 N"}, {"reaction": "floor"}, {"way": "up"}, {"way": "left"},
        {"force": "3000 N", "way": "up", "mass": "100 kg"},
    ):  # fmt: skip
        assert len(evaluate(bench_stability, entries, "us")["drawings"]) == 2
    assert evaluate(flywheel_mass, {}, "us")["drawings"]
