"""The browser runtime under Node.js, started once each way for the whole run."""

from __future__ import annotations

import json
import shutil
import subprocess
import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from witnessmark.bundle import Bundle, find_node, make_bundle
from witnessmark.bundle.image import SCRIPT
from witnessmark.collection import Collection, load_collection

ROOT = Path(__file__).resolve().parents[2]
DRIVER = Path(__file__).with_name("run_cases.mjs")
START_SECONDS = 600

Outcomes = Callable[[Sequence[dict[str, Any]]], list[dict[str, Any]]]


class RunningRuntime:
    """A Node.js process that has started as a page does, from a site that was laid out.

    ``how`` is "image" or "wheels".
    """

    def __init__(self, bundle: Bundle, site: Path, how: str) -> None:
        command = [*find_node().command, str(DRIVER), str(site / bundle.front), str(SCRIPT), how]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8"
        )
        self.lock = threading.Lock()
        self.about: dict[str, Any] = self._read()

    def outcomes(self, requests: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
        """The outcome of each request, as the worker of a page would post it."""
        assert self.process.stdin is not None
        with self.lock:
            self.process.stdin.write(json.dumps(list(requests)) + "\n")
            self.process.stdin.flush()
            answers: list[dict[str, Any]] = self._read()
        return answers

    def python(self, code: str) -> dict[str, Any]:
        """What ``code`` leaves in ``told``, and which archives were opened on the way."""
        assert self.process.stdin is not None
        with self.lock:
            self.process.stdin.write(json.dumps({"python": code}) + "\n")
            self.process.stdin.flush()
            answer: dict[str, Any] = self._read()
        return answer

    def close(self) -> None:
        """End the process."""
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.process.wait(30)

    def _read(self) -> Any:
        assert self.process.stdout is not None
        timer = threading.Timer(START_SECONDS, self.process.kill)
        timer.start()
        line = self.process.stdout.readline()
        timer.cancel()
        assert line, f"the runtime ended with status {self.process.wait(30)}"
        return json.loads(line)


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
    folder = tmp_path_factory.mktemp("site")
    for uri, path in bundle.files.items():
        (folder / uri).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, folder / uri)
    # Node.js takes scripts for modules only where a package says so.
    (folder / "package.json").write_text('{"type": "module"}', "utf-8")
    (folder / bundle.runtime / "package.json").write_text('{"type": "commonjs"}', "utf-8")
    return folder


@pytest.fixture(scope="session")
def running_runtime(bundle: Bundle, site: Path) -> Iterator[RunningRuntime]:
    """Restored from the heap image: what readers meet."""
    runtime = RunningRuntime(bundle, site, "image")
    yield runtime
    runtime.close()


@pytest.fixture(scope="session")
def plain_runtime(bundle: Bundle, site: Path) -> Iterator[RunningRuntime]:
    """Started from the wheels: what readers meet when the image cannot be used."""
    runtime = RunningRuntime(bundle, site, "wheels")
    yield runtime
    runtime.close()


@pytest.fixture(scope="session")
def runtime_outcomes(running_runtime: RunningRuntime) -> Outcomes:
    """A function from requests to the outcomes that the browser computes."""
    return running_runtime.outcomes
