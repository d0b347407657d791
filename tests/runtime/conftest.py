"""The browser runtime under Node.js, started once for the whole run."""

from __future__ import annotations

import json
import subprocess
import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from witnessmark.bundle import find_node, get_runtime, make_bundle
from witnessmark.bundle.build import FRONT
from witnessmark.collection import Collection, load_collection

ROOT = Path(__file__).resolve().parents[2]
DRIVER = Path(__file__).with_name("run_cases.mjs")
START_SECONDS = 180

Outcomes = Callable[[Sequence[dict[str, Any]]], list[dict[str, Any]]]


class RunningRuntime:
    """A Node.js process with the runtime and the calculators of the repository in it."""

    def __init__(self, collection: Collection) -> None:
        bundle = make_bundle(collection, collection.modules)
        lock = bundle.files[f"{bundle.packages}/pyodide-lock.json"]
        names = sorted(json.loads(lock.read_text("utf-8"))["packages"])
        command = [
            *find_node().command,
            *map(str, (DRIVER, FRONT / "boot.js", get_runtime().folder, lock.parent)),
            ",".join(names),
            ",".join(collection.modules),
        ]
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
def running_runtime(collection: Collection) -> Iterator[RunningRuntime]:
    """The runtime with every calculator of the repository loaded."""
    runtime = RunningRuntime(collection)
    yield runtime
    runtime.close()


@pytest.fixture(scope="session")
def runtime_outcomes(running_runtime: RunningRuntime) -> Outcomes:
    """A function from requests to the outcomes that the browser runtime computes."""
    return running_runtime.outcomes
