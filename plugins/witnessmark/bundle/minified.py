"""Scripts in their shortest form: made once from each and kept in the cache."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from witnessmark.bundle.archives import digest
from witnessmark.bundle.cache import place, scratch
from witnessmark.bundle.node import make
from witnessmark.bundle.pinned import MINIFIER
from witnessmark.bundle.runtime import Runtime, RuntimeUnavailable

MAKER = Path(__file__).with_name("minify.mjs")


class MinifyFailed(RuntimeUnavailable):
    """A script is not one that the library understands."""


def minified(
    runtime: Runtime, scripts: Mapping[str, Path], cache: Path, *, modules: bool = True
) -> dict[str, Path]:
    """Each script by its name, without what only people read or nobody uses.

    ``modules`` tells whether they are modules; what those export keeps its name. Raises
    ``MinifyFailed``.
    """
    recipe = digest(MAKER.read_bytes()) + runtime.version_of(MINIFIER)
    entries = {
        name: cache / f"script-{digest(f'{recipe} {modules} {digest(path.read_bytes())}'.encode())}"
        for name, path in scripts.items()
    }
    missing = [name for name, entry in entries.items() if not _is_whole(entry)]
    if missing:
        with scratch(cache) as at:
            asked = []
            for name in missing:
                (at / entries[name].name).mkdir(exist_ok=True)
                to = at / entries[name].name / "script.js"
                asked.append({"from": str(scripts[name]), "to": str(to), "module": modules})
            request = {"terser": runtime.minifier.as_uri(), "scripts": asked}
            if trouble := make(MAKER, request, at):
                raise MinifyFailed(f"a script could not be shortened: {trouble}")
            for name in missing:
                made = at / entries[name].name
                if made.exists():  # two names may have one content
                    text = (made / "script.js").read_bytes()
                    (made / "digest").write_text(digest(text), "utf-8")
                    place(made, entries[name], _is_whole)
    return {name: entry / "script.js" for name, entry in entries.items()}


def _is_whole(entry: Path) -> bool:
    try:
        return (entry / "digest").read_text("utf-8") == digest((entry / "script.js").read_bytes())
    except OSError:
        return False
