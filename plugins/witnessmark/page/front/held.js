/**
 * The heap image as it lies in memory, in a file that the browser keeps for this site alone: a
 * later visit reads it into place, where it would have to decompress it.
 *
 * The file is what the compressed image holds, byte for byte. Its first bytes, by which an image
 * is known, are written last of all: a file that was left half written is none.
 */

/**
 * @typedef {object} Held
 * @property {(into: Uint8Array, at: number) => void} read  throws when it cannot be read
 * @property {() => void} close
 *
 * @typedef {object} Name
 * @property {string} site   the folder of the handbook on its server; others may lie beside it
 * @property {string} image  the image, by its content
 *
 * @typedef {any} SyncAccessHandle
 */

const TOP = "witnessmark";

/** @param {Name} name @param {boolean} create */
async function folderOf({ site }, create) {
  const root = await navigator.storage.getDirectory();
  const top = await root.getDirectoryHandle(TOP, { create });
  return top.getDirectoryHandle(encodeURIComponent(site), { create });
}

/**
 * @param {FileSystemDirectoryHandle} folder
 * @param {string} image
 * @param {{create?: boolean, mode?: string}} how
 */
async function opened(folder, image, { create = false, mode = "read-only" }) {
  const file = await folder.getFileHandle(image, { create });
  return /** @type {SyncAccessHandle} */ (
    // @ts-ignore: readers do not shut each other out where browsers know the mode
    await file.createSyncAccessHandle({ mode })
  );
}

/**
 * The held image; rejects when there is none, not all of it, or when this browser holds none.
 *
 * @param {Name} name
 * @param {string} stamp  its first bytes
 * @param {number} size   all its bytes
 * @returns {Promise<Held>}
 */
export async function held(name, stamp, size) {
  const handle = await opened(await folderOf(name, false), name.image, {});
  const known = new Uint8Array(stamp.length);
  handle.read(known, { at: 0 });
  if (String.fromCharCode(...known) !== stamp || handle.getSize() !== size) {
    handle.close();
    throw new Error("the held heap image is not whole");
  }
  return {
    read(into, at) {
      if (handle.read(into, { at }) !== into.length) {
        throw new Error("the held heap image is too short");
      }
    },
    close: () => handle.close(),
  };
}

/**
 * Hold an image, in place of those of earlier releases. Rejects when it cannot be held.
 *
 * @param {Name} name
 * @param {ReadableStream<Uint8Array>} image  decompressed
 * @param {number} stamp  how many of its first bytes make it known
 */
export async function hold(name, image, stamp) {
  const folder = await folderOf(name, true);
  const known = new Uint8Array(stamp);
  let size = 0;
  const handle = await opened(folder, name.image, { create: true, mode: "readwrite" });
  try {
    handle.truncate(0);
    const reader = image.getReader();
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      const { value } = part;
      if (size < stamp) {
        known.set(value.subarray(0, stamp - size), size);
      }
      handle.write(size < stamp ? withoutStart(value, stamp - size) : value, { at: size });
      size += value.length;
    }
    handle.flush();
    handle.write(known, { at: 0 });
    handle.flush();
  } finally {
    handle.close();
  }
  // @ts-ignore: newer than the type checker's list
  for await (const other of folder.keys()) {
    if (other !== name.image) {
      await folder.removeEntry(other).catch(() => {}); // another tab may be reading it
    }
  }
}

/** @param {Uint8Array} bytes @param {number} count */
function withoutStart(bytes, count) {
  const copy = bytes.slice();
  copy.fill(0, 0, count);
  return copy;
}
