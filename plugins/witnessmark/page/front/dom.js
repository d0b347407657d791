/**
 * HTML elements as nested function calls; every text goes in as text, never as markup.
 */

/** @typedef {Record<string, string | number | boolean | null | undefined>} Attributes */

const SVG = "http://www.w3.org/2000/svg";

/**
 * An element; attributes that are null, undefined or false are left out.
 * @param {string} tag
 * @param {Attributes} [attributes]
 * @param {...(Node | string | null)} children
 * @returns {HTMLElement}
 */
export function element(tag, attributes = {}, ...children) {
  return /** @type {HTMLElement} */ (filled(document.createElement(tag), attributes, children));
}

/**
 * An element of a drawing.
 * @param {string} tag
 * @param {Attributes} [attributes]
 * @param {...(Node | string | null)} children
 * @returns {Element}
 */
export function svg(tag, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, tag), attributes, children);
}

/**
 * @param {Element} made
 * @param {Attributes} attributes
 * @param {(Node | string | null)[]} children
 */
function filled(made, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== null && value !== undefined && value !== false) {
      made.setAttribute(name, value === true ? "" : String(value));
    }
  }
  made.append(...children.filter((child) => child !== null));
  return made;
}

/**
 * Have a field or a list say `text`. What it says already is not put again: for every list that is
 * set, browsers lay out the whole page to see whether a form has just been filled in.
 * @param {HTMLInputElement | HTMLSelectElement} control
 * @param {string} text
 */
export function putText(control, text) {
  if (control.value !== text) {
    control.value = text;
  }
}

/**
 * Tell screen readers, and the style sheet, that a field cannot be read.
 * @param {Element | null} control
 * @param {boolean} wrong
 */
export function setInvalid(control, wrong) {
  if (wrong) {
    control?.setAttribute("aria-invalid", "true");
  } else {
    control?.removeAttribute("aria-invalid");
  }
}
