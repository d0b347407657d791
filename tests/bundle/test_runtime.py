from __future__ import annotations

import json
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest

from witnessmark.bundle import runtime as under_test
from witnessmark.bundle.pinned import FILES, runtime_pin
from witnessmark.bundle.runtime import BROWSER_FILES, RuntimeUnavailable, get_runtime, is_good

FETCH = "import sys; from witnessmark.bundle import get_runtime; get_runtime()"


def test_a_warm_cache_needs_no_network(warm_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the runtime in the cache neither npm nor Node.js is started."""

    def refuse() -> None:
        raise AssertionError("npm was looked for")

    monkeypatch.setattr(under_test, "find_node", refuse)
    told: list[str] = []
    runtime = get_runtime(warm_cache, told.append)
    assert told == []
    assert {path.name for path in runtime.folder.iterdir()} >= set(BROWSER_FILES)


@pytest.mark.parametrize("damage", ["changed", "removed", "no digests", "garbled digests"])
def test_a_damaged_cache_heals(warm_cache: Path, damage: str) -> None:
    """A file that changed or went missing in the cache is noticed and fetched again."""
    entry = next(warm_cache.iterdir())
    wasm = entry / "node_modules" / "pyodide" / "pyodide.asm.wasm"
    if damage == "changed":
        data = bytearray(wasm.read_bytes())
        data[len(data) // 2] ^= 1
        wasm.write_bytes(data)
    elif damage == "removed":
        wasm.unlink()
    elif damage == "no digests":
        (entry / "digests.json").unlink()
    else:
        (entry / "digests.json").write_text("[]", "utf-8")
    assert not is_good(entry)
    told: list[str] = []
    runtime = get_runtime(warm_cache, told.append)
    assert "damaged" in told[0]
    assert is_good(entry)
    known = get_runtime()
    assert (runtime.folder / wasm.name).read_bytes() == (known.folder / wasm.name).read_bytes()
    assert [path.name for path in warm_cache.iterdir()] == [entry.name]


@pytest.mark.usefixtures("offline")
def test_no_network_and_no_cache_says_what_to_do(tmp_path: Path) -> None:
    """The message names the runtime, the reason and the remedy; nothing half-made is left."""
    cache = tmp_path / "cache"
    with pytest.raises(RuntimeUnavailable) as caught:
        get_runtime(cache, lambda _: None)
    message = str(caught.value)
    assert f"pyodide {runtime_pin().version} is not in the cache" in message
    assert "WITNESSMARK_CACHE" in message
    assert "ECONNREFUSED" in message
    assert list(cache.iterdir()) == []


def test_another_content_than_the_pinned_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What comes from a registry but differs from the pin never reaches the cache."""
    for name in FILES:
        shutil.copy(runtime_pin().folder / name, tmp_path / name)
    path = tmp_path / "package-lock.json"
    lock = json.loads(path.read_text("utf-8"))
    other = "sha512-" + "A" * 86 + "=="
    lock["packages"]["node_modules/pyodide"]["integrity"] = other
    path.write_text(json.dumps(lock), "utf-8")
    pin = replace(runtime_pin(), integrity=other, folder=tmp_path)
    monkeypatch.setattr(under_test, "runtime_pin", lambda: pin)
    cache = tmp_path / "cache"
    with pytest.raises(RuntimeUnavailable, match=r"not what package-lock\.json pins"):
        get_runtime(cache, lambda _: None)
    assert list(cache.iterdir()) == []


def test_two_builds_at_once_share_an_empty_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two processes that fetch at the same time both end well, with one good entry."""
    monkeypatch.setenv("WITNESSMARK_CACHE", str(tmp_path))

    def fetch(_: int) -> int:
        return subprocess.run([sys.executable, "-c", FETCH], check=False).returncode

    with ThreadPoolExecutor(2) as pool:
        assert list(pool.map(fetch, range(2))) == [0, 0]
    (entry,) = tmp_path.iterdir()
    assert is_good(entry)
