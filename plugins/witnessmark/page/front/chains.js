/**
 * Calculators that feed one another: what hangs on what, and one request for all of them.
 *
 * Python works a chain out, sources first; here is only looked up who stands in it. One answer
 * holds all that has changed, so that no figure on the page is ever ahead of its source.
 */

import { evaluate } from "./runtime.js";
import { today } from "./tools.js";

/** @typedef {import("./runtime.js").Outcome} Outcome */
/** @typedef {import("./entries.js").EntryField} EntryField */
/** @typedef {import("./widget.js").CalculatorElement} CalculatorElement */
/** @typedef {import("./units.js").System} System */

/** @returns {CalculatorElement[]} the calculators of the page */
function all() {
  return [.../** @type {NodeListOf<CalculatorElement>} */ (
    document.querySelectorAll("wm-calculator")
  )];
}

/** @param {CalculatorElement} element @param {CalculatorElement} source */
function follows(element, source) {
  return element.fields.some((field) => field.following && field.follows?.of === source.id);
}

/**
 * A calculator and those it feeds, directly or through others, as long as they follow.
 * @param {CalculatorElement} element
 * @returns {CalculatorElement[]}
 */
export function withFed(element) {
  const found = [element];
  for (const source of found) {
    found.push(...all().filter((other) => !found.includes(other) && follows(other, source)));
  }
  return found;
}

/**
 * Calculators and those that feed them.
 * @param {CalculatorElement[]} elements
 * @returns {CalculatorElement[]}
 */
function withSources(elements) {
  const found = [...elements];
  for (const element of found) {
    found.push(...all().filter((other) => !found.includes(other) && follows(element, other)));
  }
  return found;
}

/**
 * Whether calculators and all that feeds them have been taken over: while a page arrives, a source
 * may be there without its entries.
 * @param {CalculatorElement[]} elements
 */
export function areTaken(elements) {
  return withSources(elements).every((each) => each.taken);
}

/**
 * What a calculator is asked with: its typed texts, where the other entries come from, its tools.
 * @param {CalculatorElement} element
 * @returns {{calculator: string, entries: Record<string, unknown>,
 *            follows: Record<string, string[]>, tools: Record<string, unknown>}}
 */
export function asked(element) {
  /** @type {Record<string, unknown>} */
  const entries = {};
  /** @type {Record<string, string[]>} */
  const follows = {};
  for (const field of element.fields) {
    if (field.following && field.follows && document.getElementById(field.follows.of)) {
      follows[field.name] = [field.follows.of, field.follows.result];
    } else {
      entries[field.name] = field.value();
    }
  }
  const chosen = element.tools.filter((tool) => tool.value() !== null);
  const tools = Object.fromEntries(chosen.map((tool) => [tool.name, tool.value()]));
  return { calculator: element.dataset.calculator ?? "", entries, follows, tools };
}

/**
 * The outcomes of calculators by their identity, an Error for one that cannot be worked out.
 * Rejects when nothing can be worked out at all.
 * @param {CalculatorElement[]} elements
 * @param {{units: System, drawings: boolean}} how
 * @param {boolean} [own]  whether all entries are those of the page
 * @returns {Promise<Map<string, Outcome | Error>>}
 */
export async function workOut(elements, how, own = false) {
  const chain = Object.fromEntries(withSources(elements).map((each) => [each.id, asked(each)]));
  const want = elements.map(({ id }) => id);
  const { outcomes } = await evaluate({ chain, want, today: today(), ...how }, own);
  return new Map(
    want.map((id) => {
      const { failure } = outcomes[id];
      return [id, failure === undefined ? outcomes[id] : new Error(failure)];
    }),
  );
}
