/**
 * The line under a page's plate that says which job is open, what may be lost, how far it is.
 */

import { element } from "./dom.js";
import { chosenEngine, onEngine, setEngine } from "./engine.js";
import { findJob, onJobChange } from "./job-store.js";
import { currentJob, handOver, onTrouble, openJob, pageRecord, thisPage } from "./kept.js";
import { act, saidEngine, saidTime, sheetAddress } from "./jobs.js";
import { nextStep, restoreTicks } from "./ticks.js";

/** @typedef {import("./job-store.js").PageRecord} PageRecord */

export class JobLine extends HTMLElement {
  /** Undone when the element leaves the page. @type {(() => void)[]} */
  undo = [];
  trouble = "";

  connectedCallback() {
    this.setAttribute("role", "status");
    this.undo = [
      onJobChange(() => this.show()),
      onEngine(() => this.show()),
      onTrouble((words) => {
        this.trouble = words;
        this.show();
      }),
    ];
    this.start();
  }

  disconnectedCallback() {
    this.undo.forEach((undo) => undo());
  }

  /** A job brings its engine along, unless a link has brought another. */
  async start() {
    await handOver();
    const job = await this.job();
    const linked = new URLSearchParams(location.search).has("engine");
    if (job && !linked && chosenEngine() !== job.engine) {
      setEngine(job.engine);
    }
    this.show();
  }

  async job() {
    const id = currentJob();
    try {
      return id === "" ? undefined : await findJob(id);
    } catch {
      this.trouble ||= `This browser gives no access to its jobs. What you enter stays in this tab.`;
      return undefined;
    }
  }

  async show() {
    const job = await this.job();
    const home = new URL(this.dataset.jobs ?? "", document.baseURI).href;
    const parts = job
      ? [
          element("b", {}, `Job ${job.number}`),
          ` · ${saidEngine(job.engine)}`,
          job.serial ? ` · serial ${job.serial}` : "",
          " · ",
          element("a", { href: sheetAddress(this, job.id) }, "job sheet"),
          " · ",
          element("a", { href: home }, "jobs"),
          " · ",
          act("close", () => {
            openJob("");
            restoreTicks(true);
            location.reload();
          }),
        ]
      : [
          "No job is open: what you enter stays in this tab. ",
          element("a", { href: home }, "Open a job"),
        ];
    const record = job ? await pageRecord() : null;
    this.replaceChildren(
      element("p", {}, ...parts),
      ...[this.trouble, paper(), job ? mismatch(job.engine) : "", record ? outdated(record) : ""]
        .filter(Boolean)
        .map((words) => element("p", { class: "wm-job-warns" }, words)),
    );
    const next = record && Object.keys(record.ticks).length > 0 ? nextStep() : null;
    if (next) {
      const number = next.querySelector(".wm-step-number")?.textContent ?? "";
      const way = element("a", { href: `#${next.id}` }, `Go on with step ${number}`);
      this.append(element("p", { class: "wm-job-next" }, way));
    }
  }
}

/** @param {string} engine of the job */
function mismatch(engine) {
  const chosen = chosenEngine();
  return chosen !== "" && chosen !== engine
    ? `The job is for ${saidEngine(engine)}; the page shows ${saidEngine(chosen)}.`
    : "";
}

/** The code on a printed page brings the reader here with the revision it was printed from. */
function paper() {
  const printed = new URLSearchParams(location.search).get("paper") ?? "";
  const { revision } = thisPage();
  return printed !== "" && revision !== "" && printed !== revision
    ? "Your paper is of another revision of this page. Work by what stands here."
    : "";
}

/**
 * What was entered on this page when it was another.
 * @param {PageRecord} record
 */
function outdated(record) {
  const { revision } = thisPage();
  const entries = ["ticks", "readings", "calculators"].flatMap((part) =>
    Object.entries(record[/** @type {"ticks"} */ (part)]),
  );
  const old = entries.filter(([, entry]) => entry.revision !== revision);
  if (revision === "" || old.length === 0) {
    return "";
  }
  const names = old.map(([name, entry]) => entry.title || name);
  const last = old.map(([, entry]) => entry.at).sort().at(-1);
  const some = names.slice(0, 4).join(", ") + (names.length > 4 ? " …" : "");
  return `This page has changed since you entered ${some} (last on ${saidTime(last)}). Look at them again.`;
}
