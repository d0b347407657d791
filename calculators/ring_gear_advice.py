"""What there is to say about heating a ring gear, the colours of heat, and the chart of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.metals import METALS
from witnessmark.calc import Chart, Finding, Q, caution, note, show, stop

COLOURS = (
    (200, "none yet"), (220, "pale straw"), (240, "straw"), (260, "brown"), (285, "purple"),
    (300, "dark blue"), (330, "blue"),
)  # fmt: skip
"""Temper colours of bright carbon steel held for minutes: up to this many degrees Celsius."""
_STRETCHED = 0.6
"""Hoop stress as a share of the yield strength from which it is told."""
_SOFT = 220.0


@dataclass(frozen=True)
class Fitted:
    """Temperatures in °C, lengths in mm, torques in N·m.

    ``widest`` is the greatest interference, ``holds`` the least one that is left to hold.
    """

    cold: float
    heat: float
    ceiling: float
    widest: float
    holds: float
    room: float
    at_ceiling: float
    per_degree: float
    stretched: float
    slip: float
    torque: float | None
    cool: float | None


def colour_of(heat: float) -> str:
    """The temper colour of bright steel at a temperature in °C."""
    return next((name for most, name in COLOURS if heat <= most), "grey, spoilt")


def findings_of(ring: Fitted) -> Iterator[Finding]:
    """Whether it goes on without harm and stays."""
    if ring.heat > ring.ceiling + 1e-9:
        yield _too_hot(ring)
    if ring.ceiling > _SOFT + 1e-9:
        yield caution(
            "soft-teeth",
            f"Above {_deg(_SOFT)} hardened teeth lose their hardness. Use such a ceiling only "
            "where the maker gives it.",
            "ceiling",
        )
    if ring.holds <= 1e-9:
        yield stop(
            "does-not-hold",
            "With the narrowest seat in the widest bore, less roughness and what speed takes "
            "off, nothing is left to hold the ring. Do not fit it.",
        )
    elif ring.torque is not None and ring.slip < ring.torque:
        yield stop(
            "slips",
            f"At worst the ring slips at {_nm(ring.slip)}, below the {_nm(ring.torque)} it must "
            "hold. Do not fit it; a tighter ring or the maker's pins are needed.",
            "torque",
        )
    elif ring.torque is not None and ring.slip < 2 * ring.torque:
        yield caution(
            "little-hold",
            f"At worst the ring slips at {_nm(ring.slip)}, less than twice the "
            f"{_nm(ring.torque)} it must hold.",
            "torque",
        )
    if ring.stretched > _STRETCHED:
        yield caution(
            "stretched",
            f"The ring is stretched to {show(Q(100 * ring.stretched, '%'), '%', 2)} of its yield "
            "strength. Measure both parts again; a ring that yields lets go, a brittle one cracks.",
        )
    yield note(
        "how-to-heat",
        "Oven or plate, the whole ring alike, never a flame on one side. Measure with a probe at "
        "three places; crayon and colour only confirm. Flywheel cold, clean, no burr.",
    )
    yield note(
        "how-to-drop",
        "You have seconds: chamfer of the teeth to the starter's side, down to the shoulder in "
        "one go, hold it there until it grips, let it cool in the air. Gauntlets, face shield, "
        "nothing that burns nearby. Never quench.",
    )


def _too_hot(ring: Fitted) -> Finding:
    if ring.at_ceiling > 0:
        left = f"At {_deg(ring.ceiling)} only {_mm(ring.at_ceiling)} of room is left."
    else:
        left = f"At {_deg(ring.ceiling)} it does not go on: {_mm(-ring.at_ceiling)} is lacking."
    if ring.cool is not None and ring.cool > -80:
        way = (
            f"Do not heat it more. Cool the flywheel to {_deg(ring.cool)} as well, dry, by a "
            "procedure the shop has for cold work, or measure both parts again."
        )
    else:
        way = "Do not heat it more: measure both parts again; the ring may be the wrong one."
    return stop(
        "above-ceiling",
        f"It would have to be {_deg(ring.heat)} hot, above the ceiling. {left} {way}",
        "ceiling",
    )


def _deg(celsius: float) -> str:
    figures = 3 if abs(celsius) >= 100 else 2
    return show(Q(celsius + 273.15, "K"), "°C", figures, of="temperature")


def _mm(length: float) -> str:
    return show(Q(length, "mm"), "mm", 2)


def _nm(torque: float) -> str:
    return show(Q(torque, "N·m"), "N·m", 3)


def draw_heating(entries: Any, results: Any) -> Chart:
    """Room between ring and seat against the temperature of the ring."""
    inches = show(Q(1, "mm"), "mm").endswith("in")
    per_mm, unit, degrees = (1 / 25.4, "in", "°F") if inches else (1.0, "mm", "°C")

    def shown(kelvin: float) -> float:
        celsius = kelvin - 273.15
        return 1.8 * celsius + 32 if inches else celsius

    start, ceiling, heat = (
        q.m_as("K") for q in (entries.start, entries.ceiling, results.heat_to)
    )  # fmt: skip
    bore = entries.bore.m_as("mm")
    tight = results.interference.m_as("mm")
    per_degree = METALS[entries.ring_metal].expansion * bore
    last = max(heat, ceiling) + 25
    heat_text = _deg(heat - 273.15)
    chart = Chart(
        "Room against temperature of the ring",
        f"The ring begins {show(results.interference, 'mm', 2)} too small and drops on at "
        f"{heat_text}; the ceiling is {_deg(ceiling - 273.15)}.",
        x=f"Ring, {degrees}",
        y=f"Room, {unit}",
    )
    chart.curve([(shown(t), per_mm * (per_degree * (t - start) - tight)) for t in (start, last)])
    chart.limit(0.0, "just goes on")
    chart.limit(shown(ceiling), "ceiling", axis="x")
    chart.mark(
        shown(heat), per_mm * (per_degree * (heat - start) - tight), "drop it on", x_text=heat_text
    )
    return chart
