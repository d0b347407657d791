from __future__ import annotations

import base64
import hashlib
import zipfile
from pathlib import Path

from packaging.utils import parse_wheel_filename

from witnessmark.bundle.archives import read_archive, write_archive, write_wheel


def test_the_same_files_give_the_same_bytes(tmp_path: Path) -> None:
    """The order in which files are given and the time of writing leave no trace."""
    files = {"b/two.py": b"2", "a.py": b"1" * 1000}
    write_archive(tmp_path / "one.zip", files)
    write_archive(tmp_path / "two.zip", dict(reversed(files.items())))
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()
    assert read_archive(tmp_path / "one.zip") == files


def test_times_and_modes_are_fixed(tmp_path: Path) -> None:
    """Every file has the earliest time a zip can hold and the mode of a plain file."""
    write_archive(tmp_path / "one.zip", {"a.py": b"1"})
    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        (entry,) = archive.infolist()
    assert entry.date_time == (1980, 1, 1, 0, 0, 0)
    assert entry.external_attr >> 16 == 0o100644


def test_a_wheel_records_its_files(tmp_path: Path) -> None:
    """RECORD lists every file with its hash and size, as the wheel format asks (PEP 427)."""
    path = write_wheel(
        tmp_path, "some_thing", "1.2", "py3-none-any", b"Name: x\n", {"some.py": b"print()"}
    )
    assert parse_wheel_filename(path.name)[0] == "some-thing"
    files = read_archive(path)
    rows = [row.split(",") for row in files["some_thing-1.2.dist-info/RECORD"].decode().split()]
    assert {row[0] for row in rows} == set(files)
    for name, recorded, size in rows:
        if recorded:
            sha = hashlib.sha256(files[name]).digest()
            wanted = base64.urlsafe_b64encode(sha).decode().rstrip("=")
            assert (recorded, size) == (f"sha256={wanted}", str(len(files[name])))
