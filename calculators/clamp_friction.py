"""Friction of a screw while it is tightened: the state of its thread, and of its turned face.

The state is chosen, never assumed: what is on the thread moves the clamp more than any wrench.
Each state has its own entry with the range that is met in workshops. Threadlocker has none: some
kinds raise the friction, many lower it, so its figure comes from a test of that product.

One lubricant on thread and face makes both frictions move together; two make them move apart,
and errors then partly cancel. Entries with ``varies_with="lubricant"`` move together.

Sources: friction classes of VDI 2230-1 (A 0.04 to 0.10, B 0.08 to 0.16, C 0.14 to 0.24), from
memory; which state falls where: common practice. Test of clamp against torque: ISO 16047,
ASTM D5648.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from calculators.spanner_sizes import ACROSS_FLATS, CLEARANCE_HOLE, INCH_FLATS, WASHER_FACE
from calculators.thread_form import INCH, ThreadForm
from calculators.thread_sizes import inches
from witnessmark.calc import AsEntered, RefusedError, Source, as_entered, choice, entry

VDI_FRICTION = Source(
    "vdi-2230-friction", "VDI 2230-1 Systematic calculation of highly stressed bolted joints, "
    "friction classes, quoted from memory", kind="from memory",
)  # fmt: skip
FRICTION_PRACTICE = Source(
    "friction-practice", "Which state of a thread falls into which range of friction, no "
    "published source", kind="common practice",
)  # fmt: skip

UNCHOSEN = "unchosen"
STATES = {
    UNCHOSEN: "not known yet: choose",
    "dry": "dry",
    "oiled": "lightly oiled",
    "locker": "threadlocker, wet",
    "antiseize": "anti-seize paste",
    "own": "friction known by test",
}
STATED = {"unstated": "not said"} | {
    name: label for name, label in STATES.items() if name not in (UNCHOSEN, "own")
}
FACES = {
    "same": "as the thread",
    "linked": "same lubricant, other friction",
    "apart": "other lubricant, or dry",
}
KNOWN = ("torque", "clamp")
_LIMITS: dict[str, Any] = {
    "least": 0.03, "most": 0.6, "usual": ("0.06", "0.30"),
    "why": "Screws slide with frictions from 0.03 to 0.6.",
}  # fmt: skip


def _mu(label: str, default: str, state: str, help: str = "", **more: Any) -> Any:
    return entry(
        label, default, when={"known": KNOWN, "state": state}, varies_with="lubricant",
        help=help, **(_LIMITS | more),
    )  # fmt: skip


STATE = choice(
    "State of the thread", STATES, default=UNCHOSEN, when={"known": KNOWN},
    help="What is on it as it is tightened. Nothing moves the clamp more.",
)  # fmt: skip
MU_UNCHOSEN = _mu(
    "Friction, whatever the state", "0.08 … 0.24", UNCHOSEN, "From anti-seize to dry.", seldom=True
)
MU_DRY = _mu("Friction, dry", "0.14 … 0.24", "dry", "Clean and plated or blackened steel.")
MU_OILED = _mu("Friction, oiled", "0.10 … 0.16", "oiled", "Clean steel, a film of engine oil.")
MU_LOCKER = _mu(
    "Friction, threadlocker", "", "locker", optional=True,
    help="From the product's sheet or the shop's own test of clamp against torque.",
)  # fmt: skip
MU_ANTISEIZE = _mu("Friction, anti-seize", "0.08 … 0.12", "antiseize", "From the paste's sheet.")
MU_OWN = _mu("Friction, by test", "0.12 ± 0.02", "own", "From a test of clamp against torque.")
FACE = choice(
    "Turned face", FACES, default="same", when={"known": KNOWN}, seldom=True,
    help="What the face under the turned nut or head slides on.",
)  # fmt: skip
FACE_LINKED = entry(
    "Friction of the face", "0.10 … 0.16", when={"known": KNOWN, "face": "linked"},
    varies_with="lubricant", **_LIMITS,
)  # fmt: skip
FACE_APART = entry(
    "Friction of the face, its own", "0.14 … 0.24", when={"known": KNOWN, "face": "apart"},
    **_LIMITS,
)  # fmt: skip


def chosen_friction(
    state: str, face: str, values: Mapping[str, Any]
) -> tuple[tuple[str, Any], tuple[str, Any]]:
    """The entries that count, by name and value: friction of the thread and of the face.

    ``values`` are the calculator's friction entries by name. Refuses threadlocker without its
    figure.
    """
    name = f"mu_{state}"
    if values[name] is None:
        raise RefusedError(
            name,
            "Threadlocker may raise or lower the friction. Enter the figure of this product from "
            "its sheet or from a test of clamp against torque, for example 0.12 ± 0.02.",
        )
    thread = (name, values[name])
    return thread, thread if face == "same" else (f"face_{face}", values[f"face_{face}"])


def standing(name: str, value: Any, unit: str) -> AsEntered:
    """An entry as it was entered with its limits, as plain numbers in ``unit``."""
    entered = as_entered(name, value)
    low, middle, high = (
        float(each.m_as(unit) if hasattr(each, "m_as") else each)
        for each in (entered.low, entered.value, entered.high)
    )
    return AsEntered(min(low, middle), middle, max(high, middle))


def usual_face(form: ThreadForm) -> tuple[float, float]:
    """Washer face and clearance hole in mm under a hexagon of this thread: from the tables, or
    0.95 of the width across flats and 1.09 of the diameter."""
    flats = ACROSS_FLATS.get(form.d, 1.5 * form.d)
    for nominal, across in INCH_FLATS.items():
        if abs(form.d - INCH * inches(nominal)) < 1e-6:
            flats = INCH * inches(across)
    return WASHER_FACE.get(form.d, 0.95 * flats), CLEARANCE_HOLE.get(form.d, 1.09 * form.d)


def face_of(form: ThreadForm, outer: Any, inner: Any) -> tuple[float, float]:
    """Outer and inner diameter of the turned face in mm, entered or usual. Refuses a face that
    is inside its hole, or a hole smaller than the thread."""
    usual = usual_face(form)
    d_w = usual[0] if outer is None else float(outer.m_as("millimeter"))
    d_h = usual[1] if inner is None else float(inner.m_as("millimeter"))
    if d_h < form.d - 0.3 * form.pitch:
        raise RefusedError(
            "face_inner",
            f"The hole must pass the thread of {form.d:.4g} mm. Measure the hole, or its chamfer "
            "where that is wider.",
        )
    if d_w < 1.02 * d_h:
        raise RefusedError(
            "face_outer", f"The face must be wider than its hole of {d_h:.4g} mm. Measure both."
        )
    return d_w, d_h
