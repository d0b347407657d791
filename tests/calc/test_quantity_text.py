"""Typed text: what is read, what is refused, and that nothing is run."""

import contextlib
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.calc.quantity_text import EntryError, read_quantity
from witnessmark.calc.units import KINDS, magnitude_in


def read(kind: str, text: str):
    return read_quantity(text, KINDS[kind])


@pytest.mark.parametrize(
    ("kind", "text", "value", "unit"),
    [
        ("torque", "420 N·m", 420, "N·m"),
        ("torque", "420Nm", 420, "N·m"),
        ("torque", "  420  ", 420, "N·m"),
        ("torque", "420.", 420, "N·m"),
        ("torque", "310 lbf ft", 310, "lbf·ft"),
        ("torque", "310 ft-lb", 310, "lbf·ft"),
        ("torque", "43 kgf m", 43, "kgf·m"),
        ("torque", "1 200 N·m", 1200, "N·m"),
        ("torque", "1\u202f200 N·m", 1200, "N·m"),
        ("torque", "4.2e2 N·m", 420, "N·m"),
        ("length", "1 7/16 in", 1.4375, "in"),
        ("length", '1-7/16"', 1.4375, "in"),
        ("length", "7/16 in", 0.4375, "in"),
        ("length", "1½ in", 1.5, "in"),
        ("length", "0,12 mm", 0.12, "mm"),
        ("length", "12 µm", 12, "µm"),
        ("length", "12 um", 12, "µm"),
        ("length", "-0.005", -0.005, "mm"),
        ("length", "−0.005", -0.005, "mm"),
        ("length", ".5", 0.5, "mm"),
        ("fraction", "92 %", 92, "%"),
        ("temperature", "20 °C", 20, "°C"),
    ],
)
def test_what_a_fitter_types_is_read(kind, text, value, unit):
    """Numbers, decimal commas, fractions and unit spellings of the bench."""
    entered = read(kind, text)
    assert (entered.value, entered.unit) == (pytest.approx(value), unit)


@pytest.mark.parametrize(
    ("kind", "text", "low", "high"),
    [
        ("torque", "480 N·m ± 4 %", 460.8, 499.2),
        ("torque", "480 +- 4%", 460.8, 499.2),
        ("torque", "480 ± 20 N·m", 460, 500),
        ("torque", "480 N·m ± 20", 460, 500),
        ("length", "90 ± 0.5 mm", 89.5, 90.5),
        ("length", "90 mm ± 500 µm", 89.5, 90.5),
        ("length", "0.10 … 0.16", 0.10, 0.16),
        ("length", "0.10...0.16 mm", 0.10, 0.16),
        ("length", "75 mm +0.1/-0.2", 74.8, 75.1),
        ("fraction", "92 % ± 4 %", 0.88, 0.96),
        ("fraction", "0.92 ± 4 %", 0.8832, 0.9568),
        ("temperature", "20 °C ± 5 K", 288.15, 298.15),
        ("temperature", "68 °F ± 9", 288.15, 298.15),
    ],
)
def test_tolerances_and_ranges_are_read(kind, text, low, high):
    """Limits of ±, of deviations and of ranges (temperatures in kelvin)."""
    entered = read(kind, text)
    own = "K" if kind == "temperature" else KINDS[kind].own
    assert entered.toleranced
    assert magnitude_in(entered.low, own, KINDS[kind]) == pytest.approx(low)
    assert magnitude_in(entered.high, own, KINDS[kind]) == pytest.approx(high)


@pytest.mark.parametrize(
    ("kind", "text", "code"),
    [
        ("torque", "", "empty"),
        ("torque", "   ", "empty"),
        ("torque", "about 400", "no-number"),
        ("torque", "N·m", "no-number"),
        ("torque", "nan", "no-number"),
        ("torque", "inf", "no-number"),
        ("torque", "1e999", "absurd"),
        ("torque", "-1e300", "absurd"),
        ("torque", "9**9**9", "sum"),
        ("torque", "2*3", "sum"),
        ("torque", "(4)", "no-number"),
        ("torque", "9" * 10_000, "too-long"),
        ("torque", "٤٢٠", "other-digits"),
        ("torque", "４２０ N·m", "other-digits"),
        ("torque", "420 J", "unknown-unit"),
        ("torque", "420 mm", "unknown-unit"),
        ("torque", "420 furlong", "unknown-unit"),
        ("torque", "0x10", "unknown-unit"),
        ("torque", "1_000", "unknown-unit"),
        ("torque", "1,200", "ambiguous-comma"),
        ("torque", "1.2.3", "two-marks"),
        ("torque", "1.200,5", "two-marks"),
        ("length", "1/0 in", "odd-fraction"),
        ("length", "0.16 … 0.10", "range-order"),
        ("length", "0.10 in … 0.16 mm", "two-units"),
        ("temperature", "20 °C ± 5 %", "percent-of-temperature"),
        ("torque", "480 ± -4 %", "negative-tolerance"),
        ("torque", "__import__('os').system('true')", "no-number"),
        ("torque", "{{7*7}}", "no-number"),
    ],
)
def test_what_is_not_a_quantity_is_refused(kind, text, code):
    """Each refusal has a code, a message that ends as a sentence, and comes at once."""
    begun = time.perf_counter()
    with pytest.raises(EntryError) as refusal:
        read(kind, text)
    assert time.perf_counter() - begun < 0.05
    assert refusal.value.code == code
    assert refusal.value.message.endswith(".")
    assert len(refusal.value.message) < 250


def test_a_unit_of_another_kind_is_named():
    """The message says what the unit is a unit of and what is wanted."""
    with pytest.raises(EntryError, match="J is a unit of energy; a torque is wanted here, in N·m"):
        read("torque", "420 J")


def test_loose_spellings_carry_a_remark():
    """Kilograms for torque, and a bare fraction in a millimetre field, are remarked on."""
    assert "read as kgf·m" in read("torque", "43 kg m").remark
    assert "read in mm" in read("length", "1 7/16").remark
    assert read("length", "1 7/16 in").remark == ""


@settings(max_examples=400, derandomize=True, deadline=None)
@given(st.text(max_size=120), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused_cleanly(text, kind):
    """No text raises anything but EntryError, and what is read is finite."""
    try:
        entered = read(kind, text)
    except EntryError:
        return
    assert abs(entered.value) < 1e16
    assert entered.low <= entered.quantity <= entered.high


@settings(max_examples=200, derandomize=True, deadline=None)
@given(
    st.text(alphabet="0123456789.,/ ±%…+-eEN·m*()_x", max_size=40),
    st.sampled_from(["torque", "length", "fraction"]),
)
def test_text_like_a_quantity_is_read_or_refused_at_once(text, kind):
    """Near-misses do not make the reader hang or crash."""
    begun = time.thread_time()  # its own work, whatever else the machine is doing
    with contextlib.suppress(EntryError):
        read(kind, text)
    assert time.thread_time() - begun < 0.05
