"""Drawings of a lip seal that runs and of one before it is pressed in.

Cut metal is hatched as in ISO 128; shafts are not cut along. What is too small to see is
drawn larger, and the drawing says how much.
"""

from __future__ import annotations

import math
from typing import Any

from calculators.lip_seal_tables import RUNOUTS
from calculators.seal_section import Place, draw_seal, round_factor
from witnessmark.calc import Chart, Drawing, Q, show


def section_of_running(entries: Any, results: Any) -> Drawing:
    """Section through seal, bore and shaft, what lies out of centre drawn larger."""
    # Seal, bore and shaft are drawn in one size: what counts is what lies out of centre.
    radius, h, b = 20.0, 14.0, 14.0
    e, t = results.offset.m_as("mm"), entries.runout.m_as("mm")
    factor = round_factor(0.35 * h / max(e, t / 2)) if max(e, t) > 0 else 1
    rise, swing = min(e * factor, 0.45 * h), min(t / 2 * factor, 0.45 * h)
    offset, runout = show(results.offset, "mm", 2), show(entries.runout, "mm", 2)
    seen = f"drawn {factor} times as large" if factor > 1 else "drawn to scale"
    across = show(entries.shaft, "mm")
    sheet = Drawing(
        "Seal, bore and shaft",
        f"Section along a shaft of {across}: the bore lies {offset} beside the shaft and the "
        f"land runs out by {runout}, both {seen}. Seal, bore and shaft are not to scale.",
    )
    bore = radius + h
    for up in (1, -1):
        block = [
            (-0.3 * b, bore), (1.1 * b, bore), (1.1 * b, bore - 0.4 * h), (1.8 * b, bore - 0.4 * h),
            (1.8 * b, bore + 0.6 * h), (-0.3 * b, bore + 0.6 * h),
        ]  # fmt: skip
        sheet.polygon([(x, up * y) for x, y in block], cut="/")
        surface = radius + up * rise
        draw_seal(sheet, Place(0, up * surface, up), b, bore - surface, 0.13 * h)
    left, right = -1.2 * b, 2.6 * b
    for y in (rise - radius, rise + radius):
        sheet.line((left, y), (right, y))
        if swing > 0:
            sheet.line((left, y - swing), (right, y - swing), "hidden")
            sheet.line((left, y + swing), (right, y + swing), "hidden")
    for x in (left, right):
        sheet.break_line((x, rise - radius), (x, rise + radius))
    sheet.line((left - 4, 0), (right + 4, 0), "centre")
    if rise > 0:
        sheet.line((left - 4, rise), (right + 4, rise), "centre")
        sheet.label((2.0 * b, rise), "axis of the shaft", "ne", on="line")
    sheet.dimension((left, rise - radius), (left, rise + radius), f"Ø {across}", side="left")
    if swing > 0:
        swings = f"runout {runout},\n{seen}"
        sheet.label((2.2 * b, radius + rise + swing), swings, "ne", on="line")
    bore_text = f"axis of the bore,\noffset {offset}" if rise > 0 else "axis of shaft and bore"
    sheet.label((2.0 * b, 0), bore_text, "se", on="line")
    return sheet


def chart_of_runout(entries: Any, results: Any) -> Chart:
    """The runout a lip can follow against speed, and the shaft at hand."""
    n, t = entries.speed.m_as("turn/minute"), entries.runout.m_as("mm")
    end, unit = RUNOUTS[-1][0], "in" if show(Q(1, "mm"), "mm").endswith("in") else "mm"
    one = Q(1, "mm").m_as("inch" if unit == "in" else "mm")
    chart = Chart(
        "Allowed runout against speed",
        "The faster the shaft turns, the less runout a lip can follow: "
        f"{show(Q(RUNOUTS[0][1], 'mm'), 'mm', 2)} up to 500 r/min, "
        f"{show(Q(RUNOUTS[-1][1], 'mm'), 'mm', 2)} at 6000 r/min. "
        f"Here {show(entries.runout, 'mm', 2)} at {n:.0f} r/min.",
        x="Speed, r/min", y=f"Runout, {unit}", x_range=(0, 8000 if n > end else 6000),
        y_range=(0, one * max(0.35, 0.1 * math.ceil(11 * t))),
    )  # fmt: skip
    chart.curve([(x, one * y) for x, y in ((0, RUNOUTS[0][1]), *RUNOUTS)], "allowed")
    if entries.runout_limit is not None:
        chart.limit(one * entries.runout_limit.m_as("mm"), "maker's limit")
    chart.mark(n, one * t, show(entries.runout, "mm", 2))
    return chart


def _limits(low: Any, high: Any) -> str:
    """Two limits as on a drawing, one figure where they are the same."""
    ends = (show(low, "mm", 5), show(high, "mm", 5))
    return ends[0] if ends[0] == ends[1] else f"{ends[0]}\nto {ends[1]}"


def section_of_fit(entries: Any, results: Any) -> Drawing:
    """The seal in front of its bore, its excess drawn larger."""
    # Drawn in one size: what counts is how far the case stands over the bore.
    b, h, wall = 20.0, 17.0, 2.4
    mean = (results.interference_least + results.interference_most).m_as("mm") / 2
    factor = round_factor(2 * 0.16 * h / abs(mean)) if abs(mean) > 1e-6 else 1
    lift = max(-0.2 * h, min(0.2 * h, mean / 2 * factor))
    mean_text = show(Q(abs(mean), "mm"), "mm", 2)
    word = "interference" if mean >= 0 else "clearance"
    sheet = Drawing(
        "The seal over its bore",
        f"Section through the upper half of a seal before it is pressed in. The case stands over "
        f"the bore by half the mean {word} of {mean_text}, drawn {factor} times as large.",
    )
    gap = 5.0
    block = [
        (b + gap, h), (2.1 * b + gap, h), (2.1 * b + gap, 0.6 * h), (2.6 * b + gap, 0.6 * h),
        (2.6 * b + gap, 1.8 * h), (b + gap, 1.8 * h),
    ]  # fmt: skip
    sheet.polygon(block, cut="/")
    covered = entries.case == "rubber"
    draw_seal(sheet, Place(0, 0), b, h + lift, wall, covered=covered)
    sheet.line((-0.4 * b, 0), (2.8 * b + gap, 0))
    if abs(lift) > 0:
        sheet.line((b, h + lift), (b + gap + 6, h + lift), "thin")
        sheet.line((b - 4, h), (b + gap, h), "thin")
    if abs(lift) > 0:
        drawn = f"drawn\n{factor} times as large" if factor > 1 else "\ndrawn to scale"
        told = f"mean {word}\n{mean_text}, {drawn}"
        sheet.label((b + gap / 2, h + lift / 2), told, "ne", on="line")
    sheet.label((0.12 * b, h + lift), "seal Ø\n" + _limits(results.seal_least, results.seal_most),
                "nw")  # fmt: skip
    sheet.label((1.9 * b + gap, h), "bore Ø\n" + _limits(results.bore_least, results.bore_most),
                "s")  # fmt: skip
    sheet.dimension((0, 0), (b, 0), show(entries.width, "mm"), side="below")
    return sheet
