/**
 * A table entry: rows of cells to type in, with buttons to add and to remove a row.
 */

import { setInvalid } from "./dom.js";

/** @typedef {{row: number, column: string, message: string}} CellError */

export class Cells {
  /** @param {HTMLElement} root */
  constructor(root) {
    const limits = /** @type {HTMLElement} */ (root.querySelector(".wm-field-table")).dataset;
    this.least = Number(limits.least);
    this.most = Number(limits.most);
    this.body = /** @type {HTMLTableSectionElement} */ (root.querySelector("tbody"));
    this.addButton = root.querySelector(".wm-add-row");
    this.removeButton = root.querySelector(".wm-remove-row");
    /** A row to copy, should all be gone. */
    this.pattern = /** @type {Element} */ (this.body.querySelector("tr")?.cloneNode(true));
  }

  /** @returns {HTMLInputElement[][]} */
  rows() {
    return [...this.body.rows].map((row) => [...row.querySelectorAll("input")]);
  }

  texts() {
    return this.rows().map((row) => row.map((cell) => cell.value));
  }

  /** @param {string[][]} texts */
  fill(texts) {
    while (this.body.rows.length > texts.length) {
      this.body.lastElementChild?.remove();
    }
    while (this.body.rows.length < texts.length) {
      this.append();
    }
    this.rows().forEach((row, number) =>
      row.forEach((cell, place) => (cell.value = texts[number]?.[place] ?? "")),
    );
    this.limitButtons();
  }

  /** A new empty row, ready to type in. */
  add() {
    if (this.body.rows.length < this.most) {
      this.append().querySelector("input")?.focus();
      this.limitButtons();
    }
  }

  /** Take the last row away. */
  remove() {
    if (this.body.rows.length > this.least) {
      this.body.lastElementChild?.remove();
      this.limitButtons();
    }
  }

  append() {
    const row = /** @type {Element} */ (this.pattern.cloneNode(true));
    const number = this.body.rows.length + 1;
    for (const cell of row.querySelectorAll("input")) {
      const label = cell.getAttribute("aria-label") ?? "";
      cell.setAttribute("aria-label", label.replace(/, row \d+,/, `, row ${number},`));
      cell.removeAttribute("value");
      cell.removeAttribute("disabled");
      cell.value = "";
    }
    this.body.append(row);
    return row;
  }

  /** A button that would do nothing says so, and keeps the focus. */
  limitButtons() {
    const count = this.body.rows.length;
    this.addButton?.setAttribute("aria-disabled", String(count >= this.most));
    this.removeButton?.setAttribute("aria-disabled", String(count <= this.least));
  }

  /** @param {CellError[]} errors */
  markWrong(errors) {
    this.rows().forEach((row, number) =>
      row.forEach((cell) =>
        setInvalid(
          cell,
          errors.some((error) => error.row === number && error.column === cell.dataset.column),
        ),
      ),
    );
  }
}
