"""Index mark: against the exact chord, linear in the offset, and its findings."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.index_mark import index_mark_offset
from witnessmark.calc import evaluate


def run(**entries):
    return evaluate(index_mark_offset, entries)


def value(result, name):
    return next(part for part in result["results"] if part["name"] == name)["value"]


@settings(max_examples=40, derandomize=True, deadline=None)
@given(st.floats(0.01, 5), st.floats(200, 600), st.floats(10, 90))
def test_the_arc_and_the_chord_agree_for_small_offsets(offset, rim, dowels):
    """Turn the dowel by the angle whose chord is the offset: alike to a part in 1000."""
    exact = 2 * math.asin(offset / rim)
    chord = 2 * dowels * math.sin(exact / 2)
    result = run(offset=f"{offset:.9f} mm", rim=f"{rim:.9f} mm", dowels=f"{dowels:.9f} mm")
    assert value(result, "at_dowels") == pytest.approx(chord, rel=1e-3)


@pytest.mark.parametrize(
    ("entries", "code", "raised"),
    [
        ({"offset": "1 mm", "room": "200 µm"}, "beyond-room", False),
        ({"offset": "2 mm", "room": "200 µm"}, "beyond-room", True),
        ({"offset": "0.6 mm"}, "far-at-dowels", False),
        ({"offset": "0.7 mm"}, "far-at-dowels", True),
        ({"offset": "2.9 mm"}, "more-than-a-tooth", False),
        ({"offset": "3.1 mm"}, "more-than-a-tooth", True),
    ],
)
def test_findings_on_both_sides_of_their_limits(entries, code, raised):
    """The stop follows the room, the cautions the distance and the turn."""
    found = {finding["code"] for finding in run(**entries)["findings"]}
    assert (code in found) == raised
