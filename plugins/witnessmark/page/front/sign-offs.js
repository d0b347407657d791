/**
 * The overview of sign-offs: filters over the table that the build has written, and a word at
 * whatever is overdue today. Days are compared as text: 2025-11-25 sorts as it should.
 */

import { element } from "./dom.js";

/** @param {number} [ahead] days from today */
function day(ahead = 0) {
  const now = new Date();
  const at = new Date(now.getFullYear(), now.getMonth(), now.getDate() + ahead);
  const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** Say of every review on the page that should have been done by now that it is overdue. */
export function markOverdue() {
  for (const place of document.querySelectorAll("[data-due]:not([data-told])")) {
    place.setAttribute("data-told", "");
    if ((place.getAttribute("data-due") ?? "") < day()) {
      const at = place.matches("tr") ? place.lastElementChild : place;
      at?.append(" ", element("strong", { class: "wm-overdue" }, "Overdue."));
    }
  }
}

/** @type {readonly (readonly [string, string, (row: HTMLElement) => boolean])[]} */
const FILTERS = [
  ["changed", "Changed", (row) => row.dataset.state === "changed"],
  ["unsigned", "Not signed", (row) => row.dataset.state === "unsigned"],
  ["signed", "Signed", (row) => row.dataset.state === "signed"],
];
const SOON = 30;

export class SignOffsElement extends HTMLElement {
  connectedCallback() {
    if (this.querySelector(".wm-filters")) {
      return;
    }
    const boxes = FILTERS.map(([name, words]) => this.box(name, words, true));
    const calculators = this.box("calculators", "Calculators too", true);
    const due = this.box("due", `Only what is due within ${SOON} days`, false);
    this.shown = element("p", { class: "wm-shown", role: "status" });
    this.prepend(
      element("fieldset", { class: "wm-filters" }, ...boxes, calculators, due),
      this.shown,
    );
    this.addEventListener("change", () => this.filter());
    this.filter();
  }

  /**
   * @param {string} name
   * @param {string} words
   * @param {boolean} checked
   */
  box(name, words, checked) {
    return element("label", {}, element("input", { type: "checkbox", name, checked }), words);
  }

  /** @param {string} name */
  wants(name) {
    const box = this.querySelector(`input[name="${name}"]`);
    return box instanceof HTMLInputElement && box.checked;
  }

  filter() {
    const last = day(SOON);
    const rows = /** @type {HTMLElement[]} */ ([...this.querySelectorAll("tbody tr")]);
    for (const row of rows) {
      const due = row.dataset.due ?? "";
      row.hidden =
        !FILTERS.some(([name, , fits]) => this.wants(name) && fits(row)) ||
        (row.dataset.kind === "calculator" && !this.wants("calculators")) ||
        (this.wants("due") && (due === "" || due > last));
    }
    const count = rows.filter((row) => !row.hidden).length;
    if (this.shown) {
      this.shown.textContent = `${count} of ${rows.length} pages shown.`;
    }
  }
}
