/**
 * The two ways to start Python and what the build says of them, for a host that has no page:
 * a release and the tests compute under Node.js with the very scripts of a site.
 */

export { boot } from "./boot.js";
export { restore } from "./restore.js";
export * as site from "./site.js";
export { Unpacker } from "./unpacker.js";
