/**
 * Jobs as files: JSON of the published form (job-record.schema.json), out and in.
 */

import { element } from "./dom.js";
import { addJob, findJob } from "./job-store.js";
import { notOfTheForm } from "./job-form.js";
import { newId } from "./kept.js";

/** @typedef {import("./job-store.js").Job} Job */

const FORMAT = "witness-mark job record";
const VERSION = 1;
/** A job of many pages has a few hundred kilobytes. */
const MOST_BYTES = 5_000_000;

/** @param {Job} job @returns {string} */
export function jobText(job) {
  return JSON.stringify({ format: FORMAT, version: VERSION, ...job }, null, 1) + "\n";
}

/** Give the job to the browser as a download. @param {Job} job */
export function exportJob(job) {
  const address = URL.createObjectURL(new Blob([jobText(job)], { type: "application/json" }));
  const name = `job-${job.number.replace(/[^\w-]+/g, "-")}.json`;
  const link = element("a", { href: address, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/**
 * Take jobs in. One that is here already is taken in beside it, never over it.
 * @param {File[]} files
 * @returns {Promise<string>} what to tell
 */
export async function importJobs(files) {
  const told = [];
  for (const file of files) {
    try {
      const job = await readJob(file);
      if ((await findJob(job.id)) !== undefined) {
        job.id = newId();
        job.number = `${job.number} (taken in)`;
      }
      await addJob(job);
      told.push(`Job ${job.number} is here.`);
    } catch (error) {
      told.push(`${file.name}: ${error instanceof Error ? error.message : error}.`);
    }
  }
  return told.join(" ");
}

/** @param {File} file @returns {Promise<Job>} */
async function readJob(file) {
  if (file.size > MOST_BYTES) {
    throw new Error("too large for a job record");
  }
  let data;
  try {
    data = JSON.parse(await file.text());
  } catch {
    throw new Error("not readable as JSON");
  }
  if (data?.format !== FORMAT) {
    throw new Error("no job record of this handbook's kind");
  }
  if (data.version !== VERSION) {
    throw new Error(`a job record of another version; this handbook reads ${VERSION}`);
  }
  const wrong = notOfTheForm(data);
  if (wrong !== "") {
    throw new Error(`not a right job record: ${wrong}`);
  }
  const { format: _format, version: _version, ...job } = data;
  return job;
}
