/**
 * Computes requests inside the real browser runtime, under Node.js.
 *
 *     node run_cases.mjs FRONT SCRIPT HOW
 *
 * FRONT is the folder of scripts in a site that has been laid out, SCRIPT the loader for the
 * runtime's script, HOW is "image" or "wheels": what Python is started from. Talks in lines of
 * JSON: first {ms, python, modules} of the start, then an answer for each line on standard
 * input. To a list of requests that is the list of their outcomes (or {failure} where an
 * evaluation went wrong); to {python: code} it is what the code has put into `told`, and the
 * archives that were opened since the last line.
 */

import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { fileURLToPath, pathToFileURL } from "node:url";

const [, , front = "", loader = "", how = ""] = process.argv;
const base = pathToFileURL(`${front}/`);
/** @param {string} place */
const file = (place) => fileURLToPath(new URL(place, base));
/** @param {string} place */
const read = (place) => readFileSync(file(place));

/** @param {unknown} value */
const tell = (value) => process.stdout.write(`${JSON.stringify(value)}\n`);

const { boot, restore, site, Unpacker } = await import(new URL("pageless.js", base).href);
/** Archives that something was imported from after the start. @type {string[]} */
const opened = [];
const begun = performance.now();
const { evaluate, run } = how === "image" ? await fromImage() : await fromWheels();
const ms = Math.round(performance.now() - begun);
tell({ ms, ...run("import sys; told = {'python': sys.version, 'modules': sorted(sys.modules)}") });

async function fromImage() {
  const { loadScript } = await import(pathToFileURL(loader).href);
  const decoder = await WebAssembly.compile(read(site.image.unpacker));
  const unpacker = new Unpacker(await WebAssembly.instantiate(decoder, Unpacker.IMPORTS));
  /** @param {string} place */
  const packed = (place) => new Blob([read(place)]).stream();
  const plain = await new Response(unpacker.unpacked(packed(site.image.module))).arrayBuffer();
  const { evaluate, module } = await restore({
    createModule: Promise.resolve(loadScript(file(site.image.script))),
    wasm: WebAssembly.compile(plain),
    image: Promise.resolve(unpacker.pieces(packed(site.image.file))),
    about: site.image,
    archive: (/** @type {string} */ place) => {
      opened.push(place);
      return read(place);
    },
  });
  /** @param {string} code */
  const run = (code) => {
    const text = module.stringToNewUTF8(
      `${code}\nimport json\nwith open('/told.json', 'w') as file: json.dump(told, file)`,
    );
    const status = module._PyRun_SimpleString(text);
    return status ? { failed: true } : JSON.parse(module.FS.readFile("/told.json", { encoding: "utf8" }));
  };
  return { evaluate, run };
}

async function fromWheels() {
  const { loadPyodide } = await import(new URL(`${site.runtime}pyodide.mjs`, base).href);
  /** @type {any} */
  let python = null;
  const evaluate = await boot({
    loadPyodide: async (/** @type {object} */ options) => {
      python = await loadPyodide({ ...options, stdout: console.error });
      return python;
    },
    runtime: file(site.runtime),
    bundle: file(site.bundle),
    packages: site.packages,
    modules: site.modules,
  });
  /** @param {string} code */
  const run = (code) => JSON.parse(python.runPython(`${code}\nimport json\njson.dumps(told)`));
  return { evaluate, run };
}

/** @param {object} request */
function answer(request) {
  try {
    return JSON.parse(evaluate(JSON.stringify(request)));
  } catch (error) {
    return { failure: String(error) };
  }
}

for await (const line of createInterface({ input: process.stdin })) {
  const asked = JSON.parse(line);
  tell(
    Array.isArray(asked)
      ? asked.map(answer)
      : { told: run(asked.python), opened: opened.splice(0) },
  );
}
