/**
 * The page's side of the runtime: one worker for the whole page, started once, when needed.
 *
 * Requests wait in line and are handed over one at a time, so that a request that hangs can
 * be told from one that only waits; what was typed before Python has started is computed
 * as soon as it has.
 */

/**
 * @typedef {"idle" | "starting" | "live" | "failed"} State
 * @typedef {Record<string, unknown>} Request  see ``calc/request.py`` for its form
 * @typedef {Record<string, any>} Outcome
 * @typedef {{resolve: (outcome: Outcome) => void, reject: (error: Error) => void}} Promised
 * @typedef {Promised & {id: number, request: string}} Waiting
 * @typedef {{ready?: true, ms?: number, failed?: string,
 *            id?: number, outcome?: Outcome, failure?: string}} Reply
 */

/** An evaluation takes milliseconds; after this time it is taken to hang. */
const PATIENCE_MS = 20_000;

/** How often a worker that broke or hung is replaced before the page gives up. */
const RESTARTS = 2;

/** @type {State} */
let current = "idle";
let trouble = "";
let startedIn = 0;
let restarts = 0;
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
/** @type {Set<(state: State) => void>} */
const listeners = new Set();

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

/** Start the runtime when the page has loaded and the browser has nothing better to do. */
export function warmWhenIdle() {
  const soon = () => {
    if (typeof requestIdleCallback === "function") {
      requestIdleCallback(warm, { timeout: 2000 });
    } else {
      setTimeout(warm, 300); // a browser without idle callbacks
    }
  };
  if (document.readyState === "complete") {
    soon();
  } else {
    addEventListener("load", soon, { once: true });
  }
}

/** End the runtime for good, for a page that is about to be left; what waits stays unanswered. */
export function stop() {
  stopped = true;
  settle();
  line.length = 0;
  worker?.terminate();
  worker = null;
  current = "idle";
}

/**
 * Evaluate a calculator or a chain of them; starts the runtime when that has not happened yet.
 *
 * Rejects with an Error when the runtime cannot start or the evaluation itself goes wrong.
 * A bad entry is no error: the outcome says what is wrong with it.
 *
 * @param {Request} request
 * @returns {Promise<Outcome>}
 */
export function evaluate(request) {
  if (current === "failed") {
    return Promise.reject(new Error(trouble));
  }
  return new Promise((resolve, reject) => {
    if (stopped) {
      return;
    }
    line.push({ id: ++serial, request: JSON.stringify(request), resolve, reject });
    warm();
    next();
  });
}

function start() {
  change("starting");
  try {
    worker = new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  } catch (error) {
    fail(error instanceof Error ? error.message : String(error));
    return;
  }
  worker.addEventListener("message", (/** @type {MessageEvent<Reply>} */ { data }) => hear(data));
  worker.addEventListener("error", (event) => {
    event.preventDefault();
    broke(event.message || "the worker script could not be loaded");
  });
}

/** @param {Reply} reply */
function hear(reply) {
  if (reply.ready) {
    startedIn = reply.ms ?? 0;
    change("live");
  } else if (reply.failed !== undefined) {
    fail(reply.failed);
  } else if (asked !== null && reply.id === asked.id) {
    const { resolve, reject } = asked;
    settle();
    if (reply.outcome !== undefined) {
      resolve(reply.outcome);
    } else {
      reject(new Error(reply.failure ?? "the runtime gave no answer"));
    }
  }
  next();
}

/** Hand over the next request when the runtime is live and has none. */
function next() {
  if (current !== "live" || asked !== null) {
    return;
  }
  asked = line.shift() ?? null;
  if (asked !== null && worker !== null) {
    worker.postMessage({ id: asked.id, request: asked.request });
    patience = setTimeout(() => broke("the calculation took too long"), PATIENCE_MS);
  }
}

/** Forget the request that has been handed over. */
function settle() {
  clearTimeout(patience);
  asked = null;
}

/**
 * The worker broke or hangs: its request fails; a runtime that had started is replaced.
 * @param {string} why
 */
function broke(why) {
  if (current !== "live" || restarts >= RESTARTS) {
    fail(why);
    return;
  }
  restarts += 1;
  const lost = asked;
  settle();
  worker?.terminate();
  start();
  lost?.reject(new Error(why));
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
