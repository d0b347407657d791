/**
 * The lines in which a calculator says how things stand: whether its figures are live, whether they
 * are older than the entries, and a sentence for those who listen.
 */

import { tookLong } from "./runtime.js";
import { PAUSES, WORDS } from "./words.js";

export class Lines {
  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
  }

  /**
   * Keep the results that stand, and say why they are not those of the entries.
   * @param {string} why empty when they are
   */
  old(why) {
    this.root.classList.toggle("wm-old", why !== "");
    this.put(".wm-stale", why)?.toggleAttribute("hidden", why === "");
  }

  live() {
    this.runtime(tookLong() === "" ? WORDS.live : WORDS.long);
  }

  /** @param {string} words */
  runtime(words) {
    this.put(".wm-runtime", words);
  }

  /**
   * Tell those who listen, once the typing has stopped.
   * @param {string} words
   */
  say(words) {
    this.hush();
    this.speaking = setTimeout(() => {
      this.root.querySelector(".wm-said")?.replaceChildren(words);
    }, PAUSES.speaking);
  }

  hush() {
    clearTimeout(this.speaking);
  }

  /** @param {string} place @param {string} words @returns {Element | null} */
  put(place, words) {
    const line = this.root.querySelector(place);
    if (line && line.textContent !== words) {
      line.textContent = words;
    }
    return line;
  }
}
