from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from witnessmark.bundle.archives import read_archive
from witnessmark.bundle.packing import pack
from witnessmark.bundle.wheels import WheelSource

MODULE = b"""NAMES = {"b", "a", "c"}
LIMIT = 1_000.5, ("x", 2)


def far(at: str) -> bool:
    return at in {"q", "w", "e"}
"""
SOURCE = WheelSource("trial", "0", b"Metadata-Version: 2.1\nName: trial\nVersion: 0\n",
                     {"trial/__init__.py": MODULE, "trial/data.txt": b"1"}, {})  # fmt: skip
PACK_AGAIN = (
    "import sys; from pathlib import Path; from tests.bundle.test_packing import SOURCE; "
    "from witnessmark.bundle.packing import pack; "
    "sys.stdout.buffer.write(pack(SOURCE, True, Path(sys.argv[1])).travels.read_bytes())"
)


def test_byte_code_is_the_same_in_another_process_and_folder(tmp_path: Path) -> None:
    """Neither the place, the time nor the hash seed of a process shows in a wheel."""
    here = pack(SOURCE, True, tmp_path / "one").travels.read_bytes()
    root = Path(__file__).parents[2]
    path = f"{root}:{root / 'plugins'}"
    for seed in ("1", "2"):
        there = subprocess.run(
            [sys.executable, "-c", PACK_AGAIN, str(tmp_path / seed)],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": path}, capture_output=True, check=True,
        )  # fmt: skip
        assert there.stdout == here


def test_byte_code_takes_the_place_of_source(tmp_path: Path) -> None:
    """A compiled wheel has no source in it and its other files unchanged."""
    files = read_archive(pack(SOURCE, True, tmp_path).travels)
    assert "trial/__init__.pyc" in files
    assert "trial/__init__.py" not in files
    assert files["trial/data.txt"] == b"1"


def test_source_travels_when_nothing_is_compiled(tmp_path: Path) -> None:
    """For a runtime of another Python the wheel carries the source as it is."""
    packed = pack(SOURCE, False, tmp_path)
    assert packed.travels.name == "trial-0-py3-none-any.whl"
    assert read_archive(packed.travels)["trial/__init__.py"] == MODULE


def test_a_wheel_is_made_once(tmp_path: Path) -> None:
    """The second time the wheel comes from the cache, untouched."""
    first = pack(SOURCE, True, tmp_path).travels
    made = first.stat().st_mtime_ns
    assert pack(SOURCE, True, tmp_path).travels == first
    assert first.stat().st_mtime_ns == made


def test_a_damaged_wheel_is_made_again(tmp_path: Path) -> None:
    """A wheel whose bytes changed in the cache is noticed and replaced."""
    path = pack(SOURCE, True, tmp_path).travels
    good = path.read_bytes()
    path.write_bytes(good[:-1])
    assert pack(SOURCE, True, tmp_path).travels.read_bytes() == good
