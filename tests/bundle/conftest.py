"""A throw-away collection of calculators, and a cache that needs no network."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.bundle import default_cache, get_runtime
from witnessmark.collection import Collection, load_collection

LEVER = '''"""Torque of a force on a lever: T = F l."""

from dataclasses import dataclass

from witnessmark.calc import Force, Length, Rounding, Torque, calculator, entry, result
from {package}.arms import usual_arm


@dataclass(frozen=True)
class Lever:
    torque: Torque = result("Torque", lead=True, rounding=Rounding(figures=3))


@calculator(name="lever", title="Lever", topic="torque", purpose="The torque of a pull.")
def lever(
    *, force: Force = entry("Force", "100 N"), arm: Length = entry("Arm", usual_arm())
) -> Lever:
    return Lever(force * arm)
'''
ARMS = '''"""Arms of the shop's levers."""

from {package} import _stock


def usual_arm() -> str:
    return _stock.ARM
'''
STOCK = '''"""What is in the drawer."""

ARM = "1 m"
'''
UNUSED = '''"""A module that no page uses and nobody imports."""
'''

Files = dict[str, str]
MakeCollection = Callable[..., Collection]


def small_files(package: str) -> Files:
    """A calculator, a module it imports, one that module imports, and one left alone."""
    return {
        "__init__.py": '"""Calculators to try things on."""\n',
        "lever.py": LEVER.format(package=package),
        "arms.py": ARMS.format(package=package),
        "_stock.py": STOCK,
        "unused.py": UNUSED,
    }


@pytest.fixture
def make_collection(tmp_path: Path) -> MakeCollection:
    """Writes a package of calculators below ``tmp_path`` and loads it."""

    def make(where: str = "project", package: str = "trial", **changed: str) -> Collection:
        folder = tmp_path / where / package
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in (small_files(package) | changed).items():
            (folder / name).write_text(text, "utf-8")
        return load_collection(folder)

    return make


@pytest.fixture
def warm_cache(tmp_path: Path) -> Path:
    """A cache of the test's own that holds the runtime and nothing else."""
    entry = get_runtime().folder.parents[1]
    assert entry.parent == default_cache()
    shutil.copytree(entry, tmp_path / "cache" / entry.name)
    return tmp_path / "cache"


@pytest.fixture
def offline(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Npm finds nobody to ask: its registry is a closed port, its own cache is empty."""
    monkeypatch.setenv("npm_config_registry", "http://127.0.0.1:9/")
    monkeypatch.setenv("npm_config_cache", str(tmp_path / "npm-cache"))
