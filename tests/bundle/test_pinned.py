from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from witnessmark.bundle import pinned


@pytest.fixture
def copied_pin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The pin files in a folder where a test may change them."""
    for name in pinned.FILES:
        shutil.copy(pinned.pinned_folder() / name, tmp_path / name)
    monkeypatch.setattr(pinned, "pinned_folder", lambda: tmp_path)
    pinned.runtime_pin.cache_clear()
    yield tmp_path
    pinned.runtime_pin.cache_clear()


def test_the_pin_is_one_exact_version_with_a_hash() -> None:
    """The runtime is pinned to a version without a range, and by its SHA-512."""
    pin = pinned.runtime_pin()
    wanted = json.loads((pin.folder / "package.json").read_text("utf-8"))["dependencies"]
    assert wanted.keys() == {"pyodide", "terser", "@rollup/wasm-node", "zstddec"}
    assert wanted["pyodide"] == pin.version
    assert all(re.fullmatch(r"[0-9.]+", version) for version in wanted.values())
    assert pin.integrity.startswith("sha512-")


def test_no_lock_file_names_a_registry() -> None:
    """Both lock files hold versions and hashes, never an address to fetch from."""
    lock = json.loads((pinned.pinned_folder() / "package-lock.json").read_text("utf-8"))
    assert [name for name, each in lock["packages"].items() if "resolved" in each] == []
    assert all("integrity" in each for name, each in lock["packages"].items() if name)
    requirements = (pinned.pinned_folder() / "requirements.txt").read_text("utf-8")
    assert "://" not in requirements
    assert requirements.count("==") < requirements.count("--hash=sha256:")


def test_a_lock_of_another_version_is_refused(copied_pin: Path) -> None:
    """package.json and its lock that disagree are named, with what to do."""
    path = copied_pin / "package.json"
    path.write_text(path.read_text("utf-8").replace(pinned_version(copied_pin), "0.1.2"), "utf-8")
    with pytest.raises(pinned.PinMissing, match=r"asks for '0\.1\.2'.*make lock"):
        pinned.runtime_pin()


def pinned_version(folder: Path) -> str:
    """The version the lock file in ``folder`` gives."""
    lock = json.loads((folder / "package-lock.json").read_text("utf-8"))
    return str(lock["packages"]["node_modules/pyodide"]["version"])
