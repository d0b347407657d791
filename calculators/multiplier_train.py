"""The stages of a torque multiplier one after another: ratios, factors, torque behind each.

A stage is given by ratio and factor, or by its teeth as in ``calculators.planetary_gear``.
"""

from __future__ import annotations

from typing import NamedTuple

from calculators.planetary_gear import check_teeth, efficiency_of_stage, ratio_of_stage
from witnessmark.calc import Q, RefusedError, Rows, number


class Stage(NamedTuple):
    """Ratio and torque factor of a stage."""

    ratio: float
    factor: float


def train_of(known_by: str, stages: Rows, teeth: Rows, mesh: float) -> list[Stage]:
    """The stages from the handle on; refuses one that cannot be."""
    train = []
    if known_by == "factor":
        for place, row in enumerate(stages, 1):
            stage = Stage(number(row.ratio), number(row.factor))
            if stage.factor > stage.ratio * (1 + 1e-9):
                raise RefusedError(
                    "stages",
                    f"Stage {place}: the factor {stage.factor:.4g} cannot be more than the ratio, "
                    f"which is {stage.ratio:.4g}. Check both.",
                )
            train.append(stage)
        return train
    for place, row in enumerate(teeth, 1):
        try:
            check_teeth(row.sun, row.planet or None, row.ring, row.planets)
        except RefusedError as refused:
            raise RefusedError("teeth", f"Stage {place}: {refused.message}") from refused
        i = ratio_of_stage(row.sun, row.ring)
        train.append(Stage(i, i * efficiency_of_stage(row.sun, row.ring, mesh)))
    return train


def torques_behind(train: list[Stage], torque: float) -> tuple[tuple[object, ...], ...]:
    """Ratio, efficiency and torque behind every stage; ``torque`` at the handle in N·m."""
    rows: list[tuple[object, ...]] = []
    for place, stage in enumerate(train, 1):
        torque *= stage.factor
        rows.append(
            (str(place), Q(stage.ratio, ""), Q(stage.factor / stage.ratio, ""), Q(torque, "N·m"))
        )
    return tuple(rows)
