/**
 * The form of a calculator: what stands in its fields, in which unit, and what is wrong with it.
 *
 * No number is worked out here. A change of unit takes the number that Python has given for
 * that unit; everything else is text handed over as it was typed.
 */

import { release, settle } from "./by-tool.js";
import { Cells } from "./cells.js";
import { putText, setInvalid } from "./dom.js";
import { carriesUnit, relativeTolerance, withUnit } from "./entry-text.js";

/** @typedef {Record<string, any>} Part */
/**
 * What the field stands for while nothing has been typed: the text as it goes to Python, how it
 * looks in its own unit, and its number in every other unit as soon as that is known.
 * @typedef {{text: string, shown: string, unit: string, inUnits: Record<string, string> | null}}
 *   Anchor
 */

const PLAIN = "of 1";

/** One entry of the form. */
export class EntryField {
  /** @param {HTMLElement} root */
  constructor(root) {
    const { entry = "", form = "quantity", text = "", asUnits } = root.dataset;
    this.root = root;
    this.name = entry;
    this.fixed = root.classList.contains("wm-fixed");
    this.cells = form === "table" && !this.fixed ? new Cells(root) : null;
    this.radios = /** @type {HTMLInputElement[]} */ ([...root.querySelectorAll(".wm-options input")]);
    this.control = /** @type {HTMLInputElement | HTMLSelectElement | null} */ (
      root.querySelector(".wm-field :is(input, select:not(.wm-unit-list))")
    );
    this.units = /** @type {HTMLSelectElement | null} */ (
      root.querySelector("select.wm-unit-list")
    );
    /** What the page gives, as it goes to Python. @type {string | string[][]} */
    this.page = form === "table" ? JSON.parse(text) : text;
    /** What the build has put into the field. @type {Anchor} */
    const built = {
      text,
      shown: this.control?.getAttribute("value") ?? "",
      unit: root.querySelector("option[selected]")?.getAttribute("value") ?? "",
      inUnits: asUnits === undefined ? null : JSON.parse(asUnits),
    };
    const { ownShown = "", ownUnit = "" } = root.dataset;
    const byTool = root.classList.contains("wm-by-tool");
    /** @type {Anchor} */
    this.pageAnchor = byTool ? { text, shown: ownShown, unit: ownUnit, inUnits: null } : built;
    /** Null once something has been typed. @type {Anchor | null} */
    this.anchor = this.pageAnchor;
    /** How the field was last read. @type {Part | null} */
    this.read = null;
    const { follows: of, followsResult: result = "" } = root.dataset;
    /** The calculator, by its identity, and the result that feed the entry. */
    this.follows = of === undefined ? null : { of, result };
    /** Whether they do now; typing over a fed entry ends it. */
    this.following = this.follows !== null;
    /** What the source gave last. @type {Anchor | null} */
    this.fed = null;
    /**
     * What the entry is without the tool that settles it now.
     * @type {import("./by-tool.js").Kept | null}
     */
    this.kept = null;
    this.open();
    if (byTool) {
      const option = root.querySelector(
        ".wm-options [checked], .wm-field select:not(.wm-unit-list) option[selected]",
      );
      settle(this, { ...built, text: option?.getAttribute("value") ?? "" }, "");
    }
  }

  /** Make the field usable: scripts run. A reload must not bring back what was typed before. */
  open() {
    for (const part of this.root.querySelectorAll("input, select")) {
      part.removeAttribute("disabled");
    }
    this.root.querySelector(".wm-row-buttons")?.removeAttribute("hidden");
    this.reset();
  }

  /** Make the field unusable: nothing will ever be worked out from it. */
  close() {
    for (const part of this.root.querySelectorAll("input, select")) {
      part.setAttribute("disabled", "");
    }
    this.root.querySelector(".wm-row-buttons")?.setAttribute("hidden", "");
    this.say(".wm-error", "");
    this.root.classList.remove("wm-wrong");
    this.root.querySelectorAll("[aria-invalid]").forEach((part) => setInvalid(part, false));
  }

  /** The text for Python, or the rows of a table. @returns {string | string[][]} */
  value() {
    if (this.kept) {
      return this.kept.value;
    }
    if (this.fixed) {
      return this.page;
    }
    if (this.cells) {
      return this.cells.texts();
    }
    if (this.radios.length > 0) {
      return this.radios.find((radio) => radio.checked)?.value ?? "";
    }
    if (this.control instanceof HTMLSelectElement) {
      return this.control.value;
    }
    return this.anchor ? this.anchor.text : this.typedText();
  }

  typedText() {
    return withUnit(this.control?.value ?? "", this.units?.value ?? "");
  }

  /** What the page calls the entry. */
  get label() {
    return this.root.querySelector(".wm-label, legend, label")?.textContent?.trim() ?? this.name;
  }

  /** Whether the entry is the reader's own. */
  get changed() {
    if (this.follows) {
      return !this.following;
    }
    return !this.fixed && JSON.stringify(this.value()) !== JSON.stringify(this.page);
  }

  /** Put back what the page gives, in the unit that is chosen where there is one. */
  reset() {
    release(this); // the next answer settles it again where it is to be
    if (this.fixed) {
      return;
    }
    if (this.cells) {
      this.cells.fill(/** @type {string[][]} */ (this.page));
    }
    for (const radio of this.radios) {
      radio.checked = radio.value === this.page;
    }
    if (this.control instanceof HTMLSelectElement) {
      putText(this.control, String(this.page));
    } else if (this.control) {
      this.following = this.follows !== null;
      this.anchor = this.fed ?? this.pageAnchor;
      this.showAnchor(this.anchor, this.anchor.unit);
    }
  }

  /**
   * Put in what the reader had entered before.
   * @param {string | string[][]} value as `value()` gave it
   */
  put(value) {
    if (this.fixed || (this.cells !== null) !== Array.isArray(value)) {
      return; // the page has changed since
    }
    release(this); // the next answer settles it again where it is to be
    if (Array.isArray(value)) {
      this.cells?.fill(value);
      return;
    }
    for (const radio of this.radios) {
      radio.checked = radio.value === value;
    }
    if (this.control) {
      putText(this.control, value);
      this.touch();
    }
  }

  /** The reader has typed: from now on the field itself counts. */
  touch() {
    this.anchor = null;
    this.following = false;
  }

  /** Back to the figure of the page, which for a fed entry is what its source gave last. */
  forget() {
    this.fed = null;
    this.reset();
  }

  /**
   * The reader has chosen another unit. What the page gives, or what was typed before an earlier
   * choice or with a unit of its own, is shown in the new unit and stays the same quantity; a bare
   * number typed since then stays as it is, because it was typed for this unit.
   */
  changeUnit() {
    const unit = this.units?.value ?? "";
    const shown = this.control?.value ?? "";
    if (this.read?.as_units && carriesUnit(shown) && this.read.text === shown) {
      const { text, typed_unit: typedUnit, as_units: inUnits } = this.read;
      this.anchor ??= { text, shown, unit: typedUnit, inUnits };
    }
    if (this.anchor && this.showAnchor(this.anchor, unit)) {
      return;
    }
    this.anchor = {
      text: this.typedText(),
      shown,
      unit,
      inUnits: null,
    };
  }

  /**
   * @param {Anchor} anchor
   * @param {string} unit
   * @returns {boolean} whether the field could be turned to the unit
   */
  showAnchor(anchor, unit) {
    const number = anchor.inUnits?.[unit];
    if (!this.control || (unit !== anchor.unit && number === undefined)) {
      return false;
    }
    const converted = `${number} ${relativeTolerance(anchor.shown)}`.trimEnd();
    putText(this.control, unit === anchor.unit ? anchor.shown : converted);
    if (this.units) {
      putText(this.units, unit);
    }
    return true;
  }

  /**
   * Turn the field to a unit system, unless it holds what the reader has typed.
   * @param {"si" | "us"} system
   */
  turnTo(system) {
    const { unitUs } = this.root.dataset;
    const own = [this.pageAnchor, this.fed].includes(this.anchor);
    const untouched = this.anchor !== null && (own || this.kept !== null);
    if (this.anchor && untouched && this.units && unitUs !== undefined) {
      this.showAnchor(this.anchor, system === "us" ? unitUs : this.anchor.unit);
    }
  }

  /**
   * Show how the entry was read, or what is wrong with it.
   * @param {Part} part
   */
  answer(part) {
    this.root.hidden = !part.active;
    if (part.tool) {
      settle(this, anchorOf(part), part.tool.title, part.display);
    } else {
      release(this);
    }
    if (this.following && !part.tool) {
      this.take(part);
    }
    if (this.fixed) {
      return;
    }
    if (this.anchor && part.as_units && part.text === this.anchor.text) {
      this.anchor.inUnits = part.as_units;
    }
    const wrong = part.error !== null;
    this.read = part;
    this.followUnit(part);
    this.say(".wm-echo", echo(part));
    this.say(".wm-error", part.error?.message ?? "");
    this.root.classList.toggle("wm-wrong", wrong);
    if (this.cells) {
      this.cells.markWrong(part.error?.cells ?? []);
      return;
    }
    setInvalid(this.control, wrong);
  }

  /**
   * Take over what the source gives; where it gives nothing, its last figure stays to be seen,
   * with the reason why it does not count.
   * @param {Part} part
   */
  take(part) {
    if (this.fixed) {
      this.say(".wm-error", part.error?.message ?? "");
    }
    if (part.error || !part.as_units || part.text === (this.fed ?? this.pageAnchor).text) {
      return;
    }
    const { text, as_units: inUnits } = part;
    const first = this.fed ?? this.pageAnchor;
    this.fed = anchorOf(part);
    if (this.fixed) {
      const { unitSi = "", unitUs = "" } = this.root.dataset;
      this.say(".wm-fixed-value .wm-si", `${inUnits[unitSi]}\u202f${unitSi}`);
      this.say(".wm-fixed-value .wm-us", `${inUnits[unitUs]}\u202f${unitUs}`);
      this.page = text;
      return;
    }
    this.anchor = this.fed;
    this.showAnchor(this.fed, this.units?.value ?? first.unit);
  }

  /**
   * Where a unit was typed along with the number, the list beside the field shows that unit; a
   * unit that has no list is not told twice.
   * @param {Part} part
   */
  followUnit(part) {
    const own = carriesUnit(this.control?.value ?? "");
    this.root.classList.toggle("wm-own-unit", own);
    if (own && this.units && !this.anchor && part.typed_unit !== undefined) {
      putText(this.units, part.typed_unit);
    }
  }

  /**
   * Mark the entry as one that nothing could be worked out from; the next answer takes it back.
   * @param {string} words
   */
  complain(words) {
    this.say(".wm-error", words);
    this.root.classList.add("wm-wrong");
    if (!this.cells) {
      setInvalid(this.control, true);
    }
  }

  /** Mark the entry as the reader's own. */
  mark() {
    this.root.classList.toggle("wm-changed", this.changed);
    for (const part of this.root.querySelectorAll(".wm-whose, .wm-follow, .wm-instead")) {
      part.toggleAttribute("hidden", !this.changed);
    }
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
}

/**
 * What a field shows for a figure that is not typed in it: the number alone, in its unit.
 * @param {Part} part
 * @returns {Anchor}
 */
function anchorOf({ text, typed_unit: unit = "", as_units: inUnits = null }) {
  return { text, shown: inUnits?.[unit] ?? text, unit, inUnits };
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
    words.push(`= ${part.as_units[part.unit]} ${part.unit || PLAIN}`);
  }
  if ("low" in part) {
    words.push(`${part.tolerance_assumed ? "usual tolerance: " : ""}${part.display}`);
  }
  return words.join("; ");
}
