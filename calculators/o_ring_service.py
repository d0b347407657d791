"""What is entered of any O-ring, and what heat, cold and oil make of its volume.

Rubber grows with warmth in all three directions and swells in oil, so the volume of a ring is
(1 + 3 alpha dT)(1 + q) times that at 20 °C; cold, it shrinks alike and has not swollen yet.

Sources: as in ``calculators.o_ring_section``; usual figures: common practice. The ring maker's
sheet wins.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.o_ring_rubber import RUBBERS
from calculators.o_ring_section import growth
from calculators.o_ring_sizes import usual_bore, usual_section
from witnessmark.calc import Formula, Rounding, Symbol, choice, entry, number

PERCENT = Rounding(decimals=1, us_decimals=1)
SIZE = Rounding(decimals=2, us_decimals=3)

FILLING = Formula(
    r"f = \frac{A' \left(1 + 3 \alpha\,\Delta T\right)\left(1 + q\right)}{b\,h - "
    r"2 \left(1 - \frac{\pi}{4}\right) r^2}",
    "Filling, hot and swollen",
)
GROWTH = Symbol(r"\alpha, q", "linear expansion, swelling of the volume", "1/K, 1")

STATE = choice("The ring", {"new": "is new", "used": "has been clamped before"}, default="new")
RUBBER = choice(
    "Rubber", {key: item.text for key, item in RUBBERS.items()}, default="NBR", seldom=True
)
CORNER = entry(
    "Radius in the groove's corners", "0.3 mm", units=("mm", "in"), least=0, most="1.5 mm",
    why="A larger one lifts the ring.", seldom=True,
)  # fmt: skip
HOT = entry(
    "Hottest in service", "90 °C", units=("°C", "°F"), least="20 °C", most="250 °C",
    why="No rubber ring stands more.", seldom=True,
)  # fmt: skip
COLD = entry(
    "Coldest start", "-10 °C", units=("°C", "°F"), least="-60 °C", most="20 °C",
    why="Sizes are those at 20 °C.", seldom=True,
)  # fmt: skip
SWELL = entry(
    "Swelling in oil, by volume", "5 %", units=("%",), least=0, most="30 %", seldom=True,
    usual=("0 %", "20 %"), why="A ring that swells more is the wrong rubber.",
    help="From the ring maker's sheet; 0 % to 10 % for nitrile in engine oil.",
)  # fmt: skip
EXPANSION = entry(
    "Expansion of the rubber", "190 µm/(m·K)", least=0, most="400 µm/(m·K)", seldom=True,
    usual=("150 µm/(m·K)", "240 µm/(m·K)"), why="No rubber grows so.",
)  # fmt: skip


def bore_entry(default: str) -> Any:
    """Inside diameter of a ring, with the tolerance of its class where none is typed."""
    return entry(
        "Inside diameter of the ring", default, units=("mm", "in"), least="2 mm", most="650 mm",
        why="Rings of ISO 3601 are made from 2 mm to 650 mm.", tolerance=usual_bore,
        help="From the bag. Without limits typed those of ISO 3601-1 class B are taken.",
    )  # fmt: skip


def section_entry(default: str) -> Any:
    """Section of a ring, with the tolerance of its size where none is typed."""
    return entry(
        "Section of the ring", default, units=("mm", "in"), least="1.5 mm", most="8.4 mm",
        why="The tolerances of ISO 3601-1 hold from 1.5 mm to 8.4 mm.", tolerance=usual_section,
        help="Measured without pressing. Without limits typed those of ISO 3601-1 are taken.",
    )  # fmt: skip


@dataclass(frozen=True)
class Service:
    """Temperatures in °C, and how many times its volume at 20 °C a ring has at either."""

    hot: float
    cold: float
    hottest: float
    coldest: float


def in_service(hot: Any, cold: Any, swell: Any, expansion: Any) -> Service:
    """What the four entries come to."""
    warm, chill = hot.m_as("degC"), cold.m_as("degC")
    alpha = expansion.m_as("1/K")
    return Service(
        warm, chill,
        hottest=growth(alpha, warm - 20, number(swell)),
        coldest=growth(alpha, chill - 20, 0.0),
    )  # fmt: skip
