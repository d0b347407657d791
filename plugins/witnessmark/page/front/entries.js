/**
 * The form of a calculator: what stands in its fields, in which unit, and what is wrong with it.
 *
 * No number is worked out here. A change of unit takes the number that Python has given for
 * that unit; everything else is text handed over as it was typed.
 */


/** @typedef {Record<string, any>} Part */

const NUMBER = "[+\\-−]?[\\d.,/ \\u00a0\\u202f½¼¾⅛⅜⅝⅞⅓⅔]*[\\d½¼¾⅛⅜⅝⅞⅓⅔.]";
const BARE = new RegExp(`^\\s*(${NUMBER})\\s*((?:±|\\+/-|\\+-|\\+).*)?$`);
const RANGE = new RegExp(`^\\s*${NUMBER}\\s*(?:…|\\.\\.+)\\s*${NUMBER}\\s*$`);
const PLAIN = "plain number";

/**
 * What a field says together with the unit chosen beside it.
 * A text that carries a unit of its own stays as it is.
 * @param {string} typed
 * @param {string} unit
 */
export function withUnit(typed, unit) {
  const bare = BARE.exec(typed);
  if (unit && bare) {
    return bare[2] ? `${bare[1]} ${unit} ${bare[2]}` : `${bare[1]} ${unit}`;
  }
  return unit && RANGE.test(typed) ? `${typed.trim()} ${unit}` : typed;
}

/** One entry of the form. */
export class EntryField {
  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    this.name = root.dataset.entry ?? "";
    this.form = root.dataset.form ?? "quantity";
    this.fixed = root.classList.contains("wm-fixed");
    this.when = /** @type {Record<string, string[]>} */ (JSON.parse(root.dataset.when ?? "{}"));
    const field = root.querySelector(".wm-field");
    this.control = /** @type {HTMLInputElement | HTMLSelectElement | null} */ (
      this.form === "table" ? null : (field?.querySelector("input, select") ?? null)
    );
    this.units = /** @type {HTMLSelectElement | null} */ (
      field?.querySelector("select.wm-unit-list") ?? null
    );
    /** Whether a number has been typed since the unit was chosen. */
    this.typed = false;
    /** @type {Part | null} */
    this.read = null;
    this.unit = this.units?.value ?? "";
    this.first = this.fixed ? null : this.state();
  }

  /** Make the field usable: scripts run. */
  open() {
    for (const part of this.root.querySelectorAll("input, select")) {
      part.removeAttribute("disabled");
    }
    this.root.querySelector(".wm-row-buttons")?.removeAttribute("hidden");
  }

  /** The text for `evaluate`, or the rows of a table. @returns {string | string[][]} */
  value() {
    if (this.fixed) {
      return this.root.dataset.rows ? JSON.parse(this.root.dataset.rows) : (this.root.dataset.text ?? "");
    }
    if (this.form === "table") {
      return this.rows().map((row) => row.map((cell) => cell.value));
    }
    const typed = this.control?.value ?? "";
    return this.units ? withUnit(typed, this.units.value) : typed;
  }

  /** All that the reader can change, to tell whether he has and to put it back. */
  state() {
    return JSON.stringify([this.value(), this.control?.value ?? null, this.units?.value ?? null]);
  }

  get changed() {
    return this.first !== null && this.state() !== this.first;
  }

  /** Put back what the page gives. */
  reset() {
    if (this.first === null) {
      return;
    }
    const [value, typed, unit] = JSON.parse(this.first);
    if (this.form === "table") {
      this.fill(value);
    } else if (this.control) {
      this.control.value = typed;
    }
    if (this.units) {
      this.units.value = unit;
      this.unit = unit;
    }
    this.typed = false;
  }

  /** The reader has typed. */
  touch() {
    this.typed = true;
  }

  /**
   * The reader has chosen another unit. The number goes along when it is the page's or was
   * converted before; a number typed since stays, because he has typed it for this unit.
   */
  changeUnit() {
    const unit = this.units?.value ?? "";
    const number = this.read?.as_units?.[unit];
    const typed = this.control?.value ?? "";
    const bare = BARE.exec(typed);
    if (!this.typed && number !== undefined && this.control) {
      if (bare && (!bare[2] || bare[2].includes("%"))) {
        this.control.value = bare[2] ? `${number} ${bare[2]}` : number;
      } else {
        // A tolerance in its own unit: keep the text, with that unit written out.
        this.control.value = withUnit(typed, this.unit);
      }
    }
    this.unit = unit;
    this.typed = false;
  }

  /**
   * Turn the field to the unit system of the page, unless the reader has typed in it.
   * @param {string | undefined} unit
   */
  preferUnit(unit) {
    if (unit === undefined || !this.units || this.changed || this.units.value === unit) {
      return;
    }
    this.units.value = unit;
    this.changeUnit();
    this.first = this.state();
  }

  /**
   * Show how the entry was read, or what is wrong with it.
   * @param {Part} part
   */
  answer(part) {
    this.root.hidden = !part.active;
    if (part.error === null) {
      this.read = part;
    }
    if (this.fixed) {
      return;
    }
    this.say(".wm-echo", echo(part));
    this.say(".wm-error", part.error?.message ?? "");
    this.control?.setAttribute("aria-invalid", String(part.error !== null));
    this.root.classList.toggle("wm-wrong", part.error !== null);
    /** @type {Part[]} */
    const cells = part.error?.cells ?? [];
    this.rows().forEach((row, number) =>
      row.forEach((cell) => {
        const wrong = cells.some((each) => each.row === number && each.column === cell.dataset.column);
        cell.setAttribute("aria-invalid", String(wrong));
      }),
    );
  }

  /** Mark the entry as the reader's own. */
  mark() {
    this.root.classList.toggle("wm-changed", this.changed);
    this.root.querySelector(".wm-whose")?.toggleAttribute("hidden", !this.changed);
  }

  /**
   * @param {string} place
   * @param {string} words
   */
  say(place, words) {
    const node = this.root.querySelector(place);
    if (node && node.textContent !== words) {
      node.textContent = words;
    }
  }

  /** The cells of a table entry. @returns {HTMLInputElement[][]} */
  rows() {
    return [...this.root.querySelectorAll("tbody tr")].map((row) => [
      ...row.querySelectorAll("input"),
    ]);
  }

  /** @param {string[][]} texts */
  fill(texts) {
    while (this.rows().length < texts.length) {
      this.addRow();
    }
    while (this.rows().length > texts.length) {
      this.root.querySelector("tbody tr:last-child")?.remove();
    }
    this.rows().forEach((row, number) =>
      row.forEach((cell, place) => (cell.value = texts[number]?.[place] ?? "")),
    );
  }

  /** A new empty row with the cells of the last one. */
  addRow() {
    const body = this.root.querySelector("tbody");
    const last = body?.querySelector("tr:last-child");
    const most = Number(this.root.querySelector(".wm-field-table")?.getAttribute("data-most"));
    if (!body || !last || this.rows().length >= most) {
      return;
    }
    const row = /** @type {Element} */ (last.cloneNode(true));
    const number = this.rows().length + 1;
    for (const cell of row.querySelectorAll("input")) {
      cell.value = "";
      cell.setAttribute("value", "");
      const label = cell.getAttribute("aria-label") ?? "";
      cell.setAttribute("aria-label", label.replace(/row \d+/, `row ${number}`));
    }
    body.append(row);
    row.querySelector("input")?.focus();
  }

  /** Take the last row away, down to the least number of rows. */
  removeRow() {
    const least = Number(this.root.querySelector(".wm-field-table")?.getAttribute("data-least"));
    if (this.rows().length > Math.max(least, 1)) {
      this.root.querySelector("tbody tr:last-child")?.remove();
    }
  }
}

/**
 * How an entry was read, where that is not plain from what stands in the field.
 * @param {Part} part
 */
export function echo(part) {
  if (part.error || !("as_units" in part)) {
    return "";
  }
  const words = [];
  if (part.typed_unit !== part.unit) {
    words.push(`= ${part.as_units[part.unit]} ${part.unit || PLAIN}`.trimEnd());
  }
  if ("low" in part) {
    words.push(`${part.tolerance_assumed ? "usual tolerance: " : ""}${part.display}`);
  }
  return words.join("; ");
}

