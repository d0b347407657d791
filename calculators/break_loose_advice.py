"""What there is to say before a locked nut is broken loose: tool, heat, what not to rely on.

Sources: common practice, no published source, but for the meaning of the torques (ISO 10964);
classes 10.9 and 12.9 are tempered at 340 °C to 425 °C at least (ISO 898-1, from memory), so heat
to colour draws their temper.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.wrench_scale import nm
from witnessmark.calc import Finding, Q, caution, note, show, stop

RESERVE = 2.0
"""A tool is taken for this many times the estimate."""
STEADY = 250.0
"""Pull in N that a bar's length is worked out for."""
LONG_BAR = 1.2
"""Longest bar in m that is handled on a bench before the multiplier is the better way."""
COLOUR = 300.0
"""Temperature in °C from which a hardened fastener is not used again."""
HEATED = 60.0
"""Temperature in °C from which a nut is called heated."""

NEAR = {
    "seal": "a lip seal or an O-ring",
    "bearing": "a plain bearing in aluminium",
    "gear": "a hardened ring gear",
    "fuel": "fuel, solvent or an oily rag",
    "nothing": "nothing that heat would harm",
}


@dataclass(frozen=True)
class Stuck:
    """A nut to be undone: torques in N·m, temperature in °C."""

    history: str
    bond: float
    cold: float
    most: float
    kept: float
    temperature: float
    near: str
    hardened: bool
    tool: float | None
    seated: bool


def findings_of_tool(it: Stuck) -> list[Finding]:
    """Whether the tool at hand is enough."""
    if it.tool is None:
        return []
    if it.tool < it.cold:
        return [
            stop(
                "tool-too-small",
                f"The tool ends at {nm(it.tool)} and the nut is likely to take {nm(it.cold)}. "
                "Take a larger one: an overloaded tool breaks just when all your weight is on it.",
                "tool_most",
            )
        ]
    if it.tool < RESERVE * it.cold:
        return [
            caution(
                "tool-no-reserve",
                f"The tool ends at {nm(it.tool)}, less than twice the estimate. Have the next "
                "larger one ready, and do not go beyond its mark.",
                "tool_most",
            )
        ]
    return []


def findings_of_history(it: Stuck) -> list[Finding]:
    """How far the estimate can be trusted."""
    if it.history in ("rust", "unknown"):
        return [
            caution(
                "no-upper-limit",
                "A rusted or unknown thread has no upper limit. Take the figure as the least, soak "
                "the thread with penetrating oil, and give it time before you give it force.",
                "history",
            )
        ]
    return []


def findings_of_heat(it: Stuck) -> list[Finding]:
    """Whether heat helps, and what it harms."""
    found = []
    hot = it.temperature >= HEATED
    if hot and it.near != "nothing":
        found.append(
            stop(
                "heat-near",
                f"No flame and no hot air here: heat would reach {NEAR[it.near]}. Take that out "
                "first or undo the nut cold, with the larger tool.",
                "near",
            )
        )
    if hot and it.hardened and it.temperature > COLOUR:
        found.append(
            stop(
                "heat-draws-temper",
                f"Above about {show(Q(COLOUR, '°C'), '°C', 2)} a hardened or plated fastener loses "
                "its strength. Scrap it after this, bolt and nut.",
                "temperature",
            )
        )
    if hot:
        found.append(
            caution(
                "heat-clamp-stays",
                "Heat softens the locker; it does not take the clamp away. Undo the nut while it "
                "is hot, with gloves, and mark the hot parts.",
            )
        )
    elif it.bond > it.cold / 2:
        found.append(
            note(
                "heat-would-help",
                "More than half of it is threadlocker. Where nothing near takes harm, local heat "
                "at the nut, about 250\u202f°C for a high-strength grade, saves a large tool.",
                "temperature",
            )
        )
    return found


def findings_of_data(it: Stuck) -> list[Finding]:
    """What the figure of the locker means."""
    if it.bond == 0:
        return []
    if it.seated:
        return [
            note(
                "friction-taken-off",
                "A break-loose torque of a seated test bolt contains the friction of its clamp; "
                "that has been taken off before the bond was counted.",
                "sheet_kind",
            )
        ]
    return [
        note(
            "bond-alone",
            "The bond is counted on top of friction. A data sheet's break-loose torque of a seated "
            "bolt already contains friction: choose that kind if yours is one.",
        )
    ]


ALWAYS = (
    caution(
        "which-hand",
        "See which way the thread runs before you put force on. Some central nuts have a "
        "left-hand thread.",
    ),
    caution(
        "lets-go",
        "It lets go at once, with a crack. Reaction arm square on something that cannot move, "
        "engine held, nobody in the sweep of the bar.",
    ),
    note(
        "keep-turning",
        "Once it moves, keep it moving slowly. If it tightens up again, stop and oil it; do not "
        "run it back and forth dry, it galls.",
    ),
)
