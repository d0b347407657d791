/**
 * The jobs of this device: list, new job, export and import, deletion. Stands where a page has
 * the block `jobs`.
 */

import { element } from "./dom.js";
import { chosenEngine, setEngine } from "./engine.js";
import { allJobs, onJobChange, removeJob } from "./job-store.js";
import { beginJob, currentJob, openJob } from "./kept.js";
import { exportJob, importJobs } from "./job-files.js";
import { pageUrl } from "./root.js";

/** @typedef {import("./job-store.js").Job} Job */
/** @typedef {import("./job-store.js").PageRecord} PageRecord */

/** `LG2/canal` as it is said. @param {string} engine */
export const saidEngine = (engine) => engine.replace("/", " ").trim() || "no engine named";

/** @param {string} time ISO 8601 */
export const saidTime = (time) =>
  new Date(time).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });

/** The sheet of a job, to be printed. @param {HTMLElement} place @param {string} id */
export const sheetAddress = (place, id) =>
  `${new URL(place.dataset.sheet ?? "", document.baseURI).href}?job=${encodeURIComponent(id)}`;

/** How many jobs a brief list shows. */
const BRIEFLY = 3;

export class JobsElement extends HTMLElement {
  /** Undone when the element leaves the page. @type {(() => void)[]} */
  undo = [];

  get brief() {
    return "brief" in this.dataset;
  }

  connectedCallback() {
    this.undo = [onJobChange(() => this.list())];
    const said = element("p", { class: "wm-jobs-said", role: "status" });
    const list = element("div", { class: "wm-jobs-list" });
    if (this.brief) {
      this.replaceChildren(said, list, element("p", {}, this.wayToAll("All jobs, and a new one")));
      this.list();
      return;
    }
    this.replaceChildren(
      said,
      list,
      this.newJob(),
      this.imports(),
      element(
        "p",
        { class: "wm-jobs-promise" },
        "Jobs are kept in this browser on this device, and nowhere else. Nothing is sent. What is deleted is gone; export what must be kept.",
      ),
    );
    this.list();
  }

  /** @param {string} words */
  wayToAll(words) {
    const home = new URL(this.dataset.jobs ?? "", document.baseURI);
    return element("a", { href: home.href }, words);
  }

  disconnectedCallback() {
    this.undo.forEach((undo) => undo());
  }

  /** @param {string} words */
  say(words) {
    const place = this.querySelector(".wm-jobs-said");
    if (place) {
      place.textContent = words;
    }
  }

  async list() {
    const place = this.querySelector(".wm-jobs-list");
    try {
      const all = await allJobs();
      const jobs = this.brief ? all.slice(0, BRIEFLY) : all;
      place?.replaceChildren(
        ...(jobs.length > 0
          ? jobs.map((job) => this.job(job))
          : [element("p", {}, "No job is open on this device.")]),
      );
    } catch (error) {
      this.say(
        `This browser keeps no jobs (${error instanceof Error ? error.message : error}). What is entered stays in its tab; print the page before closing it.`,
      );
    }
  }

  /** @param {Job} job */
  job(job) {
    const open = job.id === currentJob();
    const title = element("h2", { id: `job-${job.id}` }, `Job ${job.number}`);
    const about = [saidEngine(job.engine), job.serial && `serial ${job.serial}`, job.notes];
    const pages = Object.values(job.pages).filter((page) => page.url !== undefined);
    return element(
      "section",
      { class: open ? "wm-job wm-job-open" : "wm-job", "aria-labelledby": `job-${job.id}` },
      title,
      open ? element("p", { class: "wm-job-mark" }, "open in this tab") : null,
      element("p", {}, about.filter(Boolean).join(" · ")),
      element("p", { class: "wm-job-time" }, `last entry ${saidTime(job.changed)}`),
      pages.length > 0 ? element("ul", {}, ...pages.map((page) => progress(page, job))) : null,
      element(
        "div",
        { class: "wm-job-acts" },
        open
          ? act("close the job", () => this.open(""))
          : act("work on this job", () => this.open(job.id, job.engine)),
        element("a", { href: sheetAddress(this, job.id) }, "job sheet"),
        ...(this.brief ? [] : [act("export", () => exportJob(job)), this.deletion(job)]),
      ),
    );
  }

  /** @param {string} id @param {string} [engine] */
  open(id, engine = "") {
    openJob(id);
    if (engine !== "") {
      setEngine(engine);
    }
    this.say(id === "" ? "The job is closed; it is kept." : "The job is open in this tab.");
    this.list();
  }

  /** Two steps, because what is deleted is gone. @param {Job} job */
  deletion(job) {
    const place = element("span", { class: "wm-job-delete" });
    const ask = act("delete", () => {
      place.replaceChildren(
        `Delete job ${job.number} for good? `,
        act("delete it", async () => {
          await removeJob(job.id);
          if (currentJob() === job.id) {
            openJob("");
          }
          this.say(`Job ${job.number} is deleted.`);
        }),
        " ",
        act("keep it", () => place.replaceChildren(ask)),
      );
      place.querySelector("button")?.focus();
    });
    place.append(ask);
    return place;
  }

  newJob() {
    const engines = (this.dataset.wmEngines ?? "").split(" ").filter(Boolean);
    const field = (/** @type {string} */ name, /** @type {string} */ label, more = {}) =>
      element("label", {}, element("span", {}, label), element("input", { name, ...more }));
    const chosen = chosenEngine();
    const form = element(
      "form",
      { class: "wm-job-new" },
      element("h2", {}, "New job"),
      field("number", "Job number", { required: true, maxlength: 40, autocomplete: "off" }),
      element(
        "label",
        {},
        element("span", {}, "Engine"),
        element(
          "select",
          { name: "engine", required: true },
          element("option", { value: "" }, "choose"),
          ...engines.map((engine) =>
            element("option", { value: engine, selected: engine === chosen }, saidEngine(engine)),
          ),
        ),
      ),
      field("serial", "Serial number of the engine", { maxlength: 80, autocomplete: "off" }),
      field("notes", "Notes", { maxlength: 400, autocomplete: "off" }),
      element("button", { type: "submit" }, "Open the job"),
    );
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      const given = new FormData(/** @type {HTMLFormElement} */ (form));
      const text = (/** @type {string} */ name) => String(given.get(name) ?? "").trim();
      try {
        const job = await beginJob({
          number: text("number"),
          engine: text("engine"),
          serial: text("serial"),
          notes: text("notes"),
        });
        setEngine(job.engine);
        this.say(`Job ${job.number} is open: ticks, readings and entries go into it.`);
        /** @type {HTMLFormElement} */ (form).reset();
        this.list();
      } catch (error) {
        this.say(`The job could not be kept: ${error instanceof Error ? error.message : error}.`);
      }
    });
    return form;
  }

  imports() {
    const file = element("input", { type: "file", accept: ".json,application/json", multiple: true });
    file.addEventListener("change", async () => {
      const input = /** @type {HTMLInputElement} */ (file);
      this.say(await importJobs([...(input.files ?? [])]));
      input.value = "";
      this.list();
    });
    return element(
      "label",
      { class: "wm-job-import" },
      element("span", {}, "Take in an exported job"),
      file,
    );
  }
}

/** @param {string} words @param {() => void} does */
export function act(words, does) {
  const button = element("button", { type: "button" }, words);
  button.addEventListener("click", does);
  return button;
}

/** One page of a job: how far it is, and the way back to where it was left.
 * @param {PageRecord} page @param {Job} job */
function progress(page, job) {
  const done = Object.keys(page.ticks).length;
  const count = page.steps === undefined ? "" : `: ${done} of ${page.steps} steps done`;
  const to = pageUrl(page.url ?? "");
  to.searchParams.set("engine", job.engine);
  to.hash = page.last ?? "";
  const way = element("a", { href: to.href }, page.title ?? page.url ?? "");
  way.addEventListener("click", () => openJob(job.id));
  return element("li", {}, way, count);
}
