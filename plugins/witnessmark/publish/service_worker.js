/**
 * The handbook's service worker: keeps one whole release on the device, and serves it when the
 * server does not answer. Above these lines the build writes RELEASE and FILES.
 *
 * - A name with a digest in it never changes: the device's copy comes first.
 * - Everything else, above all pages, comes from the server; from the device only when the
 *   server does not answer in time or is out of order.
 * - A release is kept whole or not at all. Its pages name its own scripts and calculators by
 *   their digests, so a page of one release never meets the maths of another.
 */

/**
 * @typedef {{url: string, copy: string | null}} Told  which page a tab was given by fetch, and
 *   of what date the copy is; null when it came from the server
 */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** The folder of the handbook on its server. */
const HOME = worker.registration.scope;
const PREFIX = `witnessmark ${new URL(HOME).pathname} `;

/** Files under names with a digest, of all releases that are kept. */
const FIXED_STORE = `${PREFIX}fixed`;
const RELEASES = `${PREFIX}release `;
const RELEASE_STORE = RELEASES + RELEASE;
/** Under this name a release's store has the list of its files. */
const LIST = "release-files.json";

const FIXED_NAME =
  /^assets\/(witnessmark\/[a-z]+-[0-9a-f]{12}[/.]|.+\.[0-9a-f]{8}\.min\.(js|css)$)/;

/** How long the server may think before the reader is given the copy. */
const PATIENCE_MS = 3000;
/** How many files are fetched at a time, behind the reader's back. */
const AT_A_TIME = 2;

worker.addEventListener("install", (event) => {
  event.waitUntil(keepRelease().then(() => worker.skipWaiting()));
});

worker.addEventListener("activate", (event) => {
  event.waitUntil(tidy().then(() => worker.clients.claim()));
});

worker.addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  if (method === "GET" && url.startsWith(HOME)) {
    event.respondWith(FIXED_NAME.test(nameOf(url)) ? fixed(event.request) : fresh(event));
  }
});

/** The name of a file of the handbook; "" for its first page. @param {string} url */
function nameOf(url) {
  return url.slice(HOME.length).replace(/[?#].*$/, "").replace(/(^|\/)index\.html$/, "$1");
}

/** @param {Request} request */
async function fixed(request) {
  const store = await caches.open(FIXED_STORE);
  return (await store.match(HOME + nameOf(request.url))) ?? fetch(request);
}

/** The server's answer, or the device's copy when there is none. @param {FetchEvent} event */
async function fresh(event) {
  const { request } = event;
  // Whatever a host says of keeping: a page is asked for, and costs a few bytes when unchanged.
  const answer = fetch(new Request(request, { cache: "no-cache" }));
  const late = new Promise((_, reject) => setTimeout(reject, PATIENCE_MS));
  try {
    const response = /** @type {Response} */ (await Promise.race([answer, late]));
    if (response.status < 500) {
      tell(event, response, null);
      return response;
    }
  } catch {
    // no answer, or none in time
  }
  answer.catch(() => {});
  return (await copyOf(event)) ?? answer;
}

/** @param {FetchEvent} event @returns {Promise<Response | undefined>} */
async function copyOf(event) {
  const { request } = event;
  const store = await caches.open(RELEASE_STORE);
  const name = nameOf(request.url);
  let copy = await store.match(HOME + name);
  if (!copy && (await store.match(`${HOME}${name}/`))) {
    return Response.redirect(`${HOME}${name}/`);
  }
  let status = 200;
  if (!copy && request.mode === "navigate") {
    copy = await store.match(`${HOME}404.html`);
    status = 404;
  }
  const kept = copy?.headers.get("date");
  if (!copy?.headers.get("content-type")?.startsWith("text/html")) {
    return copy;
  }
  tell(event, copy, kept ?? "");
  const html = (await copy.text()).replace("<html", `<html data-wm-copy="${kept ?? ""}"`);
  return new Response(html, { status, headers: copy.headers });
}

/**
 * Tell a tab that has fetched a page, to put it in place of the one it has, where it is from.
 * @param {FetchEvent} event
 * @param {Response} response
 * @param {string | null} copy
 */
async function tell(event, response, copy) {
  const isPage = response.headers.get("content-type")?.startsWith("text/html");
  if (isPage && event.request.destination === "" && event.clientId) {
    /** @type {Told} */
    const told = { url: event.request.url, copy };
    (await worker.clients.get(event.clientId))?.postMessage(told);
  }
}

/** Fetch what the release is made of; throws when anything is missing or of another release. */
async function keepRelease() {
  const stores = [await caches.open(FIXED_STORE), await caches.open(RELEASE_STORE)];
  const line = Object.entries(FILES);
  const take = async () => {
    for (let next = line.shift(); next; next = line.shift()) {
      const [file, digest] = next;
      const name = nameOf(HOME + file);
      const isFixed = FIXED_NAME.test(name);
      const store = /** @type {Cache} */ (stores[isFixed ? 0 : 1]);
      if (!isFixed || !(await store.match(HOME + name))) {
        await store.put(HOME + name, await fetched(name, digest, isFixed));
      }
    }
  };
  try {
    await Promise.all(Array.from({ length: AT_A_TIME }, take));
    await stores[1]?.put(HOME + LIST, Response.json(Object.keys(FILES)));
  } catch (error) {
    line.length = 0;
    await caches.delete(RELEASE_STORE);
    if (error instanceof DOMException && error.name === "QuotaExceededError") {
      await sweep();
    }
    throw error;
  }
}

/**
 * A file of this very release, as it is to be kept.
 * @param {string} name
 * @param {string} digest
 * @param {boolean} isFixed
 */
async function fetched(name, digest, isFixed) {
  const response = await fetch(HOME + name, {
    cache: isFixed ? "default" : "no-cache",
    // @ts-ignore: known to browsers before it was to the type checker
    priority: "low",
  });
  const body = await response.arrayBuffer();
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  const hex = [...found].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  if (!response.ok || !hex.startsWith(digest)) {
    throw new Error(`${name} is not (or no longer) what release ${RELEASE} is made of`);
  }
  const headers = new Headers({ date: response.headers.get("date") ?? new Date().toUTCString() });
  for (const header of ["content-type", "content-security-policy"]) {
    headers.set(header, response.headers.get(header) ?? "");
  }
  return new Response(body, { headers });
}

/** Keep this release and the one before it, whose pages may still be open. */
async function tidy() {
  const others = (await caches.keys()).filter(
    (name) => name.startsWith(RELEASES) && name !== RELEASE_STORE,
  );
  await Promise.all(others.slice(0, -1).map((name) => caches.delete(name)));
  await sweep();
}

/** Drop the fixed files that no kept release is made of. */
async function sweep() {
  /** @type {Set<string>} */
  const wanted = new Set();
  for (const name of await caches.keys()) {
    if (name.startsWith(RELEASES)) {
      const list = await (await caches.open(name)).match(HOME + LIST);
      for (const file of list ? await list.json() : []) {
        wanted.add(HOME + file);
      }
    }
  }
  const store = await caches.open(FIXED_STORE);
  for (const { url } of await store.keys()) {
    if (!wanted.has(url)) {
      await store.delete(url);
    }
  }
}
