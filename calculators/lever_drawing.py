"""The picture of a lever on its nut: bar, load, arm and torque.

The nut turns clockwise as seen; the bar points to the right.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from witnessmark.calc import Drawing


class Load(NamedTuple):
    """What is drawn: arm in mm, slope of the bar and way of the load in degrees, and texts."""

    arm: float
    slope: float
    way: float
    load: str
    reach: str
    torque: str


def draw_lever(load: Load) -> Drawing:
    """Nut, bar, force and arm; three texts."""
    nut = max(0.06 * load.arm, 15.0)
    lean = math.radians(load.slope)
    along = (math.cos(lean), math.sin(lean))
    end = (load.arm * along[0], load.arm * along[1])
    sheet = Drawing(
        "The bar on the nut",
        f"A bar points to the right of the nut. {load.load} acts on it at {load.reach} from the "
        f"nut's axis and turns the nut clockwise with {load.torque}.",
    )
    half = 0.22 * nut
    side = (-along[1] * half, along[0] * half)
    past = (end[0] + 1.2 * nut * along[0], end[1] + 1.2 * nut * along[1])
    body = 1.35 * nut
    root = (body * along[0], body * along[1])
    sheet.polygon(
        [(root[0] + side[0], root[1] + side[1]), (past[0] + side[0], past[1] + side[1]),
         (past[0] - side[0], past[1] - side[1]), (root[0] - side[0], root[1] - side[1])]
    )  # fmt: skip
    sheet.circle((0, 0), body)
    sheet.hexagon((0, 0), 1.6 * nut, covers=False)
    sheet.centre_lines((0, 0), 1.6 * nut)
    sheet.moment((0, 0), 2.1 * nut, 150, 60, load.torque)
    sheet.force(end, load.way, load.load, pulls=True)
    sheet.dimension((0, 0), end, load.reach, "along", offset=-34.0 if load.slope == 0 else 30.0)
    return sheet
