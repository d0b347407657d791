/**
 * Fields that are folded away while the page arrives. When a page has arrived, browsers look for
 * fields that they could fill in, and lay out every folded part that has some: on a page of many
 * calculators a tenth of all the work of the start. These parts are therefore put aside, and put
 * back at leisure. Their fields are read and set as ever.
 */

import { atLeisure } from "./leisure.js";

const FIELDS = "input, select";

/** What belongs into which part of the page. @type {Map<Element, DocumentFragment>} */
const aside = new Map();
let begun = false;
let over = false;

/**
 * Put aside what is folded of a calculator, whose fields have been taken over.
 * @param {Element} root
 */
export function putAside(root) {
  if (over) {
    return;
  }
  if (!begun) {
    begun = true;
    atLeisure(putBack);
    addEventListener("beforeprint", putBack, { once: true });
    addEventListener("toggle", opened, true);
  }
  const form = root.closest("details:not([open])") ? root.querySelector("form") : null;
  for (const part of form ? [form] : root.querySelectorAll("details:not([open])")) {
    if (part.querySelector(FIELDS)) {
      const content = document.createDocumentFragment();
      content.append(...[...part.childNodes].filter((node) => node.nodeName !== "SUMMARY"));
      aside.set(part, content);
    }
  }
}

/** Put everything back; from now on all of it stays where it is. */
export function putBack() {
  over = true;
  aside.forEach((content, part) => part.append(content));
  aside.clear();
}

/**
 * A part may be opened by the page itself, for the engine on the bench. What was open from the
 * first tells so too, and hides nothing.
 * @param {Event} event
 */
function opened({ target }) {
  if ([...aside.keys()].some((part) => part.closest("details") === target)) {
    putBack();
  }
}
