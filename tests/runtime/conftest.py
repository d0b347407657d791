"""The browser runtime under Node.js, started once each way for the whole run."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from witnessmark.bundle import Bundle, make_bundle
from witnessmark.bundle.in_runtime import RunningRuntime, lay_out
from witnessmark.collection import Collection, load_collection

ROOT = Path(__file__).resolve().parents[2]

Outcomes = Callable[[Sequence[dict[str, Any]]], list[dict[str, Any]]]


@pytest.fixture(scope="session")
def collection() -> Collection:
    """The calculators of the repository."""
    return load_collection(ROOT / "calculators")


@pytest.fixture(scope="session")
def bundle(collection: Collection) -> Bundle:
    """The bundle of every calculator of the repository."""
    return make_bundle(collection, collection.modules)


@pytest.fixture(scope="session")
def site(bundle: Bundle, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bundle's files where a site has them."""
    return lay_out(bundle.files, tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="session")
def running_runtime(bundle: Bundle, site: Path) -> Iterator[RunningRuntime]:
    """Restored from the heap image: what readers meet."""
    runtime = RunningRuntime(site / bundle.front, "image")
    yield runtime
    runtime.close()


@pytest.fixture(scope="session")
def plain_runtime(bundle: Bundle, site: Path) -> Iterator[RunningRuntime]:
    """Started from the wheels: what readers meet when the image cannot be used."""
    runtime = RunningRuntime(site / bundle.front, "wheels")
    yield runtime
    runtime.close()


@pytest.fixture(scope="session")
def runtime_outcomes(running_runtime: RunningRuntime) -> Outcomes:
    """A function from requests to the outcomes that the browser computes."""
    return running_runtime.outcomes
