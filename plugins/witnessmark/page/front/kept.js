/**
 * What was entered on the page that is open: ticks, readings, calculators.
 *
 * It belongs to the open job, in the database of the device; without a job it stays in this
 * tab through a reload, and goes with the tab: it must not greet the fitter of the next engine.
 */

import { addJob, changeJob, emptyPage, findJob } from "./job-store.js";
import { belowRoot, ROOT } from "./root.js";

/** @typedef {import("./job-store.js").Job} Job */
/** @typedef {import("./job-store.js").PageRecord} PageRecord */
/** @typedef {"ticks" | "readings" | "calculators"} Part */

const CURRENT = `witnessmark.job ${ROOT.pathname}`;
const TAB = `witnessmark.page ${ROOT.pathname} `;
const UNKEPT = `witnessmark.unkept ${ROOT.pathname} `;

/** @type {Set<(words: string) => void>} */
const troubled = new Set();

/**
 * Call `hear` with words when something could not be kept, and with none when it could again.
 * @param {(words: string) => void} hear
 * @returns {() => void} stops it
 */
export function onTrouble(hear) {
  troubled.add(hear);
  return () => troubled.delete(hear);
}

/** @param {Storage} storage @param {string} key @returns {string | null} */
function read(storage, key) {
  try {
    return storage.getItem(key);
  } catch {
    return null; // storage may be switched off
  }
}

/** @param {Storage} storage @param {string} key @param {string} text */
function write(storage, key, text) {
  try {
    storage.setItem(key, text);
    return true;
  } catch {
    return false;
  }
}

/** @param {string} key in the tab */
function remove(key) {
  try {
    sessionStorage.removeItem(key);
  } catch {
    // storage may be switched off
  }
}

/** The id of the job that is open in this tab; empty for none. */
export function currentJob() {
  const own = read(sessionStorage, CURRENT);
  return own ?? read(localStorage, CURRENT) ?? "";
}

/** @param {string} id empty for none */
export function openJob(id) {
  write(sessionStorage, CURRENT, id);
  write(localStorage, CURRENT, id);
}

/**
 * What the page says of itself: its path in the handbook, its title, the digests of its words,
 * values and maths.
 * @returns {{page: string, title: string, revision: string, maths: Record<string, string>}}
 */
export function thisPage() {
  const place = /** @type {HTMLElement | null} */ (document.querySelector("wm-job"));
  const { page, title = "", revision = "", maths = "{}" } = place?.dataset ?? {};
  return { page: page ?? address(), title, revision, maths: JSON.parse(maths) };
}

/** The page's address below the site's root. */
export function address() {
  return belowRoot(location.pathname);
}

/** @param {string} key @returns {PageRecord} */
function inTab(key) {
  try {
    return { ...emptyPage(), ...JSON.parse(read(sessionStorage, key) ?? "{}") };
  } catch {
    return emptyPage();
  }
}

/** Where the tab keeps what the database has refused. @param {string} id @param {string} page */
const refused = (id, page) => `${UNKEPT}${id} ${page}`;

/** The page's record with what came later; what came later may have taken entries away.
 * @param {PageRecord} record @param {PageRecord} later */
function joined(record, later) {
  /** @param {Part} part */
  const both = (part) =>
    Object.fromEntries(
      Object.entries({ ...record[part], ...later[part] }).filter(([, entry]) => entry !== null),
    );
  return {
    ...record,
    ...later,
    ticks: both("ticks"),
    readings: both("readings"),
    calculators: both("calculators"),
  };
}

/** @returns {Promise<PageRecord>} what has been entered on the page that is open */
export async function pageRecord() {
  const { page } = thisPage();
  const id = currentJob();
  if (id === "") {
    return inTab(TAB + page);
  }
  try {
    const job = await findJob(id);
    if (job === undefined) {
      return inTab(TAB + page);
    }
    return joined(job.pages[page] ?? emptyPage(), inTab(refused(id, page)));
  } catch {
    return joined(emptyPage(), inTab(refused(id, page)));
  }
}

/**
 * Put into the open job what the tab has kept for it, on this page or another, while the
 * database refused.
 */
export async function handOver() {
  const id = currentJob();
  if (id === "" || tabKeys(refused(id, "")).length === 0) {
    return;
  }
  try {
    await changeWithRefused(id, () => {});
    tell("");
  } catch {
    // It stays in the tab; what is entered next says so.
  }
}

/**
 * Change a job, and put into it what the tab has kept for it.
 * @param {string} id
 * @param {(job: Job) => void} change
 * @returns {Promise<Job | undefined>} the job as it is now
 */
async function changeWithRefused(id, change) {
  const start = refused(id, "");
  /** @type {Map<string, string | null>} */
  const taken = new Map();
  const changed = await changeJob(id, (job) => {
    for (const key of tabKeys(start)) {
      const page = key.slice(start.length);
      taken.set(key, read(sessionStorage, key));
      job.pages[page] = joined(job.pages[page] ?? emptyPage(), inTab(key));
    }
    change(job);
  });
  for (const [key, text] of taken) {
    if (read(sessionStorage, key) === text) {
      remove(key); // otherwise something has been refused since
    }
  }
  return changed;
}

/**
 * Keep one entry of the page that is open, or take it away.
 * @param {Part} part
 * @param {string} name
 * @param {Record<string, unknown> | null} content null takes it away
 * @param {Partial<PageRecord>} [about] what is to be known of the page besides
 * @param {string} [over] keep it only where the record's entries are these, as `entriesIn` gives
 *   them: what came out must not bring back what another tab has changed since
 */
export async function keep(part, name, content, about = {}, over) {
  const { page, title, revision, maths } = thisPage();
  const at = new Date().toISOString();
  /** @param {PageRecord} record @param {boolean} [waits] so the taking away is noted, too */
  const enter = (record, waits = false) => {
    const there = record[part][name];
    if (over !== undefined && (entriesIn(there) !== over || same(there, content, revision))) {
      return;
    }
    if (content === null && waits) {
      record[part][name] = null;
    } else if (content === null) {
      delete record[part][name];
    } else {
      const { calculator } = content;
      const digest = typeof calculator === "string" ? { maths: maths[calculator] ?? "" } : {};
      record[part][name] = { ...content, ...digest, at, revision };
    }
    Object.assign(record, { title, url: address(), ...about });
  };
  const id = currentJob();
  if (id !== "") {
    try {
      const job = await changeWithRefused(id, ({ pages }) => {
        enter((pages[page] ??= emptyPage()));
      });
      if (job !== undefined) {
        tell("");
        return;
      }
      openJob(""); // deleted in another tab: what is entered now stays here
    } catch (error) {
      const stays = keepInTab(refused(id, page), (record) => enter(record, true));
      tell(unkept(error, stays));
      return;
    }
  }
  if (!keepInTab(TAB + page, enter)) {
    tell("This browser keeps nothing: what you enter is gone with a reload. Print the page first.");
  }
}

/** @param {string} key @param {(record: PageRecord) => void} enter @returns {boolean} */
function keepInTab(key, enter) {
  const record = inTab(key);
  enter(record);
  return write(sessionStorage, key, JSON.stringify(record));
}

/** @param {unknown} error @param {boolean} stays in the tab */
function unkept(error, stays) {
  const full = error instanceof DOMException && error.name === "QuotaExceededError";
  const why = full ? "the storage of this device is full" : "the browser refuses to keep it";
  const what = full ? "Export jobs that are done, delete them, and enter something here again." : "Print the page before you close it.";
  return `Not in the job: ${why}. ${stays ? "It stays in this tab." : "It is gone with a reload."} ${what}`;
}

/** @param {string} words */
function tell(words) {
  troubled.forEach((hear) => hear(words));
}

/**
 * Whether an entry still waits for what comes of it: the page was left too soon. On a page that
 * has changed since, it keeps its date and revision and waits for the fitter.
 * @param {{outcome?: unknown, revision?: string} | undefined} entry
 */
export function unfinished(entry) {
  return entry !== undefined && entry.outcome === null && entry.revision === thisPage().revision;
}

/**
 * What the reader has entered of a part of the record, as text to be compared; the same for one
 * that is not there and one that has nothing of the reader's.
 * @param {Record<string, any> | null | undefined} entry
 */
export function entriesIn(entry) {
  const { typed = {}, tools = {}, texts = [] } = entry ?? {};
  return JSON.stringify([typed, tools, texts]);
}

/**
 * Whether the record has the same outcome already, from another tab: it keeps its date.
 * @param {Record<string, any> | null | undefined} there
 * @param {Record<string, any> | null} content
 * @param {string} revision
 */
function same(there, content, revision) {
  /** @param {Record<string, any> | null | undefined} entry */
  const text = (entry) => JSON.stringify([entry?.units, entry?.limits, entry?.outcome]);
  return there?.revision === revision && text(there) === text(content);
}

/** Forget the ticks of the page that is open. */
export async function clearTicks() {
  const { ticks } = await pageRecord();
  for (const name of Object.keys(ticks)) {
    await keep("ticks", name, null);
  }
}

/**
 * Begin a job; what was entered in this tab without one goes into it.
 * @param {{number: string, engine: string, serial: string, notes: string}} about
 * @returns {Promise<Job>}
 */
export async function beginJob(about) {
  const now = new Date().toISOString();
  /** @type {Record<string, PageRecord>} */
  const pages = {};
  for (const key of tabKeys(TAB)) {
    pages[key.slice(TAB.length)] = inTab(key);
  }
  const job = { id: newId(), ...about, begun: now, changed: now, pages };
  await addJob(job);
  openJob(job.id);
  tabKeys(TAB).forEach(remove);
  return job;
}

/** An id that no other device gives; `randomUUID` is missing where the intranet has no TLS. */
export function newId() {
  const bytes = [...crypto.getRandomValues(new Uint8Array(16))];
  return bytes.map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @param {string} start @returns {string[]} what the tab keeps under keys that start so */
function tabKeys(start) {
  try {
    return Object.keys(sessionStorage).filter((key) => key.startsWith(start));
  } catch {
    return [];
  }
}
