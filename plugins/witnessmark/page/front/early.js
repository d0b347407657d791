/**
 * The first script of a page, long before the rest of it has arrived: what takes longest is
 * begun at once, and what can wait is kept from getting in its way. A classic script, because
 * modules wait for the end of the page. Above these lines the build writes MODULES.
 */

(() => {
  const script = /** @type {HTMLScriptElement} */ (document.currentScript);
  const place = (/** @type {string} */ name) => new URL(name, script.src).href;

  // A page with calculators: runtime.js takes the worker over, with what it has said meanwhile.
  if (script.hasAttribute("data-calculators")) {
    try {
      const worker = new Worker(place("worker.js"), { type: "module" });
      /** @type {Event[]} */
      const heard = [];
      const hear = (/** @type {Event} */ event) => {
        event.preventDefault();
        heard.push(event);
      };
      worker.onmessage = worker.onerror = /** @type {(event: any) => void} */ (hear);
      Reflect.set(window, "witnessmarkEarly", { worker, heard });
    } catch {
      // runtime.js tries again, and tells the page why it cannot be
    }
  }

  // Modules are found one behind the other otherwise.
  for (const name of MODULES) {
    const link = document.createElement("link");
    link.rel = "modulepreload";
    link.href = place(name);
    document.head.append(link);
  }

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
