"""The picture of a torque multiplier on its nut: arm, stop, wrench, forces.

Seen from the side of the nut that the fitter stands at, a right-hand nut being tightened: it
turns clockwise, and so does the handle. The stop pushes the arm the same way round, because
the arm wants to go the other way.
"""

from __future__ import annotations

import math
from typing import Any

from witnessmark.calc import Drawing, show


def draw(entries: Any, results: Any) -> Drawing:
    """Multiplier, arm and stop with the arm's length, the press and both torques."""
    arm = entries.arm.m_as("millimeter")
    # The body keeps a body's proportions beside short arms and can still be seen beside long ones.
    body = max(0.17 * arm, min(60.0, 0.32 * arm))
    thick, bar = 0.36 * body, 0.5 * body
    press = show(results.press, "kN")
    length = show(entries.arm, "mm")
    sheet = Drawing(
        "The arm on its stop",
        f"The multiplier sits on the nut. Its arm reaches {length} to the left and bears from "
        f"above on a stop, which pushes back upward with {press}. The wrench on the right is "
        "pulled downward; wrench and nut turn clockwise.",
    )
    foot = -arm
    # Each outline ends where the next one begins; nothing is laid over anything, which is quick.
    neck = math.sqrt(body**2 - thick**2)
    edge = math.sqrt(body**2 - (0.5 * thick) ** 2)
    sheet.polyline(
        [(-neck, thick), (foot + thick, thick / 2), (foot - thick / 2, thick / 2),
         (foot - thick / 2, -bar), (foot + thick / 2, -bar), (foot + thick / 2, -thick / 2),
         (-edge, -thick / 2)]
    )  # fmt: skip
    sheet.rect(foot - 1.6 * bar, -2 * bar, 3.2 * bar, bar, cut="/")
    reach = 0.95 * arm
    grip = 0.22 * body
    hub = 0.3 * body
    root = math.sqrt(hub**2 - grip**2)
    gap = math.degrees(math.asin(grip / body))
    sheet.arc((0, 0), body, gap, 360 - gap)
    sheet.polyline(
        [(root, grip), (0.62 * reach, 0.7 * grip), (0.62 * reach, grip), (reach, grip),
         (reach, -grip), (0.62 * reach, -grip), (0.62 * reach, -0.7 * grip), (root, -grip)]
    )  # fmt: skip
    sheet.circle((0, 0), hub)
    sheet.square((0, 0), 0.24 * body)
    sheet.centre_lines((0, 0), 1.2 * body)
    sheet.moment((0, 0), 1.32 * body, 150, 30, f"{show(results.torque, 'N·m')} on the nut")
    sheet.force((0.82 * reach, grip), "s", f"set to {show(results.setting, 'N·m')}")
    sheet.force((foot, -bar), "n", press)
    sheet.dimension((foot, -bar), (0, 0), length, "below")
    sheet.label((foot - bar, -1.5 * bar), "stop", "w", on="face")
    sheet.label((0.5 * foot, thick / 2), "arm", "n")
    return sheet
