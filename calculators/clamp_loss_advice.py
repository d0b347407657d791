"""What there is to say about a clamp in service: settling, warmth, short screws.

Sources: limits are common practice; spring washers: NASA RP-1228.
"""

from __future__ import annotations

from witnessmark.calc import Finding, Q, caution, note, show, stop

SHORT = 3.0
"""A grip below this many diameters is short."""
LOSS = 0.2
"""A loss of more than this share of the clamp is told."""
WARM = 0.1
"""A change by warmth of more than this share of the clamp is told."""


def findings_of_loss(
    force: float, gone: float, warmed: float, slender: float, settle_by: str
) -> tuple[Finding, ...]:
    """What there is to say; forces in N, ``slender`` the grip in diameters."""
    found = []
    if force - gone + warmed <= 0:
        found.append(
            stop(
                "no-clamp-left",
                "Nothing is left of the clamp: the joint rattles loose. The screw is too short and "
                "stiff for it, or the clamp far too low.",
            )
        )
    if gone > LOSS * force:
        found.append(
            caution(
                "settles-much",
                f"Settling takes {show(Q(100 * gone / force, '%'), '%', 2)} of the clamp. Smoother "
                "faces, fewer of them or a longer, thinner screw lose less; paint and burrs under "
                "a head lose all of it.",
            )
        )
    if slender < SHORT - 1e-9:
        found.append(
            caution(
                "grip-short",
                "The grip is short for the thread: a few micrometres of settling cost much clamp. "
                "Do not put anything soft under the head.",
                "grip",
            )
        )
    if abs(warmed) > WARM * force:
        more = "rises" if warmed > 0 else "falls"
        found.append(
            caution(
                "warmth-matters",
                f"The clamp {more} by {show(Q(abs(warmed), 'N'), 'kN', 2)} as the engine warms. "
                + ("Check that screw and seat stand it." if warmed > 0 else
                   "Check that the joint still holds then."),
                "rise",
            )
        )  # fmt: skip
    if settle_by == "faces":
        found.append(
            note("settling-usual", "The settling is a usual figure; it may be half or double.")
        )
    found.append(
        note(
            "no-spring-washer",
            "A helical spring washer is flat long before full clamp and then is a plain washer: it "
            "neither keeps clamp nor locks.",
        )
    )
    found.append(
        note(
            "elastic-turn",
            "The turn holds up to yield. Where the maker tightens further by angle, his angle "
            "counts alone, and the screws are new.",
        )
    )
    return tuple(found)
