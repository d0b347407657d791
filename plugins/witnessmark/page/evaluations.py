"""Evaluations that are worked out once, however many pages and rebuilds ask for them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from witnessmark.calc import Calculator, Outcome, evaluate


class EvaluationCache:
    """Outcomes by calculator, entries and unit system, shared by all pages of a build."""

    def __init__(self) -> None:
        self._digest = ""
        self._outcomes: dict[tuple[str, str, str], Outcome] = {}

    def keep_for(self, digest: str) -> None:
        """Keep what was worked out while ``digest`` (of the calculators' source) is the same."""
        if digest != self._digest:
            self._outcomes.clear()
            self._digest = digest

    def outcome(
        self, calculator: Calculator[..., Any], entries: Mapping[str, Any], units: str = "si"
    ) -> Outcome:
        """What ``evaluate`` gives. Raises what it raises; a failure is not kept."""
        key = (calculator.name, json.dumps(entries, sort_keys=True), units)
        if key not in self._outcomes:
            self._outcomes[key] = evaluate(calculator, dict(entries), units)
        return self._outcomes[key]
