/**
 * The handbook on the device: has the service worker keep it once the page has what it needs,
 * and says on a page that it is the device's copy.
 */

import { element } from "./dom.js";
import { onState, state } from "./runtime.js";

/** The folder of the handbook on its server; this file is in assets/witnessmark/front-<digest>/. */
const HOME = new URL("../../../", import.meta.url).href;

/** How often an open page asks whether there is a new release to keep. */
const ASK_AGAIN_MS = 60_000;

/** The date of the copy that is shown; null when the page is the server's. @type {string | null} */
let copy = document.documentElement.dataset.wmCopy ?? null;
let asked = Date.now();

/** Take up the service worker, or clean up after one where the handbook is to have none. */
export function keepOnDevice() {
  const workers = navigator.serviceWorker;
  if (!workers || location.protocol === "file:") {
    return; // an old browser, a page that did not come by a secure way, or one from a folder
  }
  workers.addEventListener("message", (event) => {
    copy = event.data.copy;
    tellCopy();
  });
  if (document.querySelector('meta[name="witnessmark-offline"]')) {
    whenQuiet(() => workers.register(`${HOME}sw.js`, { scope: HOME, updateViaCache: "none" }));
  } else {
    whenQuiet(forget);
  }
}

/** The theme has put another page in: a moment to ask for a new release. */
export function pageChanged() {
  tellCopy();
  if (navigator.serviceWorker?.controller && Date.now() - asked > ASK_AGAIN_MS) {
    asked = Date.now();
    quietly(async () => (await navigator.serviceWorker.getRegistration(HOME))?.update());
  }
}

/** Put the line on the page, or take it away. */
function tellCopy() {
  const there = document.querySelector(".wm-copy");
  if (copy === null) {
    there?.remove();
  } else if (!there) {
    const day = new Date(copy);
    const { lang } = document.documentElement;
    const language = lang === "en" ? "en-GB" : lang; // day, month, year: nobody mistakes it
    const of = isNaN(day.valueOf())
      ? ""
      : ` of ${day.toLocaleDateString(language, { dateStyle: "long" })}`;
    const line = element(
      "p",
      { class: "wm-copy", role: "status" },
      `The server does not answer: this page is this device's own copy${of}.`,
    );
    const text = document.querySelector("article") ?? document.querySelector("main, [role=main]");
    (text ?? document.body).prepend(line);
  }
}

/**
 * Do something once the calculators of the page run, or have given up, and nobody waits.
 * @param {() => Promise<unknown>} action
 */
function whenQuiet(action) {
  let done = false;
  const idle = () => {
    if (done || (document.querySelector("wm-calculator") && !settled())) {
      return;
    }
    done = true;
    const act = () => quietly(action);
    typeof requestIdleCallback === "function" ? requestIdleCallback(act) : setTimeout(act, 1000);
  };
  onState(idle);
  document.readyState === "complete" ? idle() : addEventListener("load", idle, { once: true });
}

function settled() {
  return state() === "live" || state() === "failed";
}

/** No store, no room, no leave: the handbook then works as far as its server does. */
async function quietly(/** @type {() => Promise<unknown>} */ action) {
  try {
    await action();
  } catch (error) {
    console.info("The handbook is not kept on this device:", error);
  }
}

/** Remove the worker of an earlier release of this handbook, and all it has kept. */
async function forget() {
  const registration = await navigator.serviceWorker.getRegistration(HOME);
  if (registration?.scope === HOME) {
    await registration.unregister();
  }
  for (const name of await caches.keys()) {
    if (name.startsWith(`witnessmark ${new URL(HOME).pathname} `)) {
      await caches.delete(name);
    }
  }
}
