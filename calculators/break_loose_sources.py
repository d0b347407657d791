"""Sources and check values of the torque that breaks a nut loose."""

from __future__ import annotations

from witnessmark.calc import CheckValue, Source

BY_HAND = Source(
    "loosening-by-hand", "Inclined plane with friction, undone, and a bond sheared on the pitch "
    "cylinder; by hand", kind="derivation",
)  # fmt: skip
LINEAR = Source(
    "loosening-linear", "F (-P/2π + 0.57735 µ d2 + µ D/2) by hand, with the mean diameter of the "
    "face", kind="derivation",
)  # fmt: skip
ISO_10964 = Source(
    "iso-10964", "ISO 10964 Adhesives - Determination of torque strength of anaerobic adhesives "
    "on threaded fasteners", kind="standard",
)  # fmt: skip
PRACTICE = Source(
    "loosening-practice", "Bench practice with locked nuts, no published source",
    kind="common practice",
)  # fmt: skip

_M30 = {
    "thread": "M30x1.5", "clamp_by": "clamp", "clamp": "61.66 kN", "mu_now": "0.15",
    "face_outer": "46 mm", "face_inner": "31 mm", "history": "clean",
}  # fmt: skip
_M10 = {
    "thread": "M10x1.5", "clamp_by": "clamp", "clamp": "27.557 kN", "mu_now": "0.12",
    "face_outer": "14.63 mm", "face_inner": "11 mm", "history": "clean",
}  # fmt: skip


CHECK_VALUES = (
    CheckValue(
        "M10 × 1.5, 27.557 kN, friction 0.12", {**_M10, "bond_by": "none"},
        {"torque": "31.84 N·m"}, source=LINEAR, rel=0.01,
        remark="the linear form with the mean diameter of the face",
    ),
    CheckValue(
        "the same with a bond of 20 N·m",
        {**_M10, "bond_by": "sheet", "sheet": "20 N·m ± 0", "engagement": "8 mm"},
        {"torque": "51.84 N·m", "bond": "20 N·m"}, source=LINEAR, rel=0.01,
    ),
    CheckValue(
        "M30 × 1.5, 61.66 kN, friction 0.15", {**_M30, "bond_by": "none"},
        {"torque": "320.2 N·m"}, source=BY_HAND,
    ),
    CheckValue(
        "the same with 10 MPa over 20 mm",
        {**_M30, "bond_by": "strength", "strength": "10 MPa ± 0", "engagement": "20 mm"},
        {"torque": "585 N·m", "bond": "264.7 N·m"}, source=BY_HAND,
    ),
    *(
        CheckValue(
            f"20 N·m on the test size, taken to {thread} over {m} mm",
            {"thread": thread, "bond_by": "sheet", "sheet": "20 N·m ± 0",
             "engagement": f"{m} mm", "exponent": "3 ± 0"},
            {"bond": f"{bond} N·m"}, source=BY_HAND,
        )
        for thread, m, bond in (
            ("M12x1.25", 10, "38.4"), ("M20x1.5", 16, "177.7"), ("M30x1.5", 24, "620.5"),
        )
    ),
    CheckValue(
        "heat with a seal beside the nut", {"temperature": "200 °C", "near": "seal"},
        source=PRACTICE, findings=("heat-near",),
    ),
)  # fmt: skip
