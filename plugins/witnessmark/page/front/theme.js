/**
 * The theme's own script (search, navigation without reload, tooltips) is as much work as the
 * start of a calculator. Where the build has put it off, it comes at leisure.
 */

import { atLeisure } from "./leisure.js";

/** Bring the theme's script when it is time to; called once for a document. */
export function themeLater() {
  const held = /** @type {HTMLScriptElement | null} */ (
    document.querySelector("script[data-wm-later]")
  );
  if (held !== null) {
    atLeisure(() => {
      // It waits for the end of the page, which is past.
      held.onload = () => document.dispatchEvent(new Event("DOMContentLoaded"));
      held.src = held.dataset.wmLater ?? "";
      held.removeAttribute("data-wm-later");
    });
  }
}
