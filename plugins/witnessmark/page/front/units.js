/**
 * The unit system the page is read in: SI or US customary, remembered on this machine.
 *
 * Values in sentences follow by style sheet (`html[data-wm-units]`), calculators by listening.
 */

import { element } from "./dom.js";

/** @typedef {"si" | "us"} System */

const KEY = "witnessmark.units";
const NAMES = { si: "SI", us: "US" };
/** @type {Set<(system: System) => void>} */
const listeners = new Set();

/** @returns {System} */
export function unitSystem() {
  return document.documentElement.dataset.wmUnits === "us" ? "us" : "si";
}

/**
 * @param {(system: System) => void} listener
 * @returns {() => void} stops it
 */
export function onUnitSystem(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** @param {System} system */
function change(system) {
  document.documentElement.dataset.wmUnits = system;
  try {
    localStorage.setItem(KEY, system);
  } catch {
    // Storage may be switched off; the choice then holds for this page only.
  }
  for (const listener of listeners) {
    listener(system);
  }
}

/** Take up the remembered choice; called once for a document. */
export function recallUnitSystem() {
  let kept = null;
  try {
    kept = localStorage.getItem(KEY);
  } catch {
    // as above
  }
  document.documentElement.dataset.wmUnits = kept === "us" ? "us" : "si";
}

/** The switch in the page: two buttons, one pressed. */
export class UnitSwitch extends HTMLElement {
  connectedCallback() {
    if (this.childElementCount === 0) {
      this.setAttribute("role", "group");
      this.setAttribute("aria-label", "Units of this handbook");
      for (const system of /** @type {System[]} */ (["si", "us"])) {
        const button = element("button", { type: "button", value: system }, NAMES[system]);
        button.addEventListener("click", () => change(system));
        this.append(button);
      }
    }
    this.stop = onUnitSystem(() => this.show());
    this.show();
  }

  disconnectedCallback() {
    this.stop?.();
  }

  show() {
    for (const button of this.querySelectorAll("button")) {
      button.setAttribute("aria-pressed", String(button.value === unitSystem()));
    }
  }
}

/** Put the switch into the head of the page, or at the top of its content. */
export function placeUnitSwitch() {
  if (document.querySelector("wm-unit-switch")) {
    return;
  }
  const made = document.createElement("wm-unit-switch");
  const title = document.querySelector(".md-header__title");
  if (title) {
    title.after(made);
  } else {
    (document.querySelector("main, [role=main]") ?? document.body).prepend(made);
  }
}
