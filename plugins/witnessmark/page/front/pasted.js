/**
 * Rows of cells out of what a spreadsheet, a text file or a message has put on the clipboard.
 *
 * Lines are rows. Tabs part the cells, or semicolons where there are no tabs: commas do not, for
 * they are decimal marks. Nothing is read as a number here.
 */

/**
 * The cells of a pasted text; null where it is the text of one cell, which the browser pastes.
 * @param {string} text
 * @returns {string[][] | null}
 */
export function pastedRows(text) {
  const whole = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "");
  if (!/[\t\n;]/.test(whole)) {
    return null;
  }
  return parted(whole, whole.includes("\t") ? "\t" : ";");
}

/**
 * @param {string} text
 * @param {string} mark what parts two cells of a row
 * @returns {string[][]}
 */
function parted(text, mark) {
  /** @type {string[][]} */
  const rows = [];
  /** @type {string[]} */
  let row = [];
  let cell = "";
  let quoted = false;
  const endCell = () => {
    row.push(cell.replace(/\s+/g, " ").trim());
    cell = "";
  };
  for (let place = 0; place < text.length; place += 1) {
    const letter = text.charAt(place);
    if (quoted && letter === '"' && text.charAt(place + 1) === '"') {
      cell += '"';
      place += 1;
    } else if (quoted && letter === '"') {
      quoted = false;
    } else if (letter === '"' && cell === "" && closes(text, place + 1, mark)) {
      quoted = true;
    } else if (!quoted && letter === mark) {
      endCell();
    } else if (!quoted && letter === "\n") {
      endCell();
      rows.push(row);
      row = [];
    } else {
      cell += letter;
    }
  }
  endCell();
  return [...rows, row];
}

/**
 * Whether a quotation mark opened before `from` is closed at the end of a cell. An inch mark that
 * begins a cell is not.
 * @param {string} text
 * @param {number} from
 * @param {string} mark
 */
function closes(text, from, mark) {
  const end = /"(?!")/.exec(text.slice(from).replace(/""/g, "  "));
  const after = end === null ? undefined : text[from + end.index + 1];
  return end !== null && (after === undefined || after === mark || after === "\n");
}
