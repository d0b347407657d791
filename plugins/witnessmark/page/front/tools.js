/**
 * The lists of the shop's tools: which one is chosen, and what the data book knows of it.
 */

import { putText } from "./dom.js";

/** @typedef {{name: string, title: string, kind: string, values: Record<string, string>,
 *             due: string}} Tool */

/** One place for a tool in the form. */
export class ToolField {
  /** @param {HTMLElement} root */
  constructor(root) {
    const { place = "", tools = "{}", chosen = "" } = root.dataset;
    this.root = root;
    this.name = place;
    /** The tool the page chooses, by its name; empty for none. */
    this.page = chosen;
    /** @type {Record<string, Tool>} */
    this.tools = JSON.parse(tools);
    this.list = /** @type {HTMLSelectElement} */ (root.querySelector("select"));
    this.list.removeAttribute("disabled");
    this.reset();
  }

  /** The chosen tool as it goes to Python. @returns {Tool | null} */
  value() {
    return this.tools[this.list.value] ?? null;
  }

  /** Whether the tool is the reader's own choice. */
  get changed() {
    return this.list.value !== this.page;
  }

  /** Put back what the page chooses. */
  reset() {
    putText(this.list, this.page);
  }

  /**
   * Choose a tool that was chosen before, if the shop still has it.
   * @param {string | undefined} name empty for none of the shop's
   */
  put(name) {
    if (name === "" || (name !== undefined && name in this.tools)) {
      putText(this.list, name);
    }
  }

  /** Nothing will ever be worked out with it. */
  close() {
    this.reset();
    this.list.setAttribute("disabled", "");
  }

  /** Show whose choice it is, and how long the certificate holds. */
  mark() {
    this.root.classList.toggle("wm-changed", this.changed);
    this.root.querySelector(".wm-whose")?.toggleAttribute("hidden", !this.changed);
    const line = this.root.querySelector(".wm-due");
    const due = this.value()?.due;
    if (line) {
      line.textContent = due ? `Certificate up to ${due}` : "";
    }
  }
}

/** The day on this device, year-month-day, by which certificates are judged. */
export function today() {
  const now = new Date();
  const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
