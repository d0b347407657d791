"""A sum that does not come to an end when it is asked for too much."""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import (
    CheckValue,
    Force,
    Rounding,
    Source,
    calculator,
    entry,
    result,
)

TRIAL = Source("trial", "The force that was asked for", kind="derivation")


@dataclass(frozen=True)
class Searched:
    """What comes out."""

    found: Force = result("Force found", lead=True, rounding=Rounding(figures=3))


@calculator(
    name="endless-search",
    title="A search without end",
    topic="torque",
    purpose="Searches a force, and never finds a large one.",
    sources=(TRIAL,),
    check_values=(CheckValue("small", {"force": "500 N"}, {"found": "500 N"}, TRIAL),),
)
def endless_search(
    *,
    force: Force = entry("Force to be found", "500 N", least=0),
    spare: Force = entry("Force to spare", "0 N", least=0),
) -> Searched:
    """The force itself, where it is found at all."""
    while force.m_as("N") > 9000:
        pass
    return Searched(force + spare)
