/**
 * The first script of a page, long before the rest of it has arrived: what takes longest is
 * begun at once, and what can wait is kept from getting in its way. A classic script, because
 * modules in a page wait for its end.
 */

(() => {
  const script = /** @type {HTMLScriptElement} */ (document.currentScript);
  const place = (/** @type {string} */ name) => new URL(name, script.src).href;

  // A page with calculators: runtime.js takes the worker over, with what it has said meanwhile.
  const { calculator } = script.dataset;
  if (calculator !== undefined) {
    try {
      let name = "";
      try {
        const root = new URL("../../../", script.src).pathname;
        name = localStorage.getItem(`witnessmark.prepared ${root}`) ?? "";
      } catch {
        // storage may be switched off; the worker then does without the hint
      }
      const worker = new Worker(place("worker.js"), { type: "module", name });
      /** @type {Event[]} */
      const heard = [];
      const hear = (/** @type {Event} */ event) => {
        event.preventDefault();
        heard.push(event);
      };
      worker.onmessage = worker.onerror = /** @type {(event: any) => void} */ (hear);
      // The engine translates code when it first runs: it does so while the page is still being
      // built, not when the page asks. Nobody waits for this answer.
      const request = { calculator, entries: {}, units: "si", drawings: false };
      worker.postMessage({ id: 0, request: JSON.stringify(request) });
      Reflect.set(window, "witnessmarkEarly", { worker, heard });
    } catch {
      // runtime.js tries again, and tells the page why it cannot be
    }
  }

  // The theme does this when it comes, which may be later here; its search is hidden until then.
  if (calculator !== undefined) {
    document.documentElement.classList.replace("no-js", "js");
  }

  // The page's own tag for it stands behind everything else; it tells what goes wrong.
  import(place("main.js")).catch(() => {
    // Nothing of ours will run, and the theme's script has nothing to wait for (theme.js).
    const bring = () => {
      const held = document.querySelector("script[data-wm-later]");
      if (held instanceof HTMLScriptElement) {
        held.onload = () => document.dispatchEvent(new Event("DOMContentLoaded"));
        held.src = held.dataset.wmLater ?? "";
      }
    };
    document.readyState === "loading"
      ? addEventListener("DOMContentLoaded", bring, { once: true })
      : bring();
  });

  // The index of all words of the handbook is as large as a tenth of Python. The theme asks for
  // it on every page; it gets it when somebody wants to search.
  const wanted = new Promise((resolve) => {
    const field = '[data-md-component="search-query"]';
    const notice = (/** @type {Event} */ { target }) => {
      if (target instanceof Element && target.matches(field)) {
        removeEventListener("focusin", notice);
        resolve(undefined);
      }
    };
    addEventListener("focusin", notice);
  });
  const { open, send } = XMLHttpRequest.prototype;
  XMLHttpRequest.prototype.open = function (/** @type {any[]} */ ...asked) {
    if (String(asked[1]).endsWith("/search/search_index.json")) {
      this.send = (body) => {
        wanted.then(() => send.call(this, body));
      };
    }
    return Reflect.apply(open, this, asked);
  };
})();
