/**
 * Ticks of a procedure's steps. They stay in this tab until it is closed or they are cleared:
 * a tick must survive a reload, and must not greet the fitter of the next engine.
 */

import { element } from "./dom.js";

const PREFIX = "witnessmark.ticks:";

/** The page's own address, without the mark of a heading. */
const place = () => PREFIX + location.pathname;

/** @returns {Set<string>} */
function kept() {
  try {
    return new Set(JSON.parse(sessionStorage.getItem(place()) ?? "[]"));
  } catch {
    return new Set();
  }
}

/** @param {Set<string>} ticked */
function keep(ticked) {
  try {
    sessionStorage.setItem(place(), JSON.stringify([...ticked]));
  } catch {
    // Storage may be off or full; the boxes on the page still show what was ticked.
  }
}

/** @returns {HTMLInputElement[]} */
const everyBox = () => [...document.querySelectorAll("input.wm-step-tick")].filter(isBox);

/** @param {Element} found @returns {found is HTMLInputElement} */
const isBox = (found) => found instanceof HTMLInputElement;

/** The boxes of the steps that are shown for the engine on the bench. */
const boxes = () => everyBox().filter((box) => box.closest("[data-wm-off]") === null);

/** @param {Element} box */
const stepOf = (box) => box.closest(".wm-step")?.id ?? "";

/** Restore the ticks of the page that is shown now, and offer to clear them. */
export function restoreTicks() {
  const all = everyBox();
  if (all.every((box) => "restored" in box.dataset)) {
    return;
  }
  const ticked = kept();
  for (const box of all) {
    box.dataset.restored = "";
    box.checked = ticked.has(stepOf(box));
  }
  offerClearing(all);
}

/**
 * Ticks of steps that another engine has and this one has not stay as they are.
 * @param {HTMLInputElement} box
 */
function keepTick(box) {
  const ticked = kept();
  if (box.checked) {
    ticked.add(stepOf(box));
  } else {
    ticked.delete(stepOf(box));
  }
  keep(ticked);
}

/** @param {HTMLInputElement[]} all */
function offerClearing(all) {
  const step = all.at(-1)?.closest(".wm-step");
  const last = step?.closest(".wm-only") ?? step; // the passage may go, the line stays
  if (last && !document.querySelector(".wm-ticks")) {
    const clear = element("button", { type: "button", class: "wm-clear-ticks" }, "clear the ticks");
    last.after(
      element("p", { class: "wm-ticks" }, element("span", { class: "wm-ticks-count" }), " ", clear),
    );
  }
  countTicks();
}

/** Say how many of the steps shown are ticked. */
export function countTicks() {
  const all = boxes();
  const done = all.filter((box) => box.checked).length;
  const words = document.querySelector(".wm-ticks-count");
  if (words) {
    words.textContent = `${done} of ${all.length} steps ticked in this tab.`;
  }
}

/** Listen for ticks on any page; called once for a document. */
export function watchTicks() {
  document.addEventListener("change", ({ target }) => {
    if (target instanceof HTMLInputElement && target.matches(".wm-step-tick")) {
      keepTick(target);
      countTicks();
    }
  });
  document.addEventListener("click", ({ target }) => {
    if (target instanceof Element && target.matches(".wm-clear-ticks")) {
      everyBox().forEach((box) => (box.checked = false));
      keep(new Set());
      countTicks();
      boxes()[0]?.focus();
    }
  });
}
