/**
 * Makes one script of a module and everything that it imports:  node join.mjs REQUEST
 *
 * REQUEST is a file of JSON: rollup, the address of the library that does it, and scripts, each
 * with from and to (paths). What nobody uses is left out.
 */

import { readFileSync } from "node:fs";

const [, , requestFile = ""] = process.argv;
const { rollup: library, scripts } = JSON.parse(readFileSync(requestFile, "utf8"));
const { rollup } = await import(library);

/** What could be meant otherwise than it will be taken is no good. */
const onwarn = (/** @type {{message: string}} */ { message }) => {
  throw new Error(message);
};

for (const { from, to } of scripts) {
  try {
    const joined = await rollup({ input: from, onwarn });
    await joined.write({ file: to, format: "es" });
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    process.exit(1);
  }
}
