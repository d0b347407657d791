/**
 * The one script of the handbook: defines the elements, everything else follows from them. It
 * runs as soon as it is there, which may be long before the page is.
 */

import { EngineChoice, recallEngine, showForEngine } from "./engine.js";
import { keepOnDevice, pageChanged } from "./offline.js";
import { holdRelease } from "./release.js";
import { JobLine } from "./job-line.js";
import { JobSheet } from "./job-sheet.js";
import { JobsElement } from "./jobs.js";
import { watchOtherTabs } from "./other-tabs.js";
import { onState } from "./runtime.js";
import { ReadingElement } from "./reading.js";
import { watchSearch } from "./search.js";
import { markOverdue, SignOffsElement } from "./sign-offs.js";
import { furnishTables } from "./sorted-table.js";
import { themeLater } from "./theme.js";
import { restoreTicks, watchTicks } from "./ticks.js";
import { placeUnitSwitch, recallUnitSystem, UnitSwitch } from "./units.js";
import { whenParsed } from "./whole.js";
import { CalculatorElement } from "./widget.js";

// What tests look into; the page has but this one instance of each.
export * as entryText from "./entry-text.js";
export * as jobStore from "./job-store.js";
export * as results from "./results.js";

// Before the first element: Python may be live already when that asks for it.
onState((state) => {
  document.documentElement.dataset.wmRuntime = state;
});

recallUnitSystem();
recallEngine();
customElements.define("wm-calculator", CalculatorElement);

function furnish() {
  holdRelease();
  placeUnitSwitch();
  restoreTicks();
  showForEngine();
  markOverdue();
  furnishTables();
  pageChanged();
}

// Calculators take up their work as they arrive; everything else waits for the page.
whenParsed(() => {
  customElements.define("wm-engine", EngineChoice);
  customElements.define("wm-unit-switch", UnitSwitch);
  customElements.define("wm-sign-offs", SignOffsElement);
  customElements.define("wm-reading", ReadingElement);
  customElements.define("wm-job", JobLine);
  customElements.define("wm-jobs", JobsElement);
  customElements.define("wm-job-sheet", JobSheet);
  themeLater();
  watchTicks();
  watchOtherTabs();
  watchSearch();
  furnish();
  keepOnDevice();
  // With instant navigation the theme swaps the content of the page under this script.
  new MutationObserver(furnish).observe(document.body, { childList: true, subtree: true });
});
