"""Sources and check values of the time a threadlocker takes to hold."""

from __future__ import annotations

from witnessmark.calc import CheckValue, Source

ARRHENIUS = Source(
    "arrhenius", "Arrhenius law by hand, gas constant R of CODATA 2018", kind="derivation"
)
WEIBULL = Source(
    "weibull-two-points", "Weibull form through two points, solved by hand", kind="derivation"
)
MONOTONE = Source(
    "fritsch-butland-1984",
    "Fritsch and Butland, local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. "
    "Comput. 5 (1984) 300-304",
    "points on a straight line are joined by that line",
    kind="paper",
)
ISO_10964 = Source(
    "iso-10964-1993",
    "ISO 10964:1993 Adhesives - Torque strength of anaerobic adhesives on threaded fasteners",
    "test fasteners M10×1.5",
)
PRACTICE = Source(
    "threadlocker-practice",
    "Bench practice with anaerobic threadlockers, no published source",
    kind="common practice",
)

CHECK_VALUES = (
    CheckValue(
        "2 h 50 %, 24 h 90 %: strength after 1 h",
        {"bench": "22 °C", "gap": "94 µm", "elapsed": "1 h"},
        {"strength": "39.10 %", "full": "41.38 h"},
        source=WEIBULL,
    ),
    CheckValue(
        "2 h 50 %, 24 h 90 %: strength after 72 h",
        {"bench": "22 °C", "gap": "94 µm", "elapsed": "72 h"},
        {"strength": "98.01 %"},
        source=WEIBULL,
    ),
    *(
        CheckValue(
            f"55 kJ/mol, {bench}",
            {"bench": bench, "gap": "94 µm"},
            {"slower": factor},
            source=ARRHENIUS,
            findings=(),
        )
        for bench, factor in (
            ("5 °C", "3.935"), ("10 °C", "2.585"), ("15 °C", "1.724"), ("40 °C", "0.276"),
        )
    ),
    CheckValue(
        "four times as long at 5 °C as at 22 °C",
        {"energy_by": "sheet", "other": "5 °C", "times": "4"},
        {"energy": "55.66 kJ/mol"},
        source=ARRHENIUS,
    ),
    CheckValue(
        "twice as fast at 30 °C as at 20 °C",
        {"energy_by": "sheet", "reference": "20 °C", "other": "30 °C", "times": "0.5"},
        {"energy": "51.22 kJ/mol"},
        source=ARRHENIUS,
    ),
    CheckValue(
        "three points on a straight line in ln t",
        {
            "points": (("1 h", "5 %"), ("10 h", "50 %"), ("100 h", "95 %")),
            "bench": "22 °C", "gap": "94 µm", "elapsed": "31.6227766 h",
        },
        {"strength": "72.50 %"},
        source=MONOTONE,
    ),
    CheckValue(
        "beside anti-seize", {"surface": "antiseize"}, source=PRACTICE,
        findings=("anti-seize",),
    ),
    CheckValue(
        "a cold shop", {"bench": "4 °C"}, source=PRACTICE, findings=("cold",)
    ),
    CheckValue(
        "strength that falls",
        {"points": (("2 h", "50 %"), ("24 h", "40 %"))},
        source=MONOTONE, refused=("points",),
    ),
)  # fmt: skip
