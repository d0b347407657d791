"""The bench types into a page and draws, as it was written for the page's own parts."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from bench.entries import latencies
from bench.host import Host

pytestmark = pytest.mark.browser


def test_entries_and_drawings_of_a_calculator_are_timed(chromium, site_folder):
    """It times as many entries as it was asked for, and drawings where there are some."""
    play = SimpleNamespace(chromium=chromium.browser_type)
    with Host(site_folder) as host:
        told = latencies(play, host, site_folder, 4, ["planetary-multiplier"])  # type: ignore[arg-type]
    times = told["planetary-multiplier"]
    assert times["entries"] == 4
    assert 0 < times["p50_ms"] <= times["p95_ms"]
    assert times["drawing_p50_ms"] > 0
