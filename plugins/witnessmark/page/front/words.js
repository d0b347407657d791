/**
 * What the calculator says of itself, and how long it waits before it does.
 */

/** @typedef {import("./runtime.js").Outcome} Outcome */

/** Milliseconds without a key before working out, before drawing, before telling a screen reader. */
export const PAUSES = { typing: 120, drawing: 60, speaking: 900 };

export const WORDS = {
  page: "The page's own figures, worked out when the handbook was built.",
  starting: "The calculator is starting; the page's own figures are shown.",
  live: "Live: worked out on this device from the entries above.",
  long:
    "Live: worked out on this device from the entries above. It started the long way, because " +
    "its quick start could not be used here.",
  stopped: "With this entry the sum does not come to an end. Change it.",
  waiting: "Not yet your entries: they are worked out as soon as the calculator has started.",
  old: "The figures below belong to the last entries that could be read.",
  unjudged: "Not judged: the calculator did not start. Hold it against the limit yourself.",
  stand: "The page's own figures stand. Reload the page to try again.",
};

/**
 * An outcome in a sentence.
 * @param {Outcome} outcome
 * @returns {string}
 */
export function spoken(outcome) {
  if (!outcome.complete) {
    const wrong = Object.values(outcome.entries).filter((part) => part.error).length;
    return wrong === 1 ? "One entry cannot be read." : `${wrong} entries cannot be read.`;
  }
  const lead = outcome.results.find((/** @type {any} */ part) => part.lead) ?? outcome.results[0];
  const said = [`${lead.label}: ${lead.display ?? lead.label}.`];
  for (const level of ["stop", "caution"]) {
    const count = outcome.findings.filter((/** @type {any} */ part) => part.level === level).length;
    if (count > 0) {
      said.push(count === 1 ? `One ${level}.` : `${count} findings: ${level}.`);
    }
  }
  return said.join(" ");
}
