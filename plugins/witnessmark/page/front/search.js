/**
 * What the search finds follows the engine on the bench: procedures and passages for other
 * engines are left out of the list of results, and the list says so.
 */

import { element } from "./dom.js";
import { chosenEngine } from "./engine.js";
import { belowRoot, ROOT } from "./root.js";

/** Engines by address below the root. @type {Promise<Record<string, string>> | null} */
let index = null;

/** @returns {Promise<Record<string, string>>} */
function engineIndex() {
  index ??= fetch(new URL("search/engines.json", ROOT))
    .then((answer) => (answer.ok ? answer.json() : {}))
    .catch(() => ({})); // without it nothing is left out
  return index;
}

/** Watch the theme's list of results; called once for a document. */
export function watchSearch() {
  const list = document.querySelector(".md-search-result__list");
  if (list) {
    new MutationObserver(() => sift(list)).observe(list, { childList: true, subtree: true });
  }
}

/** @param {Element} list */
async function sift(list) {
  const engine = chosenEngine();
  const engines = engine === "" ? {} : await engineIndex();
  let left = 0;
  for (const link of list.querySelectorAll("a.md-search-result__link")) {
    const { pathname, hash } = new URL(/** @type {HTMLAnchorElement} */ (link).href);
    const address = belowRoot(pathname);
    const off = [engines[address], engines[address + hash]].some(
      (held) => held !== undefined && !held.split(" ").includes(engine),
    );
    link.toggleAttribute("data-wm-off", off);
    left += off ? 1 : 0;
  }
  for (const item of list.querySelectorAll(".md-search-result__item")) {
    const links = [...item.querySelectorAll("a.md-search-result__link")];
    item.toggleAttribute("data-wm-off", links.every((link) => link.hasAttribute("data-wm-off")));
  }
  tell(list, left, engine.replace("/", " ").trim());
}

/**
 * @param {Element} list
 * @param {number} left  how many results are left out
 * @param {string} engine
 */
function tell(list, left, engine) {
  const said = list.parentElement?.querySelector(".wm-left-out");
  const text = left === 0 ? "" : `${left} not for ${engine}, left out.`;
  if (said) {
    if (said.textContent !== text) {
      said.textContent = text;
    }
  } else if (text !== "") {
    list.before(element("p", { class: "wm-left-out" }, text));
  }
}
