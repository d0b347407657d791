"""What to say about a flat gasket: seating, crushing, setting, its place in the stack.

Thresholds that are not the gasket maker's: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from witnessmark.calc import Finding, Q, caution, note, show, stop, with_unit


@dataclass(frozen=True)
class Clamped:
    """What a gasket is judged by: N, MPa, mm; pairs are least and greatest within the limits."""

    force: tuple[float, float]
    needed: float
    held: tuple[float, float]
    working: float
    pressure: tuple[float, float]
    most_pressure: float | None
    last_point: float
    thickness: tuple[float, float]
    band: tuple[float, float] | None
    float_now: tuple[float, float] | None
    setting: float
    drives: bool
    used: bool
    sealant: bool


def findings_of_gasket(case: Clamped) -> tuple[Finding, ...]:
    """All findings of a gasket under its bolts."""
    return (
        *_of_state(case),
        *_of_seating(case),
        *_of_crushing(case),
        *_of_stack(case),
        *_of_setting(case),
    )


def _kn(force: float) -> str:
    return show(Q(force, "N"), "kN")


def _mpa(stress: float) -> str:
    return show(Q(stress, "MPa"), "MPa")


def _mm(length: float) -> str:
    return show(Q(length, "mm"), "mm", 2)


def _of_state(case: Clamped) -> Iterator[Finding]:
    if case.used:
        yield stop(
            "gasket-reused",
            "A gasket that has been clamped keeps the print of the old faces and does not seat "
            "again. Fit a new one.",
            "state",
        )
    if case.sealant:
        yield caution(
            "sealant-adds",
            "Sealant adds to the thickness and lubricates the faces: the sheet may be squeezed "
            "out. Only where the maker calls for it, and thin.",
            "sealant",
        )


def _of_seating(case: Clamped) -> Iterator[Finding]:
    least, most = case.force
    if most < case.needed * (1 - 1e-9):
        yield stop(
            "not-seated",
            f"Even {_kn(most)} does not seat this gasket; {_kn(case.needed)} are needed. It will "
            "leak. More clamp force, a softer sheet or a narrower gasket: ask the lead fitter.",
            "clamp",
        )
    elif least < case.needed * (1 - 1e-9):
        yield caution(
            "seating-unsure",
            f"At the low end the clamp force is {_kn(least)}; seating needs {_kn(case.needed)}. "
            "Check thread, lubricant and wrench, which make it scatter.",
            "clamp",
        )
    if case.held[0] < case.working * (1 - 1e-9) and most >= case.needed * (1 - 1e-9):
        yield stop(
            "not-held",
            f"After it has set {_kn(case.held[0])} may be left of the clamp force; "
            f"{_kn(case.working)} are needed against the pressure inside.",
        )


def _of_crushing(case: Clamped) -> Iterator[Finding]:
    least, most = case.pressure
    limit = case.most_pressure
    if limit is not None and least > limit * (1 + 1e-9):
        yield stop(
            "gasket-crushed",
            f"The gasket is pressed with {_mpa(least)} and more; its maker allows {_mpa(limit)}. "
            "It is crushed and creeps out. Do not tighten so far, or take a sheet that stands it.",
        )
    elif limit is not None and most > limit * (1 + 1e-9):
        yield caution(
            "crushing-near",
            f"The pressure on the gasket may reach {_mpa(most)}; its maker allows {_mpa(limit)}.",
        )
    elif limit is None:
        yield note(
            "no-upper-limit",
            "The seating stress y is what a gasket needs at least. What it stands at most is in "
            "its maker's sheet: enter it.",
            "most_pressure",
        )
    if most > case.last_point * (1 + 1e-9):
        yield caution(
            "beyond-the-points",
            f"The sheet's points end at {_mpa(case.last_point)}, and the pressure may reach "
            f"{_mpa(most)}. Beyond them the compression is held: the gasket will be thinner than "
            "stated.",
            "points",
        )


def _of_stack(case: Clamped) -> Iterator[Finding]:
    spread = case.thickness[1] - case.thickness[0]
    if case.float_now is not None and case.band is not None:
        low, high = case.band
        if case.float_now[1] < low - 1e-9 or case.float_now[0] > high + 1e-9:
            yield stop(
                "float-out",
                f"With the new gasket the float is {_mm(case.float_now[0])} to "
                f"{_mm(case.float_now[1])}, outside {_mm(low)} to {_mm(high)}. Choose other shims "
                "and measure with the gasket fitted.",
            )
        elif case.float_now[0] < low - 1e-9 or case.float_now[1] > high + 1e-9:
            yield caution(
                "float-unsure",
                f"The float may lie between {_mm(case.float_now[0])} and "
                f"{_mm(case.float_now[1])}; wanted are {_mm(low)} to {_mm(high)}. Only measuring "
                "it with the gasket fitted and tightened tells.",
            )
        if spread > 0.5 * (high - low):
            yield caution(
                "spread-wide",
                f"From one gasket to the next the clamped thickness differs by up to "
                f"{_mm(spread)}, and the float may differ by {_mm(high - low)}. Never reckon the "
                "float from the free thickness: measure it with the very gasket fitted.",
            )


def _of_setting(case: Clamped) -> Iterator[Finding]:
    if case.setting > 0.10 + 1e-9:
        share = with_unit(f"{100 * case.setting:.3g}", "%")
        yield note(
            "gasket-sets",
            f"Set with {share} less clamp force. Do not tighten again unless the maker says so: "
            "a sheet that has been hot cracks.",
        )
    if case.drives:
        yield caution(
            "gasket-in-a-drive",
            "This joint carries torque by friction. A gasket sets, and with it the clamp force "
            "goes; its friction is less than that of clean metal. Reckon the torque with what is "
            "left, and look at the witness mark after the first hours.",
        )
