"""What to say about a curing joint: its metals, its threads, its temperature, its age.

Sources: bench practice with anaerobic threadlockers, no published source; the maker's data
sheet wins.
"""

from __future__ import annotations

from witnessmark.calc import Finding, Q, caution, note, show, stop

COLD = 278.15
"""Below 5 °C in kelvin the cure may stop altogether."""

ACTIVE = {"steel": "plain steel or iron", "copper": "copper, brass or bronze"}
SLOW = {
    "zinc": "zinc plate",
    "cadmium": "cadmium plate",
    "chromate": "chromated or passivated plate",
    "stainless": "stainless steel",
    "aluminium": "aluminium, plain or anodised",
    "titanium": "titanium",
}
METALS = ACTIVE | SLOW


def findings_of_state(surface: str, moved: str, bench: float) -> list[Finding]:
    """What there is to say about threads, handling and temperature (in kelvin)."""
    found = []
    if surface == "antiseize":
        found.append(
            stop(
                "anti-seize",
                "Threadlocker does not set beside anti-seize or another compound. Take the joint "
                "apart, wash both threads and start again.",
                "surface",
            )
        )
    if moved == "yes":
        found.append(
            stop(
                "moved",
                "A joint turned after it began to set is broken loose and does not heal. Take it "
                "apart, clean both threads and lock it anew.",
                "moved",
            )
        )
    if surface == "oily":
        found.append(
            caution(
                "oil",
                "Over oil the bond is weak and the time unknown, unless the grade is made for it. "
                "Degrease both threads and let them dry.",
                "surface",
            )
        )
    if bench < COLD - 1e-9:
        found.append(
            caution(
                "cold",
                f"Below {show(Q(5, '°C'), '°C', 2)} it may not cure at all, whatever is computed. "
                "Warm the parts, not only the air.",
                "bench",
            )
        )
    return found


def findings_of_metals(first: str, second: str, primer: str) -> list[Finding]:
    """What there is to say about the two metals and the primer."""
    slow = [metal for metal in dict.fromkeys((first, second)) if metal in SLOW]
    found = []
    if slow and primer == "none":
        found.append(
            caution(
                "slow-metal",
                f"On {' and '.join(METALS[metal] for metal in slow)} the cure is slow and the "
                "time little more than a guess. Ask the data sheet whether a primer is required.",
            )
        )
    if len({first in SLOW, second in SLOW}) == 2:
        found.append(note("mixed-metals", "Of the two metals the less active one sets the pace."))
    if primer == "primed":
        found.append(
            caution(
                "primer",
                "With a primer it sets within minutes and ends weaker. Assemble and tighten at "
                "once, and do not turn back.",
                "primer",
            )
        )
    return found


def findings_of_progress(
    elapsed: float, handling: float, full: float, slower: float, last: float, two: bool
) -> list[Finding]:
    """What the time so far means; all times in hours, ``last`` the data sheet's last point."""
    found = []
    if elapsed < handling:
        found.append(
            caution("leave-alone", "It does not hold yet. Do not turn, load or knock the joint.")
        )
    elif elapsed < full:
        found.append(caution("not-full", "It holds itself but no load yet. Do not run the engine."))
    if two and full > last * slower * (1 + 1e-9):
        found.append(
            note(
                "past-last-point",
                f"The data sheet's last point stands for {show(Q(last * slower, 'h'), 'h', 2)} "
                "here. What lies beyond follows from the shape of the curve, not from a test.",
                "points",
            )
        )
    return found
