from __future__ import annotations

from pathlib import Path

import pytest

from witnessmark.bundle import find_node, get_runtime
from witnessmark.bundle.trim import CALLED, trimmed, used_names, without_copies
from witnessmark.bundle.wasm_module import with_exports, without_data

# Written by hand after the WebAssembly core specification 2.0, binary format: a memory, a
# constant function, exported as "one" and "two", a segment at a number and a passive one.
MODULE = bytes.fromhex(
    "0061736d01000000"
    "0105016000017f"
    "03020100"
    "0503010001"
    "070d02036f6e65000003" + b"two".hex() + "0000"
    "0c0102"
    "0a0601040041070b"
    "0b0d02004108" + "0b03" + b"abc".hex() + "0102" + b"de".hex()
)

CHECK = """
const { readFileSync } = await import("node:fs");
const module = new WebAssembly.Module(readFileSync(process.argv[1]));
process.stdout.write(WebAssembly.Module.exports(module).map(({ name }) => name).join(" "));
"""


def _exports(module: bytes, folder: Path) -> str:
    """What Node.js, which checks the module too, says that it exports."""
    (folder / "module.wasm").write_bytes(module)
    node = find_node()
    answer = node.run(
        [*node.command, "--input-type=module", "-e", CHECK, str(folder / "module.wasm")]
    )
    assert answer.returncode == 0, answer.stderr
    return answer.stdout


def test_data_goes_and_segments_stay(tmp_path: Path) -> None:
    """Both kinds of segments are there and empty; an engine takes the module."""
    assert _exports(MODULE, tmp_path) == "one two"
    small = without_data(MODULE)
    assert b"abc" not in small
    assert b"de" not in small
    assert len(small) == len(MODULE) - 5
    assert _exports(small, tmp_path) == "one two"


def test_only_wanted_exports_stay(tmp_path: Path) -> None:
    """What is not among the names is not exported."""
    assert _exports(with_exports(MODULE, frozenset({"two", "three"})), tmp_path) == "two"


def test_what_is_no_module_is_refused() -> None:
    """Anything else than a module of version 1 is an error, not a guess."""
    with pytest.raises(ValueError, match="not a WebAssembly module"):
        without_data(b"\0asm\2\0\0\0")


def test_a_script_keeps_what_it_uses() -> None:
    """Copies that nothing speaks of go; the module object gets every function all the same."""
    script = (
        'function _lib(){}Module["_lib"]=_lib;'
        'var _used=Module["_used"]=wasmExports["used"];'
        'var _spare=Module["_spare"]=wasmExports["spare"];'
        'var _place=Module["_place"]=1024;_used();'
    )
    assert used_names(script) >= {"used", "_used"}
    assert "spare" not in used_names(script)
    small = without_copies(script)
    assert 'var _used=Module["_used"]=wasmExports["used"];' in small
    assert "_spare" not in small
    assert "_place" not in small
    assert "for(const name in wasmExports)" in small


def test_the_runtime_is_trimmed_well(tmp_path: Path) -> None:
    """What the start calls is exported, and most bytes are gone."""
    runtime = get_runtime()
    parts = trimmed(runtime, tmp_path)
    exported = set(_exports(parts.with_data.read_bytes(), tmp_path).split())
    assert exported >= CALLED - {"main"}
    assert parts.module.stat().st_size < (runtime.folder / "pyodide.asm.wasm").stat().st_size / 5
    assert trimmed(runtime, tmp_path) == parts
    parts.script.write_text("", "utf-8")
    assert trimmed(runtime, tmp_path).script.stat().st_size > 100_000
