"""What the runtime starts with."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.runtime.conftest import ROOT, RunningRuntime
from witnessmark.bundle import get_runtime

pytestmark = pytest.mark.runtime


def test_the_runtime_is_the_python_that_development_uses(running_runtime: RunningRuntime) -> None:
    """The runtime's minor version is the one named in .python-version."""
    wanted = (ROOT / ".python-version").read_text().strip()
    locked = json.loads(get_runtime().lock.read_text("utf-8"))["info"]["python"]
    assert running_runtime.about["python"].split()[0] == locked
    assert locked.rpartition(".")[0] == wanted


def test_nothing_of_the_generator_is_in_the_runtime(running_runtime: RunningRuntime) -> None:
    """Of this package only the contract is loaded, and nothing of MkDocs or Markdown."""
    loaded = running_runtime.about["modules"]
    ours = {name for name in loaded if name.startswith("witnessmark.")}
    assert ours
    assert {name for name in ours if name.split(".")[1] != "calc"} == set()
    assert {"mkdocs", "markdown", "pymdownx", "jinja2", "yaml"}.isdisjoint(loaded)


def test_every_calculator_module_is_loaded(running_runtime: RunningRuntime) -> None:
    """The modules of calculators/ are imported by the start itself."""
    wanted = {f"calculators.{path.stem}" for path in Path(ROOT / "calculators").glob("[a-z]*.py")}
    assert wanted <= set(running_runtime.about["modules"])


def test_an_unknown_calculator_is_a_failure_and_the_runtime_goes_on(
    running_runtime: RunningRuntime,
) -> None:
    """A request that cannot be evaluated is told as a failure; the next one is answered."""
    asked = {"calculator": "no-such-calculator", "entries": {}, "units": "si"}
    first, second = running_runtime.outcomes([asked, asked])
    assert "no-such-calculator" in first["failure"]
    assert first == second
