/**
 * Job records on this device: one database of the browser for each handbook.
 *
 * Every change is one transaction that reads the record and writes it back, so two tabs never
 * overwrite each other's entries; it is on disk before it counts as kept. Nothing is sent
 * anywhere.
 */

import { ROOT } from "./root.js";

const NAME = `witness mark ${ROOT.pathname}`;
const JOBS = "jobs";

/**
 * @typedef {object} PageRecord  What was entered on one page.
 * @property {string} [title]
 * @property {string} [url]     address below the site's root
 * @property {number} [steps]   how many steps were shown
 * @property {string} [last]    the step that was worked on last
 * @property {Record<string, any>} ticks
 * @property {Record<string, any>} readings
 * @property {Record<string, any>} calculators
 *
 * @typedef {object} Job
 * @property {string} id
 * @property {string} number
 * @property {string} engine    machine and variant: LG2/canal
 * @property {string} serial
 * @property {string} notes
 * @property {string} begun     time as ISO 8601
 * @property {string} changed
 * @property {Record<string, PageRecord>} pages  by the page's path in the handbook
 */

/** Tells other tabs that a job has changed. */
const channel = typeof BroadcastChannel === "function" ? new BroadcastChannel(NAME) : null;

/** @type {Set<(id: string) => void>} */
const listeners = new Set();

/** @type {Set<(id: string) => void>} */
const listenersElsewhere = new Set();

channel?.addEventListener("message", ({ data }) => {
  listeners.forEach((hear) => hear(data));
  listenersElsewhere.forEach((hear) => hear(data));
});

/**
 * Call `hear` with a job's id when it has changed, in this tab or in another.
 * @param {(id: string) => void} hear
 * @returns {() => void} stops it
 */
export function onJobChange(hear) {
  listeners.add(hear);
  return () => listeners.delete(hear);
}

/**
 * Call `hear` with a job's id when it has changed in another tab.
 * @param {(id: string) => void} hear
 */
export function onJobChangeElsewhere(hear) {
  listenersElsewhere.add(hear);
}

/** @param {string} id */
function tell(id) {
  channel?.postMessage(id);
  listeners.forEach((hear) => hear(id));
}

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

/** @returns {Promise<IDBDatabase>} */
function database() {
  opened ??= new Promise((resolve, reject) => {
    const asking = indexedDB.open(NAME, 1);
    asking.onupgradeneeded = () => asking.result.createObjectStore(JOBS, { keyPath: "id" });
    asking.onsuccess = () => {
      // A newer version in another tab may not be held up by this one.
      asking.result.onversionchange = () => {
        asking.result.close();
        opened = null;
      };
      resolve(asking.result);
    };
    asking.onerror = () => reject(asking.error);
    asking.onblocked = () => reject(new Error("another tab holds an older version open"));
  });
  opened.catch(() => {
    opened = null;
  });
  return opened;
}

/**
 * @template T
 * @param {"readonly" | "readwrite"} mode
 * @param {(store: IDBObjectStore, give: (value: T) => void) => void} work
 * @returns {Promise<T>} what was given, once the transaction is complete
 */
async function transact(mode, work) {
  const base = await database();
  return new Promise((resolve, reject) => {
    const transaction = base.transaction(JOBS, mode, { durability: "strict" });
    /** @type {any} */
    let given;
    transaction.oncomplete = () => resolve(given);
    transaction.onerror = transaction.onabort = () =>
      reject(transaction.error ?? new Error("the browser broke off"));
    work(transaction.objectStore(JOBS), (value) => {
      given = value;
    });
  });
}

/** @returns {Promise<Job[]>} all jobs, the one worked on last first */
export async function allJobs() {
  /** @type {Job[]} */
  const jobs = await transact("readonly", (store, give) => {
    const asking = store.getAll();
    asking.onsuccess = () => give(asking.result);
  });
  return jobs.sort((one, other) => other.changed.localeCompare(one.changed));
}

/** @param {string} id @returns {Promise<Job | undefined>} */
export function findJob(id) {
  return transact("readonly", (store, give) => {
    const asking = store.get(id);
    asking.onsuccess = () => give(asking.result);
  });
}

/**
 * Change a job within one transaction; nothing happens when it is gone.
 * @param {string} id
 * @param {(job: Job) => void} change
 * @returns {Promise<Job | undefined>} the job as it is now
 */
export async function changeJob(id, change) {
  /** @type {Job | undefined} */
  const changed = await transact("readwrite", (store, give) => {
    const asking = store.get(id);
    asking.onsuccess = () => {
      if (asking.result) {
        change(asking.result);
        asking.result.changed = new Date().toISOString();
        store.put(asking.result);
        give(asking.result);
      }
    };
  });
  if (changed) {
    tell(id);
  }
  return changed;
}

/** @param {Job} job */
export async function addJob(job) {
  await transact("readwrite", (store) => store.add(job));
  // Ask that a full disk does not cost a job; a browser may refuse.
  navigator.storage?.persist?.().catch(() => false);
  tell(job.id);
}

/** @param {string} id */
export async function removeJob(id) {
  await transact("readwrite", (store) => store.delete(id));
  tell(id);
}

/** @returns {PageRecord} */
export function emptyPage() {
  return { ticks: {}, readings: {}, calculators: {} };
}
