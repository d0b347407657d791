"""The browser's own runtime under Node.js: the calculators as a reader's device computes them."""

from __future__ import annotations

import json
import shutil
import subprocess
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from witnessmark.bundle.image import SCRIPT
from witnessmark.bundle.node import find_node
from witnessmark.faults import WitnessMarkError

DRIVER = Path(__file__).with_name("run_cases.mjs")
START_SECONDS = 600


class RuntimeEndedError(WitnessMarkError):
    """The runtime ended, or did not answer in time."""


class RunningRuntime:
    """A Node.js process that has started as a page does, from a site that was laid out.

    ``front`` is the site's folder of scripts, ``how`` is "image" or "wheels". ``about`` tells of
    the start: milliseconds, version of Python, modules loaded.
    """

    def __init__(self, front: Path, how: str) -> None:
        command = [*find_node().command, str(DRIVER), str(front), str(SCRIPT), how]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8"
        )
        self.lock = threading.Lock()
        self.about: dict[str, Any] = self._read()

    def outcomes(self, requests: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
        """The outcome of each request, as the worker of a page would post it."""
        answers: list[dict[str, Any]] = self._asked(list(requests))
        return answers

    def python(self, code: str) -> dict[str, Any]:
        """What ``code`` leaves in ``told``, and which archives were opened on the way."""
        answer: dict[str, Any] = self._asked({"python": code})
        return answer

    def close(self) -> None:
        """End the process."""
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.process.wait(30)

    def _asked(self, question: Any) -> Any:
        assert self.process.stdin is not None
        with self.lock:
            self.process.stdin.write(json.dumps(question) + "\n")
            self.process.stdin.flush()
            return self._read()

    def _read(self) -> Any:
        assert self.process.stdout is not None
        timer = threading.Timer(START_SECONDS, self.process.kill)
        timer.start()
        line = self.process.stdout.readline()
        timer.cancel()
        if not line:
            status = self.process.wait(30)
            raise RuntimeEndedError(f"the runtime ended with status {status}")
        return json.loads(line)


def lay_out(files: Mapping[str, Path], folder: Path) -> Path:
    """Put the files of a bundle where a site has them, fit for Node.js; returns ``folder``."""
    for uri, path in files.items():
        (folder / uri).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, folder / uri)
    # Node.js takes scripts for modules only where a package says so.
    (folder / "package.json").write_text('{"type": "module"}', "utf-8")
    for runtime in folder.glob("assets/witnessmark/runtime-*"):
        (runtime / "package.json").write_text('{"type": "commonjs"}', "utf-8")
    return folder


@contextmanager
def runtime_of(site: Path, folder: Path, how: str) -> Iterator[RunningRuntime]:
    """The runtime as a finished site carries it, started from a copy in ``folder``."""
    root = site / "assets" / "witnessmark"
    files = {p.relative_to(site).as_posix(): p for p in root.rglob("*") if p.is_file()}
    laid = lay_out(files, folder)
    (front,) = laid.glob("assets/witnessmark/front-*")
    runtime = RunningRuntime(front, how)
    try:
        yield runtime
    finally:
        runtime.close()
