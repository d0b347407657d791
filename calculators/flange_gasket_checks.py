"""Check values of the flat gasket."""

from __future__ import annotations

from calculators.gasket_materials import ASME, ASME_MEMORY
from calculators.gasket_sources import BY_HAND, PRACTICE
from witnessmark.calc import CheckValue

_RING = {"outer": "90 mm", "inner": "50 mm", "holes": "8", "hole": "11 mm", "clamp": "160 kN"}
_ASME = {
    "outer": "94 mm", "inner": "74 mm", "holes": "0", "material": "own", "factor": "2",
    "stress": "10 MPa", "inside": "0.5 bar",
}  # fmt: skip
_FLAT = (("1", "20"), ("900", "20"))
"""A sheet that gives 20 % at any pressure."""

CHECKS = (
    CheckValue(
        "0.50 mm compressed by 20 %",
        {"thickness": "0.50 mm", "points": _FLAT, "scatter": "1 ± 0"},
        {"thickness": "0.400 mm", "squash": "20.0 %"}, source=BY_HAND,
    ),
    CheckValue(
        "ring of 90 and 50 mm less 8 holes of 11 mm", _RING, {"area": "3637.96 mm²"},
        source=BY_HAND,
    ),
    CheckValue(
        "8 bolts of 20 kN on that ring", {**_RING, "points": (("5", "8"), ("40", "26"))},
        {"pressure": "43.98 MPa"}, source=BY_HAND,
        findings=("beyond-the-points",),
    ),
    CheckValue(
        "G 84 mm, b 5 mm, y 10 MPa", _ASME,
        {"width": "5.00 mm", "diameter": "84.0 mm", "seating": "13.1947 kN"}, source=ASME,
        remark="π × 5 × 84 × 10",
    ),
    CheckValue(
        "the same, m 2, pressure 0.05 MPa", _ASME, {"working": "541.0 N"}, source=ASME,
        remark="π/4 × 84² × 0.05 + 2π × 5 × 84 × 2 × 0.05",
    ),
    CheckValue(
        "basic width 10 mm: 2.52 √10", {"outer": "120 mm", "inner": "80 mm"},
        {"width": "7.969 mm"}, source=ASME,
    ),
    CheckValue(
        "vegetable fibre: y 1100 psi is 7.584 MPa",
        {**_ASME, "material": "fibre"}, {"seating": "10.0072 kN"}, source=ASME,
        remark="π × 5 × 84 × 7.58423", abs_="1 N",
    ),
    CheckValue(
        "jointing sheet with binder: y 3700 psi is 25.51 MPa",
        {**_ASME, "material": "binder", "clamp": "30 kN ± 0 %"}, {"seating": "33.660 kN"},
        source=ASME_MEMORY, findings=("not-seated",), abs_="5 N",
    ),
    CheckValue(
        "a gasket 0.06 mm thicker opens the float by as much",
        {"thickness": "0.60 mm", "points": _FLAT, "scatter": "1 ± 0", "old": "0.42 mm",
         "float_old": "0.15 mm"},
        {"shift": "0.060 mm", "float_new": "0.210 mm"}, source=BY_HAND, abs_="0.1 µm",
    ),
    CheckValue(
        "the same in a stack that it closes",
        {"thickness": "0.60 mm", "points": _FLAT, "scatter": "1 ± 0", "old": "0.42 mm",
         "float_old": "0.15 mm", "place": "closes"},
        {"float_new": "0.090 mm"}, source=BY_HAND, findings=("float-out",), abs_="0.1 µm",
    ),
    CheckValue(
        "a gasket that was clamped before", {"state": "used"}, source=PRACTICE,
        findings=("gasket-reused",),
    ),
    CheckValue(
        "points that fall", {"points": (("5", "10"), ("10", "8"))}, source=BY_HAND,
        refused=("points",),
    ),
)  # fmt: skip
