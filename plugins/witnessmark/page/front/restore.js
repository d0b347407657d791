/**
 * Starting Python from the heap image: memory as it was after every module had been imported
 * and every calculator had been called once, put in place of all that work.
 */

import { callText, createPython, ENVIRONMENT, lateFile, makeFolder } from "./python.js";

/**
 * @typedef {import("./python.js").Module} Module
 *
 * @typedef {object} Image  What the build says about the image it has made.
 * @property {string} stamp    first 64 bytes of the image, so that no other is taken for it
 * @property {number} heap     bytes of memory
 * @property {readonly (readonly [number, number])[]} runs  begin and end of the parts of memory
 *                             that follow, one after the other; what is between them is empty
 * @property {number} answer   address of the function that evaluates requests
 * @property {number} awake    address of the function to call once after restoring
 * @property {Readonly<Record<string, string>>} archives  path inside Python to place on the
 *                                              host: what can still be imported later
 * @property {readonly (readonly [number, number])[]} tables  begin and end in memory of tables
 *                             that are not in the image
 * @property {string} held     where Python opens the file that holds them, one after the other
 *
 * @typedef {import("./held.js").Held} Held
 *
 * @typedef {object} Parts
 * @property {Promise<import("./python.js").CreateModule>} createModule
 * @property {Promise<WebAssembly.Module>} wasm
 * @property {Promise<AsyncIterable<Uint8Array> | Held>} image  the image, decompressed; a piece
 *   of it need be good only until the next one is asked for
 * @property {Image} about
 * @property {(place: string) => Uint8Array} archive  the content of an archive, at once
 * @property {(name: string) => void} [mark]         told how far the start has come
 */

/**
 * Restore the image; `evaluate` takes and returns JSON text.
 *
 * Rejects when any part is not there, is not the one that belongs to the others, or does not
 * run here. A request that Python refuses throws; so does one that breaks Python itself, with
 * an error that has `broken` set.
 *
 * @param {Parts} parts
 * @returns {Promise<{evaluate: (request: string) => string, module: Module}>}
 */
export async function restore({ createModule, wasm, image, about, archive, mark = () => {} }) {
  const created = createModule.then((create) =>
    createPython({
      createModule: create,
      wasm,
      fresh: false,
      memory: about.heap,
      prepare: (module) => files(module, about, archive),
    }),
  );
  const heap = created.then(({ module }) => {
    mark("instantiated");
    return /** @type {Uint8Array} */ (module.HEAPU8);
  });
  heap.catch(() => {}); // told through `created`
  const filled = image
    .then((source) => ("read" in source ? put(source, about, heap) : fill(source, about, heap)))
    .then(() => mark("filled"));
  const [{ module, imports }] = await Promise.all([created, filled]);
  // The image holds the number of a function made for the engine it was built with.
  imports.env._PyEM_InitTrampoline_js();
  if (callText(module, about.awake, "") !== "awake") {
    throw new Error("the heap image does not answer");
  }
  mark("awake");
  return { evaluate: (request) => evaluate(module, about.answer, request), module };
}

/**
 * @param {Module} module
 * @param {Image} about
 * @param {(place: string) => Uint8Array} archive
 */
function files(module, about, archive) {
  Object.assign(module.ENV, ENVIRONMENT);
  makeFolder(module.FS, ENVIRONMENT.HOME);
  module.FS.chdir(ENVIRONMENT.HOME);
  for (const [path, place] of Object.entries(about.archives)) {
    lateFile(module, path, () => {
      const content = archive(place);
      if (path === about.held) {
        bring(module, about.tables, content);
      }
      return content;
    });
  }
}

/**
 * Put tables that the image does not have where they belong.
 *
 * @param {Module} module
 * @param {Image["tables"]} tables
 * @param {Uint8Array} content
 */
function bring(module, tables, content) {
  let read = 0;
  for (const [begin, end] of tables) {
    module.HEAPU8.set(content.subarray(read, read + end - begin), begin);
    read += end - begin;
  }
}

/** How many bytes the image has. @param {Image} about */
export function sizeOf({ stamp, runs }) {
  return runs.reduce((size, [begin, end]) => size + end - begin, stamp.length);
}

/**
 * Read the image into memory, every part of it straight to its place.
 *
 * @param {Held} source
 * @param {Image} about
 * @param {Promise<Uint8Array>} created
 */
async function put(source, about, created) {
  try {
    const heap = await created;
    let at = about.stamp.length;
    for (const [begin, end] of about.runs) {
      source.read(heap.subarray(begin, end), at);
      at += end - begin;
    }
  } finally {
    source.close();
  }
}

/**
 * Write the image into memory, piece by piece; what comes before the module is there waits for it.
 *
 * @param {AsyncIterable<Uint8Array>} pieces
 * @param {Image} about
 * @param {Promise<Uint8Array>} created
 */
async function fill(pieces, about, created) {
  /** @type {Uint8Array[]} */
  const waiting = [];
  /** @type {Uint8Array | null} */
  let heap = null;
  created.then(
    (memory) => {
      heap = memory;
    },
    () => {}, // told by whoever waits for both
  );
  const runs = about.runs.map(([begin, end]) => ({ at: begin, end }));
  const write = (/** @type {Uint8Array} */ memory, /** @type {Uint8Array} */ piece) => {
    let rest = piece;
    while (rest.length > 0) {
      const run = runs[0];
      if (run === undefined) {
        throw new Error("the heap image is larger than it should be");
      }
      const part = rest.subarray(0, run.end - run.at);
      memory.set(part, run.at);
      run.at += part.length;
      rest = rest.subarray(part.length);
      if (run.at === run.end) {
        runs.shift();
      }
    }
  };
  let head = "";
  for await (const piece of pieces) {
    const rest = piece.subarray(about.stamp.length - head.length);
    head += String.fromCharCode(...piece.subarray(0, piece.length - rest.length));
    if (head !== about.stamp.slice(0, head.length)) {
      throw new Error("the heap image belongs to another build");
    }
    if (heap) {
      const memory = heap;
      waiting.splice(0).forEach((early) => write(memory, early));
      write(memory, rest);
    } else {
      waiting.push(rest.slice());
    }
  }
  const memory = await created;
  waiting.forEach((early) => write(memory, early));
  if (head !== about.stamp || runs.length > 0) {
    throw new Error("the heap image is not whole");
  }
}

/**
 * @param {Module} module
 * @param {number} answer
 * @param {string} request
 */
function evaluate(module, answer, request) {
  let said;
  try {
    said = callText(module, answer, request);
  } catch (error) {
    throw Object.assign(error instanceof Error ? error : new Error(String(error)), {
      broken: true,
    });
  }
  // One letter tells an outcome from the reason why there is none.
  if (said.startsWith("-")) {
    throw new Error(said.slice(1));
  }
  return said.slice(1);
}
