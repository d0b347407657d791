"""Short ways to look at what a calculator answers, for tests of several calculators."""

from __future__ import annotations

from typing import Any

from tests.calculators.undrawn import evaluate_undrawn
from witnessmark.calc import Calculator, evaluate


class Answers:
    """What one calculator answers to entries given by name."""

    def __init__(self, calculator: Calculator[..., Any], **base: Any) -> None:
        self.calculator, self.base = calculator, base

    def outcome(self, units: str = "si", **entries: Any) -> dict[str, Any]:
        """The outcome of a case that can be read, without drawings."""
        found = evaluate_undrawn(self.calculator, self.base | entries, units)
        assert found["complete"], {n: e["error"] for n, e in found["entries"].items() if e["error"]}
        return found

    def results(self, units: str = "si", **entries: Any) -> dict[str, Any]:
        """Result name to its part of the outcome."""
        return {part["name"]: part for part in self.outcome(units, **entries)["results"]}

    def value(self, name: str, **entries: Any) -> float:
        """The number of a result in its own unit."""
        return float(self.results(**entries)[name]["value"])

    def codes(self, **entries: Any) -> dict[str, str]:
        """Codes of the findings with their levels."""
        return {each["code"]: each["level"] for each in self.outcome(**entries)["findings"]}

    def text(self, code: str, **entries: Any) -> str:
        """The text of a finding."""
        found = self.outcome(**entries)["findings"]
        return str(next(each["text"] for each in found if each["code"] == code))

    def error(self, name: str, **entries: Any) -> str:
        """The message with which an entry is refused."""
        part = evaluate_undrawn(self.calculator, self.base | entries)["entries"][name]["error"]
        assert part is not None
        return str(part["message"])

    def drawn(self, **entries: Any) -> list[str]:
        """The drawings of a case, as SVG."""
        answered = evaluate(self.calculator, self.base | entries)
        return [part["svg"] for part in answered["drawings"]]
