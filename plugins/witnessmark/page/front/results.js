/**
 * An outcome as elements: results, bands, findings, drawings.
 *
 * The build makes the very same elements (results_html.py, findings_html.py); a test compares
 * the two, so a change here is a change there.
 */

import { element, svg } from "./dom.js";

/** @typedef {import("./runtime.js").Outcome} Outcome */
/** @typedef {Record<string, any>} Part */

const WORDS = /** @type {Record<string, string>} */ ({
  note: "Note",
  caution: "Caution",
  stop: "Stop",
});
const ICONS = /** @type {Record<string, string>} */ ({
  note: "M3 4h18v13H10l-5 4v-4H3zM12 7v1.5M12 10.5v4",
  caution: "M12 3 22.5 21H1.5zM12 9.5v6M12 17.5v1.5",
  stop: "M8 2h8l6 6v8l-6 6H8l-6-6V8zM7 12h10",
});
const SMALLEST_SHARE = 0.05;
const MOST_DRIVERS = 4;
const FEWEST_DRIVERS = 2;
const LOOKS_LIKE_NUMBER = /^[−+±-]?\d/;

/**
 * Results and findings, the part that is replaced at every evaluation.
 * @param {Outcome} outcome
 * @returns {Element[]}
 */
export function outcomeParts(outcome) {
  /** @type {Part[]} */
  const results = outcome.results;
  /** @type {Part[]} */
  const findings = outcome.findings;
  const behind = results.filter(({ seldom }) => seldom);
  const notes = findings.filter(({ level }) => level === "note");
  const parts = [
    resultsList(results.filter(({ seldom }) => !seldom)),
    findingsList(findings.filter(({ level }) => level !== "note")),
  ];
  if (behind.length > 0 || notes.length > 0) {
    parts.push(
      element(
        "details",
        { class: "wm-more" },
        element("summary", {}, more(behind.length, notes.length)),
        behind.length > 0 ? resultsList(behind) : null,
        notes.length > 0 ? findingsList(notes) : null,
      ),
    );
  }
  return parts;
}

/**
 * What stands behind the disclosure.
 * @param {number} figures
 * @param {number} notes
 */
function more(figures, notes) {
  const noted = notes === 1 ? "1 note" : `${notes} notes`;
  if (figures === 0) {
    return noted;
  }
  return notes > 0 ? `More figures, ${noted}` : "More figures";
}

/** @param {Part[]} findings */
function findingsList(findings) {
  return element("ul", { class: "wm-findings" }, ...findings.map(findingItem));
}

/** @param {Part[]} results */
function resultsList(results) {
  return element("dl", { class: "wm-results" }, ...results.map(resultBlock));
}

/** @param {Part} result */
function resultBlock(result) {
  if (result.kind === "text") {
    return block(result, result.lead ? "wm-text-result wm-lead" : "wm-text-result", [element("dd", {}, result.text)]);
  }
  if (result.kind === "table") {
    return block(result, "wm-table-result", [element("dd", {}, table(result))]);
  }
  return block(result, result.lead ? "wm-lead" : "", [
    element("dd", { class: "wm-figure" }, ...figure(result)),
    band(result.band),
    result.lead ? drivers(result.band) : null,
  ]);
}

/**
 * @param {Part} result
 * @param {string} kind
 * @param {(Element | null)[]} parts
 */
function block(result, kind, parts) {
  return element(
    "div",
    { class: `wm-result ${kind}`.trimEnd(), "data-result": result.name },
    element("dt", {}, result.label),
    ...parts,
  );
}

/**
 * @param {Part} result
 * @returns {(Node | string)[]}
 */
function figure({ number, unit_text: unit, display }) {
  if (!unit || !(display.startsWith(number) && display.endsWith(unit))) {
    return [element("span", { class: "wm-number" }, display)];
  }
  return [
    element("span", { class: "wm-number" }, number),
    display.slice(number.length, display.length - unit.length),
    element("span", { class: "wm-unit" }, unit),
  ];
}

/** @param {Part | null} both */
function band(both) {
  if (!both) {
    return null;
  }
  const [worst, likely] = [both.worst.display, both.rss.display];
  return element(
    "dd",
    { class: "wm-band" },
    limits(worst, "worst case"),
    likely === worst ? null : limits(likely, "root sum square"),
  );
}

/**
 * @param {string} display
 * @param {string} name
 */
function limits(display, name) {
  return element(
    "span",
    { class: "wm-band-part" },
    element("span", { class: "wm-band-limits" }, display),
    ` ${name}`,
  );
}

/** @param {Part | null} both */
function drivers(both) {
  const shown = (both?.drivers ?? [])
    .filter((/** @type {Part} */ driver) => driver.share >= SMALLEST_SHARE)
    .slice(0, MOST_DRIVERS);
  if (shown.length < FEWEST_DRIVERS) {
    return null;
  }
  return element(
    "dd",
    { class: "wm-drivers" },
    element("span", { class: "wm-drivers-title" }, "Where the spread comes from"),
    element("ul", {}, ...shown.map(driverItem)),
  );
}

/** @param {Part} driver */
function driverItem(driver) {
  const percent = Math.floor(driver.share * 100 + 0.5);
  const box = {
    class: "wm-bar",
    viewBox: "0 0 100 8",
    preserveAspectRatio: "none",
    "aria-hidden": "true",
  };
  return element(
    "li",
    { "data-entry": driver.entry },
    element("span", { class: "wm-driver-label" }, driver.label),
    svg(
      "svg",
      box,
      svg("rect", { class: "wm-bar-whole", width: 100, height: 8 }),
      svg("rect", { class: "wm-bar-share", width: percent, height: 8 }),
    ),
    element("span", { class: "wm-driver-share" }, driver.share_text),
  );
}

/** @param {Part} result */
function table(result) {
  const heads = result.columns.map((/** @type {Part} */ column) =>
    column.unit
      ? element("th", { scope: "col" }, column.label, " ", element("span", { class: "wm-unit" }, column.unit))
      : element("th", { scope: "col" }, column.label),
  );
  const rows = result.rows.map((/** @type {string[]} */ row) =>
    element(
      "tr",
      {},
      ...row.map((cell) =>
        element("td", { class: LOOKS_LIKE_NUMBER.test(cell) ? "wm-num" : null }, cell),
      ),
    ),
  );
  return element(
    "div",
    { class: "wm-scroll", role: "group", tabindex: 0, "aria-label": result.label },
    element(
      "table",
      { class: "wm-table" },
      element("thead", {}, element("tr", {}, ...heads)),
      element("tbody", {}, ...rows),
    ),
  );
}

/** @param {Part} finding */
function findingItem(finding) {
  return element(
    "li",
    { class: `wm-finding wm-${finding.level}`, "data-code": finding.code },
    svg(
      "svg",
      { class: "wm-icon", viewBox: "0 0 24 24", "aria-hidden": "true" },
      svg("path", { d: ICONS[finding.level] }),
    ),
    element(
      "div",
      { class: "wm-finding-body" },
      element("b", { class: "wm-finding-word" }, `${WORDS[finding.level]}.`),
      ` ${finding.text}`,
    ),
  );
}

const DRAWING_ID = /\bwm-d[0-9a-f]+-(title|desc)\b/g;

/**
 * The drawings of an outcome. Their SVG comes from our own Python; it is parsed as SVG, and a
 * drawing with a script or a handler in it would be left out.
 * @param {Outcome} outcome
 * @param {string} ident the widget's; the same drawing may stand on a page twice
 * @returns {Element[]}
 */
export function drawingParts(outcome, ident) {
  return outcome.drawings.map((/** @type {Part} */ drawing, /** @type {number} */ place) => {
    const sheet = element("div", { class: "wm-drawing-sheet" });
    const parsed = new DOMParser().parseFromString(
      drawing.svg.replace(DRAWING_ID, `${ident}-drawing-${place + 1}-$1`),
      "image/svg+xml",
    ).documentElement;
    if (parsed.localName === "svg" && isHarmless(parsed)) {
      sheet.append(document.importNode(parsed, true));
    }
    return element(
      "figure",
      { class: "wm-drawing", "data-drawing": drawing.name },
      sheet,
      element("figcaption", {}, drawing.title),
    );
  });
}

/** @param {Element} drawing */
function isHarmless(drawing) {
  return [drawing, ...drawing.querySelectorAll("*")].every(
    (part) =>
      !["script", "foreignObject", "image", "use", "a"].includes(part.localName) &&
      [...part.attributes].every(({ name }) => !name.startsWith("on") && !name.endsWith("href")),
  );
}
