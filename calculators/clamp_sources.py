"""Sources and check values of the torque and clamp calculator."""

from __future__ import annotations

from witnessmark.calc import CheckValue, Source

ISO_16047 = Source(
    "iso-16047", "ISO 16047 Fasteners - Torque/clamp force testing", "formulas of thread, face and "
    "total friction",
)  # fmt: skip
VDI_2230 = Source(
    "vdi-2230-1", "VDI 2230-1 Systematic calculation of highly stressed bolted joints",
    "tables of assembly clamp force and torque, fine threads",
)  # fmt: skip
VDI_COARSE = Source(
    "vdi-2230-1-coarse", "VDI 2230-1 tables of assembly clamp force and torque, coarse threads, "
    "quoted from memory", kind="from memory",
)  # fmt: skip
BY_HAND = Source(
    "clamp-by-hand", "ISO 16047 formula and stresses of a round bar, by hand", kind="derivation"
)
RING = Source(
    "face-by-quadrature", "Moment of friction under even pressure, summed ring by ring",
    kind="derivation",
)  # fmt: skip
PRACTICE = Source(
    "clamp-practice", "Bench practice with tightened screws, no published source",
    kind="common practice",
)  # fmt: skip


def _screw(thread: str, mark: str, mu: str, face: tuple[str, str], **more: str) -> dict[str, str]:
    outer, inner = face
    return {
        "known": "clamp", "clamp": "10 kN", "thread": thread, "mark": mark, "state": "own",
        "mu_own": mu, "face_outer": f"{outer} mm", "face_inner": f"{inner} mm", **more,
    }  # fmt: skip


def _most(
    label: str, thread: str, mark: str, mu: str, face: tuple[str, str], clamp: str, torque: str,
    source: Source = VDI_2230,
) -> CheckValue:  # fmt: skip
    return CheckValue(
        label, _screw(thread, mark, mu, face), {"most_clamp": clamp, "most_torque": torque},
        source=source, rel=0.016, remark="the table counts with the mean diameter of the face",
    )  # fmt: skip


M10 = {
    "thread": "M10x1.5", "mark": "8.8", "torque": "45 N·m ± 0", "state": "own", "mu_own": "0.12",
    "face_outer": "14.63 mm", "face_inner": "11 mm",
}  # fmt: skip

CENTRAL = {
    "thread": "M30x1.5", "mark": "8.8", "torque": "400 N·m ± 0", "state": "own",
    "face_outer": "46 mm", "face_inner": "31 mm",
}  # fmt: skip

CHECK_VALUES = (
    _most("M8×1, 8.8, friction 0.12", "M8x1", "8.8", "0.12", ("11.63", "9"), "20.2 kN", "26.1 N·m"),
    _most("M12×1.25, 8.8, friction 0.12", "M12x1.25", "8.8", "0.12", ("16.63", "13.5"), "48.0 kN",
          "90 N·m"),
    _most("M14×1.5, 10.9, friction 0.10", "M14x1.5", "10.9", "0.10", ("19.64", "15.5"), "97.5 kN",
          "182 N·m"),
    _most("M16×1.5, 8.8, friction 0.12", "M16x1.5", "8.8", "0.12", ("22.49", "17.5"), "87.6 kN",
          "218 N·m"),
    _most("M20×1.5, 10.9, friction 0.12", "M20x1.5", "10.9", "0.12", ("28.19", "22"), "211 kN",
          "646 N·m"),
    _most("M16×2, 10.9, friction 0.12", "M16x2", "10.9", "0.12", ("22.49", "17.5"), "118.8 kN",
          "302 N·m", VDI_COARSE),
    CheckValue(
        "M10×1.5, 8.8, 45 N·m, friction 0.12", M10,
        {"clamp": "27.5 kN", "nut_factor": "0.163", "tension": "475 MPa", "torsion": "191 MPa",
         "reduced": "579 MPa"},
        source=BY_HAND, rel=1e-2, remark="by hand with the mean diameter of the face, 12.815 mm",
    ),
    CheckValue(
        "M10×1.5, shares at friction 0.12", M10,
        {"to_stretch": "14.6 %", "to_thread": "38.3 %", "to_face": "47.1 %"}, source=BY_HAND,
        rel=0.01,
    ),
    CheckValue(
        "M10×1.5 undone at once", M10, {"undo": "31.8 N·m"}, source=BY_HAND, rel=5e-3,
    ),
    CheckValue(
        "central nut M30×1.5, 400 N·m, friction 0.15", CENTRAL | {"mu_own": "0.15"},
        {"clamp": "70.47 kN", "rubbing": "38.99 mm"}, source=RING, rel=6e-3,
        remark="clamp by hand with the linear form of the thread's torque",
    ),
    CheckValue(
        "central nut M30×1.5, 400 N·m, friction 0.10", CENTRAL | {"mu_own": "0.10"},
        {"clamp": "103.52 kN"}, source=BY_HAND, rel=6e-3,
    ),
    CheckValue(
        "friction from torque and clamp, M20×1.5",
        {"known": "both", "thread": "M20x1.5", "torque": "646 N·m ± 0", "clamp": "211 kN",
         "face_outer": "28.19 mm", "face_inner": "22 mm", "mark": "10.9"},
        {"friction": "0.120"}, source=VDI_2230, rel=0.012,
    ),
    CheckValue("state not chosen", {"state": "unchosen"}, source=PRACTICE,
               findings=("friction-not-chosen",)),
    CheckValue("threadlocker without its figure", {"state": "locker"}, source=PRACTICE,
               refused=("mu_locker",)),
    CheckValue(
        "stated dry, done with anti-seize", {"stated": "dry", "state": "antiseize", "mark": "10.9"},
        source=PRACTICE, findings=("state-differs",),
    ),
)  # fmt: skip
