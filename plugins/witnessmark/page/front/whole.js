/**
 * Elements that are met while the page is still arriving: what stands in them is there when the
 * parser has gone on behind them.
 */

/** @type {Map<Element, () => void>} */
const waiting = new Map();
const watcher = new MutationObserver(look);

/** @param {Element} element */
function isWhole(element) {
  if (document.readyState !== "loading") {
    return true;
  }
  /** @type {Element | null} */
  let at = element;
  while (at !== null && at.nextSibling === null) {
    at = at.parentElement;
  }
  return at !== null;
}

function look() {
  for (const [element, go] of waiting) {
    if (isWhole(element)) {
      waiting.delete(element);
      if (element.isConnected) {
        go();
      }
    }
  }
  if (waiting.size === 0) {
    watcher.disconnect();
  }
}

/**
 * Call `go` as soon as everything that belongs into an element is there.
 * @param {Element} element
 * @param {() => void} go
 */
export function whenWhole(element, go) {
  if (isWhole(element)) {
    go();
    return;
  }
  waiting.set(element, go);
  watcher.observe(document, { childList: true, subtree: true });
}

/**
 * Call `go` when the whole page is there.
 * @param {() => void} go
 */
export function whenParsed(go) {
  if (document.readyState === "loading") {
    document.addEventListener("DOMContentLoaded", go, { once: true });
  } else {
    go();
  }
}

/**
 * Fulfilled when the whole page is there and everything that had to be done first is done.
 * @type {Promise<void>}
 */
export const parsed = new Promise((resolve) => {
  // The event comes to the window when all listeners of the document have had it.
  document.readyState === "loading"
    ? addEventListener("DOMContentLoaded", () => resolve(), { once: true })
    : resolve();
});

document.addEventListener("DOMContentLoaded", look, { once: true });
