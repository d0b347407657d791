/**
 * Writes scripts in their shortest form:  node minify.mjs REQUEST
 *
 * REQUEST is a file of JSON: terser, the address of the library that does it, and scripts, each
 * with from, to (paths) and module (whether it is one). What nobody uses is left out.
 */

import { readFileSync, writeFileSync } from "node:fs";

const [, , requestFile = ""] = process.argv;
const { terser, scripts } = JSON.parse(readFileSync(requestFile, "utf8"));
const { minify } = await import(terser);

for (const { from, to, module } of scripts) {
  try {
    const { code } = await minify(readFileSync(from, "utf8"), {
      module,
      ecma: 2020,
      compress: { passes: 2 },
      format: { comments: false },
    });
    writeFileSync(to, `${code}\n`);
  } catch (error) {
    const { message, line, col } = /** @type {Record<string, unknown>} */ (error);
    console.error(`${from}:${line}:${col}: ${message}`);
    process.exit(1);
  }
}
