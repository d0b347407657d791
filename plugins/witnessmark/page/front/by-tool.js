/**
 * An entry that a tool of the shop settles: its figure stands in the field, which cannot be typed
 * in; without the tool the field is what it was.
 */

import { putText } from "./dom.js";

/** @typedef {import("./entries.js").EntryField} EntryField */
/** @typedef {import("./entries.js").Anchor} Anchor */

/**
 * What a field holds while a tool settles the entry: to be put back when the tool is gone.
 * @typedef {{value: string | string[][], anchor: Anchor | null, shown: string, unit: string,
 *            nodes: Node[]}} Kept
 */

/**
 * Put the tool's figure into the field.
 * @param {EntryField} field
 * @param {Anchor} anchor
 * @param {string} title the tool's; empty where the build has written it already
 * @param {string} [display]
 */
export function settle(field, anchor, title, display = anchor.text) {
  field.kept ??= {
    value: field.value(),
    anchor: field.anchor,
    shown: field.control?.value ?? "",
    unit: field.units?.value ?? "",
    nodes: [...(field.root.querySelector(".wm-fixed-value")?.childNodes ?? [])],
  };
  field.root.classList.add("wm-by-tool");
  if (title) {
    byLine(field).textContent = `from ${title}`;
  }
  if (field.fixed) {
    field.say(".wm-fixed-value", display);
    return;
  }
  lock(field, true);
  choose(field, anchor.text);
  if (field.control instanceof HTMLInputElement) {
    field.anchor = anchor;
    if (!field.showAnchor(anchor, field.units?.value ?? anchor.unit)) {
      field.showAnchor(anchor, anchor.unit);
    }
  }
}

/**
 * No tool settles the entry any more: it is what it was; one that never was settled stays as it is.
 * @param {EntryField} field
 */
export function release(field) {
  const { kept } = field;
  if (kept === null) {
    return;
  }
  field.kept = null;
  field.root.classList.remove("wm-by-tool");
  field.root.querySelector(".wm-by")?.remove();
  if (field.fixed) {
    field.root.querySelector(".wm-fixed-value")?.replaceChildren(...kept.nodes);
    return;
  }
  lock(field, false);
  choose(field, String(kept.value));
  if (field.control instanceof HTMLInputElement) {
    field.anchor = kept.anchor;
    putText(field.control, kept.shown);
    if (field.units) {
      putText(field.units, kept.unit);
    }
  }
}

/**
 * @param {EntryField} field
 * @param {string} option
 */
function choose(field, option) {
  for (const radio of field.radios) {
    radio.checked = radio.value === option;
  }
  if (field.control instanceof HTMLSelectElement) {
    putText(field.control, option);
  }
}

/**
 * @param {EntryField} field
 * @param {boolean} locked
 */
function lock(field, locked) {
  for (const part of field.root.querySelectorAll("input, select:not(.wm-unit-list)")) {
    part.toggleAttribute("disabled", locked);
  }
}

/**
 * The line that names the tool.
 * @param {EntryField} field
 */
function byLine({ root }) {
  const line = root.querySelector(".wm-by") ?? document.createElement("p");
  line.className = "wm-by";
  (root.querySelector(".wm-field, .wm-options, .wm-fixed-value") ?? root).after(line);
  return line;
}
