/**
 * What a job record holds of a calculator.
 */

/** @typedef {import("./runtime.js").Outcome} Outcome */
/** @typedef {import("./entries.js").EntryField} EntryField */

/**
 * What the record holds of an outcome: enough to be printed, and to be worked out again.
 * @param {Outcome} outcome
 * @param {EntryField[]} fields
 */
export function recorded(outcome, fields) {
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
