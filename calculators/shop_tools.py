"""Places for the shop's tools, alike in every calculator that is worked with them.

A torque wrench brings its scale and its deviation, a multiplier its ratio, its factor and what it
stands, a socket its square, a bar its length, and each of them what it stands.
"""

from __future__ import annotations

from witnessmark.calc import ToolPlace, WhenKnown

_SHEET = ("found", "uncertainty")
"""What a calibration sheet tells of a wrench; one is of no use without the other."""
_SCALE = {"step": "{step}", "wrench_low": "{low}", "wrench_high": "{high}"}

TORQUE_WRENCH = ToolPlace(
    "torque_wrench", "Torque wrench", "torque wrench",
    {**_SCALE, "wrench": ("{gives}", "100 % ± {deviation}")},
)  # fmt: skip
"""For calculators that ask what the wrench gives of its setting: what its sheet found goes before
its limit."""

WRENCH_THAT_DEVIATES = ToolPlace(
    "torque_wrench", "Torque wrench", "torque wrench",
    {
        **_SCALE, "known_by": (WhenKnown("sheet", _SHEET), "limit"), "limit": "{deviation}",
        "found": WhenKnown("{found}", _SHEET), "uncertainty": WhenKnown("{uncertainty}", _SHEET),
    },
)  # fmt: skip
"""For calculators that ask how far it deviates: by what its sheet found, where the data book has
that, else by its greatest deviation."""

MULTIPLIER = ToolPlace(
    "multiplier", "Multiplier", "torque multiplier",
    {"factor": "{factor}", "ratio": "{ratio}", "tool_most": "{most}",
     "input_square": "{input_square}", "output_square": "{output_square}"},
)  # fmt: skip
"""For the planetary multiplier known by its calibrated factor. Its arm is not settled by it: where
the arm bears is measured at the engine."""

REACTION_BAR = ToolPlace("reaction_bar", "Reaction bar", "reaction bar", {"bar_most": "{most}"})
"""For calculators in which something bears on it."""

SOCKET = ToolPlace(
    "socket", "Socket", "socket", {"socket_most": "{most}", "socket_square": "{square}"}
)
"""For calculators that know no other square at the nut."""

LEVER_BAR = ToolPlace(
    "shop_bar", "Bar of the shop", "bar",
    {"arm": "{length}", "bar_mass": "{mass}", "bar_most": "{most}"},
)  # fmt: skip
"""For the bar that a hand pulls or a mass hangs on."""
