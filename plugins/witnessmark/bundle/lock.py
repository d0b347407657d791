"""The lock file of a bundle: what is hosted, with digests, under names relative to itself.

It lists nothing else. With a package in it that is not hosted, the runtime would look for
it elsewhere or fail in confusing ways.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from typing import Any

from witnessmark.bundle.archives import digest
from witnessmark.bundle.packing import Packed
from witnessmark.bundle.runtime import Runtime


def runtime_info(runtime: Runtime) -> dict[str, Any]:
    """What the runtime says of itself: Python version, platform, ABI."""
    info: dict[str, Any] = json.loads(runtime.lock.read_text("utf-8"))["info"]
    return info


def compiles_for(info: dict[str, Any]) -> bool:
    """Whether byte code of this Python runs in the runtime: the same minor version."""
    return str(info["python"]).split(".")[:2] == [str(part) for part in sys.version_info[:2]]


def lock_text(packed: Sequence[Packed], info: dict[str, Any]) -> str:
    """The lock file's text for ``packed`` wheels hosted beside it.

    Names, versions and dependencies are read from the wheels by pyodide-lock. Raises
    RuntimeError when a wheel requires one that is not among them.
    """
    from pyodide_lock import PyodideLockSpec
    from pyodide_lock.utils import add_wheels_to_spec

    empty = PyodideLockSpec.from_dict({"info": info, "packages": {}})
    sources = [each.source for each in packed]
    lock = add_wheels_to_spec(empty, sources, base_path=sources[0].parents[2]).to_dict()
    travels = {each.source.name: each.travels for each in packed}
    for package in lock["packages"].values():
        path = travels[package["file_name"].rsplit("/", 1)[-1]]
        package["file_name"] = path.name
        package["sha256"] = digest(path.read_bytes())
        package["depends"] = sorted(package["depends"])
        package["imports"] = sorted(package["imports"])
    return json.dumps(lock, indent=1, sort_keys=True, ensure_ascii=False) + "\n"
