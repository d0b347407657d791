/**
 * What was written into the fields of a page, kept in this tab through a reload.
 */

const PREFIX = "witnessmark.readings:";

/** The page's own address, without the mark of a heading. */
const place = () => PREFIX + location.pathname;

/** @returns {Record<string, string[]>} */
function all() {
  try {
    return JSON.parse(sessionStorage.getItem(place()) ?? "{}");
  } catch {
    return {};
  }
}

/**
 * The texts that were written into a reading.
 * @param {string} id
 * @returns {string[]}
 */
export function keptReading(id) {
  return all()[id] ?? [];
}

/**
 * @param {string} id
 * @param {string[]} texts
 */
export function keepReading(id, texts) {
  try {
    sessionStorage.setItem(place(), JSON.stringify({ ...all(), [id]: texts }));
  } catch {
    // Storage may be off or full; the fields still hold what was typed.
  }
}
