/**
 * The worker: starts Python once, then answers one request after the other.
 *
 * page -> worker  {id, request}                 request is JSON text
 * worker -> page  {ready: true, ms, long, marks}  Python has started; `long` says why it took
 *                                               the long way, and is empty when it did not
 *                 {failed: message}             it has not, and will not in this worker
 *                 {id, outcome}                 the parsed outcome
 *                 {id, failure: message}        the evaluation itself went wrong
 *                 {id, broken: message}         Python itself broke; this worker is of no more use
 */

import { boot } from "./boot.js";
import { atOnce, compiled, inflated } from "./fetching.js";
import { restore } from "./restore.js";
import { bundle, image, modules, packages, runtime } from "./site.js";

/** @typedef {{id: number, request: string}} Question */
/** @typedef {(request: string) => string} Evaluate */

/** How often requests are worked out again while nobody asks, how long apart, and every how
 *  many times with their drawings. What takes longer than this is not practised: an entry would
 *  have to wait for it. */
let practice = 24;
const BREATH_MS = 30;
const DRAWN = 6;
const LONGEST_MS = 300;

const begun = performance.now();
/** @type {Record<string, number>} */
const marks = {};
/** Why Python was started the long way. */
let long = "";
/** @type {ReturnType<typeof setTimeout> | undefined} */
let idle;

/** @param {string} name */
const mark = (name) => {
  marks[name] = Math.round(performance.now() - begun);
};

/** @param {string} place */
const here = (place) => new URL(place, import.meta.url).href;

/** @param {unknown} error */
const said = (error) => (error instanceof Error ? error.message : String(error)).trim();

/** @returns {Promise<Evaluate>} */
async function start() {
  if (image) {
    try {
      return await fromImage(image);
    } catch (error) {
      long = said(error);
      console.warn(`The heap image could not be used (${long}); starting from the wheels instead.`);
    }
  }
  const { loadPyodide } = await import(`${here(runtime)}pyodide.mjs`);
  return boot({ loadPyodide, runtime: here(runtime), bundle: here(bundle), packages, modules });
}

/**
 * @param {NonNullable<typeof image>} about
 * @returns {Promise<Evaluate>}
 */
async function fromImage(about) {
  const wasm = compiled(here(about.module));
  const stream = inflated(here(about.file));
  const createModule = import(here(about.script)).then(() => {
    mark("script");
    return Reflect.get(globalThis, "_createPyodideModule");
  });
  wasm.then(() => mark("compiled"), () => {});
  try {
    const { evaluate } = await restore({
      createModule,
      wasm,
      image: stream,
      about,
      archive: (place) => atOnce(here(place)),
      mark,
    });
    return evaluate;
  } finally {
    // The runtime's own loader would take this script for its own.
    await createModule.catch(() => {});
    Reflect.deleteProperty(globalThis, "_createPyodideModule");
  }
}

const started = start();

started.then(
  () => postMessage({ ready: true, ms: Math.round(performance.now() - begun), long, marks }),
  (error) => postMessage({ failed: said(error) }),
);

addEventListener("message", async (/** @type {MessageEvent<Question>} */ { data }) => {
  const evaluate = await started.catch(() => null);
  if (evaluate === null) {
    return; // the page has been told
  }
  clearTimeout(idle);
  try {
    postMessage({ id: data.id, outcome: JSON.parse(evaluate(data.request)) });
    practise(evaluate, JSON.parse(data.request));
  } catch (error) {
    const broken = error instanceof Error && Reflect.get(error, "broken") === true;
    postMessage({ id: data.id, [broken ? "broken" : "failure"]: said(error) });
  }
});

/**
 * The engine translates often used code better, after a while: a request, worked out again
 * while nobody asks, makes the reader's own entries quick from the first.
 *
 * Between two times an entry that has come meanwhile is heard first.
 *
 * @param {Evaluate} evaluate
 * @param {object} request
 */
function practise(evaluate, request) {
  if (practice > 0) {
    idle = setTimeout(() => {
      practice -= 1;
      const since = performance.now();
      try {
        evaluate(JSON.stringify({ ...request, anew: true, drawings: practice % DRAWN === 0 }));
      } catch {
        return; // whatever it is, the next request meets it too, and is answered with it
      }
      if (performance.now() - since < LONGEST_MS) {
        practise(evaluate, request);
      }
    }, BREATH_MS);
  }
}
