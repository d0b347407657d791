"""Scales of charts: ticks at 1, 2 or 5 times a power of ten, linear or logarithmic."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.calc.drawing.numerals import plain

_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


@dataclass(frozen=True)
class Tick:
    """A mark on a scale; a tick without text is a minor one."""

    value: float
    text: str


@dataclass(frozen=True)
class Scale:
    """A range of values and its ticks."""

    low: float
    high: float
    ticks: tuple[Tick, ...]
    log: bool = False

    def share(self, value: float) -> float:
        """Return where a value lies, 0 at the low end and 1 at the high end."""
        if self.log:
            if value <= 0:
                raise ValueError(f"a logarithmic scale shows values above nought, found {value!r}")
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)


def nice_step(span: float, count: int) -> float:
    """Return the smallest 1-2-5 step that divides ``span`` into ``count`` steps or fewer."""
    rough = span / count
    power = 10.0 ** math.floor(math.log10(rough) + 1e-9)
    for factor in (1.0, 2.0, 5.0, 10.0):
        if factor * power >= rough * (1 - 1e-9):
            return factor * power
    return 10.0 * power


def linear_scale(
    values: Iterable[float], *, count: int = 5, low: float | None = None, high: float | None = None
) -> Scale:
    """Return a scale over the values, widened to whole ticks unless an end is given."""
    found = [*values, *(end for end in (low, high) if end is not None)]
    least, most = min(found), max(found)
    if most - least < 1e-12 * max(1.0, abs(most)):
        least, most = least - (abs(least) or 1.0) * 0.5, most + (abs(most) or 1.0) * 0.5
    step = nice_step(most - least, count)
    start = low if low is not None else math.floor(least / step + 1e-9) * step
    stop = high if high is not None else math.ceil(most / step - 1e-9) * step
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    first, last = math.ceil(start / step - 1e-9), math.floor(stop / step + 1e-9)
    ticks = tuple(Tick(k * step, plain(k * step, decimals)) for k in range(first, last + 1))
    return Scale(start, stop, ticks)


def log_scale(
    values: Iterable[float], *, low: float | None = None, high: float | None = None
) -> Scale:
    """Return a logarithmic scale over the values, widened to whole decades unless given."""
    found = [*values, *(end for end in (low, high) if end is not None)]
    least, most = min(found), max(found)
    if least <= 0:
        raise ValueError(f"a logarithmic scale shows values above nought, found {least!r}")
    start = low if low is not None else 10.0 ** math.floor(math.log10(least) + 1e-9)
    stop = high if high is not None else 10.0 ** math.ceil(math.log10(most) - 1e-9)
    if stop <= start * (1 + 1e-9):
        start, stop = start / 10, stop * 10
    first = math.floor(math.log10(start) + 1e-9)
    last = math.ceil(math.log10(stop) - 1e-9)
    decades = last - first
    ticks: list[Tick] = []
    for power in range(first, last + 1):
        for factor in range(1, 10):
            value = factor * 10.0**power
            if not start * (1 - 1e-9) <= value <= stop * (1 + 1e-9):
                continue
            named = factor == 1 or (decades <= 2 and factor in (2, 5))
            ticks.append(Tick(value, _log_text(factor, power) if named else ""))
    return Scale(start, stop, tuple(ticks), log=True)


def _log_text(factor: int, power: int) -> str:
    if -3 <= power <= 4:
        return plain(factor * 10.0**power, max(0, -power))
    head = "" if factor == 1 else f"{factor}·"
    return f"{head}10{str(power).translate(_SUPERSCRIPT)}"
