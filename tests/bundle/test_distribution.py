"""What an installed package carries."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

from witnessmark.bundle.build import FRONT
from witnessmark.bundle.pinned import FILES, pinned_folder

ROOT = Path(__file__).resolve().parents[2]
ASK = (
    "from witnessmark.bundle.pinned import runtime_pin; from witnessmark.bundle.build import FRONT;"
    "pin = runtime_pin(); print(pin.version, pin.folder); assert (FRONT / 'worker.js').is_file()"
)


def test_an_installed_package_has_the_pin_the_scripts_and_the_licences(tmp_path: Path) -> None:
    """Without the repository around it the package still knows the runtime and its scripts."""
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "installed")
    package = tmp_path / "installed" / "witnessmark"
    for name in FILES:
        kept = package / "bundle" / "pinned" / name
        assert kept.read_bytes() == (pinned_folder() / name).read_bytes()
    scripts = {path.relative_to(FRONT) for path in FRONT.rglob("*") if path.is_file()}
    assert {path for path in scripts if not (package / "page" / "front" / path).is_file()} == set()
    assert (package / "bundle" / "licences" / "LICENSE-pyodide.txt").is_file()

    answer = subprocess.run(
        [sys.executable, "-c", ASK], cwd=tmp_path, check=True, capture_output=True, text=True,
        env={"PYTHONPATH": str(tmp_path / "installed")},
    )  # fmt: skip
    assert str(package / "bundle" / "pinned") in answer.stdout
