"""Ratio and efficiency of a planetary gear whose annulus stands still.

Purpose at the bench: tells what a torque multiplier does from the teeth counted in it, when
no calibrated factor is at hand.

Willis: seen from the carrier, sun and annulus turn as an ordinary gear train, so
(w_s - w_c)/(w_r - w_c) = -Zr/Zs. With the annulus held (w_r = 0) the sun turns
i = 1 + Zr/Zs times as fast as the carrier. Only the part of the power that flows through the
meshes is lossy; with mesh efficiency eta0 (both meshes together, carrier held) and
i0 = Zr/Zs the stage has eta = (1 + i0 eta0)/(1 + i0). Stages multiply.

Symbols: Zs, Zp, Zr teeth on sun, planet and annulus; N planets; w speeds.

Assumptions: gears cut without profile shift, so that Zr = Zs + 2 Zp; planets equally spaced,
which needs (Zs + Zr)/N whole.

Sources: Willis equation (derivation); the two conditions: any handbook of gearing.
"""

from __future__ import annotations

from witnessmark.calc import RefusedError


def check_teeth(sun: int, planet: int | None, ring: int, planets: int) -> None:
    """Refuse tooth counts that no planetary gear can have; ``planet`` is None if not counted."""
    if ring <= sun:
        raise RefusedError(
            "ring", f"The annulus lies outside the sun: it has more teeth than the sun's {sun}."
        )
    if (ring - sun) % 2:
        raise RefusedError(
            "ring",
            f"Between a sun of {sun} and an annulus of {ring} teeth a planet would have "
            f"{(ring - sun) / 2:g} teeth (annulus = sun + 2 × planet). Count again.",
        )
    fitting = (ring - sun) // 2
    if planet is not None and planet != fitting:
        raise RefusedError(
            "planet",
            f"Between a sun of {sun} and an annulus of {ring} teeth a planet has {fitting} teeth "
            f"(annulus = sun + 2 × planet), not {planet}. Count all three again.",
        )
    if (sun + ring) % planets:
        raise RefusedError(
            "planets",
            f"{planets} planets cannot stand equally spaced between {sun} and {ring} teeth: "
            f"{sun} + {ring} = {sun + ring} is not divisible by {planets}. Count again.",
        )


def ratio_of_stage(sun: int, ring: int) -> float:
    """Turns of the sun for one turn of the carrier, annulus held."""
    return 1 + ring / sun


def efficiency_of_stage(sun: int, ring: int, mesh: float) -> float:
    """Efficiency of a stage from the efficiency ``mesh`` of its two meshes, carrier held."""
    inner = ring / sun
    return (1 + inner * mesh) / (1 + inner)
