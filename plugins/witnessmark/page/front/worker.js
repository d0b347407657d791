/**
 * The worker: starts Python once, then answers one request after the other.
 *
 * page -> worker  {id, request}                 request is JSON text
 * worker -> page  {ready: true, ms, long, marks, answer}  Python has started; `long` says why it
 *                                               took the long way, and is empty when it did not;
 *                                               `answer` is one to what was asked meanwhile
 *                 {failed: message}             it has not, and will not in this worker
 *                 {id, outcome}                 the parsed outcome
 *                 {id, failure: message}        the evaluation itself went wrong
 *                 {id, broken: message}         Python itself broke; this worker is of no more use
 *                 {prepared: name}              the browser keeps module and image, or only the
 *                                               module, as they are used; the next worker of
 *                                               this device is told by getting the same name
 */

import { boot } from "./boot.js";
import { atOnce } from "./fetching.js";
import { imageOf, lacking, layImage, layModule, letDecoderGo, moduleOf } from "./laid-out.js";
import { practise, putOff, takeUp } from "./practice.js";
import { restore } from "./restore.js";
import { bundle, image, modules, packages, runtime } from "./site.js";

/** @typedef {{id: number, request: string}} Question */
/** @typedef {(request: string) => string} Evaluate */

/** How long after the start module and image are laid out for the next one. */
const LEISURE_MS = 300;

const begun = performance.now();
/** @type {Record<string, number>} */
const marks = {};
/** Why Python was started the long way. */
let long = "";

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
  const wasm = moduleOf(about);
  const createModule = import(here(about.script)).then(() => {
    mark("script");
    return Reflect.get(globalThis, "_createPyodideModule");
  });
  wasm.then(() => mark("compiled"), () => {});
  try {
    const { evaluate } = await restore({
      createModule,
      wasm,
      image: imageOf(about),
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

/**
 * Lay out what this start has fetched, for the visits to come. The module comes first and practice
 * waits for it, so that what practice has translated is kept with it.
 *
 * @param {NonNullable<typeof image>} about
 * @param {Evaluate} evaluate
 */
async function layOut(about, evaluate) {
  const isLaid = await layModule(about);
  takeUp(evaluate);
  if (isLaid) {
    postMessage({ prepared: await layImage(about) });
  }
}

const started = start();

/** What is asked while Python starts. @type {Question[]} */
let line = [];
/** @type {Evaluate | null} */
let evaluator = null;

started.then(
  (evaluate) => {
    evaluator = evaluate;
    letDecoderGo();
    // The page may be busy for a while: it hears of the start and its first answer at once.
    // The first request is a rehearsal where the page itself has asked nothing yet.
    const [first, ...others] = line.length > 1 ? line.filter(({ id }) => id !== 0) : line;
    line = [];
    const ms = Math.round(performance.now() - begun);
    const saving = Reflect.get(navigator, "connection")?.saveData === true;
    const served = location.protocol.startsWith("http");
    if (image && long === "" && served && !saving && lacking(image)) {
      putOff();
      setTimeout(layOut, LEISURE_MS, image, evaluate);
    }
    const answer = first && answered(evaluate, first);
    postMessage({ ready: true, ms, long, marks, answer });
    others.forEach((each) => postMessage(answered(evaluate, each)));
  },
  (error) => postMessage({ failed: said(error) }),
);

addEventListener("message", ({ data }) => {
  if (evaluator === null) {
    line.push(data); // where Python does not start, the page is told
  } else {
    postMessage(answered(evaluator, data));
  }
});

/** @param {Evaluate} evaluate @param {Question} question */
function answered(evaluate, { id, request }) {
  try {
    const outcome = JSON.parse(evaluate(request));
    practise(request, evaluate);
    return { id, outcome };
  } catch (error) {
    const broken = error instanceof Error && Reflect.get(error, "broken") === true;
    return { id, [broken ? "broken" : "failure"]: said(error) };
  }
}
