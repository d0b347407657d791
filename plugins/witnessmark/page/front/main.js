/**
 * The one script of the handbook: defines the elements, everything else follows from them.
 */

import { onState, warmWhenIdle } from "./runtime.js";
import { restoreTicks, watchTicks } from "./ticks.js";
import { recallUnitSystem, UnitSwitch } from "./units.js";
import { CalculatorElement } from "./widget.js";

recallUnitSystem();
customElements.define("wm-unit-switch", UnitSwitch);
customElements.define(
  "wm-calculator",
  class extends CalculatorElement {
    connectedCallback() {
      super.connectedCallback();
      warmWhenIdle();
    }
  },
);

watchTicks();
restoreTicks();

// With instant navigation the theme swaps the content of the page under this script.
new MutationObserver(() => {
  if (document.querySelector("input.wm-step-tick:not([data-restored])")) {
    restoreTicks();
  }
}).observe(document.body, { childList: true, subtree: true });

onState((state) => {
  document.documentElement.dataset.wmRuntime = state;
});
