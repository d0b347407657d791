"""The pages that are measured: this site's, and others that compute the same another way."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from witnessmark.bundle import default_cache, get_runtime
from witnessmark.bundle.wasm_module import number_at, sections

ROOT = Path(__file__).resolve().parents[1]
PYSCRIPT = ROOT / "node_modules/@pyscript/core/dist"
PAGE = "procedures/tightening-through-the-multiplier/"
CALCULATOR = "planetary-multiplier"
MODULE = "calculators.torque_multiplier"
_OFFLINE = re.compile(r'<meta name="witnessmark-offline"[^>]*>')
REQUEST = json.dumps({"calculator": CALCULATOR, "entries": {}, "units": "si"})


@dataclass(frozen=True)
class Variants:
    """A folder to serve, the URI of the page of each variant in it, and why one is missing."""

    folder: Path
    uris: dict[str, str]
    missing: dict[str, str]


def build_site(folder: Path) -> None:
    """The demonstration handbook."""
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "-q", "--strict", "--site-dir", str(folder)],
        cwd=ROOT, check=True, env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip


def lay_out(folder: Path) -> Variants:
    """Build the site into ``folder`` and put the other variants beside it."""
    build_site(folder)
    for page in folder.rglob("*.html"):
        # No copy for offline use is made in the background of what is measured.
        page.write_text(_OFFLINE.sub("", page.read_text("utf-8"), count=1), "utf-8")
    uris = {"site": PAGE}
    other = folder / "bench"
    runtime = get_runtime(default_cache(), lambda _: None).folder
    shutil.copytree(runtime, other / "runtime")
    (bundle,) = (folder / "assets/witnessmark").glob("bundle-*")
    shutil.copytree(bundle, other / "wheels")
    wheels = [f"../wheels/{path.name}" for path in sorted(bundle.glob("*.whl"))]
    _page(other / "plain", _PLAIN.replace("WHEELS", json.dumps(wheels)))
    uris["plain"] = "bench/plain/"
    imports = json.dumps(list(module_imports((runtime / "pyodide.asm.wasm").read_bytes())))
    _page(other / "floor", _FLOOR.replace("IMPORTS", imports))
    uris["floor"] = "bench/floor/"
    missing = {}
    if not PYSCRIPT.is_dir():
        missing["pyscript"] = (
            f"{PYSCRIPT.relative_to(ROOT)} is not there; 'npm ci --ignore-scripts' fetches it, "
            "and so does 'make bench'"
        )
    else:
        shutil.copytree(PYSCRIPT, other / "pyscript-core")
        # Its own list of packages would want an installer from elsewhere; wheels are unpacked.
        config = {
            "interpreter": "../runtime/pyodide.mjs",
            "files": dict.fromkeys(wheels, "./*"),
        }
        _page(other / "pyscript", _PYSCRIPT.replace("CONFIG", json.dumps(config)))
        uris["pyscript"] = "bench/pyscript/"
    return Variants(folder, uris, missing)


def _page(folder: Path, body: str) -> None:
    folder.mkdir()
    body = body.replace("MODULE", MODULE).replace("REQUEST", json.dumps(REQUEST))
    (folder / "index.html").write_text(f"{_HEAD}{body}\n", "utf-8")


_HEAD = '<!doctype html><html lang="en"><meta charset="utf-8"><link rel="icon" href="data:,">'

# What the runtime's documentation tells: load it, load the wheels, import, call.
_PLAIN = """<title>plain</title><p id="result"></p>
<script type="module">
import { loadPyodide } from "../runtime/pyodide.mjs";
const python = await loadPyodide({ indexURL: new URL("../runtime/", location).href });
const wheels = WHEELS;
await python.loadPackage(wheels.map((wheel) => new URL(wheel, location).href),
  { messageCallback() {} });
python.runPython("import MODULE");
const evaluate = python.pyimport("witnessmark.calc").evaluate_json;
document.querySelector("#result").textContent = evaluate(REQUEST);
document.documentElement.dataset.live = "live";
</script>"""

_PYSCRIPT = """<title>PyScript</title><p id="result"></p>
<script type="module" src="../pyscript-core/core.js"></script>
<script type="py" config='CONFIG'>
import MODULE
from pyscript import document
from witnessmark.calc import evaluate_json
document.querySelector("#result").textContent = evaluate_json(REQUEST)
document.documentElement.setAttribute("data-live", "live")
</script>"""

# Nothing but the module: fetched, compiled, and made an instance of with idle imports.
_FLOOR = """<title>floor</title>
<script type="module">
const give = {
  function: () => () => 0,
  table: ({ type }) => new WebAssembly.Table(type),
  memory: ({ type }) => new WebAssembly.Memory(type),
  global: ({ type }) => new WebAssembly.Global(type, type.value === "i64" ? 0n : 0),
  tag: () => new WebAssembly.Tag({ parameters: ["i32"] }),
};
const imports = {};
for (const each of IMPORTS) {
  (imports[each.module] ??= {})[each.name] = give[each.kind](each);
}
await WebAssembly.instantiateStreaming(fetch("../runtime/pyodide.asm.wasm"), imports);
document.documentElement.dataset.live = "live";
</script>"""

_VALUES = {0x7F: "i32", 0x7E: "i64", 0x7D: "f32", 0x7C: "f64", 0x70: "anyfunc", 0x6F: "externref"}
_PAGE = 1 << 16


def module_imports(module: bytes) -> Iterator[dict[str, object]]:
    """What a WebAssembly module wants to be given, in the words of its interface in scripts."""
    section = dict(sections(module))[2]
    at = 0

    def number() -> int:
        nonlocal at
        value, at = number_at(section, at)
        return value

    def text() -> str:
        nonlocal at
        length = number()
        at += length
        return section[at - length : at].decode()

    def limits() -> dict[str, int]:
        has_most = number() & 1
        given = {"initial": number()}
        return given | ({"maximum": number()} if has_most else {})

    for _ in range(number()):
        one: dict[str, object] = {"module": text(), "name": text()}
        kind = number()
        if kind == 0:
            number()
            yield one | {"kind": "function"}
        elif kind == 1:
            element = _VALUES[number()]
            yield one | {"kind": "table", "type": {"element": element} | limits()}
        elif kind == 2:
            yield one | {"kind": "memory", "type": limits()}
        elif kind == 3:
            value = _VALUES[number()]
            yield one | {"kind": "global", "type": {"value": value, "mutable": bool(number())}}
        else:
            number()
            number()
            yield one | {"kind": "tag"}
