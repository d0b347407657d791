"""Modules as a browser gets them soonest: one script for a page, one for its worker.

Each module would be a request of its own, found only when the one that imports it has come.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

from witnessmark.bundle.archives import digest
from witnessmark.bundle.cache import place, scratch
from witnessmark.bundle.minified import minified
from witnessmark.bundle.node import make
from witnessmark.bundle.pinned import JOINER
from witnessmark.bundle.runtime import Runtime, RuntimeUnavailable

MAKER = Path(__file__).with_name("join.mjs")


class JoinFailed(RuntimeUnavailable):
    """A module imports what is not there, or is none."""


def joined(
    runtime: Runtime, modules: Mapping[str, Path], entries: Sequence[str], cache: Path
) -> dict[str, Path]:
    """The modules named by ``entries``, each with all that it imports, in their shortest form.

    ``modules`` are files by the names under which they import each other (``./name.js``). What
    an entry exports keeps its name. Raises ``JoinFailed`` and ``MinifyFailed``.
    """
    parts = [digest(MAKER.read_bytes()), runtime.version_of(JOINER), *entries]
    parts += [f"{name} {digest(path.read_bytes())}" for name, path in sorted(modules.items())]
    entry = cache / f"joined-{digest(chr(10).join(parts).encode())[:24]}"
    if not _is_whole(entry, entries):
        with scratch(cache) as at:
            source, made = at / "modules", at / entry.name
            source.mkdir()
            made.mkdir()
            for name, path in modules.items():
                shutil.copyfile(path, source / name)
            scripts = [{"from": str(source / name), "to": str(made / name)} for name in entries]
            request = {"rollup": runtime.joiner.as_uri(), "scripts": scripts}
            if trouble := make(MAKER, request, at):
                raise JoinFailed(f"the scripts could not be joined: {trouble}")
            (made / "digests").write_text(json.dumps(_digests(made, entries)), "utf-8")
            place(made, entry, lambda folder: _is_whole(folder, entries))
    return minified(runtime, {name: entry / name for name in entries}, cache)


def _digests(entry: Path, names: Sequence[str]) -> dict[str, str]:
    return {name: digest((entry / name).read_bytes()) for name in names}


def _is_whole(entry: Path, names: Sequence[str]) -> bool:
    try:
        said = json.loads((entry / "digests").read_text("utf-8"))
        return bool(said == _digests(entry, names))
    except (OSError, ValueError):
        return False
