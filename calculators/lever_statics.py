"""Arm, load and torque of a lever: the one that is asked for from the others.

Plain numbers in N, m, kg and N·m; angles in radians. Formulas in ``calculators.lever``.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from witnessmark.calc import Q, Quantity, RefusedError

SUNK = math.radians(20)
"""By how much lower the bar is taken to show that the torque falls."""

_BAR_ALONE = "The bar's own weight gives more than that torque. Check mass and point of balance."


class Solved(NamedTuple):
    """Load in N or kg, arm in m, torque in N·m, and what of it the bar's own weight gives."""

    load: float
    arm: float
    torque: float
    own: float


def laid_arm(bar: Quantity, tube: Quantity, overlap: Quantity, behind: Quantity) -> float:
    """Nut's axis to the hand in m, with a tube over the bar."""
    over = overlap.m_as("meter")
    if over > min(bar.m_as("meter"), tube.m_as("meter")):
        raise RefusedError("overlap", "Neither bar nor tube is as long as that. Measure all three.")
    laid = float(bar.m_as("meter") + tube.m_as("meter") - over - behind.m_as("meter"))
    if laid <= 0:
        raise RefusedError("behind", "The hand would be behind the nut. Measure again.")
    return laid


def tube_for(arm: float, bar: Quantity, overlap: Quantity, behind: Quantity) -> Quantity:
    """Length of the tube that brings the hand to ``arm`` metres."""
    length = arm - bar.m_as("meter") + overlap.m_as("meter") + behind.m_as("meter")
    if overlap > bar:
        raise RefusedError("overlap", "The bar is not as long as that. Measure both.")
    if length < overlap.m_as("meter"):
        raise RefusedError("bar", "The bar alone is long enough; no tube is needed.")
    return Q(length, "m")


def solve(
    *, find: str, share: float, g: float | None, arm: float | None, load: float, torque: float,
    bar: float, centre: float | None,
) -> Solved:  # fmt: skip
    """Load, arm and torque with the one that is asked for worked out from the others.

    ``g`` is None for a pull, whose bar has no weight.
    """
    pull = share * (g or 1.0)
    bar = 0.0 if g is None else bar

    def own(arm: float) -> float:
        return bar * (arm / 2 if centre is None else centre) * pull

    if arm is None:
        half = 0.5 * bar if centre is None else 0.0
        fixed = 0.0 if centre is None else bar * centre
        arm = (torque / pull - fixed) / (load + half)
        if arm <= 0:
            raise RefusedError("bar_mass", _BAR_ALONE)
        return Solved(load, arm, torque, own(arm))
    if find == "torque":
        return Solved(load, arm, load * arm * pull + own(arm), own(arm))
    load = (torque - own(arm)) / (arm * pull)
    if load < 0:
        raise RefusedError("bar_mass", _BAR_ALONE)
    return Solved(load, arm, torque, own(arm))


def bending_of(force: float, arm: float, height: float, way: tuple[float, float]) -> float:
    """The part of r x F across the nut's axis: r along the bar and ``height`` in front of the
    nut, F at the angles ``way`` to the bar and out of the plane."""
    phi, psi = way
    along, across, out = (
        force * math.cos(phi) * math.cos(psi),
        force * math.sin(phi) * math.cos(psi),
        force * math.sin(psi),
    )
    return math.hypot(height * across, height * along - arm * out)


def sunk_torque(torque: float, lean: float) -> float:
    """Torque when the bar has sunk by ``SUNK`` from its slope ``lean``, in radians."""
    return torque * math.cos(lean - SUNK) / math.cos(lean)
