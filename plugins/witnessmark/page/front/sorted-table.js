/**
 * Tables of reference that the reader sorts by a press on the head of a column.
 *
 * The first press sorts upward, the next downward. Rows that are equal, or have no figure, keep
 * the order in which they were written. The keyboard reaches each head, as it is a button.
 */

import { element } from "./dom.js";

const words = new Intl.Collator(undefined, { numeric: true });

/** Give every table that has none yet its buttons. */
export function furnishTables() {
  for (const table of document.querySelectorAll("table.wm-sorted:not([data-live])")) {
    table.setAttribute("data-live", "");
    for (const head of table.querySelectorAll("thead th")) {
      const button = element("button", { type: "button", class: "wm-sort" });
      button.append(...head.childNodes);
      button.addEventListener("click", () => sortBy(head));
      head.append(button);
    }
  }
}

/** @param {Element} head */
function sortBy(head) {
  const table = /** @type {HTMLTableElement} */ (head.closest("table"));
  const body = /** @type {HTMLTableSectionElement} */ (table.tBodies[0]);
  const column = /** @type {HTMLTableCellElement} */ (head).cellIndex;
  const downward = head.getAttribute("aria-sort") === "ascending";
  for (const other of table.querySelectorAll("thead th[aria-sort]")) {
    other.removeAttribute("aria-sort");
  }
  head.setAttribute("aria-sort", downward ? "descending" : "ascending");
  const rows = [...body.rows];
  rows.forEach((row, place) => {
    row.dataset.place ??= String(place);
  });
  rows.sort(
    (a, b) =>
      compare(valueOf(a, column), valueOf(b, column), downward ? -1 : 1) ||
      Number(a.dataset.place) - Number(b.dataset.place),
  );
  body.append(...rows);
}

/**
 * @param {number | string | null} left
 * @param {number | string | null} right
 * @param {number} sign
 */
function compare(left, right, sign) {
  if (left === null || right === null) {
    return Number(left === null) - Number(right === null); // no figure: at the end either way
  }
  return typeof left === "number" && typeof right === "number"
    ? sign * (left - right)
    : sign * words.compare(String(left), String(right));
}

/**
 * What a row is sorted by: the figure of its cell, the words, or null where it has neither.
 * @param {HTMLTableRowElement} row
 * @param {number} column
 */
function valueOf(row, column) {
  const cell = /** @type {HTMLTableCellElement} */ (row.cells[column]);
  const { value } = cell.dataset;
  const text = cell.textContent.trim();
  return value !== undefined ? Number(value) : text === "–" ? null : text;
}
