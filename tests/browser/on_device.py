"""What a browser keeps of a handbook's releases."""

from __future__ import annotations

from playwright.sync_api import Page

from tests.browser.conftest import until

# A store has the list of a release only when all of it is there.
KEPT = """
Promise.all([caches.keys(), navigator.serviceWorker.getRegistration()]).then(
  async ([names, registration]) => {
    if (!registration?.active || registration.installing || registration.waiting) return [];
    const kept = [];
    for (const name of names) {
      if (name.includes(" release ")) {
        const store = await caches.open(name);
        if ((await store.keys()).some(({ url }) => url.endsWith("/release-files.json"))) {
          kept.push(name);
        }
      }
    }
    return kept;
  })
"""


def release_kept(page: Page, but: str = "") -> str:
    """Wait until a whole release, another than ``but``, is on the device; its name."""
    until(page, f"{KEPT}.then((names) => names.at(-1) && names.at(-1) !== '{but}')")
    return page.evaluate(f"{KEPT}.then((names) => names.at(-1))")
