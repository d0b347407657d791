/**
 * The runtime's script under Node.js, where it expects to be no module.
 */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import vm from "node:vm";

/**
 * @param {string} file
 * @param {(view: Uint8Array) => void} [chance]  in place of the machine's random numbers
 * @returns {import("../page/front/python.js").CreateModule}
 */
export function loadScript(file, chance) {
  const from = createRequire(path.resolve(file));
  const shim = (/** @type {string} */ name) =>
    chance && name === "crypto" ? { randomFillSync: chance } : from(name);
  Object.assign(globalThis, { require: shim, __dirname: path.dirname(file), __filename: file });
  vm.runInThisContext(readFileSync(file, "utf8"), { filename: file });
  return Reflect.get(globalThis, "_createPyodideModule");
}
