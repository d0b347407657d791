from __future__ import annotations

from witnessmark.bundle import get_runtime
from witnessmark.bundle.glue import CHANGES, cut
from witnessmark.bundle.wasm_module import imports

# Written by hand after the WebAssembly core specification 2.0, binary format: the type () -> (),
# then a function, a table with a bound, a memory without, a global and another function.
MODULE = bytes.fromhex(
    "0061736d01000000"
    "010401600000"
    "022d05"
    "01610166" + "0000"
    "01610174" + "01700105" + "0a"
    "0161016d" + "020001"
    "01610167" + "037f01"
    "0462617365" + "0373756d" + "0000"
)

SCRIPT = (
    'var _f=()=>1;_f.sig="i";var _sum=()=>2;_sum.sig="i";var _play=()=>3;_play.sig="v";'
    'Module["FS"]=FS;Module["API"]=API;Module.API.on();Module["Sound"]=Sound;'
    "var wasmImports={f:_f,sum:_sum,play:_play,emscripten_glClear:_f,g};"
)


def test_imports_of_every_kind_are_read() -> None:
    """Module and name, whatever is imported."""
    assert list(imports(MODULE)) == [
        ("a", "f"), ("a", "t"), ("a", "m"), ("a", "g"), ("base", "sum"),
    ]  # fmt: skip


def test_only_what_the_module_imports_stays_in_reach() -> None:
    """Functions that are not imported, and copies nobody takes, are spoken of no more."""
    assert cut(SCRIPT, MODULE) == (
        'var _f=()=>1;_f.sig="i";var _sum=()=>2;_sum.sig="i";var _play=()=>3;'
        'Module["FS"]=FS;Module["API"]=API;Module.API.on();'
        "var wasmImports={f:_f,sum:_sum,g:g};"
    )


def test_another_script_stays_as_it_is() -> None:
    """Where nothing is known, nothing is cut."""
    assert cut("var other={a:1};", MODULE) == "var other={a:1};"


def test_the_pinned_script_is_the_one_that_was_looked_at() -> None:
    """Every cut finds its text, and only pointers to graphics are left without a function."""
    folder = get_runtime().folder
    script = (folder / "pyodide.asm.js").read_text("utf-8")
    module = (folder / "pyodide.asm.wasm").read_bytes()
    assert [text for text in CHANGES if script.count(text) == 0] == []
    small = cut(script, module)
    table = small[small.index("var wasmImports={") :].partition("};")[0]
    given = {row.partition(":")[0] for row in table.partition("{")[2].split(",")}
    missing = {(where, name) for where, name in imports(module) if name not in given}
    own = {"__heap_base", "__stack_low", "__stack_high"}
    assert {name for where, name in missing if where == "env"} == set()
    assert {
        name
        for where, name in missing
        if where.startswith("GOT.") and name not in own and not name.startswith("emscripten_gl")
    } == set()
