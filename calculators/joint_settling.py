"""Clamp that a screw loses as the joint under it settles and creeps: f/(d_S + d_P).

Screw and clamped parts are springs one behind the other, as in ``calculators.joint_stiffness``;
both are counted as steel and the screw as threaded all along, the softest it can be: a screw
with a plain shank loses a little more.

Source: VDI 2230-1, quoted from memory.
"""

from __future__ import annotations

from calculators.joint_stiffness import Clamped, screw_compliance
from calculators.thread_form import ThreadForm

STEEL = 205000.0
"""Modulus of steel in MPa."""


def settling_loss(
    form: ThreadForm, grip: float, face: tuple[float, float, float], settles: float
) -> float:
    """Clamp in N lost by ``settles`` mm over a ``grip`` mm long joint with a nut.

    ``face`` gives the diameters in mm of the turned face, of its hole and of the parts.
    """
    turned, hole, outside = face
    parts = Clamped(grip, turned, hole, outside, STEEL, tapped=False).compliance
    screw = screw_compliance(form, grip, 0.0, form.d, STEEL, False, STEEL)
    return settles / (parts + screw)
