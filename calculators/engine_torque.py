"""Mean torque of an engine and how far its peaks stand above it.

T = P/omega. The peaks are those of the gas forces of a four-stroke cycle with evenly spaced
firing, friction and inertia left out: compression ratio 9, compression pv^1.32 from 1 bar, 55 bar
at top dead centre, expansion pv^1.28, crank over rod 0.28. A diesel's pressures are higher and
steeper; its peaks are 1.3 to 1.6 times as far up. Torsional vibration of the shaft can add as
much again and is not in this.

Sources: derivation (the tests sum the cycle up); factor for diesels: common practice.
"""

from __future__ import annotations

from witnessmark.calc import Source

CYCLE = Source(
    "gas-torque-cycle", "Gas torque of an ideal four-stroke cycle over two turns, summed up",
    kind="derivation",
)  # fmt: skip

PEAKS = {1: 14.1, 2: 7.0, 3: 4.7, 4: 3.5, 5: 2.8, 6: 2.4, 8: 1.8, 12: 1.3}
"""Cylinders to the greatest gas torque over the mean one."""
CHOICES = {str(count): str(count) for count in PEAKS}


def mean_torque(power: float, speed: float) -> float:
    """Mean torque in N·m from a power in W and a speed in rad/s."""
    return power / speed


def torque_at_joint(mean: float, greatest: float, behind: float) -> float:
    """Torque in N·m through the flywheel joint when the cylinders give ``greatest``.

    ``behind`` is the flywheel's share of all the inertia: it takes that share of what exceeds
    the mean; crank and pistons take the rest before the joint.
    """
    return mean + (greatest - mean) * behind
