"""What there is to say about a torque multiplier in use: findings, worked out in plain numbers.

Torques in N·m, forces in N, all as chosen at the bench (nominal figures) with the limits of
what the nut then gets.

Sources: true torque of a setting S of a wrench with deviation p lies between S/(1 + p) and
S/(1 - p) (ISO 6789-1); use of a wrench from a fifth of its scale upward (ISO 6789-1, from
memory); working limits of squares in ``calculators.drive_square``; the rest is bench practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.drive_square import findings_of_square
from calculators.rated_tools import findings_of_bar_used
from calculators.wrench_scale import findings_of_range, findings_of_rounding, nm
from witnessmark.calc import Finding, Q, Quantity, caution, note, show, stop

HAND_LIMIT = 1000.0
"""Greatest setting in N·m that is asked of a hand: the largest wrench with a 20 mm square."""
POOR = 0.75
"""A multiplier with a lower efficiency than this is worn, dry, or its figures are wrong."""


@dataclass(frozen=True)
class Pull:
    """A tightening as chosen, torques in N·m.

    ``tool`` and ``wrench`` are least and greatest factor of the multiplier and share of its
    setting that the wrench gives, each beside the figure counted with.
    """

    target: tuple[float, float, float]
    exact: float
    setting: float
    tool: tuple[float, float, float]
    wrench: tuple[float, float, float]
    press: float
    known_by: str
    efficiency: float

    @property
    def torque(self) -> tuple[float, float, float]:
        """Least, nominal and greatest torque that the nut gets."""
        least, middle, most = (
            self.setting * k * w for k, w in zip(self.tool, self.wrench, strict=True)
        )
        return least, middle, most


def findings_of_setting(
    pull: Pull, wrench_low: float | None, wrench_high: float | None
) -> list[Finding]:
    """Whether the wrench can be set like that; its range may be unknown."""
    setting = pull.setting
    found = findings_of_range(
        setting, wrench_low, wrench_high,
        "Take a larger wrench, or a multiplier with a larger factor.",
    )  # fmt: skip
    if setting > HAND_LIMIT:
        found.append(
            stop(
                "setting-over-hand",
                f"{nm(setting)} at the handle is more than a hand wrench is made for. Take a "
                "multiplier with a larger factor.",
            )
        )
    return found + findings_of_rounding(setting, pull.exact)


def findings_of_band(pull: Pull) -> list[Finding]:
    """Whether wrench and multiplier hold the torque within its tolerance, and what spreads it."""
    least, _, most = pull.torque
    low, _, high = pull.target
    found = []
    if low < high and (least < low * (1 - 1e-9) or most > high * (1 + 1e-9)):
        allowed = f"The nut may get less or more than the {nm(low)} to {nm(high)} allowed"
        if most / least > high / low:
            text = (
                f"{allowed}. With this wrench and this multiplier no setting keeps within that. "
                "Have the multiplier's factor measured more closely, or finish with a torque "
                "wrench on the nut itself."
            )
            found.append(caution("band-over-tolerance", text, "target"))
        else:
            text = (
                f"{allowed}. The setting lies off the middle of what would do. A wrench with a "
                "finer scale can keep within that."
            )
            found.append(caution("setting-off-middle", text, "step"))
    tool = pull.tool[2] / pull.tool[0] - 1
    wrench = pull.wrench[2] / pull.wrench[0] - 1
    if tool > wrench * (1 + 1e-9):
        what = "factor" if pull.known_by == "factor" else "efficiency"
        found.append(
            note(
                "band-from-multiplier",
                f"Most of the band comes from the multiplier's {what}. A fresh calibration of the "
                "multiplier narrows it more than a better wrench.",
            )
        )
    elif wrench > 0:
        found.append(
            note(
                "band-from-wrench",
                "At least half of the band comes from the wrench. Its own calibration sheet may "
                "allow less than the limit of the standard.",
                "wrench",
            )
        )
    return found


def findings_of_tool(
    pull: Pull, squares: tuple[str, str], tool_most: float | None
) -> list[Finding]:
    """What the multiplier and its squares stand."""
    _, middle, most = pull.torque
    found = findings_of_square(
        "wrench", squares[0], pull.setting * pull.wrench[1], pull.setting * pull.wrench[2],
        "input_square",
    ) + findings_of_square("nut", squares[1], middle, most, "output_square")  # fmt: skip
    if tool_most is not None and middle > tool_most * (1 + 1e-9):
        found.append(
            stop(
                "over-tool",
                f"The multiplier is made for {nm(tool_most)} at its output and would give "
                f"{nm(middle)}. Take a larger one.",
                "tool_most",
            )
        )
    if pull.efficiency < POOR:
        found.append(
            caution(
                "efficiency-low",
                f"An efficiency of {pull.efficiency:.2f} is low for a sound multiplier. Check "
                "ratio and factor; if they are right, have the tool cleaned and greased.",
            )
        )
    if pull.known_by != "factor":
        found.append(
            note(
                "efficiency-assumed",
                "The efficiency is a usual figure. A run-in, warm and freshly greased multiplier "
                "may give more than that, and the nut then gets more. The tool's calibrated "
                "factor is the better figure.",
            )
        )
    return found


def findings_of_bar(pull: Pull, stands: Quantity | None) -> list[Finding]:
    """Whether the reaction bar stands what the arm brings: the nut's torque less the hand's."""
    share = 1 - 1 / pull.tool[1]
    _, middle, most = pull.torque
    return findings_of_bar_used("reaction bar", stands, share * middle, share * most)


def findings_at_the_bench(pull: Pull) -> list[Finding]:
    """What the fitter must see to, whatever the figures."""
    return [
        caution(
            "arm-bears",
            f"The arm presses on its stop with {show(Q(pull.press, 'N'), 'kN')} and goes the other "
            "way than the nut. Let it bear square, with its full width, on something that cannot "
            "move, and have hands out of the gap before you pull.",
        ),
        caution(
            "wound-up",
            "After the click the tool stays wound up. Let it off with its own ratchet before you "
            "take wrench or arm away, and stand clear of their swing.",
        ),
        note(
            "no-impact-driver",
            "Never drive a hand multiplier with an impact driver: its teeth break, and the torque "
            "is unknown.",
        ),
    ]
