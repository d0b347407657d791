"""A small handbook on disk, and the two site generators that build it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
GENERATORS = ("mkdocs", "properdocs")

MKDOCS_YML = """\
site_name: Test handbook
site_url: https://handbook.example/shop/
theme: {name: material, font: false, features: [navigation.prune]}
plugins: [search, witnessmark]
markdown_extensions: [tables, attr_list, md_in_html]
"""

CALCULATORS = '''"""Two levers, for tests."""

from __future__ import annotations

from dataclasses import dataclass

from witnessmark.calc import CheckValue, Force, Length, Source, Torque, calculator, entry, result

STATICS = Source("statics", "Moment of a force, by hand", kind="derivation")


@dataclass(frozen=True)
class Lever:
    torque: Torque = result("Torque at the nut", lead=True)


@calculator(
    name="lever", title="A lever", topic="statics", purpose="Force times arm.", sources=[STATICS],
    check_values=[CheckValue("2 m", {"arm": "2 m"}, {"torque": "600 N·m"}, source=STATICS)],
)
def lever(*, force: Force = entry("Force", "300 N", least=0),
          arm: Length = entry("Arm", "1 m", units=("m", "mm", "in"), above=0)) -> Lever:
    return Lever(force * arm)
'''

UNUSED = CALCULATORS.replace('"lever"', '"other-lever"').replace("A lever", "Another lever")

PROCEDURE = """\
---
title: Pull on the bar
machines: [LG2]
tools: [bar]
---
# Pull on the bar

The nut gets {nut.torque}, which is {lever.torque | force: 300 N, arm: tools.bar.length} and more.

//// step | Pull
Pull steadily.

/// calculator | lever
arm: tools.bar.length
///
////
"""

DATABOOK = """\
machine: LG2
source: a test
nut:
  torque: {is: 480 N·m ± 4 %, kind: torque}
"""

SHOP = """\
source: a test
tools:
  bar:
    title: long bar
    length: {is: 1.2 m, kind: length}
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """The small handbook: one procedure, one data book, two calculators, one of them used."""
    folder = tmp_path / "shop"
    for name, text in {
        "mkdocs.yml": MKDOCS_YML,
        "docs/index.md": "# Start\n\n[Pull](pull.md)\n",
        "docs/pull.md": PROCEDURE,
        "docs/databook/lg2.yml": DATABOOK,
        "docs/databook/shop.yml": SHOP,
        "calculators/__init__.py": '"""Calculators of a test."""\n',
        "calculators/lever.py": CALCULATORS,
        "calculators/unused.py": UNUSED,
    }.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder


Build = Callable[..., subprocess.CompletedProcess[str]]


def run_build(
    folder: Path, generator: str = "mkdocs", *options: str, site: Path | None = None
) -> subprocess.CompletedProcess[str]:
    """Build a project in a process of its own, as its user does."""
    command = [
        sys.executable, "-m", generator, "build", "--site-dir", str(site or folder / "site"),
    ]  # fmt: skip
    return subprocess.run(
        [*command, *options], cwd=folder, text=True, capture_output=True, timeout=300,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1"}, check=False,
    )  # fmt: skip


@pytest.fixture
def build() -> Build:
    """Build a project; see ``run_build``."""
    return run_build


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The handbook of this repository, built once with MkDocs' own warnings as errors."""
    site = tmp_path_factory.mktemp("demo") / "site"
    done = run_build(ROOT, "mkdocs", "--strict", site=site)
    assert done.returncode == 0, done.stderr
    return site
