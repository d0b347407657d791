/**
 * Makes a heap image with Node.js:  node image.mjs REQUEST
 *
 * REQUEST is a file of JSON: script, module (those of the runtime, trimmed), files (what
 * Python finds, by the path it has there), inside (the Python that does the work) with what
 * that asks for, environment, and out, the folder to write `image` and `image.json` into.
 * Tables that were held back go into `tables.bin` beside them.
 *
 * Clock and chance are the same in every run, so that the same inputs give the same image.
 */

import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { createPython, ENVIRONMENT, makeFolder } from "../page/front/python.js";
import { loadScript } from "./script.mjs";

const [, , requestFile = ""] = process.argv;
const asked = JSON.parse(readFileSync(requestFile, "utf8"));

/** Blocks of 512 bytes that a pool of 16 KiB holds. */
const BLOCKS_IN_POOL = 31;

/** So many empty bytes side by side are left out of the image. */
const GAP = 1 << 14;

/** How many last letters of a text may serve as another text. */
const SHARED_ENDING = 32;

/** What Python says on standard error. @type {string[]} */
const said = [];

let tick = 0;
Date.now = () => 1_600_000_000_000 + tick++;
performance.now = () => tick++;
const createModule = loadScript(asked.script, (view) => view.fill(tick++));

const { module } = await createPython({
  createModule,
  wasm: WebAssembly.compile(readFileSync(asked.module)),
  fresh: true,
  hear: (line) => said.push(line),
  prepare(made) {
    Object.assign(made.ENV, ENVIRONMENT, asked.environment);
    makeFolder(made.FS, ENVIRONMENT.HOME);
    made.FS.chdir(ENVIRONMENT.HOME);
    for (const [path, file] of Object.entries(asked.files)) {
      makeFolder(made.FS, path.slice(0, path.lastIndexOf("/")));
      made.FS.writeFile(path, readFileSync(file));
    }
    // Without the paths of this machine: their length alone would shift the memory.
    const { script, module, files, inside, out, ...forPython } = asked;
    made.FS.writeFile("/image-request.json", JSON.stringify(forPython));
  },
});

run(readFileSync(asked.inside, "utf8"));
run("make()");
run(`fill_gaps(${JSON.stringify(freeBlocks())})`);
emptyFreeMemory();
const { texts, ...report } = JSON.parse(
  module.FS.readFile("/image-report.json", { encoding: "utf8" }),
);
emptyDocstrings(texts);
emptyFrozenModules(report.modules);
writeFileSync(`${asked.out}/tables.bin`, Buffer.concat(report.tables.map(takeOut)));
const heap = module.HEAPU8;
const stamp = createHash("sha256").update(heap).digest("hex");
const runs = filled(heap);
const image = [Buffer.from(stamp), ...runs.map(([begin, end]) => heap.subarray(begin, end))];
writeFileSync(`${asked.out}/image`, Buffer.concat(image));
writeFileSync(`${asked.out}/image.json`, JSON.stringify({ stamp, heap: heap.length, runs, ...report }));

/** @param {string} source */
function run(source) {
  const text = module.stringToNewUTF8(source);
  const status = module._PyRun_SimpleString(text);
  module._free(text);
  if (status !== 0) {
    console.error(said.join("\n"));
    process.exit(1);
  }
}

/**
 * Begin and end of the parts of memory that are not empty, apart from short gaps.
 *
 * @param {Uint8Array} heap  a multiple of GAP long, as all memory is
 */
function filled(heap) {
  /** @type {[number, number][]} */
  const runs = [];
  const empty = Buffer.alloc(GAP);
  for (let begin = 0; begin < heap.length; begin += GAP) {
    const end = begin + GAP;
    if (!empty.equals(heap.subarray(begin, end))) {
      const last = runs.at(-1);
      last?.[1] === begin ? (last[1] = end) : runs.push([begin, end]);
    }
  }
  return runs;
}

/** How many blocks of which size Python has free, from what it says of its memory. */
function freeBlocks() {
  said.length = 0;
  run("import sys; sys._debugmallocstats()");
  /** @type {Record<string, number>} */
  const free = {};
  let pools = 0;
  for (const line of said) {
    const row = /^ *\d+ +(\d+) +\d+ +\d+ +(\d+)$/.exec(line);
    if (row && Number(row[1]) > 16) {
      free[row[1] ?? ""] = Number(row[2]);
    }
    pools += Number(/^(\d+) unused pools/.exec(line)?.[1] ?? 0);
  }
  free["512"] = (free["512"] ?? 0) + pools * BLOCKS_IN_POOL;
  return free;
}

/**
 * Byte code that came with the runtime and has been loaded is not loaded a second time.
 * @param {string[]} loaded
 */
function emptyFrozenModules(loaded) {
  for (const table of ["Bootstrap", "Stdlib", "Test"]) {
    // Rows of four words: name, byte code, its size, whether it is a package; zeros end it.
    let row = module.HEAPU32[module[`__PyImport_Frozen${table}`] >> 2] >> 2;
    for (; module.HEAPU32[row] !== 0; row += 4) {
      const [name, code, size] = module.HEAPU32.subarray(row, row + 3);
      if (table === "Test" || loaded.includes(module.UTF8ToString(name))) {
        module.HEAPU8.fill(0, code, code + size);
      }
    }
  }
}

/**
 * Python can be built without the docstrings of what is written in C; here they are emptied. The
 * last letters stay: where a short text is the end of a longer one, linkers keep both in one place.
 *
 * @param {[number, number, number, string][]} texts  address of an object, where it has the address
 *   of what describes it (0 when that is itself), where that has the address of the text, and
 *   the text as Python gives it, which may leave out its begin
 */
function emptyDocstrings(texts) {
  for (const [object, described, at, text] of texts) {
    const by = described === 0 ? object : (module.HEAPU32[(object + described) >> 2] ?? 0);
    const begin = module.HEAPU32[(by + at) >> 2] ?? 0;
    const whole = begin > 0 && begin < module.HEAPU8.length ? module.UTF8ToString(begin) : "";
    if (text !== "" && whole.endsWith(text)) {
      const end = begin + Buffer.byteLength(whole) - SHARED_ENDING;
      module.HEAPU8.fill(0, begin, Math.max(begin, end));
    }
  }
}

/**
 * What stands there in memory, and zeros in its place.
 * @param {[number, number]} place  begin and end
 */
function takeOut([begin, end]) {
  const content = module.HEAPU8.slice(begin, end);
  module.HEAPU8.fill(0, begin, end);
  return content;
}

/** Zeros in place of what nobody will read again: the free stack, and what malloc has free. */
function emptyFreeMemory() {
  const end = module._emscripten_stack_get_end();
  module.HEAPU8.fill(0, end, module._emscripten_stack_get_current());
  const top = module._sbrk(0);
  /** @type {number[]} */
  const held = [];
  for (let bytes = 1 << 16; bytes >= 16; bytes = bytes > 4096 ? bytes / 2 : bytes - 16) {
    for (;;) {
      const place = module._PyMem_RawMalloc(bytes);
      if (place + bytes > top) {
        module._PyMem_RawFree(place);
        break;
      }
      module.HEAPU8.fill(0, place, place + bytes);
      held.push(place);
    }
  }
  held.forEach((place) => module._PyMem_RawFree(place));
}
