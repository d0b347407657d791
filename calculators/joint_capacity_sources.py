"""Sources and check values of what the flywheel joint carries."""

from __future__ import annotations

from witnessmark.calc import CheckValue, Source

BY_HAND = Source(
    "joint-by-hand", "Coulomb friction on a ring, power over speed, by hand", kind="derivation"
)
SHEAR = Source("dowels-by-hand", "Shear of round pins and pressure on their sides, by hand",
               kind="derivation")  # fmt: skip
ISO_16047 = Source(
    "iso-16047", "ISO 16047 Fasteners - Torque/clamp force testing", "formulas of thread, face and "
    "total friction",
)  # fmt: skip
PRACTICE = Source(
    "joint-practice", "Frictions of faces, safety, allowed stresses of dowels: bench practice, no "
    "published source", kind="common practice",
)  # fmt: skip

_NUT = {
    "held": "nut", "clamp_by": "clamp", "clamp": "61.66 kN", "outer": "35 mm", "inner": "17 mm",
    "hub": "60 mm", "settled": "0 %",
}  # fmt: skip
_PINS = {"dowels": "3", "dowel": "10 mm", "dowel_radius": "31 mm"}


def _rated(power: str, speed: str, mean: str) -> CheckValue:
    return CheckValue(
        f"{power} at {speed}", {"power": power, "speed": speed}, {"mean": f"{mean} N·m"},
        source=BY_HAND, remark="9549.297 × kW over r/min",
    )  # fmt: skip


CHECK_VALUES = (
    CheckValue(
        "ring of 35 and 17 mm, 61.66 kN, friction 0.15", {**_NUT, "mu_dry": "0.15"},
        {"radius": "27.038 mm", "hold": "250.1 N·m"}, source=BY_HAND,
    ),
    CheckValue(
        "the same with 0.12", {**_NUT, "mu_dry": "0.12"}, {"hold": "200.1 N·m"}, source=BY_HAND
    ),
    CheckValue(
        "the same, worn in", {**_NUT, "mu_dry": "0.12", "pressure": "worn"},
        {"radius": "26.0 mm"}, source=BY_HAND,
    ),
    CheckValue(
        "eight screws of 29 kN on a radius of 40 mm, 0.15",
        {"held": "ring", "screws": "8", "circle": "40 mm", "clamp_by": "clamp", "clamp": "29 kN",
         "settled": "0 %", "mu_dry": "0.15"},
        {"hold": "1392 N·m"}, source=BY_HAND, remark="46.4 kN over a tightening factor of 1.6",
    ),
    CheckValue(
        "the same with 29.0 to 46.4 kN and 0.12 to 0.18",
        {"held": "ring", "screws": "8", "circle": "40 mm", "clamp_by": "clamp",
         "clamp": "29 … 46.4 kN", "settled": "0 %", "mu_dry": "0.12 … 0.18"},
        {"least": "1114 N·m"}, source=BY_HAND, remark="up to 2673 N·m: a spread of 2.4 to 1",
    ),
    CheckValue(
        "three dowels of 10 mm at 31 mm",
        {**_PINS, "dowel_length": "8 mm", "dowel_shear_most": "300 MPa",
         "dowel_pressure_most": "250 MPa"},
        {"dowel_shear": "2191 N·m", "dowel_bearing": "1860 N·m", "dowel_hold": "1860 N·m"},
        source=SHEAR,
    ),
    _rated("40 kW", "3600 r/min", "106.103"),
    _rated("60 kW", "5000 r/min", "114.592"),
    _rated("100 kW", "5500 r/min", "173.624"),
    CheckValue(
        "oil on the faces of a joint that was near", {"faces": "oily"}, source=PRACTICE,
        findings=("friction-too-little", "faces-oily"),
    ),
)  # fmt: skip
