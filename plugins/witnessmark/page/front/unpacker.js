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
   * The content of a compressed stream. It fails where the stream is damaged or not whole.
   * @param {ReadableStream<Uint8Array>} stream
   * @returns {ReadableStream<Uint8Array>}
   */
  unpacked(stream) {
    const { library, inSize, outSize } = this;
    const context = library.ZSTD_createDCtx();
    const taken = library.malloc(inSize);
    const given = library.malloc(outSize);
    /** Two structures of three words: address, size, position. */
    const input = library.malloc(24);
    const output = input + 12;
    const free = () => {
      library.ZSTD_freeDCtx(context);
      [taken, given, input].forEach((address) => library.free(address));
    };
    const memory = () => library.memory.buffer;
    const words = (/** @type {number} */ address) => new Uint32Array(memory(), address, 3);
    /** What the decoder still wants; 0 at the end of what was compressed. */
    let wanted = 1;

    /**
     * @param {Uint8Array} piece  not longer than `inSize`
     * @param {TransformStreamDefaultController<Uint8Array>} to
     */
    const unpack = (piece, to) => {
      new Uint8Array(memory()).set(piece, taken);
      words(input).set([taken, piece.length, 0]);
      let full = true;
      while (full || words(input)[2] !== piece.length) {
        words(output).set([given, outSize, 0]);
        wanted = library.ZSTD_decompressStream(context, output, input) >>> 0;
        if (wanted >= LEAST_ERROR) {
          throw new Error(`what came is damaged (error ${2 ** 32 - wanted})`);
        }
        const [, , size = 0] = words(output);
        if (size > 0) {
          to.enqueue(new Uint8Array(memory(), given, size).slice());
        }
        full = size === outSize;
      }
    };
    return stream.pipeThrough(
      new TransformStream({
        transform(bytes, to) {
          for (let at = 0; at < bytes.length; at += inSize) {
            unpack(bytes.subarray(at, at + inSize), to);
          }
        },
        flush() {
          free();
          if (wanted !== 0) {
            throw new Error("what came is not whole");
          }
        },
      }),
    );
  }
}
