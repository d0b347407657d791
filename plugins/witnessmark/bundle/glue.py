"""The runtime's script, less what its module cannot call.

The script is written for programs of every kind, with libraries that are linked later: it
brings graphics, sound, windows, sockets of browsers. Of these it hands to the module what the
module imports; the rest nobody can reach. Here the references to that rest are taken away, so
that ``minify.mjs`` finds that it is used by nobody and leaves it out. The runtime's own loader
goes too: only the long way of starting needs it, and that has the whole script.

Every cut names the very text that it changes. Of a script that does not have it, that part
stays as it is; a test holds that the pinned one has all of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from witnessmark.bundle.wasm_module import imports

# What front/python.js and image.mjs ask of the module object, beside functions of the module.
ASKED = frozenset({"ENV", "FS", "UTF8ToString", "stringToNewUTF8"})

# Pointers to these stand in a table of the module which only a program that draws looks into.
_GRAPHICS = "emscripten_gl"

# What the module asks for and need not do anything.
_IDLE = {"pyodide_js_init": "()=>{}"}

_TABLE = "var wasmImports={"
_SIGNATURE = re.compile(r'([\w$]+)\.sig="\w*";')
_OWN_COPY = re.compile(r'Module\["([\w$]+)"\]=\1;')

CHANGES: Mapping[str, str] = {
    # The policy of a site refuses it anyway, and where it stands no name can be shortened.
    "eval(": "abort(",
    # A missing function is a pointer to nothing, as the graphics are now.
    "if(!value&&!entry.required){continue}": "if(!value){continue}",
    # Places of functions are noted for the module only, not for libraries that come later.
    "if(isInternalSym(symName)){continue}": (
        "if(isInternalSym(symName)||!(symName in GOT)){continue}"
    ),
    # What these write into memory is in the image.
    "callRuntimeCallbacks(__RELOC_FUNCS__);": (
        'Module["noInitialRun"]||callRuntimeCallbacks(__RELOC_FUNCS__);'
    ),
    'wasmExports["__wasm_call_ctors"]();': (
        'Module["noInitialRun"]||wasmExports["__wasm_call_ctors"]();'
    ),
    # Only such a library could bring a function that has a place already.
    "functionsInTableMap=new WeakMap;updateTableMap(0,wasmTable.length)": (
        "functionsInTableMap=new WeakMap"
    ),
    # The runtime's own loader, with its packages and its objects of the page, is another start.
    "pyodide_js_init();pyodide_js_init.sig": "pyodide_js_init.sig",
    # Loops, sound, graphics and libraries of programs that draw, and files that are not in memory.
    'Module["requestAnimationFrame"]=MainLoop.requestAnimationFrame;'
    'Module["pauseMainLoop"]=MainLoop.pause;Module["resumeMainLoop"]=MainLoop.resume;'
    "MainLoop.init();": "",
    "registerPostMainLoop(()=>SDL.audio?.queueNewAudioData?.());": "",
    "registerWasmPlugin();FS.createPreloadedFile=FS_createPreloadedFile;": "",
    "FS.filesystems={MEMFS,IDBFS,NODEFS,WORKERFS,PROXYFS}": "FS.filesystems={MEMFS}",
    "if(ENVIRONMENT_IS_NODE){NODEFS.staticInit()}": "",
    "IDBFS.quit();": "",
    'Module["LZ4"]=LZ4;': "",
    'Module["FS_createPreloadedFile"]=FS_createPreloadedFile;': "",
    "var requestFullscreen=Browser.requestFullscreen;var setCanvasSize=Browser.setCanvasSize;"
    "var getUserMedia=Browser.getUserMedia;var createContext=Browser.createContext;": "",
    'Module["requestFullscreen"]=requestFullscreen;': "",
    # Three questions that are answered by trying and catching the error. For every error that
    # Python's files meet, the engine notes where in the script it is, and to know that it reads
    # the whole script again. What a folder in memory holds can be seen; and functions of a
    # module are the ones with numbers for names (JavaScript interface of WebAssembly, "Exported
    # Functions"), every other one has to be wrapped.
    "try{var node=FS.lookupNode(dir,name);return 20}catch(e){}": (
        "if(!dir.contents||Object.hasOwn(dir.contents,name))"
        "{try{var node=FS.lookupNode(dir,name);return 20}catch(e){}}"
    ),
    "try{current=FS.lookupNode(current,parts[i])}catch(e)": (
        "if(islast&&opts.noent_okay&&FS.isDir(current.mode)&&current.contents"
        "&&!Object.hasOwn(current.contents,parts[i])){return{path:current_path}}"
        "try{current=FS.lookupNode(current,parts[i])}catch(e)"
    ),
    "try{setWasmTableEntry(ret,func)}catch(err){if(!(err instanceof TypeError)){throw err}": (
        "if(/^\\d+$/.test(func.name)){setWasmTableEntry(ret,func)}else{"
    ),
}


def cut(script: str, module: bytes) -> str:
    """The script without references to what ``module`` does not import."""
    for was, now in CHANGES.items():
        script = script.replace(was, now)
    return _without_copies(_without_imports(script, {name for _, name in imports(module)}))


def _without_imports(script: str, wanted: set[str]) -> str:
    """The table of what the module is given, with what it asks for."""
    begin = script.find(_TABLE) + len(_TABLE)
    end = script.find("};", begin)
    if begin < len(_TABLE) or end < 0:
        return script
    rows = dict(_rows(script[begin:end]))
    kept = {
        name: _IDLE.get(name, value)
        for name, value in rows.items()
        if name in wanted and not name.startswith(_GRAPHICS)
    }
    table = ",".join(f"{name}:{value}" for name, value in kept.items())
    values = {*kept.values()}
    script = script[:begin] + table + script[end:]
    return _SIGNATURE.sub(lambda found: found[0] if found[1] in values else "", script)


def _rows(table: str) -> Iterator[tuple[str, str]]:
    for row in table.split(","):
        name, _, value = row.partition(":")
        yield name.strip('"'), value or name


def _without_copies(script: str) -> str:
    """The script without functions put on the module object that nobody takes from there."""

    def kept(found: re.Match[str]) -> str:
        name = re.escape(found[1])
        asked = rf'\bModule(?:\??\.{name}\b|\["{name}"\])'
        return found[0] if found[1] in ASKED or len(re.findall(asked, script)) > 1 else ""

    return _OWN_COPY.sub(kept, script)
