/**
 * The worker: starts Python once, then answers one request after the other.
 *
 * page -> worker  {id, request}            request is JSON text
 * worker -> page  {ready: true, ms}        Python has started
 *                 {failed: message}        it has not, and will not in this worker
 *                 {id, outcome}            the parsed outcome
 *                 {id, failure: message}   the evaluation itself went wrong
 */

import { boot } from "./boot.js";
import { bundle, modules, packages, runtime } from "./site.js";

/** @typedef {{id: number, request: string}} Question */

const begun = performance.now();

/** @param {string} folder */
const here = (folder) => new URL(folder, import.meta.url).href;

/** @param {unknown} error */
const said = (error) => (error instanceof Error ? error.message : String(error)).trim();

/** @type {Promise<(request: string) => string>} */
const started = import(`${here(runtime)}pyodide.mjs`).then(({ loadPyodide }) =>
  boot({ loadPyodide, runtime: here(runtime), bundle: here(bundle), packages, modules }),
);

started.then(
  () => postMessage({ ready: true, ms: Math.round(performance.now() - begun) }),
  (error) => postMessage({ failed: said(error) }),
);

addEventListener("message", async (/** @type {MessageEvent<Question>} */ { data }) => {
  const evaluate = await started.catch(() => null);
  if (evaluate === null) {
    return; // the page has been told
  }
  try {
    postMessage({ id: data.id, outcome: JSON.parse(evaluate(data.request)) });
  } catch (error) {
    postMessage({ id: data.id, failure: said(error) });
  }
});
