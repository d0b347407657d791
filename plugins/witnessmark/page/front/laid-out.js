/**
 * Module and image, compressed as the server sends them, or laid out on this device by an earlier
 * worker: the module as it is, because browsers keep what they have translated of it only then, and
 * the image as it lies in memory, because decompressing it is a good part of a start.
 */

import { compiled, fetchUnpacker, pieces, unpacked } from "./fetching.js";
import { held, hold } from "./held.js";
import { sizeOf } from "./restore.js";
import { ROOT } from "./root.js";

/** @typedef {NonNullable<typeof import("./site.js").image>} About */

/** What an earlier worker has laid out, and has not been missed. */
const laid = new Set(self.name.split(" "));
/** @type {ReturnType<typeof fetchUnpacker> | undefined} */
let decoder;
/** Fulfilled when the module is decompressed. */
let moduleHere = Promise.resolve();

/** @param {string} place */
const here = (place) => new URL(place, import.meta.url).href;

/** The decoder, fetched when something is to be decompressed. @param {About} about */
function decoderOf({ unpacker }) {
  decoder ??= fetchUnpacker(here(unpacker));
  return decoder;
}

/**
 * The module as the browser keeps it with its translation, or compressed where that is not so or
 * it has been cleared away.
 *
 * @param {About} about
 * @returns {Promise<WebAssembly.Module>}
 */
export function moduleOf(about) {
  const plain = here(about.translatable);
  const others = () => {
    laid.delete(plain);
    const { module, arrived } = compiled(here(about.module), decoderOf(about));
    moduleHere = arrived;
    return module;
  };
  return laid.has(plain)
    ? WebAssembly.compileStreaming(
        fetch(plain, { cache: "only-if-cached", mode: "same-origin" }),
      ).catch(others)
    : others();
}

/**
 * The image as it lies in memory, or compressed where it is not held or not whole.
 * @param {About} about
 */
export function imageOf(about) {
  const file = here(about.file);
  const others = async () => {
    laid.delete(file);
    const image = await pieces(file, decoderOf(about));
    // Other threads compile the module while this one decompresses the image, and not before.
    await moduleHere;
    return image;
  };
  return laid.has(file) ? held(nameOf(about), about.stamp, sizeOf(about)).catch(others) : others();
}

/** Python has started: the decoder's memory is not needed any more. */
export function letDecoderGo() {
  decoder = undefined;
}

/** @param {About} about */
function nameOf({ file }) {
  return { site: ROOT.pathname, image: file.split("/").at(-2) ?? "" };
}

/**
 * Whether anything is to be laid out. A device that has been found to hold no image is not tried
 * again as long as it keeps the module.
 *
 * @param {About} about
 */
export function lacking({ translatable, file }) {
  const plain = here(translatable);
  return !laid.has(plain) || (!laid.has(here(file)) && self.name !== plain);
}

/**
 * Have the browser keep the module as it is; false when it cannot, or the server lets it keep
 * nothing.
 *
 * @param {About} about
 */
export async function layModule({ translatable }) {
  const plain = here(translatable);
  if (laid.has(plain)) {
    return true;
  }
  try {
    const response = await fetch(plain, { priority: "low" });
    if (/\bno-store\b/.test(response.headers.get("cache-control") ?? "")) {
      await response.body?.cancel();
      return false;
    }
    await WebAssembly.compileStreaming(response);
    return true;
  } catch {
    return false; // the next start is as quick as this one
  }
}

/**
 * Hold the image where this browser does.
 * @param {About} about
 * @returns {Promise<string>} the name that tells the next worker what is laid out
 */
export async function layImage(about) {
  const plain = here(about.translatable);
  const file = here(about.file);
  return laid.has(file) || (await isHeld(about, file)) ? `${plain} ${file}` : plain;
}

/** @param {About} about @param {string} file */
async function isHeld(about, file) {
  try {
    const stream = await unpacked(file, fetchUnpacker(here(about.unpacker)));
    await hold(nameOf(about), stream, about.stamp.length);
    return true;
  } catch (error) {
    // Another tab is at it.
    return error instanceof DOMException && error.name === "NoModificationAllowedError";
  }
}
