"""Torque that threadlocker adds to a thread: from its shear strength or from its data sheet.

A bond of shear strength tau on the pitch cylinder over the engagement m holds
T_a = tau (pi d2 m) d2/2. A data sheet gives a torque on a test size (M10 x 1.5, ISO 10964); it
goes to another thread as T_a = T_ref (d2/d2_ref)^(n - 1) (m/m_ref). n = 3 is the same shear
strength everywhere; makers find n near 2.6 (about six times for twice the size), because large
threads fill and cure less well.

Where the data sheet's torque is break-loose of a *seated* test bolt, it contains the friction of
its clamp, which is taken off first. Breakaway torque is that of an unseated one and is bond alone.

Hot, the bond falls after the product's own curve, read as straight lines between its points.

Sources: ISO 10964 (test size, meaning of breakaway; break-loose from memory); shear on a
cylinder (derivation); exponent 2.6 and shape of the hot curve: common practice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from calculators.clamp_friction import usual_face
from calculators.thread_form import ThreadForm
from calculators.thread_friction import face_arm, face_diameter, loosening_arm, thread_arm
from calculators.thread_sizes import THREADS

TEST_SIZE: ThreadForm = THREADS["M10x1.5"]
"""Thread of the standard's test bolts."""
TEST_ENGAGEMENT = 8.0
"""Height in mm of the standard's test nut."""


def bond_of_strength(form: ThreadForm, engagement: float, strength: float) -> float:
    """Torque in N·m of a bond of ``strength`` MPa over ``engagement`` mm."""
    return strength * math.pi * form.d2 * engagement * form.d2 / 2000


def bond_of_test(
    form: ThreadForm, engagement: float, torque: float, exponent: float = 3.0
) -> float:
    """Torque in N·m on this thread of a bond that holds ``torque`` N·m on the test size."""
    wider = math.pow(form.d2 / TEST_SIZE.d2, exponent - 1)
    return torque * wider * engagement / TEST_ENGAGEMENT


def friction_in_test(tightened: float, mu: float) -> float:
    """Torque in N·m to undo a test bolt that was tightened with ``tightened`` N·m, bond aside."""
    face = face_arm(mu, face_diameter(*usual_face(TEST_SIZE)))
    undo, turn = loosening_arm(TEST_SIZE, mu) + face, thread_arm(TEST_SIZE, mu) + face
    return tightened * undo / turn


def hot_share(curve: Sequence[tuple[float, float]], temperature: float) -> float:
    """Share of its strength that a bond keeps at a temperature; held beyond the curve's ends."""
    points = sorted(curve)
    if temperature <= points[0][0]:
        return points[0][1]
    for (t1, s1), (t2, s2) in pairwise(points):
        if temperature <= t2:
            return s1 + (s2 - s1) * (temperature - t1) / (t2 - t1)
    return points[-1][1]
