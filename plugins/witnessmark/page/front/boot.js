/**
 * Starting Python the long way: the runtime, the packages of the bundle, the calculators of
 * this site. A page does so when the heap image cannot be used; restore.js is the short way.
 *
 * The worker of a page and the tests under Node.js start it with this same function.
 */

import { ENVIRONMENT } from "./python.js";
import { watchInstantiation } from "./wasm.js";

/**
 * @typedef {object} Evaluator  The one function of Python that is called: JSON text in and out.
 * @property {(request: string) => string} evaluate_json
 */

/**
 * @typedef {object} Python  The part of the runtime's interface that is used here.
 * @property {(name: string) => unknown} pyimport
 */

/**
 * @typedef {object} Start
 * @property {(options: object) => Promise<Python>} loadPyodide
 * @property {string} runtime   folder of the runtime, with a slash at its end
 * @property {string} bundle    folder of the wheels and their lock file, with a slash at its end
 * @property {readonly string[]} packages  names in the lock file
 * @property {readonly string[]} modules   calculator modules to import
 */

/**
 * Start Python and return the function that evaluates requests.
 *
 * The wheels are fetched while the runtime starts. `packageBaseUrl` is given although the
 * runtime could derive it: without it the runtime keeps a public address to fall back on.
 *
 * @param {Start} start
 * @returns {Promise<(request: string) => string>}
 */
export async function boot({ loadPyodide, runtime, bundle, packages, modules }) {
  const wasm = watchInstantiation();
  const loading = loadPyodide({
    indexURL: runtime,
    lockFileURL: `${bundle}pyodide-lock.json`,
    packageBaseUrl: bundle,
    packages,
    env: { ...ENVIRONMENT },
  });
  const python = await Promise.race([loading, wasm.failed]).finally(wasm.restore);
  const calc = /** @type {Evaluator} */ (python.pyimport("witnessmark.calc"));
  for (const name of modules) {
    python.pyimport(name);
  }
  return (request) => calc.evaluate_json(request);
}
