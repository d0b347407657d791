from __future__ import annotations

from pathlib import Path

import pytest

from witnessmark.bundle.node import LEAST_MAJOR, Node, find_node
from witnessmark.bundle.runtime import get_runtime


def _script(folder: Path, name: str, says: str) -> None:
    path = folder / name
    path.write_text(f"#!/bin/sh\necho {says}\n", "utf-8")
    path.chmod(0o755)


def _major(node: Node) -> int:
    answer = node.run([*node.command, "--version"])
    return int(answer.stdout.removeprefix("v").split(".")[0])


def test_without_node_on_the_path_the_wheels_own_is_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A machine without Node.js runs the one that came with the Python package."""
    monkeypatch.setenv("PATH", str(tmp_path))
    node = find_node()
    assert node.origin == "the Python package"
    assert _major(node) >= LEAST_MAJOR
    assert node.run([*node.npm, "--version"]).stdout.strip().replace(".", "").isdigit()


def test_a_node_that_is_too_old_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An old Node.js on the path is not used."""
    _script(tmp_path, "node", f"v{LEAST_MAJOR - 1}.9.1")
    _script(tmp_path, "npm", "9.0.0")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert find_node().origin == "the Python package"


def test_a_new_enough_node_with_npm_is_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The machine's own Node.js is preferred when it is new enough and has npm."""
    _script(tmp_path, "node", f"v{LEAST_MAJOR}.0.0")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert find_node().origin == "the Python package"
    _script(tmp_path, "npm", "10.0.0")
    assert find_node() == Node((str(tmp_path / "node"),), (str(tmp_path / "npm"),), "this machine")


def test_the_runtime_is_fetched_with_the_wheels_node(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the path has no Node.js at all, the runtime still comes, whole."""
    known = get_runtime()
    monkeypatch.setenv("PATH", str(tmp_path))
    told: list[str] = []
    runtime = get_runtime(tmp_path / "cache", told.append)
    assert any("npm of the Python package" in line for line in told)
    assert runtime.lock.read_bytes() == known.lock.read_bytes()
