/**
 * Decompresses Zstandard (RFC 8878) piece by piece, with the decoder of Zstandard's own library
 * as a WebAssembly module. The addresses and structures are those of its interface in C.
 */

/** Results from here on are errors: the library returns the negative of a small number. */
const LEAST_ERROR = 0xffff_ff88;

export class Unpacker {
  static IMPORTS = { env: { emscripten_notify_memory_growth() {} } };

  /** @param {WebAssembly.Instance} instance */
  constructor({ exports }) {
    /** @type {Record<string, any>} */
    this.library = exports;
    this.inSize = this.library.ZSTD_DStreamInSize();
    this.outSize = this.library.ZSTD_DStreamOutSize();
  }

  /**
   * The content of a compressed stream, in pieces that are good only until the next one is asked
   * for: they lie in the decoder's own memory. Fails where the stream is damaged or not whole.
   * @param {ReadableStream<Uint8Array>} stream
   * @returns {AsyncGenerator<Uint8Array, void, void>}
   */
  async *pieces(stream) {
    const { library, inSize, outSize } = this;
    const context = library.ZSTD_createDCtx();
    const taken = library.malloc(inSize);
    const given = library.malloc(outSize);
    /** Two structures of three words: address, size, position. */
    const input = library.malloc(24);
    const output = input + 12;
    const memory = () => library.memory.buffer;
    const words = (/** @type {number} */ address) => new Uint32Array(memory(), address, 3);
    /** What the decoder still wants; 0 at the end of what was compressed. */
    let wanted = 1;
    try {
      for await (const bytes of inParts(stream, inSize)) {
        new Uint8Array(memory()).set(bytes, taken);
        words(input).set([taken, bytes.length, 0]);
        let full = true;
        while (full || words(input)[2] !== bytes.length) {
          words(output).set([given, outSize, 0]);
          wanted = library.ZSTD_decompressStream(context, output, input) >>> 0;
          if (wanted >= LEAST_ERROR) {
            throw new Error(`what came is damaged (error ${2 ** 32 - wanted})`);
          }
          const [, , size = 0] = words(output);
          if (size > 0) {
            yield new Uint8Array(memory(), given, size);
          }
          full = size === outSize;
        }
      }
    } finally {
      library.ZSTD_freeDCtx(context);
      [taken, given, input].forEach((address) => library.free(address));
    }
    if (wanted !== 0) {
      throw new Error("what came is not whole");
    }
  }

  /**
   * The content of a compressed stream as a stream. It fails as `pieces` does.
   * @param {ReadableStream<Uint8Array>} stream
   * @returns {ReadableStream<Uint8Array>}
   */
  unpacked(stream) {
    const pieces = this.pieces(stream);
    return new ReadableStream({
      async pull(to) {
        const { done, value } = await pieces.next();
        done ? to.close() : to.enqueue(value.slice());
      },
      async cancel() {
        await pieces.return();
      },
    });
  }
}

/**
 * What a stream brings, in parts of a greatest size.
 * @param {ReadableStream<Uint8Array>} stream
 * @param {number} most
 */
export async function* inParts(stream, most = Infinity) {
  const reader = stream.getReader();
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      for (let at = 0; at < part.value.length; at += most) {
        yield part.value.subarray(at, at + most);
      }
    }
  } finally {
    await reader.cancel();
  }
}
