"""The service worker of a site: which files make up the release, and the script that keeps them.

It is the last thing a build writes, because it names every file of the site by its content.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

SCRIPT = "sw.js"
SOURCE = Path(__file__).with_name("service_worker.js")

DIGEST_LENGTH = 24
"""Hexadecimal digits of SHA-256 that are compared."""

SEARCH_INDEX = "search/search_index.json"
WORD_LISTS = "assets/javascripts/lunr/"


def write_service_worker(site: Path, leave_out: Iterable[str] = ()) -> Path:
    """Write the service worker of a finished site, and return its path.

    ``leave_out`` are URIs that no page needs as long as all goes well. The same site gives the
    same script, byte for byte; any change in any file gives another, which browsers notice.
    """
    left_out = set(leave_out)
    files = {uri: _digest(site / uri) for uri in _files(site) if uri not in left_out}
    listed = json.dumps(files, indent=0)
    release = hashlib.sha256(listed.encode()).hexdigest()[:12]
    path = site / SCRIPT
    path.write_text(
        f'const RELEASE = "{release}";\nconst FILES = {listed};\n\n{SOURCE.read_text("utf-8")}',
        "utf-8",
    )
    return path


def listed_files(site: Path) -> set[str] | None:
    """The files that the site's service worker keeps; None when it has no service worker."""
    script = site / SCRIPT
    if not script.is_file():
        return None
    found = re.search(r"\nconst FILES = (\{.*?\});\n", script.read_text("utf-8"), re.DOTALL)
    return set(json.loads(found[1])) if found else None


def _files(site: Path) -> Iterator[str]:
    """URIs of what a reader's browser may ask for."""
    languages = _search_languages(site)
    every = {
        (*folder.relative_to(site).parts, name)
        for folder, _, names in site.walk()
        for name in names
    }
    for parts in sorted(every):
        uri, name = "/".join(parts), parts[-1]
        if uri == SCRIPT or name.startswith("."):
            continue
        if name.endswith(".map") or uri == "sitemap.xml.gz":
            continue
        if name.endswith(".gz") and (*parts[:-1], name.removesuffix(".gz")) in every:
            continue  # the same file, compressed beforehand for the server
        if uri.startswith(WORD_LISTS) and languages <= {"en"}:
            continue  # the search loads them for other languages only
        yield uri


def _search_languages(site: Path) -> set[str]:
    try:
        index = json.loads((site / SEARCH_INDEX).read_text("utf-8"))
    except OSError:
        return set()
    return set(index.get("config", {}).get("lang", ()))


def _digest(path: Path) -> str:
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()[:DIGEST_LENGTH]
