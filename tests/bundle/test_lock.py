from __future__ import annotations

import hashlib
import json
import sys
from pathlib import Path

import pytest

from tests.bundle.conftest import MakeCollection
from witnessmark.bundle import get_runtime
from witnessmark.bundle.lock import compiles_for, lock_text, runtime_info
from witnessmark.bundle.packing import Packed, pack
from witnessmark.bundle.wheels import wheel_sources


@pytest.fixture
def packed(make_collection: MakeCollection, tmp_path: Path) -> list[Packed]:
    """The wheels of the small collection."""
    sources = wheel_sources(make_collection(), ["trial.lever"])
    return [pack(source, False, tmp_path / "cache") for source in sources]


def test_the_lock_lists_what_is_hosted_and_nothing_else(packed: list[Packed]) -> None:
    """Every wheel stands in the lock with its digest, under its bare file name."""
    lock = json.loads(lock_text(packed, runtime_info(get_runtime())))
    listed = {each["file_name"]: each["sha256"] for each in lock["packages"].values()}
    assert listed == {
        each.travels.name: hashlib.sha256(each.travels.read_bytes()).hexdigest() for each in packed
    }


def test_every_dependency_is_hosted(packed: list[Packed]) -> None:
    """The calculators depend on the contract, it on pint, and no name leads elsewhere."""
    packages = json.loads(lock_text(packed, runtime_info(get_runtime())))["packages"]
    assert packages["trial"]["depends"] == ["witnessmark"]
    assert packages["witnessmark"]["depends"] == ["pint"]
    assert {name for each in packages.values() for name in each["depends"]} <= set(packages)


def test_a_missing_wheel_is_refused(packed: list[Packed]) -> None:
    """A wheel that requires one that is not hosted makes no lock."""
    rest = [each for each in packed if not each.source.name.startswith("flexparser")]
    with pytest.raises(RuntimeError, match="flexparser"):
        lock_text(rest, runtime_info(get_runtime()))


def test_the_lock_names_the_runtimes_own_python(packed: list[Packed]) -> None:
    """Python version and ABI are taken from the runtime, which refuses others."""
    info = runtime_info(get_runtime())
    assert json.loads(lock_text(packed, info))["info"] == info


def test_byte_code_only_for_the_same_minor_version() -> None:
    """Byte code is made when this Python is of the runtime's minor version, else not."""
    major, minor = sys.version_info[:2]
    assert compiles_for({"python": f"{major}.{minor}.99"})
    assert not compiles_for({"python": f"{major}.{minor + 1}.0"})
    assert not compiles_for({"python": f"{major}.{minor}0.1"})
