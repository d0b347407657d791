"""Wrench setting with an offset adapter, which moves the fastener off the drive axis.

Purpose at the bench: what to set the torque wrench to when an open-ended (crowfoot) adapter
reaches a fastener that no socket reaches, and what the fastener then gets.

One hand pulls at the mark of the grip, at the length L from the drive. Its force gives
F L cos(eps) about the drive, which the wrench reads, and about the fastener, at the distance B
and the angle theta to the wrench's forward axis, F cos(eps) (L + B cos(theta)) +
F sin(eps) B sin(theta). So T/S = 1 + (B/L)(cos(theta) + sin(theta) tan(eps)). At a right angle
and with a square pull nothing changes; there a pull off the square matters most.

Symbols: T torque at the fastener, S setting, L drive to grip, B drive to fastener, theta angle
of the adapter (0 straight ahead, 90 degrees to the side, 180 folded back), eps pull off the
square, w share of its setting that the wrench gives.

Assumptions: a single pull at the marked grip; two hands that push and pull apart make the
length of the wrench count for nothing. A straight extension needs no correction.

Sources: moments of one force about two points (derivation); TM 9-254 (worked example);
ISO 6789-1 from memory for the wrench; limits of use: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calculators.plain_figure import figure
from calculators.shop_tools import TORQUE_WRENCH
from calculators.wrench_entries import WRENCH, division, marks, newton_metres
from calculators.wrench_scale import (
    ISO_6789,
    findings_of_range,
    findings_of_rounding,
    nearest_mark,
    nm,
)
from witnessmark.calc import (
    Angle,
    CheckValue,
    Drawing,
    Finding,
    Formula,
    Fraction,
    Length,
    Number,
    Q,
    Quantity,
    RefusedError,
    Rounding,
    Source,
    Symbol,
    Torque,
    calculator,
    caution,
    entry,
    note,
    result,
    show,
)

TM_9_254 = Source(
    "tm-9-254", "TM 9-254 General maintenance procedures, torque wrench with an adapter: worked "
    "example", kind="handbook",
)  # fmt: skip
BY_HAND = Source(
    "two-moments", "Moments of one force about drive and fastener, by hand", kind="derivation"
)
PRACTICE = Source(
    "adapter-practice", "Bench practice with offset adapters, no published source",
    kind="common practice",
)  # fmt: skip
TORQUES = ("N·m", "lbf·ft", "lbf·in", "kgf·m")
_STEP, (_LOWEST, _HIGHEST) = division("1 N·m", TORQUES), marks("2000 N·m", TORQUES)

LONG = 0.5
"""Adapter over wrench length above which the correction is no longer to be trusted."""
STEEP = 60.0
"""Angle in degrees from the forward or backward axis where a pull off the square counts."""


@dataclass(frozen=True)
class OffsetAdapter:
    """What to set, and what the fastener then gets."""

    setting: Torque = result(
        "Set the wrench to", lead=True, rounding=Rounding(figures=3), band=False,
        help="The mark of the wrench's scale that comes nearest.",
    )  # fmt: skip
    torque: Torque = result("The fastener then gets", rounding=Rounding(figures=3))
    gain: Number = result(
        "Fastener's torque over the setting", rounding=Rounding(decimals=3, us_decimals=3)
    )
    most: Torque | None = result(
        "Most that this wrench gives at the fastener", rounding=Rounding(figures=3), band=False
    )
    exact: Torque = result(
        "Setting before rounding to the scale", rounding=Rounding(figures=4), band=False,
        seldom=True,
    )  # fmt: skip
    findings: tuple[Finding, ...] = ()


@calculator(
    name="offset-adapter",
    title="Wrench setting with an offset adapter",
    topic="torque",
    purpose="Tells what to set the torque wrench to when an open-ended adapter moves the fastener "
    "off its drive, and what the fastener then gets.",
    formulas=(
        Formula(r"S = \frac{T\,L}{w\,(L + B\cos\theta)}", "Setting, then rounded to the scale"),
        Formula(
            r"\frac{T}{S} = w\left(1 + \frac{B}{L}(\cos\theta + \sin\theta\tan\varepsilon)\right)",
            "Torque at the fastener, pull off the square by ε",
        ),
    ),
    symbols=(
        Symbol("T, S", "torque at the fastener, setting", "N·m"),
        Symbol("L", "drive to the mark of the grip", "mm"),
        Symbol("B", "drive to the fastener's centre", "mm"),
        Symbol(r"\theta", "angle of the adapter to the wrench's forward axis", "°"),
        Symbol(r"\varepsilon", "pull off the square", "°"),
        Symbol("w", "share of its setting that the wrench gives", "1"),
    ),
    assumptions=(
        "One hand pulls, at the mark of the grip.",
        "Wrench, adapter and fastener lie in one plane.",
        "The deviation of the wrench counts from the true torque (ISO 6789).",
    ),
    sources=(BY_HAND, TM_9_254, ISO_6789, PRACTICE),
    tools=(TORQUE_WRENCH,),
    check_values=(
        CheckValue(
            "12 in wrench, 2 in adapter straight ahead, 70 lbf·in at the fastener",
            {"target": "70 lbf·in", "length": "12 in", "offset": "2 in", "angle": "0°",
             "step": "1 lbf·in"},
            {"exact": "60.0 lbf·in", "setting": "60.0 lbf·in", "torque": "70.0 lbf·in"},
            source=TM_9_254, remark="the handbook sets 60 for 70",
        ),
        *(
            CheckValue(
                f"400 mm wrench, 60 mm adapter at {angle}°",
                {"target": "100 N·m", "length": "400 mm", "offset": "60 mm", "angle": f"{angle}°"},
                {"exact": f"{setting} N·m"}, source=BY_HAND,
            )
            for angle, setting in (
                (0, "86.957"), (45, "90.411"), (90, "100.000"), (135, "111.865"), (180, "117.647"),
            )
        ),
        CheckValue(
            "a wrench that ends at 60 gives more than 60",
            {"target": "65 N·m", "length": "300 mm", "offset": "50 mm", "angle": "0°",
             "wrench_high": "60 N·m"},
            {"most": "70 N·m"}, source=BY_HAND, findings=("more-at-fastener",),
            remark="60 × 350/300",
        ),
        CheckValue(
            "pull 10° off the square, adapter at a right angle",
            {"target": "100 N·m", "length": "400 mm", "offset": "60 mm", "angle": "90°",
             "misdirected": "10° ± 0°", "wrench": "100 % ± 0"},
            {"gain": "1.02645"}, source=BY_HAND, remark="1 + 0.15 × tan 10°",
            findings=("square-pull-counts",),
        ),
    ),
)  # fmt: skip
def offset_adapter(
    *,
    target: Torque = entry(
        "Torque wanted at the fastener", "90 N·m", units=TORQUES, least="0.5 N·m",
        most="2000 N·m", why="Hand wrenches work between 0.5 N·m and 2000 N·m.",
    ),
    length: Length = entry(
        "Wrench: drive to the mark of the grip", "400 mm", units=("mm", "in"), least="100 mm",
        most="1500 mm", why="Torque wrenches are 100 mm to 1500 mm long.",
        help="To the mark where the hand pulls, not to the end of the wrench.",
    ),
    offset: Length = entry(
        "Adapter: drive to the fastener", "50 mm", units=("mm", "in"), least="0 mm",
        most="300 mm", why="Adapters reach up to 300 mm.", help="Centre to centre.",
    ),
    angle: Angle = entry(
        "Angle of the adapter", "0°", units=("°",), least="-180°", most="180°",
        why="0° points straight ahead, 180° back over the handle.",
        help="From the wrench's forward axis: 0° lengthens it, 90° to the side, 180° folded back.",
    ),
    misdirected: Angle = entry(
        "Pull off the square", "0°", units=("°",), least="-30°", most="30°", tolerance="10°",
        seldom=True, why="Pull square to the wrench.",
        help="10° either way is taken unless a tolerance is written. It counts where the adapter "
        "stands to the side.",
    ),
    wrench: Fraction = WRENCH,
    step: Torque = _STEP,
    wrench_low: Torque | None = _LOWEST,
    wrench_high: Torque | None = _HIGHEST,
) -> OffsetAdapter:  # fmt: skip
    """Setting and torque at the fastener; see the module's docstring."""
    lengths = figure("length", length, "millimeter")
    offsets = figure("offset", offset, "millimeter")
    angles = figure("angle", angle, "radian")
    aside = figure("misdirected", misdirected, "radian")
    gives = figure("wrench", wrench, "dimensionless")
    chosen = _gain(lengths.value, offsets.value, angles.value, aside.value)
    if chosen <= 0.05:
        raise RefusedError(
            "angle",
            "Folded back like this the fastener comes to lie under the hand and gets next to "
            "nothing. Turn the adapter round.",
        )
    exact = figure("target", target, "newton*meter").value / (chosen * gives.value)
    setting = nearest_mark(exact, figure("step", step, "newton*meter").value)
    gain = _gain(lengths.now, offsets.now, angles.now, aside.now)
    low, high = newton_metres(wrench_low), newton_metres(wrench_high)
    most = None if high is None else high * chosen * gives.value
    turned = abs(math.degrees(angles.value))
    return OffsetAdapter(
        setting=Q(setting, "N·m"),
        torque=Q(setting * gain * gives.now, "N·m"),
        gain=Q(gain, ""),
        most=None if most is None else Q(most, "N·m"),
        exact=Q(exact, "N·m"),
        findings=(
            *findings_of_range(setting, low, high, "Take a larger wrench."),
            *findings_of_rounding(setting, exact),
            *_of_shape(lengths.value, offsets.value, turned),
            *_of_capacity(high, most, offsets.value),
            *(_ALWAYS if offsets.value > 0 else ()),
        ),
    )


def _gain(length: float, offset: float, angle: float, aside: float) -> float:
    """Torque at the fastener over that at the drive; angles in radians."""
    return 1 + offset / length * (math.cos(angle) + math.sin(angle) * math.tan(aside))


def _of_shape(length: float, offset: float, turned: float) -> list[Finding]:
    """Lengths in mm; ``turned`` is how far the adapter stands off the forward axis, in degrees."""
    found = []
    if offset > LONG * length or length + offset * math.cos(math.radians(turned)) <= LONG * length:
        found.append(
            caution(
                "adapter-long",
                "The adapter is long for this wrench, and small slips in its length, its angle or "
                "the place of the hand count heavily. Take a longer wrench or a shorter adapter.",
                "offset",
            )
        )
    if offset > 0 and STEEP <= turned <= 180 - STEEP:
        found.append(
            note(
                "square-pull-counts",
                "With the adapter to the side, a pull off the square goes straight into the "
                "torque. Pull square to the wrench, and level.",
                "angle",
            )
        )
    return found


def _of_capacity(high: float | None, most: float | None, offset: float) -> list[Finding]:
    """Whether wrench and adapter together give more than the wrench's scale says."""
    if high is None or most is None or offset == 0 or most <= high * (1 + 1e-9):
        return []
    return [
        caution(
            "more-at-fastener",
            f"With the adapter this wrench, whose scale ends at {nm(high)}, gives up to "
            f"{nm(most)} at the fastener. Do not judge the fastener's torque by the scale.",
            "wrench_high",
        )
    ]


_ALWAYS = (
    caution(
        "one-hand",
        "Pull with one hand, at the mark of the grip. A second hand that pushes at the head "
        "changes the torque and the wrench does not show it.",
    ),
    note(
        "adapter-flat",
        "Keep adapter and wrench in one plane and the jaws full on the nut. A straight extension "
        "needs no correction.",
    ),
)


@offset_adapter.drawing("Wrench and adapter")
def _(entries: Any, results: Any) -> Drawing:
    length, offset = (each.m_as("millimeter") for each in (entries.length, entries.offset))
    theta = entries.angle.m_as("radian")
    tip = (offset * math.cos(theta), offset * math.sin(theta))
    head = max(0.055 * length, 12.0)
    if offset > 0:
        head = min(head, 0.45 * offset)
    sheet = Drawing(
        "Wrench and adapter",
        f"The wrench lies to the left of its drive, its grip {show(entries.length, 'mm')} away. "
        f"The adapter carries the fastener {show(entries.offset, 'mm')} from the drive, at "
        f"{show(entries.angle, '°', 2)} to the wrench's forward axis.",
    )
    half = 0.25 * head
    sheet.rect(-1.12 * length, -half, 1.12 * length - head, 2 * half)
    if offset > 0:
        along = (math.cos(theta), math.sin(theta))
        ends = [(at * along[0], at * along[1]) for at in (head, offset - head)]
        side = (-along[1] * half, along[0] * half)
        for x, y in (side, (-side[0], -side[1])):
            sheet.line((ends[0][0] + x, ends[0][1] + y), (ends[1][0] + x, ends[1][1] + y))
        sheet.circle(tip, head)
        sheet.hexagon(tip, 1.2 * head, covers=False)
    sheet.circle((0, 0), head)
    sheet.square((0, 0), 0.7 * head)
    sheet.force((-length, half), "s", f"set to {_shown(results.setting)}")
    sheet.dimension((-length, 0), (0, 0), show(entries.length, "mm"), "below")
    if offset > 0:
        sheet.label((tip[0], tip[1] + head), _shown(results.torque), "n", strong=True)
    return sheet


def _shown(torque: Quantity) -> str:
    return show(torque, "N·m")
