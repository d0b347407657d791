/**
 * The handbook opened from a folder, with no server. A browser then lets a page run scripts and
 * show pictures, but neither fetch a file nor start a worker or a module from one. Scripts of the
 * folder therefore hand over the content of the files by `keep`, and the page, and the workers it
 * starts, get it from memory. Above these lines `witnessmark pack` writes PARTS and MAIN.
 */

/**
 * @typedef {{type: string, zipped: boolean, data: ArrayBuffer}} Kept  a file as it was handed over
 * @typedef {{url: string, type: string, zipped: boolean, data: ArrayBuffer}} Sent
 * @typedef {(scope: any, files: Map<string, Kept>) => () => Promise<void>} Furnish
 */

(() => {
  const script = /** @type {HTMLScriptElement} */ (document.currentScript);
  /** The folder of the handbook; this script is in assets/witnessmark/folder-<digest>/. */
  const home = new URL("../../../", script.src).href;
  /** @type {Map<string, Kept>} */
  const files = new Map();
  /** @type {Map<string, Promise<void>>} */
  const loading = new Map();

  /** Called by the scripts that hold the files. */
  Reflect.set(window, "keep", (
    /** @type {string} */ name, /** @type {string} */ type, /** @type {boolean} */ zipped,
    /** @type {string} */ base64,
  ) => {
    const fromBase64 = Reflect.get(Uint8Array, "fromBase64");
    const bytes = fromBase64
      ? fromBase64.call(Uint8Array, base64)
      : Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    files.set(home + name, { type, zipped, data: bytes.buffer });
  });

  /** Load the files of a part of the handbook. @param {string} part */
  function part(part) {
    return Promise.all(
      (PARTS[part] ?? []).map((name) => {
        const begun = loading.get(name) ?? new Promise((resolve, reject) => {
          const tag = document.createElement("script");
          tag.src = new URL(name, script.src).href;
          tag.onload = () => resolve();
          tag.onerror = () => reject(new Error(`${name} is missing from the folder`));
          document.head.append(tag);
        });
        loading.set(name, begun);
        return begun;
      }),
    );
  }

  /**
   * Let a page or a worker find the files in memory. Written into workers as text: it may use
   * nothing from outside of itself.
   * @type {Furnish}
   */
  function furnish(scope, files) {
    /** @type {Map<string, string>} */
    const linked = new Map();
    /** @type {Map<string, string>} */
    const texts = new Map();
    const fetchIt = scope.fetch.bind(scope);
    const importScriptsIt = scope.importScripts?.bind(scope);
    const bare = (/** @type {any} */ url) => String(url?.url ?? url).replace(/[?#].*$/, "");

    /** @param {Kept} file */
    const answer = ({ type, zipped, data }) => {
      const body = new Blob([data]).stream();
      const headers = { "content-type": type };
      return new Response(zipped ? body.pipeThrough(new DecompressionStream("gzip")) : body, {
        headers,
      });
    };
    const blob = (/** @type {string} */ text) =>
      URL.createObjectURL(new Blob([text], { type: "text/javascript" }));

    /** A module with its imports led to modules in memory. @param {string} url */
    const link = (url) => {
      let made = linked.get(url);
      if (made === undefined) {
        const text = (texts.get(url) ?? "")
          .replace(
            /(\bfrom\s*|\bimport\s*)(["'])(\.\.?\/[^"']+)\2/g,
            (_, word, quote, name) => word + quote + link(new URL(name, url).href) + quote,
          )
          .replace(/\bimport\.meta\.url\b/g, JSON.stringify(url))
          .replace(/\bimport\(/g, "globalThis.importFromFolder(");
        made = blob(text);
        linked.set(url, made);
      }
      return made;
    };
    scope.importFromFolder = (/** @type {any} */ url) =>
      import(texts.has(bare(url)) ? link(bare(url)) : url);
    scope.fetch = async (/** @type {any} */ request, /** @type {any} */ init) => {
      const file = files.get(bare(request));
      return file ? answer(file) : fetchIt(request, init);
    };
    if (importScriptsIt) {
      scope.importScripts = (/** @type {any[]} */ ...urls) =>
        importScriptsIt(
          ...urls.map((url) => (texts.has(bare(url)) ? blob(texts.get(bare(url)) ?? "") : url)),
        );
    }
    /** Scripts are needed at once when they are asked for. */
    return async () => {
      for (const [url, file] of files) {
        if (file.type === "text/javascript" && !texts.has(url)) {
          texts.set(url, await answer(file).text());
        }
      }
    };
  }

  /** What a worker does first: it waits for its files, then for nothing that came before them. */
  function beginWorker(/** @type {any} */ scope, /** @type {Furnish} */ furnish) {
    /** @type {any[]} */
    const early = [];
    const hear = async (/** @type {MessageEvent} */ event) => {
      event.stopImmediatePropagation();
      if (!event.data?.folder) {
        early.push(event.data);
        return;
      }
      const { sent, entry, module } = event.data.folder;
      const ready = furnish(
        scope, new Map(sent.map((/** @type {Sent} */ { url, ...file }) => [url, file])),
      );
      try {
        await ready();
        module ? await scope.importFromFolder(entry) : scope.importScripts(entry);
      } catch (error) {
        setTimeout(() => {
          throw error; // the page hears of it as of any fault of a worker
        });
      }
      scope.removeEventListener("message", hear);
      for (const data of early) {
        scope.dispatchEvent(new MessageEvent("message", { data }));
      }
    };
    scope.addEventListener("message", hear);
  }

  const ready = furnish(window, files);
  const OwnWorker = window.Worker;
  Reflect.set(window, "Worker", function Worker(
    /** @type {string | URL} */ address, /** @type {WorkerOptions} */ options = {},
  ) {
    const entry = new URL(address, location.href).href;
    const named = Object.keys(PARTS).find((name) => entry.startsWith(home + name)) ?? "";
    const code = `(${beginWorker})(self, ${furnish});`;
    const made = new OwnWorker(
      URL.createObjectURL(new Blob([code], { type: "text/javascript" })),
    );
    Promise.all([part(named), part(MAIN)]).then(
      () => {
        const sent = [...files].map(([url, file]) => ({ url, ...file }));
        made.postMessage({ folder: { sent, entry, module: options.type === "module" } });
      },
      (error) => made.dispatchEvent(new ErrorEvent("error", { message: error.message })),
    );
    return made;
  });

  addEventListener("DOMContentLoaded", async () => {
    await part(MAIN);
    await ready();
    await Reflect.get(window, "importFromFolder")(home + MAIN);
  });
})();
