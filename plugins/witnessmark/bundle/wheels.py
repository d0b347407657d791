"""What travels to the browser, as wheels: the contract, the calculators used, and pint.

pint and what it needs are taken from this Python environment, so that the browser computes
with the very versions the tests ran with. Only what an import can reach is taken: no tests,
no command-line scripts, no plotting, no modules for other operating systems.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.metadata import Distribution, distribution
from pathlib import Path, PurePosixPath

from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import witnessmark
from witnessmark.collection import Collection

# The browser's Python, as far as requirement markers ask for it.
BROWSER = {"sys_platform": "emscripten", "platform_system": "Emscripten", "os_name": "posix"}

TEST_FOLDERS = frozenset({"test", "tests", "testsuite", "testing", "__pycache__"})

# Modules that nothing on the way to a unit registry imports, and pint's own unit definitions:
# ours stand in witnessmark.calc.units. A test in the runtime holds that all else is enough.
UNREACHED = {
    "pint": (
        "constants_en.txt", "default_en.txt", "xtranslated.txt", "definitions.py",
        "matplotlib.py", "pint_convert.py", "testing.py",
    ),
    "platformdirs": (
        "__main__.py", "_android.py", "android.py", "ios.py", "macos.py", "pytest_plugin.py",
        "testing.py", "windows.py",
    ),
}  # fmt: skip


@dataclass(frozen=True)
class WheelSource:
    """The files of a wheel before it is written: metadata and contents by name."""

    name: str
    version: str
    metadata: bytes
    contents: Mapping[str, bytes]
    licences: Mapping[str, bytes]


def wheel_sources(collection: Collection, modules: Iterable[str]) -> list[WheelSource]:
    """Every wheel of a bundle: the calculators, the contract, pint and what it requires."""
    return [
        _calculators(collection, modules),
        _contract(),
        *(_installed(each) for each in required_distributions("pint")),
    ]


def _contract() -> WheelSource:
    root = Path(witnessmark.__file__).parent
    paths = [root / "__init__.py", *(root / "calc").rglob("*.py")]
    contents = {
        f"witnessmark/{path.relative_to(root).as_posix()}": path.read_bytes() for path in paths
    }
    version = witnessmark.__version__
    return WheelSource(
        "witnessmark", version, _metadata("witnessmark", version, "pint"), contents, {}
    )


def _calculators(collection: Collection, modules: Iterable[str]) -> WheelSource:
    package = collection.package
    contents = {
        f"{package}/{path.relative_to(collection.folder).as_posix()}": path.read_bytes()
        for path in collection.closure([package, *modules])
    }
    name = re.sub(r"[-_.]+", "_", package).lower()
    return WheelSource(name, "0", _metadata(name, "0", "witnessmark"), contents, {})


def _metadata(name: str, version: str, requires: str) -> bytes:
    return (
        f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\nRequires-Dist: {requires}\n"
    ).encode()


def required_distributions(root: str) -> list[str]:
    """``root`` and the names of all distributions it requires in the browser, sorted."""
    found: set[str] = set()
    waiting = [root]
    environment = {key: str(value) for key, value in default_environment().items()} | BROWSER
    while waiting:
        name = canonicalize_name(waiting.pop())
        if name in found:
            continue
        found.add(name)
        for text in distribution(name).requires or []:
            requirement = Requirement(text)
            if requirement.marker is None or requirement.marker.evaluate(
                environment | {"extra": ""}
            ):
                waiting.append(requirement.name)
    return sorted(found)


def _installed(name: str) -> WheelSource:
    """An installed distribution, less what the browser cannot reach."""
    found = distribution(name)
    contents, licences = {}, {}
    for file in found.files or []:
        path = PurePosixPath(file.as_posix())
        if is_licence(path):
            licences[path.as_posix()] = Path(str(found.locate_file(file))).read_bytes()
        elif _is_reached(path):
            contents[path.as_posix()] = Path(str(found.locate_file(file))).read_bytes()
    wheel_name = canonicalize_name(name).replace("-", "_")
    return WheelSource(wheel_name, found.version, _headers(found), contents, licences)


def _is_reached(path: PurePosixPath) -> bool:
    return not (
        path.parts[0].endswith((".dist-info", ".data"))
        or ".." in path.parts
        or TEST_FOLDERS.intersection(path.parts)
        or "/".join(path.parts[1:]) in UNREACHED.get(path.parts[0], ())
        or path.suffix in {".pyi", ".pyc", ".pth"}
        or path.name == "py.typed"
    )


def is_licence(path: PurePosixPath) -> bool:
    """Whether a file of a distribution is its licence or a notice that belongs to it."""
    return path.parts[0].endswith(".dist-info") and bool(
        re.match(r"(licen[cs]e|copying|notice|authors)", path.name, re.IGNORECASE)
    )


def _headers(found: Distribution) -> bytes:
    """The metadata without the read-me that follows the headers."""
    text = found.read_text("METADATA") or ""
    return (text.split("\n\n", 1)[0].rstrip() + "\n").encode()
