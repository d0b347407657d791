"""Press fit of a seal: interference, force and warmth by independent routes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.lip_seal_fit import lip_seal_fit
from calculators.press_fit_lame import HOUSINGS
from tests.calculators.test_press_fit_lame import by_linear_system
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=25, deadline=None, derandomize=True)
MEASURED = {"bore_known": "measured", "case": "metal"}


def outcome(units: str = "si", **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(lip_seal_fit, entries, units)
    assert found["complete"], found["entries"]
    return found


def drawn(units: str = "si", **entries: Any) -> list[str]:
    """The drawings of a case, as SVG."""
    return [part["svg"] for part in evaluate(lip_seal_fit, entries, units)["drawings"]]


def results(units: str = "si", **entries: Any) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    return {part["name"]: part for part in outcome(units, **entries)["results"]}


def value(name: str, **entries: Any) -> float:
    """The number of a result in its own unit."""
    return float(results(**entries)[name]["value"])


def findings(units: str = "si", **entries: Any) -> dict[str, dict[str, str]]:
    """The findings by their codes."""
    return {finding["code"]: finding for finding in outcome(units, **entries)["findings"]}


def error(name: str, **entries: Any) -> str:
    """The message with which an entry is refused."""
    part = evaluate(lip_seal_fit, entries)["entries"][name]["error"]
    assert part is not None
    return str(part["message"])


@MANY
@given(
    st.floats(40, 200), st.floats(0.02, 0.4), st.floats(0.6, 3), st.floats(20, 80),
    st.floats(3, 20), st.floats(0.05, 0.3), st.sampled_from(sorted(HOUSINGS)),
)  # fmt: skip
def test_force_is_friction_on_the_pressed_face(
    d: float, excess: float, wall: float, rim: float, b: float, mu: float, housing: str
) -> None:
    """Pressure from the boundary conditions, times area, times friction."""
    p, hoop = by_linear_system(excess, d, wall, d + rim, HOUSINGS[housing])
    got = results(
        **MEASURED, bore=f"{d!r} mm", bore_measured=f"{d!r} mm",
        seal_measured=f"{d + excess!r} mm", wall=f"{wall!r} mm", boss=f"{d + rim!r} mm",
        width=f"{b!r} mm", friction=f"{mu!r}", housing=housing,
    )  # fmt: skip
    assert got["pressure_most"]["value"] == pytest.approx(p, rel=1e-7)
    assert got["hoop"]["value"] == pytest.approx(hoop, rel=1e-7)
    assert got["force_most"]["value"] == pytest.approx(mu * p * math.pi * d * b / 1000, rel=1e-7)
    assert got["force_least"]["value"] == pytest.approx(got["force_most"]["value"], rel=1e-9)


def test_limits_hold_every_pair_of_parts() -> None:
    """Bores and seals drawn at random within their limits never leave the interference's."""
    got = results(case="metal")
    rng = np.random.default_rng(7)
    bore = rng.uniform(95.000, 95.054, 20_000)
    seal = rng.uniform(95.10, 95.25, 20_000)
    low, high = (got[name]["value"] for name in ("interference_least", "interference_most"))
    assert low <= (seal - bore).min() < low + 0.01
    assert high - 0.01 < (seal - bore).max() <= high


@MANY
@given(st.floats(20, 300), st.floats(-40, 200), st.sampled_from(sorted(HOUSINGS)))
def test_warm_interference_is_that_of_the_grown_parts(d: float, t: float, housing: str) -> None:
    """Bore and case each grown by their own expansion, then subtracted, to half a micrometre."""
    bore, seal = d + 0.01, d + 0.15
    warm = value(
        "warm_least", **MEASURED, bore=f"{d!r} mm", bore_measured=f"{bore!r} mm",
        seal_measured=f"{seal!r} mm", warm=f"{t!r} °C", housing=housing, boss=f"{d + 40!r} mm",
    )  # fmt: skip
    grown = seal * (1 + 11.5e-6 * (t - 20)) - bore * (1 + HOUSINGS[housing].expansion * (t - 20))
    assert warm == pytest.approx(grown, abs=4e-4)


def test_at_20_degrees_nothing_grows() -> None:
    """Sizes are those at 20 °C."""
    got = results(case="metal", housing="aluminium", warm="20 °C")
    assert got["warm_least"]["value"] == pytest.approx(got["interference_least"]["value"])


def test_rubber_gets_no_force() -> None:
    """A rubber-covered case has no computed pressure or force, and says so."""
    got = results(case="rubber")
    assert {"force_most", "force_least", "pressure_most", "hoop"} & got.keys() == set()
    assert findings(case="rubber")["rubber-force"]["level"] == "note"


def test_loose_when_cold() -> None:
    """A stop as soon as the least interference is nought, said for certain when measured."""
    pair = {**MEASURED, "bore_measured": "95.02 mm"}
    assert "no-interference" not in findings(**pair, seal_measured="95.021 mm")
    loose = findings(**pair, seal_measured="95.02 mm")["no-interference"]
    assert loose["level"] == "stop"
    assert "is loose" in loose["text"]
    assert (
        "may be loose" in findings(**MEASURED, bore_measured="95.11 mm")["no-interference"]["text"]
    )
    assert "force_most" not in results(**pair, seal_measured="95.01 mm")


def test_loose_when_warm() -> None:
    """Growth of 0.0874 mm on 95 mm by 80 K: stop when both are measured, else a caution."""
    hot = {"housing": "aluminium", "warm": "100 °C"}
    pair = {**MEASURED, **hot, "bore_measured": "95.00 mm"}
    codes = {"loose-when-warm", "slack-when-warm"}
    assert codes & findings(**pair, seal_measured="95.18 mm").keys() == set()
    assert codes & findings(**pair, seal_measured="95.17 mm").keys() == {"slack-when-warm"}
    assert codes & findings(**pair, seal_measured="95.088 mm").keys() == {"slack-when-warm"}
    assert findings(**pair, seal_measured="95.087 mm")["loose-when-warm"]["level"] == "stop"
    assert findings(case="metal", **hot)["loose-when-warm"]["level"] == "caution"
    assert codes & findings(case="rubber", **hot).keys() == set()
    assert codes & findings(case="metal", warm="100 °C").keys() == set()


def test_bore_against_h8() -> None:
    """Within 95.000 to 95.054 mm nothing is said; beyond it on either side something is."""
    for size, said in (("94.999", True), ("95.000", False), ("95.054", False), ("95.055", True)):
        found = findings(**MEASURED, bore_measured=f"{size} mm", seal_measured="95.2 mm")
        assert ("bore-outside-h8" in found) is said, size


def test_wrong_row_is_told() -> None:
    """A metal case that measures as a rubber-covered one is recognised as such."""
    found = findings(case="metal", seal_measured="95.30 mm")["seal-outside-row"]
    assert "rubber-covered case" in found["text"]
    assert "It fits the row" not in findings(seal_measured="95.60 mm")["seal-outside-row"]["text"]
    assert "seal-outside-row" not in findings(seal_measured="95.20 mm")
    assert "two-tables" in findings(case="metal")
    assert "two-tables" not in findings(case="metal", seal_measured="95.20 mm")


def test_hand_or_press() -> None:
    """2 kN divide driver and press; the figure is in the text."""
    press = {"press-needed", "hand-driver"}
    wide = {**MEASURED, "bore_measured": "95.00 mm", "seal_measured": "95.10 mm"}
    per_mm = value("force_most", **wide, width="10 mm") / 10
    assert press & findings(**wide, width=f"{1.99 / per_mm:.6f} mm").keys() == {"hand-driver"}
    assert press & findings(**wide, width=f"{2.01 / per_mm:.6f} mm").keys() == {"press-needed"}


def test_yield_of_the_case() -> None:
    """Above 250 MPa the elastic force is said to be more than it will need."""
    stress = value("hoop", **MEASURED, bore_measured="95.00 mm", seal_measured="95.10 mm") / 0.1
    for mpa, said in ((249, False), (251, True)):
        seal = f"{95 + mpa / stress:.7f} mm"
        found = findings(**MEASURED, bore_measured="95.00 mm", seal_measured=seal)
        assert ("case-yields" in found) is said


def test_always_drive_square() -> None:
    """Never on the centre, whatever the fit."""
    for case in ("metal", "rubber"):
        assert findings(case=case)["drive-square"]["level"] == "caution"


def test_refused_entries() -> None:
    """Contradictions name the entry to mend."""
    assert "Check both figures" in error("bore_measured", **MEASURED, bore_measured="97 mm")
    assert "Check both figures" in error("seal_measured", seal_measured="97 mm")
    assert "metal round the bore" in error("boss", case="metal", boss="96.5 mm")
    assert "table" in error("bore", bore="301 mm")


def test_us_units() -> None:
    """Inches and pounds-force; a bore in inches is taken as it is."""
    got = results("us", case="metal", bore="3.75 in")
    assert got["force_most"]["unit_text"] == "lbf"
    assert got["interference_least"]["unit_text"] == "in"
    assert got["bore_least"]["value"] == pytest.approx(95.25)
    assert "in" in findings("us", case="metal")["two-tables"]["text"]


@pytest.mark.parametrize(
    "entries",
    [
        {"bore": "16 mm", "boss": "20 mm"}, {"bore": "300 mm", "boss": "1000 mm", "width": "40 mm"},
        {**MEASURED, "bore_measured": "95.02 mm", "seal_measured": "95.02 mm"},
        {**MEASURED, "bore_measured": "95.9 mm", "seal_measured": "95.02 mm"},
        {"case": "rubber", "seal_measured": "95.9 mm"},
    ],
)  # fmt: skip
def test_drawing_stands_at_the_ends(entries: dict[str, str]) -> None:
    """The section comes out for clearance, nought and large interference."""
    assert drawn(**entries)[0].startswith("<svg")
