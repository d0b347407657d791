/**
 * The job sheet: everything that was entered in a job, as paper wants it.
 */

import { element } from "./dom.js";
import { allJobs, findJob } from "./job-store.js";
import { currentJob } from "./kept.js";
import { act, saidEngine, saidTime, sheetAddress } from "./jobs.js";
import { exportJob } from "./job-files.js";
import { belowRoot, pageUrl, ROOT } from "./root.js";

/** @typedef {import("./job-store.js").Job} Job */
/** @typedef {import("./job-store.js").PageRecord} PageRecord */

const VERDICTS = /** @type {Record<string, string>} */ ({
  in: "within limits",
  near: "near the limit",
  out: "OUT OF LIMITS",
});

const LEVELS = /** @type {Record<string, string>} */ ({
  note: "Note",
  caution: "Caution",
  stop: "STOP",
});

export class JobSheet extends HTMLElement {
  async connectedCallback() {
    const wanted = new URLSearchParams(location.search).get("job") ?? currentJob();
    try {
      const job = wanted === "" ? undefined : await findJob(wanted);
      this.replaceChildren(...(job ? sheet(job) : await this.choice()));
    } catch (error) {
      this.replaceChildren(
        element("p", {}, `This browser keeps no jobs (${error instanceof Error ? error.message : error}).`),
      );
    }
  }

  async choice() {
    const jobs = await allJobs();
    return [
      element("p", {}, jobs.length > 0 ? "Which job?" : "There is no job on this device."),
      element(
        "ul",
        {},
        ...jobs.map((job) =>
          element(
            "li",
            {},
            element("a", { href: sheetAddress(this, job.id) }, `Job ${job.number}`),
            ` · ${saidEngine(job.engine)}`,
          ),
        ),
      ),
      element("p", {}, element("a", { href: this.dataset.jobs ?? "" }, "All jobs, and a new one")),
    ];
  }
}

/** @param {Job} job @returns {Node[]} */
function sheet(job) {
  const pages = Object.entries(job.pages).filter(([, page]) => entered(page) > 0);
  return [
    element(
      "div",
      { class: "wm-sheet-acts" },
      act("print", () => print()),
      " ",
      act("export", () => exportJob(job)),
    ),
    facts([
      ["Job", job.number],
      ["Engine", saidEngine(job.engine)],
      ["Serial number", job.serial],
      ["Notes", job.notes],
      ["Begun", saidTime(job.begun)],
      ["Last entry", saidTime(job.changed)],
      ["Sheet made", saidTime(new Date().toISOString())],
    ]),
    ...(pages.length > 0
      ? pages.flatMap(([name, page]) => pagePart(name, page))
      : [element("p", {}, "Nothing has been entered in this job yet.")]),
    element(
      "div",
      { class: "wm-sheet-sign" },
      ...["Fitter", "Checked by"].map((who) =>
        element("p", {}, element("span", {}, who), element("span", {}, "Date")),
      ),
    ),
  ];
}

/** @param {PageRecord} page */
const entered = (page) =>
  Object.keys(page.ticks).length +
  Object.keys(page.readings).length +
  Object.keys(page.calculators).length;

/** @param {[string, string][]} rows */
function facts(rows) {
  return element(
    "dl",
    { class: "wm-sheet-facts" },
    ...rows
      .filter(([, text]) => text !== "")
      .map(([name, text]) => element("div", {}, element("dt", {}, name), element("dd", {}, text))),
  );
}

/** @param {string} name @param {PageRecord} page @returns {Node[]} */
function pagePart(name, page) {
  const parts = [page.ticks, page.readings, page.calculators].flatMap(Object.values);
  const revisions = [...new Set(parts.map((part) => part.revision))];
  return [
    element(
      "div",
      { class: "wm-sheet-head" },
      element("h2", {}, page.title || name),
      element(
        "p",
        { class: "wm-sheet-revision" },
        `${name}, entered under revision ${revisions.join(", then ") || "unknown"}`,
      ),
      code(page.url),
    ),
    ...ticked(page),
    ...Object.values(page.readings).map(readingPart),
    ...Object.values(page.calculators).map(calculatorPart),
  ];
}

/**
 * The codes that pages carry on paper, by address, as the build has drawn them.
 * @type {Promise<Record<string, string>> | null}
 */
let codes = null;

/** @returns {Promise<Record<string, string>>} */
function paperCodes() {
  codes ??= fetch(new URL("job-sheet/paper-codes.json", ROOT))
    .then((answer) => (answer.ok ? answer.json() : {}))
    .catch(() => ({})); // the sheet is whole without them
  return codes;
}

/** The code that the page itself carries on paper. @param {string | undefined} url */
function code(url) {
  const place = element("span", { class: "wm-sheet-code" });
  paperCodes().then((drawn) => {
    const text = drawn[belowRoot(pageUrl(url ?? "").pathname)];
    if (text !== undefined) {
      const drawing = new DOMParser().parseFromString(text, "image/svg+xml");
      place.append(document.importNode(drawing.documentElement, true));
    }
  });
  return place;
}

/** @param {PageRecord} page */
function ticked(page) {
  const ticks = Object.entries(page.ticks).sort(([one], [other]) =>
    one.localeCompare(other, "en", { numeric: true }),
  );
  if (ticks.length === 0) {
    return [];
  }
  const of = page.steps === undefined ? "" : ` of ${page.steps}`;
  return [
    table(
      `Steps done: ${ticks.length}${of}`,
      ["Step", "Done"],
      ticks.map(([, { title, at }]) => [title, saidTime(at)]),
    ),
  ];
}

/** @param {any} reading */
function readingPart({ title, limits, places, texts, outcome, at }) {
  const rows = texts.map((/** @type {string} */ text, /** @type {number} */ place) => {
    const part = outcome?.readings?.[place];
    const open = text === "" ? "" : "not judged: open the page once more";
    const judged = outcome?.limits === "" && part?.verdict ? "no limit" : VERDICTS[part?.verdict];
    const verdict = part?.error ? "not readable" : (judged ?? open);
    const unit = part?.unit && !/[^\d.,\s−+-]/.test(text) ? ` ${part.unit}` : "";
    return [places?.[place] || "", text === "" ? "—" : `${text}${unit}`, verdict];
  });
  const caption = `${title}${limits ? ` (${limits.toLowerCase()})` : ""}, ${saidTime(at)}`;
  const named = rows.some((/** @type {string[]} */ row) => row[0] !== "");
  return named
    ? table(caption, ["Place", "Read", "Verdict"], rows)
    : table(caption, ["Read", "Verdict"], rows.map((/** @type {string[]} */ row) => row.slice(1)));
}

/**
 * Results first; what the fitter entered as a table, the page's own figures in one line.
 * @param {any} calculator
 */
function calculatorPart({ title, typed, outcome, at, maths }) {
  const given = outcome?.entries ?? {};
  const own = Object.keys(typed).filter((name) => given[name]?.active ?? true);
  const entered = own.map((name) => [
    given[name]?.label ?? name,
    shown(given[name]?.text ?? typed[name], given[name]?.display),
  ]);
  const tools = [...new Set(Object.keys(given).map((name) => given[name].tool))].filter(Boolean);
  const paged = Object.keys(given)
    .filter((name) => given[name].active && !(name in typed))
    .map((name) => [given[name].label, shown(given[name].text, given[name].display)])
    .filter(([, text]) => text !== "")
    .map((pair) => pair.join(" "));
  return element(
    "section",
    { class: "wm-sheet-calculator" },
    element("h3", {}, title ?? ""),
    element("p", { class: "wm-sheet-revision" }, `${saidTime(at)}, maths ${maths || "unknown"}`),
    ...(outcome?.complete
      ? resultParts(outcome.results)
      : [element("p", {}, "No results: an entry was missing or could not be read.")]),
    entered.length > 0 ? table("Entered", ["Entry", "Value"], entered) : null,
    line("With ", tools),
    line(entered.length > 0 ? "The rest as the page gives it: " : "As the page gives it: ", paged),
    ...(outcome?.findings ?? []).map((/** @type {any} */ { level, text }) =>
      element("p", { class: "wm-sheet-finding" }, element("b", {}, `${LEVELS[level] ?? level}: `), text),
    ),
  );
}

/** Figures in a table, tables by themselves, what is seldom asked for in one line.
 * @param {any[]} results */
function resultParts(results) {
  const figures = results.filter(({ display, seldom }) => display !== undefined && !seldom);
  const seldom = results.filter((part) => part.display !== undefined && part.seldom);
  const heads = (/** @type {any} */ { label, unit }) => (unit ? `${label} (${unit})` : label);
  return [
    table("Results", ["Result", "Value"], figures.map(({ label, display }) => [label, display])),
    ...results
      .filter(({ rows }) => rows !== undefined)
      .map(({ label, columns, rows }) => table(label, columns?.map(heads) ?? [], rows)),
    line("Also: ", seldom.map(({ label, display }) => `${label} ${display}`)),
  ];
}

/** @param {string} head @param {string[]} parts */
function line(head, parts) {
  return parts.length > 0
    ? element("p", { class: "wm-sheet-line" }, element("span", {}, head), `${parts.join("; ")}.`)
    : null;
}

/** @param {string | string[][]} text @param {string} [display] */
function shown(text, display = "") {
  return Array.isArray(text) ? text.map((row) => row.join(" · ")).join("; ") : display || text;
}

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
function table(caption, heads, rows) {
  return element(
    "table",
    { class: "wm-sheet-table" },
    element("caption", {}, caption),
    element("thead", {}, element("tr", {}, ...heads.map((head) => element("th", { scope: "col" }, head)))),
    element(
      "tbody",
      {},
      ...rows.map((row) => element("tr", {}, ...row.map((cell) => element("td", {}, cell)))),
    ),
  );
}
