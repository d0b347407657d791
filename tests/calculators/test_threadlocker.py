"""How many drops: volumes against quadrature, findings on both sides of their limits."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calculators.thread_gap import SIZES, THREADS
from calculators.threadlocker import threadlocker_quantity
from calculators.threadlocker_use import PLACES
from witnessmark.calc import evaluate

MANY = settings(max_examples=20, deadline=None, derandomize=True)


def results(units: str = "si", **entries: str) -> dict[str, Any]:
    """Result name to its part of the outcome."""
    outcome = evaluate(threadlocker_quantity, entries, units)
    assert outcome["complete"], outcome["entries"]
    return {part["name"]: part for part in outcome["results"]}


def value(name: str, **entries: str) -> float:
    """The number of a result in its own unit."""
    return float(results(**entries)[name]["value"])


def codes(**entries: str) -> dict[str, str]:
    """Codes of the findings with their levels."""
    outcome = evaluate(threadlocker_quantity, entries)
    assert outcome["complete"], outcome["entries"]
    return {finding["code"]: finding["level"] for finding in outcome["findings"]}


def error(name: str, **entries: str) -> str:
    """The message with which an entry is refused."""
    part = evaluate(threadlocker_quantity, entries)["entries"][name]["error"]
    assert part is not None
    return str(part["message"])


def test_volume_is_fill_times_length_times_the_integral() -> None:
    """The middle of M12×1.25 over 18 mm, its profiles written out here and integrated."""
    p, d2 = 1.25, 12 - 0.649519 * 1.25
    half = 1e-3 * (28 / 2 + 132 / 4), 1e-3 * 180 / 4

    def bolt(x: float) -> float:
        crest = (12 - 0.028 - 0.212 / 2) / 2
        root = (12 - 1.226869 * p) / 2 - half[0]
        return min(max(d2 / 2 - half[0] + math.sqrt(3) * (p / 4 - abs(x)), root), crest)

    def nut(x: float) -> float:
        crest = (12 - 1.082532 * p + 0.265 / 2) / 2
        return min(max(d2 / 2 + half[1] + math.sqrt(3) * (p / 4 - abs(x)), crest), 6 + half[1])

    area, _ = quad(lambda x: nut(x) ** 2 - bolt(x) ** 2, 0, p / 2, limit=400, epsrel=1e-9)
    expected = 1.5 * 18 * 2 * math.pi / p * area * 1e-3
    assert value("volume") == pytest.approx(expected, rel=1e-6)


@MANY
@given(
    st.sampled_from(SIZES), st.floats(3, 60), st.floats(1, 3), st.floats(0.02, 0.05),
    st.integers(1, 40),
)  # fmt: skip
def test_volumes_rise_and_drops_cover_them(
    name: str, length: float, fill: float, drop: float, count: int
) -> None:
    """Tight < middle < loose; the drops are the fewest that cover; the set is n loose threads."""
    found = results(
        thread=name, engagement=f"{length:.6f} mm", fill=f"{fill:.6f}",
        drop_volume=f"{drop:.6f} mL", fasteners=str(count), hole="through",
    )  # fmt: skip
    least, middle, most = (found[n]["value"] for n in ("volume_least", "volume", "volume_most"))
    assert least < middle < most
    text = found["drops"]["text"]
    few, many = text.split(" to ") if " to " in text else (text, text)
    size = round(drop, 6)
    for number, volume in ((int(few), least), (found["typical"]["value"], middle)):
        assert number >= 1
        assert number * size >= volume - 1e-9
        assert number == 1 or (number - 1) * size < volume
    assert (int(many) - 1) * size < most <= int(many) * size + 1e-9
    assert found["total"]["value"] == pytest.approx(count * most, rel=1e-12)


@MANY
@given(st.sampled_from(SIZES), st.floats(1.0, 2.0))
def test_volume_is_linear_in_length_and_fill(name: str, times: float) -> None:
    """Twice the length or twice the fill takes twice the volume."""
    one = value("volume", thread=name, engagement="20 mm", fill="1")
    by_length = value("volume", thread=name, engagement=f"{20 * times:.9f} mm", fill="1")
    by_fill = value("volume", thread=name, engagement="20 mm", fill=f"{times:.9f}")
    assert by_length == pytest.approx(times * one, rel=1e-6)
    assert by_fill == pytest.approx(times * one, rel=1e-6)


def test_one_number_when_tight_and_loose_need_the_same() -> None:
    """A short small thread takes one drop whatever its clearance."""
    found = results(thread="M6x1", engagement="4 mm")
    assert found["drops"]["text"] == "1"
    assert results()["drops"]["text"] == "1 to 6"


def test_whole_drops_are_not_one_more_for_a_last_bit() -> None:
    """A volume of exactly three drops takes three."""
    once = value("volume_most", thread="M10x1.5")
    found = results(thread="M10x1.5", drop_volume=f"{once / 3:.15f} mL", drop_by="usual")
    assert found["drops"]["text"].endswith(" to 3")


@MANY
@given(st.sampled_from(SIZES), st.floats(0.5, 10.0))
def test_plating_takes_four_times_its_thickness(name: str, coat: float) -> None:
    """Clearance falls by 4 s and the gap on a flank by 2 s."""
    plain, plated = results(thread=name), results(thread=name, plating=f"{coat:.6f} µm")
    for end in ("clearance_least", "clearance_most"):
        assert plain[end]["value"] - plated[end]["value"] == pytest.approx(4 * coat, abs=1e-4)
    assert plain["gap"]["value"] - plated["gap"]["value"] == pytest.approx(2 * coat, abs=1e-4)
    assert plated["volume"]["value"] < plain["volume"]["value"]


def test_gap_is_the_normal_distance_of_the_open_flank() -> None:
    """Axial play c tan 30°, square to the flank times cos 30°, is half the clearance."""
    found = results(thread="M30x2")
    middle = (found["clearance_least"]["value"] + found["clearance_most"]["value"]) / 2
    play = middle * math.tan(math.radians(30))
    assert found["gap"]["value"] == pytest.approx(play * math.cos(math.radians(30)), rel=1e-12)


def test_true_flanks_are_a_few_percent_more_than_the_bonded_area() -> None:
    """M10×1.5 over 10 mm: both flanks measured along the slope in the middle of the tolerances."""
    area = value("area", thread="M10x1.5", engagement="10 mm")
    size = THREADS["M10x1.5"]
    bolt, nut = size.bolt(0.5), size.nut(0.5)
    # Turns over 10 mm, two flanks each, between the bolt's crest and the nut's crest.
    slope = (bolt.crest - nut.crest) / 2 / math.cos(math.radians(30))
    flanks = 10 / 1.5 * 2 * slope * math.pi * (bolt.crest + nut.crest) / 2
    assert area == pytest.approx(math.pi * 9.0257 * 10, rel=1e-4)
    assert 0.9 < flanks / area < 1.1


def test_measured_pair_counts_as_it_is() -> None:
    """Both pitch diameters measured: one clearance, and volume still spreads with the crests."""
    found = results(
        thread="M30x2", known_by="measured", bolt_d2="28.60 mm", nut_d2="28.82 mm", plating="90 µm"
    )
    assert found["clearance_least"]["value"] == pytest.approx(220)
    assert found["clearance_most"]["value"] == pytest.approx(220)
    assert found["volume_least"]["value"] < found["volume_most"]["value"]
    wider = results(thread="M30x2", known_by="measured", bolt_d2="28.60 mm", nut_d2="28.90 mm")
    assert wider["volume"]["value"] > found["volume"]["value"]


def test_measured_pair_in_the_middle_is_the_table_in_the_middle() -> None:
    """Measuring the middle of the tolerances gives the volume for the middle."""
    size = THREADS["M30x2"]
    found = results(
        thread="M30x2", known_by="measured",
        bolt_d2=f"{size.bolt(0.5).pitch:.9f} mm", nut_d2=f"{size.nut(0.5).pitch:.9f} mm",
    )  # fmt: skip
    assert found["volume"]["value"] == pytest.approx(value("volume", thread="M30x2"), rel=1e-6)


@pytest.mark.parametrize(
    ("bolt", "nut", "name"),
    [("11.100", "11.400", "nut_d2"), ("10.98", "11.28", "bolt_d2"), ("11.2", "11.2", "nut_d2")],
)
def test_pair_of_another_thread_is_refused(bolt: str, nut: str, name: str) -> None:
    """A pitch diameter far off its basic size, or a nut not larger than its bolt."""
    assert error(name, known_by="measured", bolt_d2=bolt, nut_d2=nut)


def test_refusal_names_the_thread_and_its_size() -> None:
    """The message says what would be right."""
    message = error("bolt_d2", known_by="measured", bolt_d2="12.0 mm")
    assert "M12×1.25" in message
    assert "11.188" in message


def test_weighed_drops_replace_the_usual_one() -> None:
    """20 drops of 1 g at 1 g/cm³ are 0.05 mL each; no remark about weighing then."""
    entries = {"drop_by": "weighed", "twenty_drops": "1 g", "density": "1 g/cm³"}
    assert value("drop", **entries) == pytest.approx(0.05)
    assert "drop-not-weighed" not in codes(**entries)
    assert "drop-not-weighed" in codes()


@pytest.mark.parametrize(
    ("plating", "code"),
    [
        ("0 µm", None),
        ("6.9 µm", "plating"),
        ("7.1 µm", "plating-binds"),
        ("84.9 µm", "plating-binds"),
        ("85.1 µm", "plating-fills-gap"),
    ],
)
def test_plating_findings_stand_on_their_side(plating: str, code: str | None) -> None:
    """M12×1.25 has 28 µm to 340 µm: a quarter of each end is the limit."""
    found = {name for name in codes(plating=plating) if name.startswith("plating")}
    assert found == ({code} if code else set())


def test_stop_of_full_plating_is_a_stop() -> None:
    """Nothing goes together any more."""
    assert codes(plating="90 µm")["plating-fills-gap"] == "stop"
    assert results(plating="90 µm")["gap"]["value"] < 0


@pytest.mark.parametrize("place", [place for place in PLACES if place != "none"])
def test_each_place_where_it_must_not_go_stops(place: str) -> None:
    """Every place but none raises its own stop, and only that one."""
    found = codes(place=place)
    assert found[f"never-{place}"] == "stop"
    assert sum(code.startswith("never-") for code in found) == 1


def test_no_stop_by_default() -> None:
    """The plain case gives no stop."""
    assert "stop" not in codes().values()


@pytest.mark.parametrize(("hole", "raised"), [("blind", True), ("through", False), ("stud", False)])
def test_blind_hole_is_warned_of(hole: str, raised: bool) -> None:
    """Only the blind hole can trap liquid; each kind has its own place."""
    assert ("blind-hole" in codes(hole=hole)) is raised
    texts = {results(hole=kind)["where"]["text"] for kind in ("blind", "through", "stud")}
    assert len(texts) == 3


def test_many_drops_become_a_bead() -> None:
    """Above ten drops, counting ends."""
    base = {"thread": "M12x1.25", "hole": "through"}
    most = value("volume_most", **base)
    assert "bead" not in codes(**base, drop_volume=f"{most / 9.9:.6f} mL")
    assert "bead" in codes(**base, drop_volume=f"{most / 10.1:.6f} mL")


@pytest.mark.parametrize(("thread", "raised"), [("M18x1.5", False), ("M20x1.5", True)])
def test_large_threads_are_named(thread: str, raised: bool) -> None:
    """From 20 mm on."""
    assert ("large-thread" in codes(thread=thread)) is raised


@pytest.mark.parametrize(
    ("fills", "raised"), [("", False), ("0.169 mm", True), ("0.171 mm", False)]
)
def test_gap_wider_than_the_grade_fills(fills: str, raised: bool) -> None:
    """M12×1.25 leaves up to 170 µm on one flank; no data sheet figure, no finding."""
    assert ("gap-too-wide" in codes(fills=fills)) is raised


@pytest.mark.parametrize(("nut", "raised"), [("11.367", False), ("11.370", True)])
def test_worn_pair_is_named(nut: str, raised: bool) -> None:
    """A measured clearance beyond that of a new thread."""
    found = codes(known_by="measured", bolt_d2="11.028", nut_d2=nut)
    assert ("outside-tolerance" in found) is raised


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("engagement", "0.5 mm"), ("engagement", "2 m"), ("fill", "0.9"), ("fill", "3.5"),
        ("fasteners", "2.5"), ("fasteners", "0"), ("plating", "-1 µm"), ("plating", "0.2 mm"),
        ("thread", "M30"), ("drop_volume", "1 mL"), ("engagement", "18 N"),
    ],
)  # fmt: skip
def test_odd_entries_are_refused(name: str, text: str) -> None:
    """Each with a message of its own."""
    assert error(name, **{name: text})


def test_usual_range_of_a_drop() -> None:
    """A drop out of 0.02 mL to 0.05 mL is taken with a caution."""
    assert "unusual" in codes(drop_volume="0.06 mL")
    assert "unusual" not in codes(drop_volume="0.05 mL")


def test_us_units() -> None:
    """Inches are read, thou and square inches shown; the drops do not change."""
    si, us = results(engagement="25.4 mm"), results("us", engagement="1 in")
    assert us["drops"]["text"] == si["drops"]["text"]
    assert us["clearance_most"]["display"] == "13.4\u202fthou"
    assert us["area"]["unit_text"] == "in²"


@pytest.mark.parametrize("thread", ["M6x1", "M45x4.5"])
def test_drawing_tells_how_far_the_gap_is_widened(thread: str) -> None:
    """The exaggeration of the gap is stated."""
    outcome = evaluate(threadlocker_quantity, {"thread": thread})
    svg = outcome["drawings"][0]["svg"]
    assert "times as wide" in svg
    assert "bolt" in svg


def test_drawing_stands_with_no_gap_left() -> None:
    """Full plating leaves no gap to widen; the drawing still comes."""
    outcome = evaluate(threadlocker_quantity, {"plating": "90 µm"})
    assert outcome["drawings"][0]["svg"].startswith("<svg")
