"""The figures of one run: when, where and of which source they are, and the file they go to."""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bench.variants import ROOT
from bench.visits import CHROMIUM

PARTS = ("live", "line", "entry", "memory", "build", "serve")
# Above this load per processor before the run, figures say more about what else is running.
QUIET = 0.25
ENOUGH = 7


class Run:
    """One run. Its file holds what this run has measured and nothing of any other.

    The file is replaced as a whole after every part, so that a run that is ended halfway leaves
    the parts it has done, marked as such.
    """

    def __init__(self, file: Path, parts: list[str], repeats: int) -> None:
        self._file = file
        self._begun = time.monotonic()
        self.told: dict[str, Any] = {
            "run": {
                "begun": datetime.now(UTC).strftime("%Y-%m-%d %H:%M UTC"),
                "source": source(),
                "repeats": repeats,
                "asked": parts,
                "done": {},
                "load_before": load(),
                "seconds": None,
            },
            "machine": machine(),
            "missing": {},
        }

    def measured(self, part: str, figures: dict[str, Any], began: float, load_then: float) -> None:
        """Take in a part that is done. ``load_then`` is what the machine did when it began."""
        self.told |= figures
        took = round(time.monotonic() - began)
        self.told["run"]["done"][part] = {"load_before": load_then, "seconds": took}
        self.told["run"]["seconds"] = round(time.monotonic() - self._begun)
        self.write()

    def write(self) -> None:
        """Write the file so that nobody ever finds half of it."""
        self._file.parent.mkdir(exist_ok=True)
        beside = self._file.with_name(f"{self._file.name}.{os.getpid()}")
        beside.write_text(json.dumps(self.told, indent=1) + "\n", "utf-8")
        os.replace(beside, self._file)

    def say(self, words: str) -> None:
        """Tell how far the run is."""
        minutes, seconds = divmod(round(time.monotonic() - self._begun), 60)
        print(f"{minutes:3}:{seconds:02} {words}", file=sys.stderr, flush=True)


def lacks(told: dict[str, Any]) -> list[str]:
    """Why the page on speed is not to be written from a run; nothing when it is."""
    run = told["run"]
    missed = [part for part in PARTS if part not in run["done"]]
    found = [f"not measured: {', '.join(missed)}"] if missed else []
    if run.get("calculators"):
        found.append("entries of some calculators only")
    if run["repeats"] < ENOUGH:
        found.append(f"{run['repeats']} repeats, {ENOUGH} are wanted")
    if run["load_before"] > QUIET:
        found.append(
            f"the machine was busy before (load {run['load_before']} a processor, up to {QUIET} "
            "is quiet)"
        )
    return found + [f"no {name}: {why}" for name, why in told["missing"].items()]


def load() -> float:
    """How many processes wait or run, a processor."""
    return round(os.getloadavg()[0] / (os.cpu_count() or 1), 2)


def source() -> str:
    """The commit that is measured, and whether files differ from it."""

    def git(*arguments: str) -> str:
        done = subprocess.run(
            ["git", *arguments], cwd=ROOT, capture_output=True, text=True, check=False
        )
        return done.stdout.strip() if done.returncode == 0 else ""

    commit = git("rev-parse", "--short=10", "HEAD")
    changed = git("status", "--porcelain", "--untracked-files=no")
    return f"{commit or 'unknown'}{' with changes' if changed else ''}"


def machine() -> dict[str, Any]:
    """What is measured on."""
    model = "unknown processor"
    if sys.platform == "linux":
        lines = Path("/proc/cpuinfo").read_text().splitlines()
        named = (line.partition(":")[2].strip() for line in lines if "model name" in line)
        model = next(named, model)
    try:
        answer = subprocess.run(
            [CHROMIUM, "--version"], capture_output=True, text=True, check=False
        ).stdout.strip()
    except OSError:
        answer = ""
    return {
        "processor": model,
        "processors": os.cpu_count(),
        "system": platform.system(),
        "python": platform.python_version(),
        "browser": answer or "unknown browser",
    }
