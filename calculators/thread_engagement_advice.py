"""What there is to say about the engagement of a thread.

Sources: common practice; classes end where ISO 898-1 ends.
"""

from __future__ import annotations

from witnessmark.calc import Finding, Q, caution, note, show, stop

LONG = 1.5
"""Beyond this many diameters further turns hardly carry."""


def findings_of_engagement(
    diameters: float, needed: float, first: str, metal: str, body: str, usual: bool,
    covered: bool, label: str,
) -> tuple[Finding, ...]:  # fmt: skip
    """``diameters`` engaged, ``needed`` depth in mm, what gives ``first``; ``usual`` where the
    metal's strength is a usual figure, ``covered`` where the standard covers the diameter."""
    found = []
    if first != "the shank of the screw":
        found.append(
            stop(
                "strips-first",
                f"Overloaded, {first} strips before the shank breaks, and nobody sees it. Engage "
                f"at least {show(Q(needed, 'mm'), 'mm', 3)}: a longer screw, a deeper hole, or a "
                "higher nut. Never a stronger screw.",
                "engagement",
            )
        )
    if diameters > LONG * (1 + 1e-9):
        found.append(
            note(
                "long-engagement",
                "Beyond one and a half diameters the further turns carry little: the first ones "
                "take the load. Count on no more than that.",
                "engagement",
            )
        )
    if metal == "aluminium":
        found.append(
            caution(
                "soft-thread",
                "A thread in aluminium wears each time the screw goes in. Start it by hand, and "
                "fit a wire thread insert where it has been repaired or is often undone.",
            )
        )
    if usual:
        found.append(
            note("strength-usual", "The metal's strength is a usual figure; castings vary widely.")
        )
    if body == "nut":
        found.append(
            note(
                "nut-class",
                "A full-height nut of the screw's class is made so that the screw breaks first; a "
                "thin nut, or one of a lower class, is not. Let two turns of the screw stand out.",
            )
        )
    if not covered:
        found.append(
            caution(
                "beyond-class",
                f"The standard of class {label} does not reach this diameter. The maker's own "
                "figure rules.",
                "mark",
            )
        )
    found.append(
        note(
            "sound-threads",
            "Limit sizes are those of sound threads. Pulled, rusted or recut ones carry less.",
        )
    )
    return tuple(found)
