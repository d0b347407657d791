/**
 * Files of the site as the start of Python wants them. What is compressed is decompressed
 * here, so that any static host sends few bytes.
 */

import { inParts, Unpacker } from "./unpacker.js";

/** @param {string} url */
async function fetched(url) {
  const response = await fetch(url);
  if (!response.ok || !response.body) {
    throw new Error(`${url} could not be fetched (status ${response.status})`);
  }
  return { body: response.body, declared: response.headers.get("content-encoding") === "zstd" };
}

/**
 * @param {string} url
 * @param {Promise<Unpacker>} unpacker
 * @returns {Promise<ReadableStream<Uint8Array>>} the decompressed content of a .zst file
 */
export async function unpacked(url, unpacker) {
  const { body, declared } = await fetched(url);
  // A host that declares the file's own compression to the browser has it undone already.
  return declared ? body : (await unpacker).unpacked(body);
}

/**
 * @param {string} url
 * @param {Promise<Unpacker>} unpacker
 * @returns {Promise<AsyncIterable<Uint8Array>>} the decompressed content of a .zst file, in pieces
 *   that are good only until the next one is asked for
 */
export async function pieces(url, unpacker) {
  const { body, declared } = await fetched(url);
  return declared ? inParts(body) : (await unpacker).pieces(body);
}

/**
 * Compile a compressed module while it arrives. `arrived` tells when all of it has been
 * decompressed, which is before it has been compiled; it never rejects.
 * @param {string} url
 * @param {Promise<Unpacker>} unpacker
 * @returns {{module: Promise<WebAssembly.Module>, arrived: Promise<void>}}
 */
export function compiled(url, unpacker) {
  /** @type {() => void} */
  let tell = () => {};
  /** @type {Promise<void>} */
  const arrived = new Promise((resolve) => {
    tell = resolve;
  });
  const compile = async () => {
    const watched = (await unpacked(url, unpacker)).pipeThrough(new TransformStream({ flush: tell }));
    const type = { "content-type": "application/wasm" };
    return WebAssembly.compileStreaming(new Response(watched, { headers: type }));
  };
  const module = compile();
  module.then(tell, tell);
  return { module, arrived };
}

/**
 * @param {string} url of the decoder's module
 * @returns {Promise<Unpacker>}
 */
export async function fetchUnpacker(url) {
  const { body } = await fetched(url);
  return new Unpacker(await WebAssembly.instantiate(
    await WebAssembly.compile(await new Response(body).arrayBuffer()), Unpacker.IMPORTS,
  ));
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
