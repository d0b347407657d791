"""The picture of a pack of shims between housing and thrust face, with the float beyond."""

from __future__ import annotations

from itertools import groupby
from typing import Any

from calculators.shim_advice import length_text
from calculators.shim_search import MICRON
from witnessmark.calc import Drawing, show


def draw_pack(entries: Any, results: Any) -> Drawing:
    """Half section: housing, shims, float, collar of the shaft; thicknesses to one scale."""
    sizes = [size / (1000 * MICRON) for size in results.chosen.sizes]
    axial = results.axial_float.m_as("mm")
    gap = max(axial, 0.0)
    height, block = 40.0, 22.0
    total = sum(sizes) + gap
    scale = 30.0 / total if total > 0 else 1.0
    said = show(results.axial_float, "mm", 2)
    sheet = Drawing(
        "The pack under the thrust",
        f"Half section along the shaft: {results.pack} between housing and shaft leaves a float "
        f"of {said}. Thicknesses are drawn {round(scale, 1):g} times as large.",
    )
    bore, journal = 0.1 * height, 0.05 * height
    sheet.rect(-block, bore, block, height - bore, cut="/")
    x = 0.0
    for size, group in groupby(results.chosen.sizes):
        width, number = size / (1000 * MICRON) * scale, len(list(group))
        for k in range(number):
            sheet.rect(x + k * width, bore, width, 0.75 * height, cut="\\")
        text = length_text(size) if number == 1 else f"{number} × {length_text(size)}"
        sheet.label((x + number * width / 2, bore + 0.75 * height), text, "n")
        x += number * width
    face = x + gap * scale
    far = face + block
    sheet.polyline(
        [(far, 0.72 * height), (face, 0.72 * height), (face, journal), (-block - 6, journal)]
    )
    sheet.line((-block - 6, -0.15 * height), (far + 4, -0.15 * height), "centre")
    sheet.text((-block / 2, height / 2), "case")
    sheet.text((face + block / 2, 0.4 * height), "shaft")
    if gap > 0:
        sheet.dimension((x, bore), (face, journal), f"float {said}", side="below")
    return sheet
