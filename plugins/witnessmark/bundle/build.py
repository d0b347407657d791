"""The bundle of a site: the calculators its pages use, everything they need, the scripts.

What is slow to make is kept in the cache under a key made of everything that goes in, so
that a build in which only words changed makes nothing anew.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import json
import shutil
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from witnessmark.bundle.archives import digest
from witnessmark.bundle.assets import folder_files, placed, runtime_files
from witnessmark.bundle.cache import default_cache, place, prune, scratch
from witnessmark.bundle.held_back import FILE as TABLES
from witnessmark.bundle.image import IMAGE, MANIFEST, TABLES_PATH, make_image, stdlib_path
from witnessmark.bundle.joined import joined
from witnessmark.bundle.lock import compiles_for, lock_text, runtime_info
from witnessmark.bundle.minified import minified
from witnessmark.bundle.packing import RECIPE, pack
from witnessmark.bundle.runtime import (
    LOCK,
    STDLIB,
    Progress,
    Runtime,
    get_runtime,
    to_stderr,
)
from witnessmark.bundle.squeeze import decoder
from witnessmark.bundle.trim import MODULE, SCRIPT, TRANSLATABLE, trimmed
from witnessmark.bundle.wheels import WheelSource, wheel_sources
from witnessmark.collection import Collection

TOOLS = ("pyodide-build", "pyodide-lock")

EARLY = "early.js"
UNPACKER = "unpacker.wasm"
PAGELESS = "pageless.js"
ENTRIES = ("main.js", "worker.js", PAGELESS)

FRONT = Path(__file__).resolve().parents[1] / "page" / "front"


@dataclass(frozen=True)
class Bundle:
    """Files of the site by their URI (relative to the site's root), and where they stand.

    ``runtime``, ``packages``, ``image`` and ``front`` are the URIs of the folders; ``image`` is
    empty when there is none. ``start_files`` are the URIs that a browser needs to show and
    start calculators, the biggest of them first; ``fallback_files`` are those it asks for
    only when that start does not succeed, when a calculator imports something late, or at
    leisure, and what only a host without a page needs. What is in neither (licences, manifest)
    is never asked for by a script.
    """

    files: Mapping[str, Path]
    runtime: str
    packages: str
    image: str
    front: str
    start_files: tuple[str, ...] = ()
    fallback_files: tuple[str, ...] = ()

    @property
    def script(self) -> str:
        """The URI of the module that a page loads (``type="module"``)."""
        return f"{self.front}/main.js"

    def is_there(self) -> bool:
        """Whether the files still stand where they stood; the cache may have been emptied."""
        return all(path.is_file() for path in self.files.values())

    @property
    def style(self) -> str:
        """The URI of the style sheet that a page loads."""
        return f"{self.front}/wm.css"


def scripts_stamp(front: Path = FRONT) -> object:
    """What changes when a script or a style sheet of the pages is saved."""
    found = [(str(path), path.stat()) for path in sorted(front.rglob("*")) if path.is_file()]
    return [(name, state.st_mtime_ns, state.st_size) for name, state in found]


def make_bundle(
    collection: Collection,
    module_names: Iterable[str],
    cache: Path | None = None,
    progress: Progress = to_stderr,
    front: Path = FRONT,
    image: bool = True,
) -> Bundle:
    """Everything a site needs to compute in the browser, by site URI.

    ``module_names`` are the dotted names of the calculator modules that pages use; what they
    import of the collection comes along. Without ``image`` no heap image is made, and pages
    start the runtime the long way. Raises ``RuntimeUnavailable`` when the browser runtime is
    neither in the cache nor to be had, or when the calculators do not start in it.
    """
    cache = cache or default_cache()
    modules = sorted(set(module_names))
    runtime = get_runtime(cache, progress)
    sources = wheel_sources(collection, modules)
    entry = _packages(sources, runtime, cache, progress)

    uri, plain = placed("runtime", runtime_files(runtime))
    packages_uri, packages = placed("bundle", folder_files(entry))
    names = sorted(json.loads((entry / LOCK).read_text("utf-8"))["packages"])
    where = {"runtime": f"../{Path(uri).name}/", "bundle": f"../{Path(packages_uri).name}/"}
    told: dict[str, Any] = {**where, "packages": names, "modules": modules, "image": None}
    image_uri = ""
    restored: dict[str, Path] = {}
    if image:
        image_uri, restored, told["image"] = _image(
            runtime, sources, modules, where, cache, progress
        )
    modules_here = {name: path for name, path in folder_files(front).items() if "/" not in name}
    early = {name: modules_here.pop(name) for name in (EARLY,) if name in modules_here}
    modules_here["site.js"] = _kept("site.js", _site_script(told).encode(), cache)
    scripts = joined(runtime, modules_here, ENTRIES, cache)
    scripts |= minified(runtime, early, cache, modules=False)
    scripts["wm.css"] = _kept("wm.css", _style_sheet(front).encode(), cache)
    front_uri, scripts = placed("front", scripts)
    files = {**plain, **packages, **restored, **scripts}
    unseen = {uri for uri in scripts if uri.endswith(f"/{PAGELESS}")}
    late = {uri for uri in restored if uri.endswith((f"/{TABLES}", f"/{TRANSLATABLE}"))}
    start, fallback = _needed(restored.keys() - late), _needed([*plain, *packages, *late])
    if not image:
        start, fallback = fallback, []
    start, fallback = [*start, *(scripts.keys() - unseen)], [*fallback, *unseen]
    return Bundle(
        files, uri, packages_uri, image_uri, front_uri,
        _biggest_first(files, start), _biggest_first(files, fallback),
    )  # fmt: skip


def _needed(files: Iterable[str]) -> list[str]:
    return [uri for uri in files if not uri.endswith((".txt", f"/{MANIFEST}"))]


def _biggest_first(files: Mapping[str, Path], uris: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(uris, key=lambda uri: (-files[uri].stat().st_size, uri)))


def _image(
    runtime: Runtime,
    sources: Sequence[WheelSource],
    modules: Sequence[str],
    where: Mapping[str, str],
    cache: Path,
    progress: Progress,
) -> tuple[str, dict[str, Path], dict[str, Any]]:
    """URI and files of the heap image's folder, and what the scripts have to know of it."""
    info = runtime_info(runtime)
    trim = trimmed(runtime, cache)
    made = make_image(
        runtime, trim, sources, lambda: [pack(each, compiles_for(info), cache) for each in sources],
        modules, cache, progress,
    )  # fmt: skip
    parts = {SCRIPT: trim.script, MODULE: trim.module, TRANSLATABLE: trim.translatable}
    parts[UNPACKER] = _kept(UNPACKER, decoder(runtime), cache)
    start_uri, files = placed("start", parts)
    uri, image = placed("image", folder_files(made.folder))
    wheels = {path: f"{where['bundle']}{Path(path).name}" for path in made.wheels}
    archives = {stdlib_path(info): f"{where['runtime']}{STDLIB}"} | wheels
    archives[TABLES_PATH] = f"../{Path(uri).name}/{TABLES}"
    about = made.about(archives) | {
        "script": f"../{Path(start_uri).name}/{SCRIPT}",
        "module": f"../{Path(start_uri).name}/{MODULE}",
        "translatable": f"../{Path(start_uri).name}/{TRANSLATABLE}",
        "unpacker": f"../{Path(start_uri).name}/{UNPACKER}",
        "file": f"../{Path(uri).name}/{IMAGE}",
    }
    return uri, {**files, **image}, about


def _packages(
    sources: Sequence[WheelSource], runtime: Runtime, cache: Path, progress: Progress
) -> Path:
    """The folder with wheels, licences and lock file, from the cache when it is there."""
    info = runtime_info(runtime)
    entry = cache / f"bundle-{_key(sources, info)}"
    if not _is_whole(entry):
        progress("packing the calculators for the browser …")
        if not compiles_for(info):
            progress(
                f"note: this is Python {sys.version_info[0]}.{sys.version_info[1]}, the browser "
                f"runtime is {info['python']}: source is shipped instead of byte code, and the "
                "calculators start slower"
            )
        packed = [pack(source, compiles_for(info), cache) for source in sources]
        with scratch(cache) as at:
            made = at / entry.name
            made.mkdir()
            for wheel in packed:
                shutil.copyfile(wheel.travels, made / wheel.travels.name)
            for source in sources:
                for name, text in source.licences.items():
                    (made / f"{Path(name).stem}-{source.name}.txt").write_bytes(text)
            (made / LOCK).write_text(lock_text(packed, info), "utf-8")
            place(made, entry, _is_whole)
        prune(cache)
    return entry


def _key(sources: Iterable[WheelSource], info: Mapping[str, Any]) -> str:
    versions = [f"{tool} {importlib.metadata.version(tool)}" for tool in TOOLS]
    total = hashlib.sha256(json.dumps([RECIPE, sys.version, info, *versions]).encode())
    for source in sources:
        total.update(source.metadata)
        for name, data in sorted({**source.contents, **source.licences}.items()):
            total.update(f"\n{source.name} {source.version} {name} {digest(data)}".encode())
    return total.hexdigest()[:24]


def _is_whole(entry: Path) -> bool:
    """Whether every wheel of the lock file is there with the digest the lock gives."""
    try:
        packages = json.loads((entry / LOCK).read_text("utf-8"))["packages"].values()
        return bool(packages) and all(
            digest((entry / each["file_name"]).read_bytes()) == each["sha256"] for each in packages
        )
    except (OSError, ValueError, KeyError):
        return False


def _site_script(told: Mapping[str, Any]) -> str:
    """The generated module that tells the scripts where things are and what to start."""
    lines = ["// Generated when the site was built: where the runtime and the calculators are."]
    lines += [f"export const {name} = {json.dumps(value)};" for name, value in told.items()]
    return "\n".join(lines) + "\n"


def _style_sheet(front: Path) -> str:
    """The style sheets of the components, in the order of their names, as one."""
    return "\n".join(path.read_text("utf-8") for path in sorted((front / "css").glob("*.css")))


def _kept(name: str, content: bytes, cache: Path) -> Path:
    """A generated file in the cache, under a folder named by its content."""
    entry = cache / f"site-{digest(content)[:24]}"

    def good(folder: Path) -> bool:
        path = folder / name
        return path.is_file() and path.read_bytes() == content

    if not good(entry):
        with scratch(cache) as at:
            made = at / entry.name
            made.mkdir()
            (made / name).write_bytes(content)
            place(made, entry, good)
    return entry / name
