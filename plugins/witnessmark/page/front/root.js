/**
 * Where the handbook lies, and how the addresses of its pages are kept: below the root, alike
 * on a server and in a folder that is opened without one.
 */

/** The root of the site: this script lies in assets/witnessmark/front-…/ below it. */
export const ROOT = new URL("../../../", import.meta.url);

/** The address of a page below the root. @param {string} pathname */
export function belowRoot(pathname) {
  return pathname.replace(ROOT.pathname, "").replace(/(^|\/)index\.html$/, "$1");
}

/** Where a page is opened; in a folder a browser wants the name of the file. @param {string} address */
export function pageUrl(address) {
  const url = new URL(address, ROOT);
  if (url.protocol === "file:" && url.pathname.endsWith("/")) {
    url.pathname += "index.html";
  }
  return url;
}
