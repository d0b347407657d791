"""The picture of a clamped joint: screw, parts and the cone over which the pressure spreads."""

from __future__ import annotations

from typing import Any

from calculators.joint_stiffness import Clamped
from calculators.thread_form import ThreadForm
from witnessmark.calc import Drawing, Q, show


def draw(form: ThreadForm, clamped: Clamped, results: Any) -> Drawing:
    """Section through the screw's axis, to scale; the parts cut off where they are very wide."""
    r, grip, hole = form.d / 2, clamped.grip, clamped.hole / 2
    face, head = clamped.face / 2, 0.65 * form.d
    out = max(min(clamped.outside / 2, max(clamped.widest / 2, face) * 1.25), face * 1.05)
    length = show(Q(grip, "mm"), "mm")
    sheet = Drawing(
        "The clamped joint",
        f"Section through the screw: it clamps a grip of {length}. The pressure spreads from "
        "under the head as a cone, drawn in broken lines.",
        max_height=210.0,
    )
    for side in (-1, 1):
        inner, outer = side * hole, side * out
        sheet.polygon([(inner, 0), (outer, 0), (outer, grip), (inner, grip)],
                      cut="/")  # fmt: skip
    depth = 1.2 * form.d
    if clamped.tapped:
        sheet.polygon(
            [(-out, 0), (-r, 0), (-r, -depth), (r, -depth), (r, 0), (out, 0), (out, -1.3 * depth),
             (-out, -1.3 * depth)], cut="\\",
        )  # fmt: skip
    else:
        sheet.rect(-face, -0.8 * form.d, 2 * face, 0.8 * form.d)
    sheet.rect(-r, -depth if clamped.tapped else -1.1 * form.d, 2 * r,
               grip + (depth if clamped.tapped else 1.1 * form.d), covers=True)  # fmt: skip
    sheet.rect(-face, grip, 2 * face, head, covers=True)
    wide = clamped.widest / 2
    run = (wide - face) / clamped.spread if wide > face else 0.0
    for side in (-1, 1):
        line = [(side * face, grip), (side * wide, grip - run)]
        if not clamped.tapped:
            line += [(side * wide, run), (side * face, 0.0)]
        else:
            line.append((side * wide, 0.0))
        sheet.polyline(line, "hidden")
    sheet.dimension((out, 0), (out, grip), f"grip {length}", "right")
    sheet.label((0, grip + head), f"turn {show(results.turn, '°', 2)}", "n")
    return sheet
