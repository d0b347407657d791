/**
 * Words and maths of one release: the page that the theme puts in may have been built for other
 * scripts and calculators than those that run here.
 */

import { stop } from "./runtime.js";

/** The folder of this script, named by all scripts and calculators of the release. */
const OWN = new URL(".", import.meta.url).pathname.split("/").at(-2);

const built = () =>
  document.querySelector('meta[name="witnessmark-front"]')?.getAttribute("content");

/**
 * Whether the page said at first what it was built for; without that nothing can be compared.
 * @type {boolean | undefined}
 */
let known;
let leaving = false;

/** Load the page anew, with its own scripts and calculators, when it is of another release. */
export function holdRelease() {
  known ??= built() === OWN;
  if (known && !leaving && built() !== OWN) {
    leaving = true;
    stop(); // not one figure of the old maths may get into the new page
    location.reload();
  }
}
