"""Evaluation without drawings: most tests look at figures only, and drawing takes longest."""

from __future__ import annotations

from typing import Any

from witnessmark.calc import Calculator, evaluate


def evaluate_undrawn(
    calculator: Calculator[..., Any], entries: dict[str, Any], units: str = "si"
) -> dict[str, Any]:
    """The outcome of a case, its drawings left out."""
    drawings, calculator.drawings = calculator.drawings, []
    try:
        return evaluate(calculator, entries, units)
    finally:
        calculator.drawings = drawings
