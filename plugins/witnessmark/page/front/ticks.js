/**
 * Ticks of a procedure's steps. They belong to the open job; without one they stay in this tab.
 */

import { element } from "./dom.js";
import { clearTicks, currentJob, keep, pageRecord } from "./kept.js";

/** Counts ticks made and taken back here: what was read before one is out of date. */
let made = 0;

/** @returns {HTMLInputElement[]} */
const everyBox = () => [...document.querySelectorAll("input.wm-step-tick")].filter(isBox);

/** @param {Element} found @returns {found is HTMLInputElement} */
const isBox = (found) => found instanceof HTMLInputElement;

/** The boxes of the steps that are shown for the engine on the bench. */
const boxes = () => everyBox().filter((box) => box.closest("[data-wm-off]") === null);

/** @param {Element} box */
const stepOf = (box) => box.closest(".wm-step")?.id ?? "";

/** @param {Element} box */
function titleOf(box) {
  const heading = box.closest(".wm-step")?.querySelector("h2")?.cloneNode(true);
  if (!(heading instanceof Element)) {
    return "";
  }
  heading.querySelectorAll(".headerlink, .wm-us, .wm-or").forEach((part) => part.remove());
  return (heading.textContent ?? "").trim();
}

/**
 * Restore the ticks of the page that is shown now, and offer to clear them.
 * @param {boolean} [again] even if it has been done: another job is open now
 */
export async function restoreTicks(again = false) {
  const all = everyBox();
  if (!again && all.every((box) => "restored" in box.dataset)) {
    return;
  }
  for (const box of all) {
    box.dataset.restored = "";
  }
  offerClearing(all);
  const before = made;
  const { ticks } = await pageRecord();
  if (made === before) {
    showTicks(ticks);
  } else {
    await restoreTicks(true);
  }
}

/** How many ticks have been made or taken back in this tab. */
export const ticksMade = () => made;

/** @param {Record<string, unknown>} ticks of the record */
export function showTicks(ticks) {
  for (const box of everyBox()) {
    box.checked = stepOf(box) in ticks;
  }
  countTicks();
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
    const where = currentJob() === "" ? "in this tab" : "in this job";
    words.textContent = `${done} of ${all.length} steps ticked ${where}.`;
  }
}

/** The first step shown that is not ticked. @returns {HTMLElement | null} */
export function nextStep() {
  return boxes().find((box) => !box.checked)?.closest(".wm-step") ?? null;
}

/** Listen for ticks on any page; called once for a document. */
export function watchTicks() {
  document.addEventListener("change", ({ target }) => {
    if (target instanceof HTMLInputElement && target.matches(".wm-step-tick")) {
      made += 1;
      const step = stepOf(target);
      const content = target.checked ? { title: titleOf(target), done: true } : null;
      keep("ticks", step, content, { steps: boxes().length, last: step });
      countTicks();
    }
  });
  document.addEventListener("click", ({ target }) => {
    if (target instanceof Element && target.matches(".wm-clear-ticks")) {
      made += 1;
      everyBox().forEach((box) => (box.checked = false));
      clearTicks();
      countTicks();
      boxes()[0]?.focus();
    }
  });
}
