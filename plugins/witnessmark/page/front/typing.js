/**
 * Texts put into fields as if they had been typed, so that the browser's undo takes them back.
 */

/**
 * @param {HTMLInputElement} cell
 * @param {string} text
 */
export function typeInto(cell, text) {
  if (cell.value === text) {
    return;
  }
  cell.focus({ preventScroll: true });
  cell.select();
  // The one way into the browser's undo; out of favour, but nothing has taken its place.
  const typed = text === "" ? document.execCommand("delete")
    : document.execCommand("insertText", false, text);
  if (!typed || cell.value !== text) {
    cell.value = text;
    cell.dispatchEvent(new InputEvent("input", { bubbles: true }));
  }
}

/**
 * Whether an arrow key would leave the field: nothing is left to step over on that side, or all
 * of it is selected, as after a step from cell to cell.
 * @param {HTMLInputElement} cell
 * @param {"ArrowLeft" | "ArrowRight"} key
 */
export function atEdge(cell, key) {
  const { selectionStart: start, selectionEnd: end, value } = cell;
  if (start === 0 && end === value.length) {
    return true;
  }
  return start === end && start === (key === "ArrowLeft" ? 0 : value.length);
}
