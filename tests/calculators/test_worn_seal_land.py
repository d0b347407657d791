"""Worn land: the shift against a walk along the shaft, the sleeve against its geometry."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.worn_seal_land import worn_seal_land
from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import evaluate

MANY = settings(max_examples=40, deadline=None, derandomize=True)
DEEPER, LESS, SLEEVE, STAY = (
    "seat the seal deeper", "seat the seal less deep", "fit a sleeve", "leave the seat as it is",
)  # fmt: skip


def outcome(units: str = "si", **entries: Any) -> dict[str, Any]:
    """The outcome of a case that can be read, without drawings."""
    found = evaluate_undrawn(worn_seal_land, entries, units)
    assert found["complete"], found["entries"]
    return found


def drawn(units: str = "si", **entries: Any) -> list[str]:
    """The drawings of a case, as SVG."""
    return [part["svg"] for part in evaluate(worn_seal_land, entries, units)["drawings"]]


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
    part = evaluate(worn_seal_land, entries)["entries"][name]["error"]
    assert part is not None
    return str(part["message"])


def goes(direction: int, g: float, z: float, b: float, h: float, lands: Any, f: float) -> bool:
    """Walk it: place the seal shifted, move the shaft through its float, look where things are.

    Lengths in mm; direction +1 inward. The old lip is the origin of the land.
    """
    s = direction * (g + 1)
    if z + s < -1e-9 or z + s + b > h + 1e-9:
        return False
    groove = (-g / 2, g / 2)
    ends = (groove[0] - lands[1], groove[1] + lands[0])
    for float_now in np.linspace(-f, f, 9):
        lip = s + float_now
        if not ends[0] + 0.5 - 1e-9 <= lip <= ends[1] - 0.5 + 1e-9:
            return False
    return True


@MANY
@given(
    st.floats(0.2, 3), st.floats(0, 6), st.floats(5, 15), st.floats(0, 6), st.floats(0, 8),
    st.floats(0, 8), st.floats(0, 0.6),
)  # fmt: skip
def test_what_fits_is_what_a_walk_finds(
    g: float, z: float, b: float, spare: float, inward: float, outward: float, f: float
) -> None:
    """Each reserve is at least nought exactly where the walk finds that the shift goes."""
    h = z + b + spare
    got = results(
        groove_width=f"{g!r} mm", old_depth=f"{z!r} mm", seal_width=f"{b!r} mm",
        bore_depth=f"{h!r} mm", land_inward=f"{inward!r} mm", land_outward=f"{outward!r} mm",
        end_float=f"{f!r} mm",
    )  # fmt: skip
    may = {}
    for name, direction in (("reserve_inward", 1), ("reserve_outward", -1)):
        may[name] = goes(direction, g, z, b, h, (inward, outward), f)
        assert (got[name]["value"] >= -1e-9) is may[name], name
    assert (got["way"]["text"] == SLEEVE) is not any(may.values())
    if "new_depth" in got:
        depth = got["new_depth"]["value"]
        assert -1e-9 <= depth <= h - b + 1e-9
        assert abs(depth - z) == pytest.approx(g + 1)


def test_the_way_with_more_in_hand() -> None:
    """Deeper where both are alike; else the one with more."""
    alike = {"bore_depth": "14 mm", "land_inward": "4 mm", "land_outward": "4 mm"}
    assert results(**alike)["way"]["text"] == DEEPER
    assert results(**alike | {"land_inward": "2.2 mm"})["way"]["text"] == LESS
    short = {"land_inward": "2.2 mm", "land_outward": "2.1 mm"}
    assert results(**alike | short)["way"]["text"] == DEEPER
    assert results(**alike | {"land_inward": "2.1 mm", "land_outward": "2.1 mm"})["way"][
        "text"
    ] == (SLEEVE)


def test_shallow_groove_may_stay() -> None:
    """Up to the limit the seat stays; beyond it something is done."""
    assert results(groove_depth="0.05 mm")["way"]["text"] == STAY
    assert codes(groove_depth="0.05 mm")["groove-may-stay"] == "note"
    assert "new_depth" not in results(groove_depth="0.05 mm")
    deep = codes(groove_depth="0.051 mm")
    assert deep["groove-deep"] == "caution"
    assert "groove-may-stay" not in deep
    assert results(groove_depth="0.051 mm", groove_limit="0.1 mm")["way"]["text"] == STAY


def test_shift_tight() -> None:
    """Less than half a millimetre in hand is told."""
    lands = {"land_outward": "0 mm"}
    assert "shift-tight" not in codes(land_inward="2.66 mm", **lands)
    assert codes(land_inward="2.64 mm", **lands)["shift-tight"] == "caution"


def test_why_it_cannot_be_shifted() -> None:
    """The text names what is missing on each side."""
    case = outcome(bore_depth="12.5 mm", land_outward="1 mm")
    text = next(f["text"] for f in case["findings"] if f["code"] == "shift-impossible")
    assert "deeper the bore leaves 0.50\u202fmm of 1.8\u202fmm" in text
    assert "less deep the land leaves 1.0\u202fmm of 2.2\u202fmm" in text


@MANY
@given(st.floats(6, 400), st.floats(0.05, 3), st.floats(0.1, 2))
def test_sleeve_grows_diameter_by_two_walls(d: float, w: float, grip: float) -> None:
    """Land plus a wall on each side; the lip's interference grows by the same length."""
    free = d - grip
    if free < 4:
        return
    got = results(land_diameter=f"{d!r} mm", sleeve_wall=f"{w!r} mm", lip_free=f"{free!r} mm")
    assert got["sleeved"]["value"] == pytest.approx(d / 2 + w + d / 2 + w)
    assert got["growth"]["value"] == pytest.approx(got["sleeved"]["value"] - d, abs=1e-9)
    assert got["interference"]["value"] == pytest.approx(grip + 2 * w, abs=1e-9)
    ratio = got["interference"]["value"] / grip - 1
    assert got["growth_share"]["value"] == pytest.approx(100 * ratio, rel=1e-6)


def test_thick_sleeve_is_a_stop_only_where_it_is_the_way() -> None:
    """Over 0.60 mm on the diameter the lip for the bare shaft is overstretched."""
    short = {"land_inward": "1 mm", "land_outward": "1 mm"}
    assert "sleeve-thick" not in codes(sleeve_wall="0.30 mm", **short)
    assert codes(sleeve_wall="0.31 mm", **short)["sleeve-thick"] == "stop"
    assert codes(sleeve_wall="0.31 mm")["sleeve-thick"] == "note"


def test_sleeve_findings_only_with_a_sleeve() -> None:
    """A deep groove is filled first, and the lip runs tighter."""
    short = {"land_inward": "1 mm", "land_outward": "1 mm"}
    sleeve = {"fill-the-groove", "lip-runs-tighter"}
    assert sleeve & codes(groove_depth="0.31 mm").keys() == set()
    assert sleeve & codes(groove_depth="0.30 mm", **short).keys() == {"lip-runs-tighter"}
    assert sleeve & codes(groove_depth="0.31 mm", **short).keys() == sleeve


def test_dust_lip_is_remembered() -> None:
    """Its track moves too."""
    assert codes(lips="dust")["check-dust-lip"] == "caution"
    assert "check-dust-lip" not in codes(lips="single")


def test_refused_entries() -> None:
    """Lengths that cannot be together name the entry to mend."""
    assert "more than the bore" in error("old_depth", bore_depth="11.9 mm")
    assert results(bore_depth="12 mm")["room_inward"]["value"] == pytest.approx(0)
    assert "smaller than the land" in error("lip_free", lip_free="75 mm")
    assert error("groove_width", groove_width="0 mm")


def test_us_units_and_drawings() -> None:
    """Inches in results; drawings stand for each way and at the ends."""
    got = results("us", groove_width="0.03 in")
    assert got["shift"]["unit_text"] == "in"
    assert got["shift"]["value"] == pytest.approx(0.03 * 25.4 + 1)
    for entries in (
        {}, {"groove_depth": "0 mm"}, {"land_inward": "0 mm", "land_outward": "0 mm"},
        {"bore_depth": "200 mm", "land_inward": "100 mm"}, {"land_inward": "0 mm"},
    ):  # fmt: skip
        assert drawn("us", **entries)[0].startswith("<svg")


def test_the_groove_says_how_deep_it_is_drawn() -> None:
    """0.08 mm beside a seal of 10 mm is drawn ten times as deep."""
    assert "10 times as deep" in drawn()[0]
