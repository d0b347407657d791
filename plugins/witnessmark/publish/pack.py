"""A copy of a built site that works when its index.html is opened from a folder, without a server.

From ``file:`` a browser neither fetches files nor starts workers or modules from them, and shows
a folder instead of its index.html. In the copy links therefore name index.html, and what scripts
would fetch (runtime, calculators, modules, the search) is handed over by classic scripts, which
hold it compressed. ``folder.js`` gives it to those who ask.
"""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
import posixpath
import re
import shutil
from pathlib import Path

from witnessmark.faults import WitnessMarkError
from witnessmark.publish.inline_parts import FOLDER, rewrite_attributes
from witnessmark.publish.offline import SCRIPT, SEARCH_INDEX, listed_files

SOURCE = Path(__file__).with_name("folder.js")
SEARCH_WORKER = "assets/javascripts/workers/"
FOR_SCRIPTS = ("search/engines.json", "job-sheet/paper-codes.json")
"""What scripts of the handbook fetch; pages have in them the addresses they have on a server."""

TYPES = {
    ".js": "text/javascript", ".mjs": "text/javascript", ".json": "application/json",
    ".wasm": "application/wasm", ".zip": "application/zip", ".whl": "application/zip",
}  # fmt: skip
LINKS = ("href", "src", "data-jobs", "data-sheet")
"""Attributes that hold addresses; scripts make links of the last two."""

ZIPPED = {".gz", ".whl", ".zip", ".zst"}

_MAIN = re.compile(r'<script\s[^>]*src="(?P<src>[^"]*/front-[0-9a-f]{12}/main\.js)"[^>]*></script>')
_EARLY = re.compile(
    r'(?:<link rel="modulepreload"[^>]*>)?'
    r'<script\s[^>]*src="[^"]*/front-[0-9a-f]{12}/early\.js"[^>]*></script>'
)
_OFFLINE = re.compile(r'<meta name="witnessmark-offline"[^>]*>')


class PackError(WitnessMarkError):
    """The folder is no site that could be packed, or the copy has no place to go."""


def pack_site(site: Path, out: Path) -> Path:
    """Copy ``site`` to the new folder ``out`` in the form for a folder; returns its first page.

    What no reader needs as long as all goes well, by the list of the site's service worker, is
    left out.

    Raises PackError when ``site`` is no built handbook or ``out`` exists already.
    """
    mains = sorted(site.glob(f"{FOLDER}/front-*/main.js"))
    if not (site / "index.html").is_file() or len(mains) != 1:
        raise PackError(
            f"{site} is no built handbook (no index.html, or not one set of scripts in {FOLDER}); "
            "build it first, into an empty folder"
        )
    if out.exists():
        raise PackError(f"{out} exists already; name a new folder, or remove it first")
    shutil.copytree(
        site, out, ignore=shutil.ignore_patterns("*.map", SCRIPT, "404.html", "sitemap.xml*")
    )
    for path in sorted(out.rglob("*.gz")):
        if path.with_suffix("").is_file():
            path.unlink()  # made beforehand for a server

    needed = listed_files(site)
    for uri in _uris(out, f"{FOLDER}/*-*/**/*"):
        if needed is not None and uri not in needed:
            (out / uri).unlink()  # what a browser asks for only when the quick start fails

    _search_for_folder(out)

    main = mains[0].relative_to(site).as_posix()
    script = _hand_over(out, main)
    for page in sorted(out.rglob("*.html")):
        uri = page.relative_to(out).as_posix()
        page.write_text(_page(page.read_text("utf-8"), uri, out, script), "utf-8")
    return out / "index.html"


def _hand_over(out: Path, main: str) -> str:
    """Put what scripts ask for into scripts; the URI of the one that pages load."""
    front, start = posixpath.dirname(main), f"{posixpath.dirname(main)}/worker.js"
    parts = {
        main: [
            *_uris(out, f"{front}/*.js"),
            *(uri for uri in FOR_SCRIPTS if (out / uri).is_file()),
        ],
        start: [
            uri for uri in _uris(out, f"{FOLDER}/*-*/**/*")
            if not uri.startswith(f"{front}/") and not uri.endswith((".txt", ".css"))
        ],
        SEARCH_WORKER: [
            *_uris(out, f"{SEARCH_WORKER}*.js"), *_uris(out, "assets/javascripts/lunr/**/*.js"),
        ],
    }  # fmt: skip
    texts = {
        part: {f"{_digest(out / uri)}.js": _keep(out, uri) for uri in uris}
        for part, uris in parts.items()
    }
    listed = json.dumps({part: list(files) for part, files in texts.items()}, indent=1)
    source = (
        f"const PARTS = {listed};\nconst MAIN = {json.dumps(main)};\n\n{SOURCE.read_text('utf-8')}"
    )
    folder = f"{FOLDER}/folder-{hashlib.sha256(source.encode()).hexdigest()[:12]}"
    (out / folder).mkdir()
    for files in texts.values():
        for name, text in files.items():
            (out / folder / name).write_text(text, "ascii")
    for uris in parts.values():
        for uri in uris:
            (out / uri).unlink()
    (out / folder / "folder.js").write_text(source, "utf-8")
    return f"{folder}/folder.js"


def _uris(out: Path, pattern: str) -> list[str]:
    return sorted(path.relative_to(out).as_posix() for path in out.glob(pattern) if path.is_file())


def _keep(out: Path, uri: str) -> str:
    """The script that hands over one file."""
    path = out / uri
    data = path.read_bytes()
    zip_it = path.suffix not in ZIPPED
    text = base64.b64encode(gzip.compress(data, 9, mtime=0) if zip_it else data).decode("ascii")
    kind = TYPES.get(path.suffix, "application/octet-stream")
    return f'keep({json.dumps(uri)}, "{kind}", {json.dumps(zip_it)}, "{text}");\n'


def _page(html: str, uri: str, out: Path, script: str) -> str:
    """A page whose links name files and whose scripts come from memory."""
    here = posixpath.dirname(uri)

    def led(name: str, value: str) -> str:
        if name not in LINKS or re.match(r"[a-zA-Z][a-zA-Z0-9+.-]*:|//|#|$", value):
            return value
        address, rest = re.match(r"([^?#]*)(.*)", value, re.DOTALL).groups()  # type: ignore[union-attr]
        if address and (out / here / address).is_dir():
            return f"{posixpath.join(address, 'index.html')}{rest}"
        return value

    html = rewrite_attributes(_OFFLINE.sub("", _EARLY.sub("", _MAIN.sub("", html))), led)
    source = posixpath.relpath(script, here or ".")
    return html.replace("</head>", f'<script src="{source}"></script></head>', 1)


def _search_for_folder(out: Path) -> None:
    """The index of the search as a script, in which a page is its file."""
    path = out / SEARCH_INDEX
    if not path.is_file():
        return
    index = json.loads(path.read_text("utf-8"))
    for part in index["docs"]:
        part["location"] = _file_address(out, part["location"])
    text = json.dumps(index, ensure_ascii=False, separators=(",", ":"))
    path.with_suffix(".js").write_text(f"var __index = {text}", "utf-8")
    path.unlink()


def _file_address(out: Path, address: str) -> str:
    page, mark, rest = address.partition("#")
    if (out / page).is_dir():
        page = posixpath.join(page, "index.html") if page else "index.html"
    return f"{page}{mark}{rest}"


def _digest(path: Path) -> str:
    return hashlib.sha256(f"{path.name}\0".encode() + path.read_bytes()).hexdigest()[:12]
