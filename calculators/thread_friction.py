"""Torque and clamp force of a screw: thread, face, and what is left when it is undone.

Everything is per newton of clamp force, in mm: a torque is force times one of these arms, so
one figure serves both ways.

Thread, exact: (d2/2) tan(phi +- rho'), tan phi = P/(pi d2), tan rho' = mu/cos 30 deg; plus
when tightened, minus when undone. The linear form P/(2 pi) + 0.57735 mu d2 is 0.15 % to 1.2 %
low and is not used. Where mu is less than about P/(pi d2) cos 30 deg the thread undoes itself
and the arm of undoing is negative.

Face: mu D/2, where the face from d_h to d_w under even pressure rubs at
D = (2/3) (d_w^3 - d_h^3)/(d_w^2 - d_h^2); the mean diameter (d_w + d_h)/2 is 1.3 % low for
46/31 mm and 3.4 % low for 60/31 mm, so wide washers need the exact one.

Stress while tightening: sigma = F/A, tau = k M/(d_s^3), red = sqrt(sigma^2 + 3 tau^2). Elastic,
tau at the surface counts with the section modulus pi d_s^3/16; the assembly limit of VDI 2230
lets the section yield in torsion, pi d_s^3/12. A bore b takes its part of area and modulus.

Sources: ISO 16047 and VDI 2230-1 (formulas), derivations.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calculators.thread_form import ThreadForm

COS30 = math.cos(math.radians(30))


def thread_arm(form: ThreadForm, mu: float) -> float:
    """Torque in the thread per newton while tightening, in mm; mu is its friction."""
    return form.d2 / 2 * math.tan(form.lead_angle + math.atan(mu / COS30))


def loosening_arm(form: ThreadForm, mu: float) -> float:
    """Torque in the thread per newton while undoing, in mm; negative where it undoes itself."""
    return form.d2 / 2 * math.tan(math.atan(mu / COS30) - form.lead_angle)


def face_diameter(outer: float, inner: float) -> float:
    """Diameter in mm at which a face from ``inner`` to ``outer`` rubs under even pressure."""
    return 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)


def face_arm(mu: float, rubbing: float) -> float:
    """Torque under the turned face per newton, in mm; ``rubbing`` is its face diameter."""
    return mu * rubbing / 2


def pitch_arm(form: ThreadForm) -> float:
    """The part of the tightening arm that stretches the screw, in mm: P/(2 pi)."""
    return form.pitch / math.tau


@dataclass(frozen=True)
class Section:
    """The section of a threaded or waisted shank: outer diameter and bore in mm."""

    outer: float
    bore: float = 0.0

    @property
    def area(self) -> float:
        """Area in mm²."""
        return math.pi / 4 * (self.outer**2 - self.bore**2)

    @property
    def modulus(self) -> float:
        """Section modulus in torsion, elastic, in mm³."""
        return math.pi * (self.outer**4 - self.bore**4) / (16 * self.outer)

    @property
    def plastic_modulus(self) -> float:
        """Section modulus in torsion, fully plastic, in mm³."""
        return math.pi * (self.outer**3 - self.bore**3) / 12


def reduced_stress(section: Section, force: float, torque: float) -> float:
    """Elastic equivalent stress at the surface in MPa for a force in N and a torque in N·mm."""
    return math.hypot(force / section.area, math.sqrt(3) * torque / section.modulus)


def assembly_force(section: Section, arm: float, stress: float) -> float:
    """Clamp force in N at which the section reaches ``stress`` MPa, plastic in torsion.

    ``arm`` is the torque in the thread per newton, in mm.
    """
    return stress / math.hypot(1 / section.area, math.sqrt(3) * arm / section.plastic_modulus)
