/**
 * The engine on the bench: chosen once, remembered on this device, or brought by a link
 * (`?engine=LG2/canal`). A page that covers it shows what holds for it and nothing else;
 * without a choice every engine is shown with its label.
 */

import { element, putText } from "./dom.js";
import { countTicks } from "./ticks.js";

const KEY = "witnessmark.engine";
const EVERY = "";

/** `LG2/canal` as it is said: `LG2 canal`. @param {string} engine */
const said = (engine) => engine.replace("/", " ").trim();

/** @returns {string} the chosen engine, empty for none */
export function chosenEngine() {
  return document.documentElement.dataset.wmEngine ?? EVERY;
}

/** @type {Set<() => void>} */
const listeners = new Set();

/**
 * Call `hear` when another engine is chosen.
 * @param {() => void} hear
 * @returns {() => void} stops it
 */
export function onEngine(hear) {
  listeners.add(hear);
  return () => listeners.delete(hear);
}

/** Choose an engine for the page, as the reader does in its field. @param {string} engine */
export function setEngine(engine) {
  keep(engine);
  showForEngine(true);
}

/** @param {string} engine */
function keep(engine) {
  document.documentElement.dataset.wmEngine = engine;
  try {
    localStorage.setItem(KEY, engine);
  } catch {
    // Storage may be switched off; the choice then holds for this page only.
  }
}

/** Take up the choice of a link, or the remembered one; called once for a document. */
export function recallEngine() {
  const linked = new URLSearchParams(location.search).get("engine");
  if (linked !== null) {
    keep(linked.trim().replace(" ", "/"));
    return;
  }
  let kept = null;
  try {
    kept = localStorage.getItem(KEY);
  } catch {
    // as above
  }
  document.documentElement.dataset.wmEngine = kept ?? EVERY;
}

/** The field of choice: `<wm-engine data-wm-engines="LG2/canal LG2/stationary …">`. */
export class EngineChoice extends HTMLElement {
  connectedCallback() {
    if (this.childElementCount === 0) {
      const engines = (this.dataset.wmEngines ?? "").split(" ").filter(Boolean);
      const list = element(
        "select",
        {},
        element("option", { value: EVERY }, "every engine"),
        ...engines.map((engine) => element("option", { value: engine }, said(engine))),
      );
      list.addEventListener("change", () => {
        setEngine(/** @type {HTMLSelectElement} */ (list).value);
      });
      this.append(
        element("label", {}, element("span", {}, "Engine on the bench"), list),
        element("p", { class: "wm-engine-said", role: "status" }),
      );
    }
    showForEngine(true);
  }

  show() {
    const list = /** @type {HTMLSelectElement} */ (this.querySelector("select"));
    const engine = chosenEngine();
    const known = [...list.options].some((option) => option.value === engine);
    putText(list, known ? engine : EVERY);
    const words = /** @type {HTMLElement} */ (this.querySelector(".wm-engine-said"));
    const text = known ? "" : `This page is not for ${said(engine)}: every engine is shown.`;
    if (words.textContent !== text) {
      words.textContent = text;
    }
  }
}

/** The content that has been furnished last, and for which engine. */
let shown = { content: /** @type {Element | null} */ (null), engine: EVERY };

/**
 * Show what holds for the chosen engine, and nothing else where the page covers it.
 * @param {boolean} [again] even if the page has been furnished already
 */
export function showForEngine(again = false) {
  const plate = document.querySelector(".wm-plate[data-wm-engines]");
  const content = plate?.parentElement ?? null;
  const engine = chosenEngine();
  if (!again && content === shown.content && engine === shown.engine) {
    return;
  }
  shown = { content, engine };
  for (const choice of document.querySelectorAll("wm-engine")) {
    if (choice instanceof EngineChoice && choice.childElementCount > 0) {
      choice.show();
    }
  }
  if (content === null) {
    return;
  }
  const covers = (plate?.getAttribute("data-wm-engines") ?? "").split(" ");
  const one = covers.includes(engine);
  content.toggleAttribute("data-wm-one-engine", one);
  for (const part of content.querySelectorAll("[data-wm-scopes]")) {
    const holds = (part.getAttribute("data-wm-scopes") ?? "").split(" ").includes(engine);
    part.toggleAttribute("data-wm-off", one && !holds);
    if (one && holds && part instanceof HTMLDetailsElement) {
      part.open = true;
    }
  }
  numberSteps(content);
  countTicks();
  listeners.forEach((hear) => hear());
}

/**
 * Steps count through what is shown; the list of contents follows.
 * @param {Element} content
 */
function numberSteps(content) {
  let number = 0;
  for (const step of content.querySelectorAll(".wm-step")) {
    const off = step.closest("[data-wm-off]") !== null;
    number += off ? 0 : 1;
    const place = step.querySelector(".wm-step-number");
    if (place && !off) {
      place.textContent = String(number);
      step.querySelector(".wm-step-tick")?.setAttribute("aria-label", `Step ${number} done`);
    }
    const title = step.querySelector("h2[id]")?.id ?? "";
    for (const link of document.querySelectorAll(`a.md-nav__link[href$="#${CSS.escape(title)}"]`)) {
      link.closest("li")?.toggleAttribute("data-wm-off", off);
      const words = link.querySelector(".md-ellipsis") ?? link;
      const text = (words.textContent ?? "").trim();
      if (!off && /^\d+\. /.test(text)) {
        words.textContent = text.replace(/^\d+/, String(number));
      }
    }
  }
}
