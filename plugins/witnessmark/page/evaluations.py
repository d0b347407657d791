"""Evaluations that are worked out once, however many pages and rebuilds ask for them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from witnessmark.calc import Calculator, Outcome, ToolRecord, evaluate


class EvaluationCache:
    """Outcomes by calculator, entries, tools and unit system, shared by all pages of a build."""

    def __init__(self, today: str = "") -> None:
        self.today = today
        self._digest = ""
        self._outcomes: dict[str, Outcome] = {}

    def keep_for(self, digest: str, today: str) -> None:
        """Keep what was worked out while ``digest`` (of the calculators' source) is the same.

        ``today`` (year-month-day) is the day by which certificates are judged from now on.
        """
        if digest != self._digest:
            self._outcomes.clear()
            self._digest = digest
        self.today = today

    def outcome(
        self,
        calculator: Calculator[..., Any],
        entries: Mapping[str, Any],
        units: str = "si",
        tools: Mapping[str, ToolRecord] | None = None,
    ) -> Outcome:
        """What ``evaluate`` gives. Raises what it raises; a failure is not kept."""
        tools = tools or {}
        key = json.dumps([calculator.name, entries, units, tools, self.today], sort_keys=True)
        if key not in self._outcomes:
            self._outcomes[key] = evaluate(
                calculator, dict(entries), units, tools=tools, today=self.today
            )
        return self._outcomes[key]
