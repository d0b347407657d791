/**
 * What leaves the start of a calculator to itself: it comes after the first result, or as soon as
 * somebody reaches for the page.
 */

import { firstAnswer, onState } from "./runtime.js";

/** Longest wait, in milliseconds: on a slow device nothing must wait for Python. */
const PATIENCE_MS = 2_500;

const REACHES = ["pointerdown", "touchstart", "keydown", "focusin"];

/**
 * Call `go`, once, when it is time to.
 * @param {() => void} go
 */
export function atLeisure(go) {
  let gone = false;
  const once = () => {
    if (!gone) {
      gone = true;
      REACHES.forEach((name) => removeEventListener(name, once, true));
      go();
    }
  };
  REACHES.forEach((name) => addEventListener(name, once, true));
  setTimeout(once, PATIENCE_MS);
  firstAnswer.then(() => requestAnimationFrame(() => setTimeout(once)));
  onState((state) => state === "failed" && once());
}
