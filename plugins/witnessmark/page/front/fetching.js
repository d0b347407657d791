/**
 * Files of the site as the start of Python wants them. What is compressed is decompressed
 * here, so that any static host sends few bytes.
 */

/**
 * @param {string} url
 * @returns {Promise<ReadableStream<Uint8Array>>} the decompressed content of a .gz file
 */
export async function inflated(url) {
  const response = await fetch(url);
  if (!response.ok || !response.body) {
    throw new Error(`${url} could not be fetched (status ${response.status})`);
  }
  // A host that declares the file's own compression to the browser has it undone already.
  return response.headers.get("content-encoding") === "gzip"
    ? response.body
    : response.body.pipeThrough(new DecompressionStream("gzip"));
}

/**
 * Compile a compressed module while it arrives.
 * @param {string} url
 * @returns {Promise<WebAssembly.Module>}
 */
export async function compiled(url) {
  const type = { "content-type": "application/wasm" };
  return WebAssembly.compileStreaming(new Response(await inflated(url), { headers: type }));
}

/**
 * The content of a file at once: Python is waiting for it in the middle of an import.
 * @param {string} url
 * @returns {Uint8Array}
 */
export function atOnce(url) {
  const request = new XMLHttpRequest();
  request.open("GET", url, false);
  request.responseType = "arraybuffer";
  request.send();
  if (request.status >= 400 || !request.response) {
    throw new Error(`${url} could not be fetched (status ${request.status})`);
  }
  return new Uint8Array(request.response);
}
