/**
 * A reading in a step: what the fitter measured, held against the limits of the page by the
 * same Python that works out the calculators. What was typed stays through a reload.
 */

import { evaluate } from "./runtime.js";
import { entriesIn, keep, pageRecord, unfinished } from "./kept.js";
import { onUnitSystem, unitSystem } from "./units.js";
import { setInvalid } from "./dom.js";
import { PAUSES, WORDS } from "./words.js";

/** @typedef {import("./runtime.js").Outcome} Outcome */

/** @type {Record<string, string>} */
const VERDICTS = {
  "": "", read: "Read", in: "Within limits", near: "Near the limit", out: "Out of limits",
};

/** The verdict on a reading; where there is no limit it can only be read. @param {Outcome} outcome */
const verdictOf = ({ verdict, limits }) => (verdict === "in" && limits === "" ? "read" : verdict);

export class ReadingElement extends HTMLElement {
  /** Counts questions; only the answer to the last one is shown. */
  serial = 0;
  /** Whether the reader has written since the page was opened. */
  touched = false;
  /** What of it is in the record as far as this tab knows. */
  known = entriesIn(null);
  /** Undone when the element leaves the page. @type {(() => void)[]} */
  undo = [];

  /** @returns {HTMLInputElement[]} */
  get inputs() {
    return [...this.querySelectorAll("input")];
  }

  connectedCallback() {
    const listening = new AbortController();
    this.addEventListener("input", () => this.changed(), { signal: listening.signal });
    this.undo = [() => listening.abort(), onUnitSystem(() => this.judge())];
    this.restore();
  }

  /** Put in what was written for this engine before; what is being typed now counts more. */
  async restore() {
    const { serial } = this;
    const kept = (await pageRecord()).readings[this.id];
    if (serial === this.serial) {
      this.touched = unfinished(kept);
      this.put(kept);
      this.judge();
    }
  }

  /** @param {Record<string, any> | undefined} kept */
  put(kept) {
    this.known = entriesIn(kept);
    this.inputs.forEach((input, place) => {
      const text = kept?.texts[place] ?? "";
      if (input.value !== text) {
        input.value = text; // where nothing changes, the caret stays
      }
    });
  }

  /**
   * Take over what another tab has made of it; that tab judges it for the record.
   * @param {Record<string, any> | undefined} kept
   */
  takeOver(kept) {
    if (entriesIn(kept) !== this.known) {
      this.put(kept);
      this.touched = false;
      clearTimeout(this.pause);
      this.judge();
    }
  }

  disconnectedCallback() {
    this.undo.forEach((undo) => undo());
    clearTimeout(this.pause);
    this.serial += 1;
  }

  changed() {
    this.serial += 1;
    this.touched = true;
    this.record(null);
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.judge(), PAUSES.typing);
  }

  /**
   * Keep what is written, with the verdict once there is one.
   * @param {Outcome | null} outcome
   */
  record(outcome) {
    const texts = this.inputs.map((input) => input.value);
    const step = this.closest(".wm-step")?.id;
    const title = this.querySelector("legend")?.firstChild?.textContent?.trim() ?? "";
    const request = JSON.parse(this.dataset.request ?? "{}");
    const limits = this.limits();
    const places = [...this.querySelectorAll(".wm-repeat-name")].map((name) => name.textContent);
    const content = { title, limits, places, request, texts, units: unitSystem(), outcome };
    const empty = texts.every((text) => text.trim() === "");
    const over = outcome ? this.known : undefined;
    this.known = entriesIn(empty ? null : content);
    keep("readings", this.id, empty ? null : content, step ? { last: step } : {}, over);
  }

  /** The limits as they are shown now, in one unit system. */
  limits() {
    const place = this.querySelector(".wm-accepts")?.cloneNode(true);
    if (!(place instanceof Element)) {
      return "";
    }
    place.querySelector(unitSystem() === "us" ? ".wm-si" : ".wm-us")?.remove();
    return place.textContent ?? "";
  }

  async judge() {
    const texts = this.inputs.map((input) => input.value);
    const asked = ++this.serial;
    if (texts.every((text) => text.trim() === "")) {
      this.show(null);
      return;
    }
    const request = { ...JSON.parse(this.dataset.request ?? "{}"), texts, units: unitSystem() };
    try {
      const outcome = await evaluate(request);
      if (asked === this.serial) {
        this.show(outcome);
        this.feed(outcome);
        if (this.touched) {
          this.record(outcome); // a reading that was only shown again keeps its date and revision
        }
      }
    } catch {
      if (asked === this.serial) {
        this.say(WORDS.unjudged);
      }
    }
  }

  /**
   * Hand the reading to the calculators it is meant for: the mean, or each to its own entry.
   * @param {Outcome} outcome
   */
  feed(outcome) {
    /** @type {[string, string][][]} */
    const feeds = JSON.parse(this.dataset.feeds ?? "[]");
    if (!this.touched) {
      return; // what was handed on before is in the record of the calculator
    }
    feeds.forEach((targets, place) => {
      const text = feeds.length > 1 ? outcome.given.each[place] : outcome.given.mean;
      for (const [id, entry] of targets) {
        const taker = /** @type {import("./widget.js").CalculatorElement | null} */ (
          document.getElementById(id)
        );
        taker?.take(entry, text);
      }
    });
  }

  /** @param {string} text */
  say(text) {
    const place = this.querySelector(".wm-verdict");
    if (place && place.textContent !== text) {
      place.textContent = text;
    }
  }

  /** @param {Outcome | null} outcome */
  show(outcome) {
    /** @type {string} */
    const verdict = outcome ? verdictOf(outcome) : "";
    this.toggleAttribute("data-judged", verdict !== "");
    this.dataset.verdict = verdict;
    const spread = outcome?.spread ? ` Spread ${outcome.spread}.` : "";
    this.say(verdict === "" ? "" : `${VERDICTS[verdict]}.${spread}`);
    this.inputs.forEach((input, place) => {
      const part = outcome?.readings[place];
      const root = /** @type {HTMLElement} */ (input.closest(".wm-repeat"));
      const said = /** @type {HTMLElement} */ (root.querySelector(".wm-repeat-said"));
      root.dataset.verdict = verdict === "read" ? "" : (part?.verdict ?? "");
      said.textContent = part?.error?.message ?? part?.said ?? "";
      setInvalid(input, Boolean(part?.error));
    });
  }
}
