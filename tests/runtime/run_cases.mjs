/**
 * Computes requests inside the real browser runtime, under Node.js.
 *
 *     node run_cases.mjs BOOT RUNTIME BUNDLE CASES OUTCOMES
 *
 * BOOT is the script that the worker of a page starts Python with, RUNTIME and BUNDLE are the
 * folders it starts, CASES is a JSON file {packages, modules, requests}, OUTCOMES the JSON
 * file to write: {ms, python, modules, outcomes}.
 */

import { readFile, writeFile } from "node:fs/promises";
import { pathToFileURL } from "node:url";

const [, , bootScript = "", runtime = "", bundle = "", cases = "", outcomes = ""] = process.argv;

const { boot } = await import(pathToFileURL(bootScript).href);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);
const { packages, modules, requests } = JSON.parse(await readFile(cases, "utf-8"));

/** @type {any} */
let python = null;
const begun = performance.now();
const evaluate = await boot({
  loadPyodide: async (/** @type {object} */ options) => (python = await loadPyodide(options)),
  runtime: `${runtime}/`,
  bundle: `${bundle}/`,
  packages,
  modules,
});
const ms = Math.round(performance.now() - begun);

const answers = requests.map((/** @type {object} */ request) =>
  JSON.parse(evaluate(JSON.stringify(request))),
);
const about = JSON.parse(
  python.runPython("import json, sys\njson.dumps([sys.version, sorted(sys.modules)])"),
);
await writeFile(
  outcomes,
  JSON.stringify({ ms, python: about[0], modules: about[1], outcomes: answers }),
);
