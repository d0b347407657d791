/**
 * Computes requests inside the real browser runtime, under Node.js.
 *
 *     node run_cases.mjs BOOT RUNTIME BUNDLE PACKAGES MODULES
 *
 * BOOT is the script that the worker of a page starts Python with, RUNTIME and BUNDLE are the
 * folders it starts from, PACKAGES and MODULES are names with commas between. Talks in lines
 * of JSON: first {ms, python, modules} of the start, then for each line on standard input, a
 * list of requests, the list of their outcomes (or {failure} where an evaluation went wrong).
 */

import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [, , bootScript = "", runtime = "", bundle = "", packages = "", modules = ""] = process.argv;

const { boot } = await import(pathToFileURL(bootScript).href);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);

/** @param {unknown} value */
const tell = (value) => process.stdout.write(`${JSON.stringify(value)}\n`);

/** @type {any} */
let python = null;
const begun = performance.now();
const evaluate = await boot({
  loadPyodide: async (/** @type {object} */ options) => {
    python = await loadPyodide({ ...options, stdout: console.error });
    return python;
  },
  runtime: `${runtime}/`,
  bundle: `${bundle}/`,
  packages: packages.split(","),
  modules: modules.split(",").filter((name) => name !== ""),
});
const ms = Math.round(performance.now() - begun);
const about = python.runPython("import json, sys; json.dumps([sys.version, sorted(sys.modules)])");
const [version, loaded] = JSON.parse(about);
tell({ ms, python: version, modules: loaded });

/** @param {object} request */
function answer(request) {
  try {
    return JSON.parse(evaluate(JSON.stringify(request)));
  } catch (error) {
    return { failure: String(error) };
  }
}

for await (const line of createInterface({ input: process.stdin })) {
  tell(JSON.parse(line).map(answer));
}
