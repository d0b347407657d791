"""The handbook built by its site generator, in a process of its own.

The command line does not know the generator's own code: it starts it and reads what the
plugin hands over.
"""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from witnessmark.faults import WitnessMarkError
from witnessmark.signoff import HandbookBasis

GENERATORS = ("mkdocs", "properdocs")


class BuildFailedError(WitnessMarkError):
    """The site could not be built; the message is what the generator said."""


@dataclass(frozen=True)
class Built:
    """A finished build: where the site lies and what its pages rest on."""

    site: Path
    basis: HandbookBasis


def read_basis(project: Path) -> HandbookBasis:
    """What the pages rest on, without writing a site. Raises BuildFailedError."""
    with tempfile.TemporaryDirectory() as folder:
        return _run(project, Path(folder) / "site", {"WITNESSMARK_BASIS_ONLY": "1"})


def build_strictly(project: Path, site: Path, **environment: str) -> Built:
    """Build the whole site into ``site``, warnings as errors. Raises BuildFailedError."""
    return Built(site, _run(project, site, environment, "--strict"))


def _run(project: Path, site: Path, environment: dict[str, str], *options: str) -> HandbookBasis:
    generator = next((each for each in GENERATORS if importlib.util.find_spec(each)), GENERATORS[0])
    with tempfile.TemporaryDirectory() as folder:
        basis = Path(folder) / "basis.json"
        done = subprocess.run(
            [sys.executable, "-m", generator, "build", "--site-dir", str(site.resolve()), *options],
            cwd=project,
            env={
                **os.environ,
                "PYTHONPATH": os.pathsep.join(map(os.path.abspath, sys.path)),
                "NO_MKDOCS_2_WARNING": "1",
                "WITNESSMARK_BASIS": str(basis),
                **environment,
            },
            capture_output=True,
            text=True,
            check=False,
        )  # fmt: skip
        if done.returncode != 0:
            raise BuildFailedError(_said(done.stderr or done.stdout))
        if not basis.is_file():
            raise BuildFailedError(
                f"{project}: the build handed nothing over; is the plugin 'witnessmark' in its "
                "configuration?"
            )
        return HandbookBasis.from_json(json.loads(basis.read_text("utf-8")))


def _said(output: str) -> str:
    """What went wrong, without the generator's progress."""
    lines = [line for line in output.strip().splitlines() if not line.startswith("INFO")]
    return "\n".join(lines) or "the build failed without a word"
