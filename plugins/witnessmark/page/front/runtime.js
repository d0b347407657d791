/**
 * The page's side of the runtime: one worker for the whole page, started once, when needed.
 *
 * Requests wait in line and are handed over one at a time, so that a request that hangs can
 * be told from one that only waits; what was typed before Python has started is computed
 * as soon as it has.
 */

import { keepPrepared, prepared } from "./prepared.js";

/**
 * @typedef {"idle" | "starting" | "live" | "failed"} State
 * @typedef {Record<string, unknown>} Request  see ``calc/request.py`` for its form
 * @typedef {Record<string, any>} Outcome
 * @typedef {{resolve: (outcome: Outcome) => void, reject: (error: Error) => void}} Promised
 * @typedef {Promised & {id: number, request: string, sure: boolean}} Waiting
 * @typedef {{ready?: true, ms?: number, long?: string, marks?: Record<string, number>,
 *            failed?: string, id?: number, outcome?: Outcome, failure?: string,
 *            broken?: string, prepared?: string, answer?: Reply}} Reply
 */

/**
 * An evaluation takes milliseconds; one that takes this long is ended. The clock runs only
 * while an evaluation runs, never during a start.
 */
export const LIMIT_MS = 2_000;

/** On a slow or busy device it may take as many times what the slowest answer so far took. */
const SLOWNESS = 10;

/** The first evaluation after a start may take longer: the engine translates as it goes. */
const FIRST_LIMIT_MS = 5 * LIMIT_MS;

/** How often in a row a worker may break without having answered anything. */
const VAIN_STARTS = 3;

/** The worker that early.js has started, and the events it has had since. */
const EARLY = "witnessmarkEarly";

/** What is said of a request that was ended; the next one that is the same is not tried. */
const TOO_LONG = `it takes more than ${LIMIT_MS / 1000} seconds and was stopped`;

/** Why a request was ended, or broke Python. */
export class Stopped extends Error {}

/** @type {State} */
let current = "idle";
let trouble = "";
let startedIn = 0;
/** @type {Record<string, number>} */
let marks = {};
let long = "";
let vain = 0;
let first = true;
/** When the request that runs now was handed over, and the longest that one has taken. */
let since = 0;
let slowest = 0;
let serial = 0;
/** @type {Worker | null} */
let worker = null;
/** @type {Waiting[]} */
const line = [];
/** @type {Waiting | null} */
let asked = null;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let patience;
let stopped = false;
/** Requests that were ended once, and why. @type {Map<string, string>} */
const hopeless = new Map();
/** @type {Set<(state: State) => void>} */
const listeners = new Set();
/** @type {(value?: undefined) => void} */
let haveAnswered = () => {};

/** Fulfilled when the first request of the page has been answered. @type {Promise<void>} */
export const firstAnswer = new Promise((resolve) => {
  haveAnswered = resolve;
});

/** What the runtime is doing now. @returns {State} */
export function state() {
  return current;
}

/** Why it could not start; empty unless `state()` is "failed". @returns {string} */
export function failure() {
  return trouble;
}

/** How long the start took, in milliseconds; 0 before. @returns {number} */
export function startTime() {
  return startedIn;
}

/** How far the start had come after how many milliseconds. @returns {Record<string, number>} */
export function startMarks() {
  return marks;
}

/** Why Python was started the long way; empty when it was not. @returns {string} */
export function tookLong() {
  return long;
}

/**
 * Call `listener` at every change of state.
 * @param {(state: State) => void} listener
 * @returns {() => void} stops it
 */
export function onState(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Start the runtime unless it has been started already. */
export function warm() {
  if (current === "idle" && !stopped) {
    start();
  }
}

/**
 * Start the runtime as soon as the page has been painted. It works beside the page, so there
 * is nothing to wait for.
 */
export function warmSoon() {
  if (Reflect.has(window, EARLY)) {
    warm(); // it has begun already
    return;
  }
  requestAnimationFrame(() => setTimeout(warm));
  setTimeout(warm, 500); // nothing is painted in a window that is not to be seen
}

/** End the runtime for good, for a page that is about to be left; what waits stays unanswered. */
export function stop() {
  stopped = true;
  settle();
  line.length = 0;
  (worker ?? early()?.worker)?.terminate();
  worker = null;
  current = "idle";
}

/**
 * Evaluate a calculator or a chain of them; starts the runtime when that has not happened yet.
 *
 * Rejects with an Error when the runtime cannot start or the evaluation itself goes wrong; with
 * `Stopped` when it took too long or broke Python, now or when the same was asked before.
 * A bad entry is no error: the outcome says what is wrong with it.
 *
 * @param {Request} request
 * @param {boolean} [sure]  whether it is known to come to an end: the build has worked it out
 * @returns {Promise<Outcome>}
 */
export function evaluate(request, sure = false) {
  if (current === "failed") {
    return Promise.reject(new Error(trouble));
  }
  const asked = JSON.stringify(request);
  const why = hopeless.get(asked);
  if (why !== undefined) {
    return Promise.reject(new Stopped(why));
  }
  return new Promise((resolve, reject) => {
    if (stopped) {
      return;
    }
    line.push({ id: ++serial, request: asked, sure, resolve, reject });
    warm();
    next();
  });
}

function start() {
  change("starting");
  const begun = early();
  try {
    worker =
      begun?.worker ??
      new Worker(new URL("./worker.js", import.meta.url), { type: "module", name: prepared() });
  } catch (error) {
    fail(error instanceof Error ? error.message : String(error));
    return;
  }
  const mine = worker;
  const heed = (/** @type {Event} */ event) => {
    if (mine !== worker) {
      return;
    }
    if (event.type === "message") {
      hear(/** @type {MessageEvent<Reply>} */ (event).data);
    } else {
      event.preventDefault();
      const { message } = /** @type {ErrorEvent} */ (event);
      broke(message || "the worker script could not be loaded");
    }
  };
  worker.onmessage = worker.onerror = heed;
  begun?.heard.forEach(heed);
  next(); // it is answered as soon as Python has started, whatever the page is busy with then
}

/**
 * The worker that early.js has started; it is given away once.
 * @returns {{worker: Worker, heard: Event[]} | undefined}
 */
function early() {
  const begun = Reflect.get(window, EARLY);
  Reflect.deleteProperty(window, EARLY);
  return begun;
}

/** @param {Reply} reply */
function hear(reply) {
  if (reply.ready) {
    startedIn = reply.ms ?? 0;
    marks = reply.marks ?? {};
    long = reply.long ?? "";
    if (long !== "") {
      keepPrepared("");
    }
    first = true;
    if (asked !== null) {
      begin();
    }
    change("live");
    if (reply.answer !== undefined) {
      hear(reply.answer);
      return;
    }
  } else if (reply.failed !== undefined) {
    fail(reply.failed);
  } else if (reply.prepared !== undefined) {
    keepPrepared(reply.prepared);
  } else if (asked !== null && reply.id === asked.id) {
    const { resolve, reject } = asked;
    if (reply.broken !== undefined) {
      broke(`Python broke while working it out (${reply.broken})`);
      return;
    }
    settle();
    slowest = Math.max(slowest, performance.now() - since);
    vain = 0;
    first = false;
    if (reply.outcome !== undefined) {
      resolve(reply.outcome);
      haveAnswered();
    } else {
      reject(new Error(reply.failure ?? "the runtime gave no answer"));
    }
  }
  next();
}

/**
 * Hand over the next request unless the runtime has one already. While Python starts no clock
 * runs, and it is given only what is sure to come to an end.
 */
function next() {
  const [head] = line;
  if (worker === null || asked !== null || !head || (current !== "live" && !head.sure)) {
    return;
  }
  line.shift();
  asked = head;
  worker.postMessage({ id: asked.id, request: asked.request });
  if (current === "live") {
    begin();
  }
}

/** What has been handed over is being worked out from now on. */
function begin() {
  since = performance.now();
  watch(Math.max(first ? FIRST_LIMIT_MS : LIMIT_MS, SLOWNESS * slowest));
}

/**
 * End the evaluation that runs now when it takes longer than `limit`.
 * @param {number} limit
 */
function watch(limit) {
  const begun = performance.now();
  patience = setTimeout(() => {
    // A device that slept, or a page that was put aside, has not been working all this time.
    const slept = performance.now() - begun > 1.5 * limit;
    slept ? watch(limit) : broke(TOO_LONG);
  }, limit);
}

/** Forget the request that has been handed over. */
function settle() {
  clearTimeout(patience);
  asked = null;
}

/**
 * The worker broke or hangs: a new one takes its place, and everything but the request that
 * it was busy with is worked out there. That request is not tried again.
 * @param {string} why
 */
function broke(why) {
  vain += 1;
  if (current !== "live" || vain > VAIN_STARTS) {
    fail(why);
    return;
  }
  const lost = asked;
  settle();
  worker?.terminate();
  if (lost !== null) {
    hopeless.set(lost.request, why);
    vain = 0; // it was the request's doing, and can happen once only
  }
  start();
  lost?.reject(new Stopped(why));
}

/**
 * Give up for as long as the page lives: everything that waits is told why.
 * @param {string} why
 */
function fail(why) {
  const lost = asked === null ? line.splice(0) : [asked, ...line.splice(0)];
  settle();
  worker?.terminate();
  worker = null;
  trouble = why;
  change("failed");
  for (const { reject } of lost) {
    reject(new Error(why));
  }
}

/** @param {State} to */
function change(to) {
  current = to;
  for (const listener of listeners) {
    listener(to);
  }
}
