/**
 * The drawings of a calculator: they take longer than figures, and come when the typing has
 * stopped.
 */

import { workOut } from "./chains.js";
import { drawingParts } from "./results.js";
import { unitSystem } from "./units.js";
import { PAUSES } from "./words.js";

/** @typedef {import("./widget.js").CalculatorElement} CalculatorElement */

export class Drawings {
  /** What those that stand there were made from. */
  drawn = "";

  /** @param {CalculatorElement} element */
  constructor(element) {
    this.element = element;
  }

  /** Those of the build stand there, made from the page's figures. */
  remember() {
    this.drawn ||= this.key("si");
  }

  /** Draw in a moment, unless something is worked out before. */
  soon() {
    this.pause = setTimeout(() => this.draw(), PAUSES.drawing);
  }

  putOff() {
    clearTimeout(this.pause);
  }

  /**
   * What drawings depend on, as text.
   * @param {import("./units.js").System} units
   */
  key(units) {
    const parts = [...this.element.tools, ...this.element.fields];
    return JSON.stringify([units, parts.map((part) => part.value())]);
  }

  async draw() {
    const { element } = this;
    const { id, serial } = element;
    const units = unitSystem();
    const key = this.key(units);
    if (key === this.drawn) {
      return;
    }
    try {
      const outcome = (await workOut([element], { units, drawings: true })).get(id);
      if (serial === element.serial && outcome !== undefined && !(outcome instanceof Error)) {
        element.places.put(".wm-drawings", drawingParts(outcome, id));
        this.drawn = key;
      } else if (serial === element.serial && outcome instanceof Error) {
        element.trouble(outcome.message);
      }
    } catch (error) {
      if (serial === element.serial) {
        element.trouble(error instanceof Error ? error.message : String(error));
      }
    }
  }
}
