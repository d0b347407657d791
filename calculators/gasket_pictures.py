"""A flat gasket between its faces, and the compression of its sheet against the pressure."""

from __future__ import annotations

from typing import Any

from calculators.seal_section import round_factor
from witnessmark.calc import Chart, Drawing, Q, number, show


def section_of_joint(entries: Any, results: Any) -> Drawing:
    """Half section of the joint, the axis at the left, the gasket drawn thick."""
    ro, ri = entries.outer.m_as("mm") / 2, entries.inner.m_as("mm") / 2
    t, g = results.thickness.m_as("mm"), results.diameter.m_as("mm") / 2
    free = entries.thickness.m_as("mm")
    size = ro - ri
    times = round_factor(0.22 * size / free)
    high, thick = t * times, 0.4 * size
    clamped, at_first = show(results.thickness, "mm", 2), show(entries.thickness, "mm", 2)
    force, across = show(entries.clamp, "kN"), show(results.diameter, "mm")
    drawn = f", drawn {times} times as thick" if times > 1 else ""
    sheet = Drawing(
        "The joint with its gasket",
        f"Half section, the axis at the left. The gasket, {at_first} free, is {clamped} thick "
        f"under {force}{drawn}. Its force acts on a circle of {across}.",
    )
    edge = ro + 0.15 * size
    start = max(ri - 0.25 * size, 0.0)
    lower = [(start, -thick), (edge, -thick), (edge, 0), (start, 0)]
    upper = [(start, high), (edge, high), (edge, high + thick), (start, high + thick)]
    sheet.polygon(lower, cut="/")
    sheet.polygon(upper, cut="/")
    sheet.rect(ri, 0, size, high, cut="\\")
    sheet.line((0, -1.15 * thick), (0, high + 1.15 * thick), "centre")
    if g > 0:
        sheet.line((g, -0.5 * thick), (g, high + 0.5 * thick), "centre")
    sheet.force(((ri + ro) / 2, high + thick), -90.0, force)
    if ri > 0:
        sheet.dimension((0, -thick), (ri, -thick), f"R {show(Q(ri, 'mm'), 'mm')}", side="below")
    sheet.dimension((0, -thick), (ro, -thick), f"R {show(Q(ro, 'mm'), 'mm')}", side="below",
                    level=2)  # fmt: skip
    thin = f"gasket {clamped},\nfree {at_first}"
    sheet.label((ro, high / 2), thin + (f"\n(drawn × {times})" if times > 1 else ""), "e")
    sheet.label((g, high + 0.3 * thick), f"force acts\non Ø {across}", "nw", on="line")
    return sheet


def chart_of_squash(entries: Any, results: Any) -> Chart:
    """Compression of the sheet against pressure, and where this gasket stands."""
    us = show(Q(1, "MPa"), "MPa").endswith("ksi")
    one, unit = (Q(1, "MPa").m_as("psi"), "psi") if us else (1.0, "MPa")
    pressure, squash = results.pressure.m_as("MPa"), 100 * number(results.squash)
    last = max(results.curve[-1][0], 1.1 * pressure)
    chart = Chart(
        "Compression against pressure",
        f"The sheet is compressed by {squash:.0f} per cent at the pressure of this joint.",
        x=f"Pressure on the gasket, {unit}", y="Compression, %", x_range=(0, one * last),
        y_range=(0, max(1.25 * 100 * results.curve[-1][1], 1.1 * squash, 1.0)),
    )  # fmt: skip
    factor = number(entries.scatter)
    points = [(one * p, 100 * factor * c) for p, c in results.curve]
    chart.curve(points, "sheet" if abs(factor - 1) < 1e-9 else "sheet × factor")
    if entries.most_pressure is not None:
        allowed = one * entries.most_pressure.m_as("MPa")
        if allowed <= one * last:
            chart.limit(allowed, "maker's limit", axis="x")
    chart.mark(one * pressure, squash, f"{squash:.0f} %")
    return chart
