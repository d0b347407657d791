/**
 * Two things the runtime's own loader leaves undone: it gives up on a server that does not
 * call the file application/wasm, and when it cannot instantiate the module it says nothing
 * and waits for ever.
 */

const TYPE = "application/wasm";

/**
 * Take over `WebAssembly.instantiateStreaming` until `restore` is called.
 *
 * `failed` never resolves; it rejects when the module cannot be fetched or instantiated.
 *
 * @returns {{failed: Promise<never>, restore: () => void}}
 */
export function watchInstantiation() {
  const native = WebAssembly.instantiateStreaming;
  /** @type {(error: unknown) => void} */
  let fail = () => {};
  const failed = new Promise((_, reject) => {
    fail = reject;
  });
  failed.catch(() => {}); // heard by whoever waits for it, or by nobody after the start

  WebAssembly.instantiateStreaming = async (source, imports) => {
    try {
      return await native.call(WebAssembly, asWasm(await source), imports);
    } catch (error) {
      fail(error);
      throw error;
    }
  };
  return {
    failed: /** @type {Promise<never>} */ (failed),
    restore: () => {
      WebAssembly.instantiateStreaming = native;
    },
  };
}

/**
 * The response under the type that streaming asks for; untouched where it has it already,
 * because only then the browser keeps the compiled module.
 *
 * @param {Response} response
 * @returns {Response}
 */
function asWasm(response) {
  if (!response.ok) {
    throw new Error(`${response.url} could not be fetched (status ${response.status})`);
  }
  const type = response.headers.get("content-type")?.split(";")[0]?.trim();
  return type === TYPE
    ? response
    : new Response(response.body, { headers: { "content-type": TYPE } });
}
