/**
 * What a worker has laid out on this device (laid-out.js), for those to come: each is given it as
 * its name. early.js, which imports nothing, looks it up by itself.
 */

import { ROOT } from "./root.js";

const KEY = `witnessmark.prepared ${ROOT.pathname}`;

/** The name for the next worker; empty when nothing is laid out. */
export function prepared() {
  try {
    return localStorage.getItem(KEY) ?? "";
  } catch {
    return ""; // storage may be switched off; the worker then does without the hint
  }
}

/** @param {string} name */
export function keepPrepared(name) {
  try {
    localStorage.setItem(KEY, name);
  } catch {
    // storage may be switched off or full
  }
}
