/**
 * The theme's own script (search, navigation without reload, tooltips) is as much work as the
 * start of a calculator. Where the build has put it off, it comes after the first result, or as
 * soon as somebody reaches for the page.
 */

import { firstAnswer, onState } from "./runtime.js";

/** Longest wait, in milliseconds: on a slow device the search must not wait for Python. */
const PATIENCE_MS = 2_500;

const REACHES = ["pointerdown", "touchstart", "keydown", "focusin"];

/** Bring the theme's script when it is time to; called once for a document. */
export function themeLater() {
  const held = /** @type {HTMLScriptElement | null} */ (
    document.querySelector("script[data-wm-later]")
  );
  if (held === null) {
    return;
  }
  let begun = false;
  const begin = () => {
    if (!begun) {
      begun = true;
      REACHES.forEach((name) => removeEventListener(name, begin, true));
      // It waits for the end of the page, which is past.
      held.onload = () => document.dispatchEvent(new Event("DOMContentLoaded"));
      held.src = held.dataset.wmLater ?? "";
      held.removeAttribute("data-wm-later");
    }
  };
  REACHES.forEach((name) => addEventListener(name, begin, true));
  setTimeout(begin, PATIENCE_MS);
  firstAnswer.then(() => requestAnimationFrame(() => setTimeout(begin)));
  onState((state) => state === "failed" && begin());
}
