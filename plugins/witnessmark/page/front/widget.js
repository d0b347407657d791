/**
 * The calculator in the page: takes over the form and the results that the build has put there.
 */

import { EntryField } from "./entries.js";
import { drawingParts, outcomeParts } from "./results.js";
import { evaluate, failure, onState, state, warm } from "./runtime.js";
import { onUnitSystem, unitSystem } from "./units.js";

/** @typedef {import("./runtime.js").Outcome} Outcome */

const TYPING_PAUSE_MS = 120;
const SPEAKING_PAUSE_MS = 900;

const PAGE = "The page's own figures, worked out when the handbook was built.";
const STARTING = "The calculator is starting; the page's own figures are shown.";
const LIVE = "Live: worked out here, from what stands in the fields.";
const OLD = "These figures belong to the last entries that could be read.";

export class CalculatorElement extends HTMLElement {
  /** Counts evaluations asked for; only the answer to the last one is shown. */
  serial = 0;

  connectedCallback() {
    this.fields = [...this.querySelectorAll(".wm-entry")].map(
      (node) => new EntryField(/** @type {HTMLElement} */ (node)),
    );
    this.listening = new AbortController();
    const { signal } = this.listening;
    const form = this.querySelector("form");
    form?.addEventListener("submit", (event) => event.preventDefault(), { signal });
    form?.addEventListener("input", (event) => this.heard(event), { signal });
    form?.addEventListener("click", (event) => this.clicked(event), { signal });
    this.addEventListener("focusin", warm, { signal });
    this.querySelector(".wm-back")?.addEventListener("click", () => this.reset(), { signal });
    this.stops = [
      onState(() => this.runtimeChanged()),
      onUnitSystem(() => this.unitsChanged()),
    ];
    for (const field of this.fields) {
      field.open();
    }
    this.runtimeChanged();
  }

  disconnectedCallback() {
    this.listening?.abort();
    this.stops?.forEach((stop) => stop());
    clearTimeout(this.pause);
    clearTimeout(this.speaking);
    this.serial += 1;
  }

  get lists() {
    return this.fields ?? [];
  }

  /** @param {Event} event */
  fieldOf(event) {
    const target = /** @type {Element | null} */ (event.target);
    const node = target?.closest(".wm-entry");
    return this.lists.find((field) => field.root === node);
  }

  /** @param {Event} event */
  heard(event) {
    const field = this.fieldOf(event);
    if (field === undefined) {
      return;
    }
    if (event.target === field.units) {
      field.changeUnit();
    } else {
      field.touch();
    }
    this.changed();
  }

  /** @param {Event} event */
  clicked(event) {
    const target = /** @type {Element | null} */ (event.target);
    const field = this.fieldOf(event);
    if (field && target?.matches(".wm-add-row")) {
      field.addRow();
      this.changed();
    } else if (field && target?.matches(".wm-remove-row")) {
      field.removeRow();
      this.changed();
    }
  }

  changed() {
    this.markChanges();
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.compute(), TYPING_PAUSE_MS);
  }

  markChanges() {
    this.lists.forEach((field) => field.mark());
    const any = this.lists.some((field) => field.changed);
    this.querySelector(".wm-back")?.toggleAttribute("hidden", !any);
  }

  reset() {
    this.lists.forEach((field) => field.reset());
    this.markChanges();
    this.compute();
    this.querySelector("input, select")?.dispatchEvent(new Event("focus"));
  }

  async compute() {
    if (state() === "failed") {
      this.runtimeChanged();
      return;
    }
    const serial = ++this.serial;
    const entries = Object.fromEntries(this.lists.map((field) => [field.name, field.value()]));
    const calculator = this.dataset.calculator ?? "";
    try {
      const outcome = await evaluate({ calculator, entries, units: unitSystem() });
      if (serial === this.serial) {
        this.show(outcome);
      }
    } catch (error) {
      if (serial === this.serial) {
        this.trouble(error instanceof Error ? error.message : String(error));
      }
    }
  }

  /** @param {Outcome} outcome */
  show(outcome) {
    for (const field of this.lists) {
      const part = outcome.entries[field.name];
      if (part) {
        field.answer(part);
      }
    }
    if (outcome.complete) {
      const opened = this.querySelector(".wm-more")?.hasAttribute("open") ?? false;
      this.place(".wm-outcome", outcomeParts(outcome));
      this.querySelector(".wm-more")?.toggleAttribute("open", opened);
      this.place(".wm-drawings", drawingParts(outcome, this.id));
    }
    this.old(!outcome.complete);
    this.runtimeLine(LIVE);
    this.speak(outcome);
  }

  /**
   * Keep the results that stand, and say that they are not those of the entries.
   * @param {boolean} stale
   */
  old(stale) {
    this.classList.toggle("wm-old", stale);
    const line = this.querySelector(".wm-stale");
    if (line) {
      line.toggleAttribute("hidden", !stale);
      line.textContent = stale ? OLD : "";
    }
  }

  /**
   * @param {string} selector
   * @param {Element[]} parts
   */
  place(selector, parts) {
    this.querySelector(selector)?.replaceChildren(...parts);
  }

  /** @param {string} words */
  trouble(words) {
    this.old(true);
    this.runtimeLine(`This could not be worked out (${words}).`);
  }

  runtimeChanged() {
    const now = state();
    this.dataset.state = now;
    if (now === "failed") {
      const touched = this.lists.some((field) => field.changed);
      this.old(touched);
      this.runtimeLine(
        `The calculator could not start (${failure()}). The page's own figures stand.`,
      );
    } else if (now === "live") {
      this.unitsChanged();
    } else {
      this.runtimeLine(now === "starting" ? STARTING : PAGE);
    }
  }

  /** Turn fields that the reader has not touched to the page's units, and work it out. */
  unitsChanged() {
    const key = unitSystem() === "us" ? "unitUs" : "unitSi";
    const turn = () => this.lists.forEach((field) => field.preferUnit(field.root.dataset[key]));
    if (this.lists.some((field) => field.units && field.read === null)) {
      // The first answer brings the numbers in every unit.
      this.compute().then(() => {
        if (unitSystem() === "us") {
          turn();
          this.compute();
        }
      });
      return;
    }
    turn();
    this.compute();
  }

  /** @param {string} words */
  runtimeLine(words) {
    const line = this.querySelector(".wm-runtime");
    if (line && line.textContent !== words) {
      line.textContent = words;
    }
  }

  /**
   * Tell those who listen what came out, once the typing has stopped.
   * @param {Outcome} outcome
   */
  speak(outcome) {
    clearTimeout(this.speaking);
    if (!this.lists.some((field) => field.changed)) {
      return;
    }
    this.speaking = setTimeout(() => {
      const line = this.querySelector(".wm-said");
      if (line) {
        line.textContent = spoken(outcome);
      }
    }, SPEAKING_PAUSE_MS);
  }
}

/** @param {Outcome} outcome */
function spoken(outcome) {
  if (!outcome.complete) {
    const wrong = Object.values(outcome.entries).filter((part) => part.error).length;
    return wrong === 1 ? "One entry cannot be read." : `${wrong} entries cannot be read.`;
  }
  const lead = outcome.results.find((/** @type {any} */ result) => result.lead) ?? outcome.results[0];
  const levels = outcome.findings.map((/** @type {any} */ finding) => finding.level);
  const stops = levels.filter((/** @type {string} */ level) => level === "stop").length;
  const words = `${lead.label}: ${lead.display}.`;
  return stops ? `${words} Stop: see the findings.` : words;
}
