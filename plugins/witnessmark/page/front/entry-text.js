/**
 * What a person types into a field: number, unit, tolerance. Texts are only taken apart and put
 * together here; Python alone reads them. The build takes them apart in the same way
 * (entry_text.py).
 */

const NUMBER =
  "[+\\-−]?[\\d.,/ \\u00a0\\u202f½¼¾⅛⅜⅝⅞⅓⅔]*[\\d½¼¾⅛⅜⅝⅞⅓⅔.](?:[eE][+-]?\\d+)?";
const BARE = new RegExp(`^\\s*(${NUMBER})\\s*((?:±|\\+/-|\\+-|\\+).*)?$`);
const RANGE = new RegExp(`^\\s*${NUMBER}\\s*(?:…|\\.\\.+)\\s*${NUMBER}\\s*$`);

/**
 * What a field says together with the unit chosen beside it.
 * A text that carries a unit of its own stays as it is.
 * @param {string} typed
 * @param {string} unit
 * @returns {string}
 */
export function withUnit(typed, unit) {
  if (!unit) {
    return typed;
  }
  if (RANGE.test(typed)) {
    return `${typed.trim()} ${unit}`;
  }
  const bare = BARE.exec(typed);
  if (bare === null || typed.includes("..")) {
    return typed;
  }
  return [bare[1], unit, bare[2]].filter(Boolean).join(" ");
}

/**
 * Whether a field's text needs no unit from the list beside it: it brings its own.
 * @param {string} typed
 * @returns {boolean}
 */
export function carriesUnit(typed) {
  return typed.trim() !== "" && withUnit(typed, "?") === typed;
}

/**
 * The tolerance of a field's text when it is a share, which holds in any unit: "± 4 %".
 * @param {string} typed
 * @returns {string}
 */
export function relativeTolerance(typed) {
  const tail = BARE.exec(typed)?.[2] ?? "";
  return tail.trimEnd().endsWith("%") ? tail : "";
}
