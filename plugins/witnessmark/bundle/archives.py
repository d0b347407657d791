"""Archives with the same bytes whenever they hold the same files.

Names are sorted, times and modes are fixed and nothing else of the machine is written, so
that an archive can be named by the digest of its bytes.
"""

from __future__ import annotations

import base64
import hashlib
import zipfile
from collections.abc import Mapping
from pathlib import Path

# The earliest time a zip archive can hold.
TIME = (1980, 1, 1, 0, 0, 0)
MODE = 0o100644


def write_archive(path: Path, contents: Mapping[str, bytes]) -> None:
    """Write ``contents`` (name in the archive to bytes) as a zip archive."""
    with zipfile.ZipFile(path, "w") as archive:
        for name in sorted(contents):
            entry = zipfile.ZipInfo(name, TIME)
            entry.external_attr = MODE << 16
            entry.create_system = 3
            archive.writestr(entry, contents[name], zipfile.ZIP_DEFLATED, compresslevel=9)


def read_archive(path: Path) -> dict[str, bytes]:
    """Every file of a zip archive, by name."""
    with zipfile.ZipFile(path) as archive:
        return {each.filename: archive.read(each) for each in archive.infolist()}


def write_wheel(
    folder: Path, name: str, version: str, tag: str, metadata: bytes, contents: Mapping[str, bytes]
) -> Path:
    """Write a wheel of ``contents`` with fresh WHEEL and RECORD files; returns its path.

    ``name`` is the normalised name (lower case, underscores), ``tag`` for example
    ``py3-none-any``. Licences among ``contents`` keep their places under dist-info.
    """
    info = f"{name}-{version}.dist-info"
    wheel = f"Wheel-Version: 1.0\nGenerator: witnessmark\nRoot-Is-Purelib: true\nTag: {tag}\n"
    files = {**contents, f"{info}/METADATA": metadata, f"{info}/WHEEL": wheel.encode()}
    rows = [f"{path},sha256={_urlsafe(files[path])},{len(files[path])}" for path in sorted(files)]
    files[f"{info}/RECORD"] = "\n".join([*rows, f"{info}/RECORD,,", ""]).encode()
    path = folder / f"{name}-{version}-{tag}.whl"
    write_archive(path, files)
    return path


def digest(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def _urlsafe(data: bytes) -> str:
    return base64.urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
