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
import { atOnce, compiled, fetchUnpacker, unpacked } from "./fetching.js";
import { held, hold } from "./held.js";
import { restore, sizeOf } from "./restore.js";
import { ROOT } from "./root.js";
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
/** How long after the start module and image are laid out for the next one. */
const LEISURE_MS = 300;

const begun = performance.now();
/** @type {Record<string, number>} */
const marks = {};
/** Why Python was started the long way. */
let long = "";
/** @type {ReturnType<typeof setTimeout> | undefined} */
let idle;
/** What is to be worked out again while nobody asks. @type {object | null} */
let practised = null;
/** What an earlier worker has laid out on this device, and has not been missed. */
const laid = new Set(self.name.split(" "));
/** Whether practice has to wait: only what is translated after the module has come is kept. */
let holding = false;
/** Fulfilled when the module is decompressed. */
let moduleHere = Promise.resolve();

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
    // A stack with every error that Python's files meet would have the script read once more.
    const { stackTraceLimit } = Error;
    Error.stackTraceLimit = 0;
    try {
      return await fromImage(image);
    } catch (error) {
      long = said(error);
      console.warn(`The heap image could not be used (${long}); starting from the wheels instead.`);
    } finally {
      Error.stackTraceLimit = stackTraceLimit;
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

/** @typedef {NonNullable<typeof image>} About */

/**
 * The module as the browser keeps it with its translation, or compressed where that is not so or
 * it has been cleared away.
 *
 * @param {About} about
 */
function moduleOf(about) {
  const plain = here(about.translatable);
  const others = () => {
    laid.delete(plain);
    const { module, arrived } = compiled(here(about.module), decoderOf(about));
    moduleHere = arrived;
    return module;
  };
  return laid.has(plain)
    ? WebAssembly.compileStreaming(
        fetch(plain, { cache: "only-if-cached", mode: "same-origin" }),
      ).catch(others)
    : others();
}

/** @type {Promise<import("./unpacker.js").Unpacker> | undefined} */
let decoder;

/** The decoder, fetched when something is to be decompressed. @param {About} about */
function decoderOf({ unpacker }) {
  decoder ??= fetchUnpacker(here(unpacker));
  return decoder;
}

/**
 * The image as it lies in memory, or compressed where it is not held or not whole.
 *
 * @param {About} about
 */
function imageOf(about) {
  const file = here(about.file);
  const others = async () => {
    laid.delete(file);
    const stream = await unpacked(file, decoderOf(about));
    // Other threads compile the module while this one decompresses the image, and not before.
    await moduleHere;
    return stream;
  };
  return laid.has(file) ? held(nameOf(about), about.stamp, sizeOf(about)).catch(others) : others();
}

/** @param {About} about */
function nameOf({ file }) {
  return { site: ROOT.pathname, image: file.split("/").at(-2) ?? "" };
}

/**
 * Whether anything is to be laid out. A device that has been found to hold no image is not tried
 * again as long as it keeps the module.
 *
 * @param {About} about
 */
function lacking({ translatable, file }) {
  const plain = here(translatable);
  return !laid.has(plain) || (!laid.has(here(file)) && self.name !== plain);
}

/**
 * Browsers keep what they have translated of a module only for one that comes as it is, and
 * decompressing the image is a good part of a start. Both are laid out when the page has its
 * first results, for the visits to come.
 *
 * @param {About} about
 * @param {Evaluate} evaluate
 */
async function layOut(about, evaluate) {
  const plain = here(about.translatable);
  const file = here(about.file);
  try {
    if (!laid.has(plain)) {
      await WebAssembly.compileStreaming(fetch(plain, { priority: "low" }));
    }
    holding = false;
    practise(evaluate);
    const isHeld = laid.has(file) || (await kept(about, file));
    postMessage({ prepared: isHeld ? `${plain} ${file}` : plain });
  } catch {
    holding = false; // the next start is as quick as this one
    practise(evaluate);
  }
}

/**
 * Hold the image; false when this browser holds none.
 *
 * @param {About} about
 * @param {string} file
 */
async function kept(about, file) {
  try {
    const stream = await unpacked(file, fetchUnpacker(here(about.unpacker)));
    await hold(nameOf(about), stream, about.stamp.length);
    return true;
  } catch (error) {
    // Another tab is at it.
    return error instanceof DOMException && error.name === "NoModificationAllowedError";
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
    decoder = undefined; // its memory is not needed any more
    // The page may be busy for a while: it hears of the start and its first answer at once.
    // The first request is a rehearsal where the page itself has asked nothing yet.
    const [first, ...others] = line.length > 1 ? line.filter(({ id }) => id !== 0) : line;
    line = [];
    const ms = Math.round(performance.now() - begun);
    const answer = first && answered(evaluate, first);
    postMessage({ ready: true, ms, long, marks, answer });
    others.forEach((each) => postMessage(answered(evaluate, each)));
    const saving = Reflect.get(navigator, "connection")?.saveData === true;
    const served = location.protocol.startsWith("http");
    if (image && long === "" && served && !saving && lacking(image)) {
      holding = true;
      setTimeout(layOut, LEISURE_MS, image, evaluate);
    }
    practise(evaluate);
  },
  (error) => postMessage({ failed: said(error) }),
);

addEventListener("message", ({ data }) => {
  if (evaluator === null) {
    line.push(data); // where Python does not start, the page is told
  } else {
    postMessage(answered(evaluator, data));
    practise(evaluator);
  }
});

/** @param {Evaluate} evaluate @param {Question} question */
function answered(evaluate, { id, request }) {
  try {
    const outcome = JSON.parse(evaluate(request));
    practised = JSON.parse(request);
    return { id, outcome };
  } catch (error) {
    const broken = error instanceof Error && Reflect.get(error, "broken") === true;
    return { id, [broken ? "broken" : "failure"]: said(error) };
  }
}

/**
 * The engine translates often used code better, after a while: a request, worked out again
 * while nobody asks, makes the reader's own entries quick from the first.
 *
 * Between two times an entry that has come meanwhile is heard first.
 *
 * @param {Evaluate} evaluate
 */
function practise(evaluate) {
  clearTimeout(idle);
  const request = practised;
  if (practice > 0 && request !== null && !holding) {
    idle = setTimeout(() => {
      practice -= 1;
      const since = performance.now();
      try {
        evaluate(JSON.stringify({ ...request, anew: true, drawings: practice % DRAWN === 0 }));
      } catch {
        return; // whatever it is, the next request meets it too, and is answered with it
      }
      if (performance.now() - since < LONGEST_MS) {
        practise(evaluate);
      }
    }, BREATH_MS);
  }
}
