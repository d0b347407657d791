/**
 * What another tab has entered on this page of the open job is shown here, too, all but what has
 * been entered here since: that is the later.
 */

import { findJob, onJobChangeElsewhere } from "./job-store.js";
import { currentJob, pageRecord } from "./kept.js";
import { showTicks, ticksMade } from "./ticks.js";

/** @typedef {import("./reading.js").ReadingElement} ReadingElement */
/** @typedef {import("./widget.js").CalculatorElement} CalculatorElement */

/** Whether the record is being read, and whether it has changed meanwhile. */
let reading = false;
let again = false;

/** Listen to the other tabs; called once for a document. */
export function watchOtherTabs() {
  onJobChangeElsewhere(async (id) => {
    if (id !== currentJob()) {
      return;
    }
    again = true;
    if (reading) {
      return;
    }
    reading = true;
    while (again) {
      again = false;
      await takeOver(id).catch(() => {}); // the record cannot be read: the page stays as it is
    }
    reading = false;
  });
}

/** @param {string} id of the open job */
async function takeOver(id) {
  if ((await findJob(id)) === undefined) {
    return; // deleted: what stands here stays
  }
  /** @type {(ReadingElement | CalculatorElement)[]} */
  const parts = [...document.querySelectorAll("wm-reading, wm-calculator")].map(
    (part) => /** @type {any} */ (part),
  );
  const known = parts.map((part) => part.known);
  const ticks = ticksMade();
  const record = await pageRecord();
  if (ticks === ticksMade()) {
    showTicks(record.ticks);
  } else {
    again = true;
  }
  parts.forEach((part, place) => {
    if (part.known === known[place]) {
      part.takeOver((part.matches("wm-reading") ? record.readings : record.calculators)[part.id]);
    }
  });
}
