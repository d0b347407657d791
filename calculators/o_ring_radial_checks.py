"""Check values of the ring in a radial groove."""

from __future__ import annotations

from calculators.o_ring_rubber import PRACTICE
from calculators.o_ring_sizes import ISO_3601_1, SIZES
from calculators.o_ring_sources import BY_HAND, CONSTANT_VOLUME, ISO_3601_2
from witnessmark.calc import CheckValue

_PLAIN = {
    "bore": "60 mm", "section": "3.53 mm", "groove": "60 mm", "mate": "65.8 mm", "width": "4.8 mm",
    "corner": "0 mm",
}  # fmt: skip
_NO_LIMITS = {"bore": "60 mm ± 0 mm", "section": "3.5 mm ± 0 mm", "groove": "60 mm"}

CHECKS = (
    CheckValue(
        "ring 63.09 × 3.53 on 64.4 in 70: equal volume",
        {"bore": "63.09 mm", "section": "3.53 mm", "groove": "64.4 mm", "mate": "70 mm",
         "thinning": "volume"},
        {"squeeze": "19.92 %", "stretch": "2.08 %"}, source=CONSTANT_VOLUME,
        remark="CS' from the cubic by a general root finder.",
    ),
    CheckValue(
        "stretched by 3 %: 2.29 % of its height is lost",
        {**_PLAIN, "groove": "61.8 mm", "mate": "67.4 mm"},
        {"stretch": "3.00 %", "section_height": "3.4492 mm"}, source=ISO_3601_2,
        remark="3.53 × (1 - 0.0229)",
    ),
    CheckValue(
        "stretched by 10 %: 6.00 % of its height is lost",
        {**_PLAIN, "groove": "66 mm", "mate": "71.6 mm"},
        {"section_height": "3.3182 mm"}, source=ISO_3601_2, findings=("stretch-high",),
        remark="3.53 × (1 - 0.0600)",
    ),
    CheckValue(
        "section 3.53 in a groove of 4.8 × 2.9", _PLAIN, {"fill": "70.3 %"}, source=BY_HAND,
        remark="π × 3.53² / 4 over 4.8 × 2.9",
    ),
    CheckValue(
        "section 3.63 in 4.7 × 2.9, 100 K warmer",
        {**_PLAIN, "section": "3.63 mm", "width": "4.7 mm", "hot": "120 °C", "swell": "0 %",
         "expansion": "160 µm/(m·K)", "rubber": "FKM"},
        {"fill": "75.9 %", "fill_hot": "79.6 %"}, source=BY_HAND, remark="75.9 % × 1.048",
    ),
    CheckValue(
        "inside diameter 20 mm of class B",
        {"bore": "20 mm", "section": "2.62 mm", "groove": "20.4 mm", "mate": "24.8 mm"},
        {"bore_tolerance": "0.26 mm"}, source=ISO_3601_1, abs_="0.005 mm",
    ),
    CheckValue(
        "inside diameter 320 mm of class B",
        {"bore": "320 mm", "section": "6.99 mm", "groove": "326 mm", "mate": "337.4 mm",
         "width": "9.5 mm"},
        {"bore_tolerance": "2.27 mm"}, source=ISO_3601_1, abs_="0.005 mm",
    ),
    CheckValue(
        "off centre by 0.1 mm: 0.6 of 3.5 mm in place of 0.7",
        {**_NO_LIMITS, "mate": "65.6 mm", "offset": "0.1 mm"},
        {"squeeze": "20.00 %", "squeeze_far": "17.14 %"}, source=BY_HAND,
    ),
    CheckValue(
        "groove in the bore, ring as large outside as the groove",
        {**_NO_LIMITS, "seat": "bore", "groove": "67 mm", "mate": "61.4 mm"},
        {"squeeze": "20.00 %", "stretch": "0.0 %", "height": "2.800 mm"}, source=BY_HAND,
    ),
    CheckValue(
        "a standard size is known by its code", {"bore": "113.67 mm", "section": "5.33 mm",
        "groove": "115 mm", "mate": "123.6 mm", "width": "7.2 mm"},
        {"ring": "349"}, source=SIZES,
    ),
    CheckValue(
        "a ring that was clamped before", {"state": "used"}, source=PRACTICE,
        findings=("ring-reused",),
    ),
    CheckValue(
        "a bore smaller than the groove", {"mate": "60 mm"}, source=BY_HAND, refused=("groove",)
    ),
)  # fmt: skip
