from __future__ import annotations

import os
from pathlib import Path

import pytest

from witnessmark.bundle.cache import default_cache, place, prune, scratch


def _good(entry: Path) -> bool:
    return (entry / "file").is_file() and (entry / "file").read_text() == "good"


def _folder(at: Path, text: str) -> Path:
    at.mkdir(parents=True)
    (at / "file").write_text(text)
    return at


def test_the_variable_names_the_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """WITNESSMARK_CACHE wins over the user's cache folder."""
    monkeypatch.setenv("WITNESSMARK_CACHE", str(tmp_path))
    assert default_cache() == tmp_path
    monkeypatch.delenv("WITNESSMARK_CACHE")
    assert default_cache().name == "witnessmark"


def test_scratch_is_gone_afterwards_even_after_an_error(tmp_path: Path) -> None:
    """An interrupted build leaves nothing half-made behind."""

    def interrupted() -> None:
        with scratch(tmp_path) as at:
            _folder(at / "half", "…")
            raise OSError("disk full")

    with pytest.raises(OSError, match="disk full"):
        interrupted()
    assert list(tmp_path.iterdir()) == []


def test_a_good_entry_of_another_build_stays(tmp_path: Path) -> None:
    """The second of two builds uses what the first has placed."""
    entry = _folder(tmp_path / "entry", "good")
    inode = entry.stat().st_ino
    assert place(_folder(tmp_path / "mine", "good"), entry, _good) == entry
    assert entry.stat().st_ino == inode


def test_a_broken_entry_is_replaced(tmp_path: Path) -> None:
    """What is damaged makes room for what was made anew."""
    entry = _folder(tmp_path / "entry", "broken")
    place(_folder(tmp_path / "mine", "good"), entry, _good)
    assert _good(entry)
    assert [path.name for path in tmp_path.iterdir()] == ["entry"]


def test_old_entries_go_and_the_runtime_stays(tmp_path: Path) -> None:
    """What was made long ago is removed, but never the runtime."""
    for name in ("bundle-old", "bundle-new", "wheel-old", "runtime-old"):
        _folder(tmp_path / name, "good")
        if name.endswith("old"):
            os.utime(tmp_path / name, (0, 0))
    prune(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bundle-new", "runtime-old"]
