/**
 * A table entry: rows of cells to type in or to paste into, with keys and buttons that add and
 * take away rows. Rows beyond the most are kept when they are pasted: Python says that they are
 * too many, and nothing is lost.
 */

import { putText, setInvalid } from "./dom.js";
import { pastedRows } from "./pasted.js";
import { atEdge, typeInto } from "./typing.js";

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
    this.putBackButton = root.querySelector(".wm-put-row-back");
    /** Rows that were taken away with something in them, the last one last. @type {string[][]} */
    this.taken = [];
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
    this.taken = [];
    while (this.body.rows.length > texts.length) {
      this.body.lastElementChild?.remove();
    }
    while (this.body.rows.length < texts.length) {
      this.append();
    }
    this.rows().forEach((row, number) =>
      row.forEach((cell, place) => putText(cell, texts[number]?.[place] ?? "")),
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

  /** Take the last row away; what stood in it can be put back. */
  remove() {
    if (this.body.rows.length > this.least) {
      const texts = this.texts().at(-1) ?? [];
      if (texts.some((text) => text.trim() !== "")) {
        this.taken.push(texts);
      }
      this.body.lastElementChild?.remove();
      this.limitButtons();
    }
  }

  /** Put the row back that was taken away last. */
  putBack() {
    const texts = this.taken.pop();
    if (texts !== undefined) {
      const cells = [...this.append().querySelectorAll("input")];
      cells.forEach((cell, place) => putText(cell, texts[place] ?? ""));
      cells[0]?.focus();
      this.limitButtons();
    }
  }

  /**
   * Spread a pasted block over the cells from the one it was pasted into, adding rows as it needs
   * them. What has no column goes with the last cell of its row, where it is told as wrong.
   * @param {ClipboardEvent} event
   */
  pasted(event) {
    const at = this.placeOf(event.target);
    const block = at && pastedRows(event.clipboardData?.getData("text/plain") ?? "");
    if (!at || !block) {
      return;
    }
    event.preventDefault();
    while (this.body.rows.length < at.row + block.length) {
      this.append();
    }
    const rows = this.rows().slice(at.row);
    block.forEach((texts, down) => {
      const cells = rows[down]?.slice(at.column) ?? [];
      const last = cells.length - 1;
      cells.slice(0, texts.length).forEach((cell, right) => {
        typeInto(cell, right < last ? texts[right] ?? "" : texts.slice(last).join("; "));
      });
    });
    this.go(at.row, at.column);
    this.limitButtons();
  }

  /**
   * Keys that go from cell to cell. Enter goes down, from the last column to the next row's
   * first, and makes a row under a last one that is not empty; Backspace in an empty row takes it
   * away.
   * @param {KeyboardEvent} event
   * @returns {boolean} whether a row has come or gone
   */
  pressed(event) {
    const at = this.placeOf(event.target);
    if (!at || event.isComposing || event.ctrlKey || event.altKey || event.metaKey) {
      return false;
    }
    const { key, shiftKey } = event;
    const before = this.body.rows.length;
    if (key === "Enter") {
      event.preventDefault();
      this.enter(at, shiftKey);
    } else if (!shiftKey && (key === "ArrowUp" || key === "ArrowDown")) {
      event.preventDefault();
      this.go(at.row + (key === "ArrowUp" ? -1 : 1), at.column);
    } else if (!shiftKey && (key === "ArrowLeft" || key === "ArrowRight")) {
      if (atEdge(at.cell, key) && this.go(at.row, at.column + (key === "ArrowLeft" ? -1 : 1))) {
        event.preventDefault();
      }
    } else if (key === "Backspace" && this.isEmpty(at.row) && before > this.least) {
      event.preventDefault();
      this.body.rows[at.row]?.remove();
      this.renumber();
      this.go(Math.max(at.row - 1, 0), at.column);
      this.limitButtons();
    }
    return this.body.rows.length !== before;
  }

  /**
   * @param {{row: number, column: number}} at
   * @param {boolean} back
   */
  enter(at, back) {
    if (back) {
      this.go(at.row - 1, at.column);
      return;
    }
    const last = at.row === this.body.rows.length - 1;
    if (last && !this.isEmpty(at.row) && this.body.rows.length < this.most) {
      this.append();
      this.limitButtons();
    }
    this.go(at.row + 1, this.cell(at.row, at.column + 1) ? at.column : 0);
  }

  /**
   * Go to a cell and select what stands in it.
   * @param {number} row
   * @param {number} column
   * @returns {boolean} whether there is such a cell
   */
  go(row, column) {
    const cell = this.cell(row, column);
    cell?.focus();
    cell?.select();
    return cell !== undefined;
  }

  /**
   * Where a cell stands; null for anything else.
   * @param {EventTarget | null} target
   */
  placeOf(target) {
    const rows = this.rows();
    const row = rows.findIndex((cells) => cells.some((cell) => cell === target));
    const column = rows[row]?.findIndex((cell) => cell === target) ?? -1;
    const cell = this.cell(row, column);
    return cell === undefined ? null : { row, column, cell };
  }

  /**
   * @param {number} row
   * @param {number} column
   */
  cell(row, column) {
    return this.rows()[row]?.[column];
  }

  /** @param {number} row */
  isEmpty(row) {
    return this.rows()[row]?.every((cell) => cell.value.trim() === "") ?? false;
  }

  append() {
    const row = /** @type {Element} */ (this.pattern.cloneNode(true));
    for (const cell of row.querySelectorAll("input")) {
      cell.removeAttribute("value");
      cell.removeAttribute("disabled");
      cell.value = "";
    }
    this.body.append(row);
    this.renumber();
    return row;
  }

  /** The rows' numbers in the names of the cells. */
  renumber() {
    this.rows().forEach((row, place) => {
      for (const cell of row) {
        const label = cell.getAttribute("aria-label") ?? "";
        cell.setAttribute("aria-label", label.replace(/, row \d+,/, `, row ${place + 1},`));
      }
    });
  }

  /** A button that would do nothing says so, and keeps the focus. */
  limitButtons() {
    const count = this.body.rows.length;
    this.addButton?.setAttribute("aria-disabled", String(count >= this.most));
    this.removeButton?.setAttribute("aria-disabled", String(count <= this.least));
    this.putBackButton?.toggleAttribute("hidden", this.taken.length === 0);
  }

  /**
   * Mark the cells that cannot be read; each tells on being pointed at what is wrong with it.
   * @param {CellError[]} errors
   */
  markWrong(errors) {
    this.rows().forEach((row, number) => {
      for (const cell of row) {
        const error = errors.find(
          (each) => each.row === number && each.column === cell.dataset.column,
        );
        setInvalid(cell, error !== undefined);
        cell.title = error?.message ?? "";
      }
    });
  }
}
