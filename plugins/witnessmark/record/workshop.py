"""A process in which a record's entries are worked out again, with an end to every patience.

A record may hold entries with which a calculation does not come to an end, as a page may; the page
ends its worker then, and so does this.
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import subprocess
import sys
import threading
from collections.abc import Mapping
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from witnessmark.faults import WitnessMarkError

START_S = 120.0
ANSWER_S = 10.0
"""A page gives a calculation two seconds; a busy machine is slower."""


class WorkshopError(WitnessMarkError):
    """The calculators could not be started."""


class Workshop:
    """Answers requests of the page's own form (``calc.request``) one after another.

    Start it with ``with``. ``patience`` is seconds for one answer.
    """

    def __init__(self, calculators: Path, patience: float = ANSWER_S) -> None:
        self.calculators = calculators
        self.patience = patience
        self._process: subprocess.Popen[str] | None = None
        self._answers: queue.Queue[str] = queue.Queue()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:  # fmt: skip
        self._end()

    def answer(self, request: Mapping[str, Any]) -> dict[str, Any]:
        """The outcome, or {"failure": why there is none}. Raises WorkshopError."""
        if self._process is None:
            self._start()
        assert self._process is not None
        assert self._process.stdin is not None
        try:
            self._process.stdin.write(json.dumps(request) + "\n")
            self._process.stdin.flush()
            line = self._answers.get(timeout=self.patience)
        except (OSError, queue.Empty):
            self._end()
            return {"failure": f"no answer within {self.patience:g} seconds"}
        if not line:
            self._end()
            return {"failure": "the calculation broke down"}
        answer: dict[str, Any] = json.loads(line)
        return answer

    def _start(self) -> None:
        self._answers = queue.Queue()
        self._process = process = subprocess.Popen(
            [sys.executable, "-m", "witnessmark.record.at_work", str(self.calculators.resolve())],
            env={**os.environ, "PYTHONPATH": os.pathsep.join(map(os.path.abspath, sys.path)),
                 "PYTHONIOENCODING": "utf-8"},
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8",
        )  # fmt: skip
        threading.Thread(target=_listen, args=(process, self._answers), daemon=True).start()
        try:
            ready = self._answers.get(timeout=START_S)
        except queue.Empty:
            ready = ""
        if not ready:
            self._end()
            raise WorkshopError(f"{self.calculators}: the calculators could not be started")

    def _end(self) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            for stream in (self._process.stdin, self._process.stdout):
                if stream is not None:
                    with contextlib.suppress(OSError):
                        stream.close()
            self._process = None


def _listen(process: subprocess.Popen[str], answers: queue.Queue[str]) -> None:
    """Hand on line after line; an empty one is the end."""
    assert process.stdout is not None
    try:
        for line in process.stdout:
            answers.put(line)
    except ValueError:
        pass  # closed under the reader's hands
    answers.put("")
