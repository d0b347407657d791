/**
 * What a job record holds of a calculator.
 */

import { unitSystem } from "./units.js";

/** @typedef {import("./runtime.js").Outcome} Outcome */
/** @typedef {import("./entries.js").EntryField} EntryField */
/** @typedef {import("./widget.js").CalculatorElement} CalculatorElement */

/**
 * What the record holds of a calculator; null while all of it is the page's own.
 * @param {CalculatorElement} element
 * @param {Outcome | null} outcome null as long as what came out is not known
 */
export function entered(element, outcome) {
  const own = element.fields.filter((field) => field.changed);
  const tools = element.tools.filter((tool) => tool.changed);
  if (own.length + tools.length === 0 && !element.fields.some((field) => field.following)) {
    return null;
  }
  return {
    calculator: element.dataset.calculator,
    title: element.querySelector(".wm-title")?.textContent?.trim(),
    typed: Object.fromEntries(own.map((field) => [field.name, field.value()])),
    tools: Object.fromEntries(tools.map((tool) => [tool.name, tool.list.value])),
    units: unitSystem(),
    outcome: outcome && recorded(outcome, element.fields),
  };
}

/**
 * Put into a calculator's form what the record holds of it; what is there already is not touched.
 * @param {CalculatorElement} element
 * @param {Record<string, any> | undefined} kept
 */
export function putIn(element, kept) {
  for (const tool of element.tools) {
    const name = kept?.tools?.[tool.name];
    if (name !== (tool.changed ? tool.list.value : undefined)) {
      tool.reset();
      tool.put(name);
    }
  }
  for (const field of element.fields) {
    const value = kept?.typed[field.name];
    if (JSON.stringify(value) === JSON.stringify(field.changed ? field.value() : undefined)) {
      continue;
    }
    if (value === undefined) {
      field.reset();
      field.turnTo(unitSystem());
    } else {
      field.put(value);
    }
  }
}

/**
 * What the record holds of an outcome: enough to be printed, and to be worked out again.
 * @param {Outcome} outcome
 * @param {EntryField[]} fields
 */
function recorded(outcome, fields) {
  /** @param {Record<string, any>} part */
  const result = ({ name, label, display, value, unit, columns, rows, lead, seldom }) => ({
    name, label, display, value, unit, columns, rows, lead, seldom,
  });
  return {
    complete: outcome.complete,
    entries: Object.fromEntries(
      fields
        .filter((field) => field.name in outcome.entries)
        .map((field) => {
          const { text, display = "", active, tool } = outcome.entries[field.name];
          const settled = tool ? { tool: tool.title } : {};
          return [field.name, { label: field.label, text, display, active, ...settled }];
        }),
    ),
    results: outcome.results.map(result),
    findings: outcome.findings.map((/** @type {any} */ { level, code, text: words }) => ({
      level, code, text: words,
    })),
  };
}
