/**
 * The calculator in the page: takes over the form and the results that the build has put there.
 */

import { areTaken, withFed, workOut } from "./chains.js";
import { EntryField } from "./entries.js";
import { Drawings } from "./drawings.js";
import { putAside, putBack } from "./folded.js";
import { entriesIn, keep, pageRecord, unfinished } from "./kept.js";
import { Lines } from "./lines.js";
import { Places } from "./places.js";
import { entered, putIn } from "./recorded.js";
import { outcomeParts } from "./results.js";
import { failure, onState, state, Stopped, warm, warmSoon } from "./runtime.js";
import { ToolField } from "./tools.js";
import { PAUSES, spoken, WORDS } from "./words.js";
import { onUnitSystem, unitSystem } from "./units.js";
import { parsed, whenWhole } from "./whole.js";

/** @typedef {import("./runtime.js").Outcome} Outcome */

export class CalculatorElement extends HTMLElement {
  /** @type {EntryField[]} */
  fields = [];
  /** @type {ToolField[]} */
  tools = [];
  /** Whether all of it is here and has been taken over. */
  taken = false;
  /** Counts evaluations asked for; only the answer to the last one is shown. */
  serial = 0;
  /** The field typed in last. @type {EntryField | null} */
  latest = null;
  /** Whether an answer is awaited. */
  waiting = false;
  /** Whether what stands in the form was stopped; it is not tried again until it changes. */
  endless = false;
  /** Whether the reader has entered something since the page was opened. */
  touched = false;
  /** Whether something was entered that no answer on its way knows of. */
  ahead = false;
  /** What of it is in the record as far as this tab knows. */
  known = entriesIn(null);
  places = new Places(this);
  drawings = new Drawings(this);
  lines = new Lines(this);
  /** Undone when the element leaves the page. @type {(() => void)[]} */
  undo = [];

  connectedCallback() {
    whenWhole(this, () => this.takeUp());
  }

  /** Everything that the build has written is there: take it over. */
  takeUp() {
    this.fields = [...this.querySelectorAll(".wm-entry")].map(
      (node) => new EntryField(/** @type {HTMLElement} */ (node)),
    );
    this.tools = [...this.querySelectorAll(".wm-tool")].map(
      (node) => new ToolField(/** @type {HTMLElement} */ (node)),
    );
    this.taken = true;
    this.drawings.remember();
    putAside(this);
    const listening = new AbortController();
    const { signal } = listening;
    const form = this.querySelector("form");
    form?.addEventListener("submit", (event) => event.preventDefault(), { signal });
    form?.addEventListener("input", (event) => this.heard(event), { signal });
    form?.addEventListener("click", (event) => this.clicked(event), { signal });
    form?.addEventListener("paste", (event) => this.fieldOf(event)?.cells?.pasted(event), { signal });
    form?.addEventListener("keydown", (event) => this.pressed(event), { signal });
    this.addEventListener("focusin", warm, { signal });
    this.querySelector(".wm-back")?.addEventListener("click", () => this.reset(), { signal });
    this.undo = [
      () => listening.abort(),
      onState(() => this.runtimeChanged()),
      onUnitSystem(() => this.unitsChanged()),
    ];
    this.runtimeChanged();
    if (unitSystem() === "us") {
      this.unitsChanged();
    }
    this.restore();
    warmSoon();
    if (state() === "starting") {
      this.compute({ alone: true, own: true }); // asked by now, it is answered with the start
    }
  }

  /** Put in what was entered for this engine before; what is being typed now counts more. */
  async restore() {
    await parsed; // what is for another engine has been put aside, and is not to be recorded
    const kept = (await pageRecord()).calculators[this.id];
    if (this.touched) {
      return;
    }
    this.known = entriesIn(kept);
    if (kept?.calculator === this.dataset.calculator) {
      putIn(this, kept);
      this.touched = unfinished(kept);
      this.markChanges();
      this.compute();
    }
  }

  /**
   * Take over what another tab has made of it.
   * @param {Record<string, any> | undefined} kept
   */
  takeOver(kept) {
    if (state() !== "failed" && entriesIn(kept) !== this.known) {
      this.known = entriesIn(kept);
      this.touched ||= this.waiting; // the answer that is awaited was meant for the record
      this.ahead = true;
      putIn(this, kept?.calculator === this.dataset.calculator ? kept : undefined);
      this.markChanges();
      this.computeSoon();
    }
  }

  /**
   * Keep what the reader has entered, with what came out once that is known.
   * @param {Outcome | null} outcome
   */
  record(outcome) {
    if (this.closest("[data-wm-off]")) {
      return; // what feeds it feeds the other engine's too, but that one is not on the bench
    }
    const step = this.closest(".wm-step")?.id;
    const content = entered(this, outcome);
    const over = outcome ? this.known : undefined;
    this.known = entriesIn(content);
    keep("calculators", this.id, content, step ? { last: step } : {}, over);
  }

  disconnectedCallback() {
    putBack();
    this.undo.forEach((undo) => undo());
    clearTimeout(this.pause);
    this.lines.hush();
    this.drawings.putOff();
    this.serial += 1;
    this.waiting = false;
  }

  /** @param {Event} event */
  fieldOf(event) {
    const node = event.target instanceof Element ? event.target.closest(".wm-entry") : null;
    return this.fields.find((field) => field.root === node);
  }

  /** @param {Event} event */
  heard(event) {
    const field = this.fieldOf(event);
    if (field === undefined) {
      if (event.target instanceof Element && event.target.closest(".wm-tool")) {
        this.changed();
      }
      return;
    }
    if (event.target === field.units) {
      field.changeUnit();
    } else {
      field.touch();
    }
    this.latest = field;
    this.changed();
  }

  /** @param {Event} event */
  clicked(event) {
    const field = this.fieldOf(event);
    const button = /** @type {Element} */ (event.target);
    const cells = field?.cells;
    if (button.matches(".wm-follow")) {
      field?.reset();
      field?.turnTo(unitSystem());
      field?.control?.focus();
    } else if (button.matches(".wm-add-row")) {
      cells?.add();
    } else if (button.matches(".wm-remove-row")) {
      cells?.remove();
    } else if (button.matches(".wm-put-row-back")) {
      cells?.putBack();
    } else {
      return;
    }
    this.changed();
  }

  /** @param {KeyboardEvent} event */
  pressed(event) {
    if (this.fieldOf(event)?.cells?.pressed(event)) {
      this.changed();
    }
  }

  /**
   * Take a reading into an entry, as if it had been typed there.
   * @param {string} name
   * @param {string} text empty as long as the reading is not whole
   */
  take(name, text) {
    const field = this.fields.find((each) => each.name === name);
    if (field && text !== "" && field.value() !== text) {
      field.put(text);
      this.changed();
    }
  }

  /** Something in the form is not what it was. */
  changed() {
    this.touched = true;
    this.ahead = true;
    this.markChanges();
    this.record(null);
    this.computeSoon();
  }

  computeSoon() {
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.compute(), PAUSES.typing);
    if (state() !== "live") {
      withFed(this).forEach((each) => each.lines.old(WORDS.waiting));
    }
  }

  markChanges() {
    const parts = [...this.tools, ...this.fields];
    parts.forEach((part) => part.mark());
    const any = parts.some((part) => part.changed);
    this.querySelector(".wm-back")?.toggleAttribute("hidden", !any);
  }

  /** Back to the page's figures. */
  reset() {
    this.tools.forEach((tool) => tool.reset());
    for (const field of this.fields) {
      field.reset();
      field.turnTo(unitSystem());
    }
    this.markChanges();
    this.touched = true;
    this.record(null);
    this.compute();
    /** @type {HTMLElement | null} */
    const first = this.querySelector(".wm-entry:not([hidden]) :is(input, select)");
    first?.focus();
  }

  /**
   * Work out this calculator and, unless it is to be `alone`, those it feeds; `own` tells that
   * everything is as the page has it.
   */
  async compute({ alone = false, own = false } = {}) {
    clearTimeout(this.pause);
    if (state() === "failed") {
      return;
    }
    await null; // where many calculators come into a page at once, all are there now
    const concerned = () => (alone ? [this] : withFed(this));
    if (!areTaken(concerned())) {
      await parsed;
    }
    const asking = concerned().map((each) => each.ask());
    /** @type {Map<string, Outcome | Error>} */
    let answers = new Map();
    let trouble = new Error();
    try {
      const elements = asking.map(({ element }) => element);
      answers = await workOut(elements, { units: unitSystem(), drawings: false }, own);
    } catch (error) {
      trouble = error instanceof Error ? error : new Error(String(error));
    }
    for (const { element, serial } of asking) {
      if (serial === element.serial) {
        element.waiting = false;
        element.touched ||= this.touched; // what it feeds is part of the record too
        element.hear(answers.get(element.id) ?? trouble);
        if (element === this && trouble instanceof Stopped) {
          this.suspect()?.complain(WORDS.stopped);
        }
      }
    }
  }

  /** Note that a new answer is awaited; earlier ones are not shown any more. */
  ask() {
    this.waiting = true;
    this.ahead = false;
    this.drawings.putOff();
    this.serial += 1;
    return { element: this, serial: this.serial };
  }

  /** @param {Outcome | Error} answer */
  hear(answer) {
    this.endless = answer instanceof Stopped;
    if (answer instanceof Error) {
      this.trouble(answer.message);
    } else {
      this.show(answer);
    }
  }

  /** The entry that has most likely kept a sum from ending: typed last, or kept from before. */
  suspect() {
    return this.latest ?? this.fields.find((field) => field.changed);
  }

  /** @param {Outcome} outcome */
  show(outcome) {
    for (const field of this.fields) {
      const part = outcome.entries[field.name];
      if (part) {
        field.answer(part);
      }
    }
    if (outcome.complete) {
      this.places.put(".wm-outcome", outcomeParts(outcome));
      this.drawings.soon();
    }
    this.lines.old(outcome.complete ? "" : WORDS.old);
    this.lines.live();
    if (this.touched && !this.ahead) {
      this.record(outcome); // what was only worked out again keeps its date and revision
    }
    if ([...this.tools, ...this.fields].some((part) => part.changed)) {
      this.lines.say(spoken(outcome));
    }
  }

  /** @param {string} words */
  trouble(words) {
    if (state() !== "failed") {
      this.lines.old(`This could not be worked out: ${words}. ${WORDS.old}`);
      this.lines.say("This could not be worked out.");
    }
    if (state() === "live") {
      this.lines.live();
    }
  }

  runtimeChanged() {
    const now = state();
    this.dataset.state = now;
    if (now === "failed") {
      this.giveUp();
    } else if (now === "live") {
      if (this.endless) {
        this.lines.live();
      } else if (!this.waiting) {
        this.compute({ alone: true });
      }
    } else {
      this.lines.runtime(now === "starting" ? WORDS.starting : WORDS.page);
    }
  }

  /** No evaluation is possible any more: entries and results of the page, which belong together. */
  giveUp() {
    const touched = [...this.tools, ...this.fields].some((part) => part.changed);
    this.tools.forEach((tool) => tool.close());
    for (const field of this.fields) {
      field.forget();
      field.close();
    }
    this.markChanges();
    this.places.putBack();
    this.lines.old("");
    const put = touched ? " Your entries were put back." : "";
    this.lines.runtime(`The calculator could not start (${failure()}). ${WORDS.stand}${put}`);
    if (touched) {
      this.lines.say(`The calculator could not start. ${WORDS.stand}`);
    }
  }

  /** Turn fields that the reader has not typed in to the page's units, and work it out. */
  unitsChanged() {
    if (state() !== "failed") {
      this.fields.forEach((field) => field.turnTo(unitSystem()));
      this.compute({ alone: true });
    }
  }
}
