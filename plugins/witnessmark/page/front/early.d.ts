/** What the build writes above early.js. */

/** The modules of a page, main.js first. */
declare const MODULES: readonly string[];
