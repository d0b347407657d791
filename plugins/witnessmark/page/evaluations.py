"""Evaluations that are worked out once, however many pages and rebuilds ask for them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, Protocol

from witnessmark.calc import Calculator, Outcome, ToolRecord, evaluate


class Kept(Protocol):
    """Where outcomes outlast the build, by calculator and request."""

    def get(self, calculator: str, request: str) -> Outcome | None:
        """The outcome, or None when it has to be worked out."""

    def put(self, calculator: str, request: str, outcome: Outcome) -> Outcome:
        """Keep an outcome; gives it as ``get`` will."""


class EvaluationCache:
    """Outcomes by calculator, entries, tools and unit system, shared by all pages of a build."""

    def __init__(self, today: str = "", kept: Kept | None = None) -> None:
        self.today = today
        self.kept = kept
        self._digest = ""
        self._outcomes: dict[str, Outcome] = {}
        self.requests: dict[tuple[str, str], str] = {}
        """What was asked since it was last cleared, and for which day; empty for any day."""

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
        *,
        drawings: bool = True,
    ) -> Outcome:
        """What ``evaluate`` gives. Raises what it raises; a failure is not kept."""
        tools = tools or {}
        day = self.today if tools else ""  # the day matters to certificates of tools alone
        request = json.dumps([entries, units, tools, day, drawings], sort_keys=True)
        self.requests[calculator.name, request] = day
        key = f"{calculator.name} {request}"
        if key not in self._outcomes:
            found = self.kept.get(calculator.name, request) if self.kept else None
            if found is None:
                found = evaluate(
                    calculator, dict(entries), units, drawings=drawings, tools=tools, today=day
                )
                if self.kept:
                    found = self.kept.put(calculator.name, request, found)
            self._outcomes[key] = found
        return self._outcomes[key]
