/**
 * The one script of the handbook: defines the elements, everything else follows from them.
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
import { restoreTicks, watchTicks } from "./ticks.js";
import { placeUnitSwitch, recallUnitSystem, UnitSwitch } from "./units.js";
import { CalculatorElement } from "./widget.js";

// Before the first element: Python may be live already when that asks for it.
onState((state) => {
  document.documentElement.dataset.wmRuntime = state;
});

recallUnitSystem();
recallEngine();
customElements.define("wm-engine", EngineChoice);
customElements.define("wm-unit-switch", UnitSwitch);
customElements.define("wm-calculator", CalculatorElement);
customElements.define("wm-sign-offs", SignOffsElement);
customElements.define("wm-reading", ReadingElement);
customElements.define("wm-job", JobLine);
customElements.define("wm-jobs", JobsElement);
customElements.define("wm-job-sheet", JobSheet);

function furnish() {
  holdRelease();
  placeUnitSwitch();
  restoreTicks();
  showForEngine();
  markOverdue();
  furnishTables();
  pageChanged();
}

watchTicks();
watchOtherTabs();
watchSearch();
furnish();
keepOnDevice();

// With instant navigation the theme swaps the content of the page under this script.
new MutationObserver(furnish).observe(document.body, { childList: true, subtree: true });
