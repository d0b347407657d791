"""What the first visit of a device lays out for those to come, and what happens when it is gone.

Every test has a profile of its own; a second page in it is the next visit.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.conftest import Watch, build, live, opened, until
from tests.browser.on_device import release_kept

pytestmark = pytest.mark.browser

LEVER = "procedures/lever/"
PULL = '#wm-long-lever-2 [data-result="pull"] .wm-figure'
COMPRESSED = ("/image.zst", "/python.wasm.zst")

PREPARED = """Object.entries(localStorage)
  .filter(([key]) => key.startsWith("witnessmark.prepared ")).map(([, name]) => name).join()"""

# Held images by name, with what is done to each.
HELD = """async () => {
  const top = await (await navigator.storage.getDirectory()).getDirectoryHandle("witnessmark");
  const found = {};
  for await (const folder of top.values()) {
    for await (const file of folder.values()) {
      DO
      found[file.name] = (await file.getFile()).size;
    }
  }
  return found;
}"""
CUT_SHORT = """const cut = await file.createWritable({keepExistingData: true});
  await cut.truncate((await file.getFile()).size - 65536);
  await cut.close();"""
OF_ANOTHER = """const other = await file.createWritable({keepExistingData: true});
  await other.write({type: "write", position: 0, data: "0".repeat(64)});
  await other.close();"""


@pytest.fixture
def device(chromium: Browser, watch: Watch) -> Iterator[BrowserContext]:
    """A device that has not been here before."""
    context = chromium.new_context(viewport={"width": 1280, "height": 900}, service_workers="block")
    watch.over(context)
    yield context
    context.close()


def visit(device: BrowserContext, url: str, watch: Watch) -> Page:
    """A page that computes, opened anew; ``watch`` holds what this visit has asked for."""
    watch.requests.clear()
    page = opened(device)
    page.goto(url)
    live(page)
    return page


def held(page: Page, change: str = "") -> dict[str, int]:
    """The sizes of the images that the device holds, by name; ``change`` is done to each before."""
    return page.evaluate(HELD.replace("DO", change))


def first_visit(device: BrowserContext, url: str, watch: Watch) -> Page:
    """A visit that has laid everything out."""
    page = visit(device, url, watch)
    until(page, f"{PREPARED}.includes('/image.zst')")
    return page


def compressed(watch: Watch) -> list[str]:
    """What of the compressed start a visit has asked for."""
    return [end for end in COMPRESSED if any(url.endswith(end) for url in watch.requests)]


def starts_quickly(page: Page) -> None:
    """Python has come from an image, not from the wheels."""
    line = page.locator("#wm-long-lever-2 .wm-runtime").inner_text()
    assert line.startswith("Live")
    assert "wheels" not in line
    assert page.evaluate("performance.getEntriesByType('resource').every("
                         "({ name }) => !name.endsWith('.whl'))")  # fmt: skip


def test_the_next_visit_takes_what_is_laid_out(device, trial, watch):
    """Neither image nor module comes compressed any more; the figures are the same."""
    page = first_visit(device, trial + LEVER, watch)
    assert compressed(watch) == list(COMPRESSED)
    figure = page.locator(PULL).inner_text()
    ((_, size),) = held(page).items()
    assert size > 5_000_000
    page.close()

    page = visit(device, trial + LEVER, watch)
    assert compressed(watch) == []
    assert len([url for url in watch.requests if url.endswith("/python-plain.wasm")]) == 1
    assert page.locator(PULL).inner_text() == figure
    page.locator("#wm-long-lever-2-torque").fill("200")
    until(page, f"document.querySelector('{PULL}').textContent.startsWith('20')")
    page.wait_for_timeout(1000)
    assert [url for url in watch.requests if url.endswith(COMPRESSED)] == []  # nor laid out again
    assert not [url for url in watch.requests if url.endswith(".whl")]
    assert watch.troubles == []


def test_the_copy_of_the_handbook_does_not_stand_in_its_way(chromium, trial, watch):
    """A service worker that answers for the server lets the browser's own cache have its say."""
    device = chromium.new_context()
    watch.over(device)
    page = first_visit(device, trial + LEVER, watch)
    release_kept(page)
    page.close()
    page = visit(device, trial + LEVER, watch)
    assert page.evaluate("navigator.serviceWorker.controller !== null")
    assert compressed(watch) == []
    device.close()
    assert watch.troubles == []


def test_python_that_starts_with_a_change_of_page_takes_it_too(device, trial, watch):
    """From a page without calculators, where nothing has been started early."""
    first_visit(device, trial + LEVER, watch).close()
    watch.requests.clear()
    page = opened(device)
    page.goto(trial)
    page.locator("h1").first.wait_for()
    page.evaluate("window.same = true")
    page.locator(".md-nav__link[href$='lever/']").first.click()
    page.wait_for_url(f"**/{LEVER}")
    live(page)
    assert page.evaluate("window.same") is True
    assert compressed(watch) == []
    assert watch.troubles == []


@pytest.mark.parametrize("damage", [CUT_SHORT, OF_ANOTHER])
def test_an_image_that_is_not_whole_is_not_used(device, trial, watch, damage):
    """The compressed one is, and the held one is made anew."""
    page = first_visit(device, trial + LEVER, watch)
    ((name, size),) = held(page).items()
    held(page, damage)
    page.close()

    page = visit(device, trial + LEVER, watch)
    assert compressed(watch) == ["/image.zst"]
    starts_quickly(page)
    for _ in range(100):
        if held(page) == {name: size}:
            break
        page.wait_for_timeout(100)
    page.wait_for_timeout(500)  # its first bytes come last
    page.close()
    visit(device, trial + LEVER, watch)
    assert compressed(watch) == []


def test_a_module_that_has_been_cleared_away_comes_compressed(device, trial, watch):
    """The browser's cache is empty, the note of what was in it still there."""
    page = first_visit(device, trial + LEVER, watch)
    device.new_cdp_session(page).send("Network.clearBrowserCache")
    page.close()
    page = visit(device, trial + LEVER, watch)
    assert compressed(watch) == ["/python.wasm.zst"]
    starts_quickly(page)
    page.wait_for_timeout(2000)  # laid out anew
    page.close()
    visit(device, trial + LEVER, watch)
    assert compressed(watch) == []


def test_two_tabs_at_once_both_read_it(device, trial, watch):
    """Readers do not shut each other out."""
    first_visit(device, trial + LEVER, watch).close()
    watch.requests.clear()
    tabs = [opened(device), opened(device)]
    for tab in tabs:
        tab.goto(trial + LEVER, wait_until="commit")
    for tab in tabs:
        live(tab)
    assert compressed(watch) == []
    assert watch.troubles == []


def test_of_a_new_release_the_old_image_goes(device, shop, tmp_path, watch):
    """There is one image on the device, that of the release which was opened last."""
    page = first_visit(device, shop.url + LEVER, watch)
    (old,) = held(page)
    figure = page.locator(PULL).inner_text()
    page.close()

    maths = tmp_path / "shop/calculators/lever.py"
    text = maths.read_text("utf-8")
    assert 'Q(pull, "N")' in text
    maths.write_text(text.replace('Q(pull, "N")', 'Q(1.1 * pull, "N")'), "utf-8")
    build(tmp_path / "shop", tmp_path / "site2", TRIAL_ADDRESS=shop.url)
    shop.stop()
    shutil.rmtree(shop.folder)
    (tmp_path / "site2").rename(shop.folder)
    shop.start()

    page = visit(device, shop.url + LEVER, watch)
    assert "/image.zst" in compressed(watch)
    until(page, f"!{PREPARED}.includes('{old}')")
    (new,) = held(page)
    assert new != old
    assert page.locator(PULL).inner_text() != figure
    page.close()
    visit(device, shop.url + LEVER, watch)
    assert compressed(watch) == []


def test_nothing_is_laid_out_where_data_are_to_be_saved(device, trial, watch):
    """The reader's browser says so; the page computes all the same."""

    def saving(route):
        says = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}});"
        answer = route.fetch()
        route.fulfill(response=answer, body=f"{says}\n{answer.text()}")

    device.route(re.compile(r"/worker\.js$"), saving)
    page = visit(device, trial + LEVER, watch)
    page.wait_for_timeout(2500)
    assert page.evaluate(PREPARED) == ""
    assert [url for url in watch.requests if url.endswith("/python-plain.wasm")] == []
    assert watch.troubles == []


def test_nothing_is_laid_out_for_a_host_that_lets_nothing_be_kept(device, trial, watch):
    """The module would be fetched at every visit, for nothing."""

    def forbid(route):
        answer = route.fetch()
        route.fulfill(response=answer, headers=answer.headers | {"cache-control": "no-store"})

    device.route(re.compile(r"/python-plain\.wasm$"), forbid)
    page = visit(device, trial + LEVER, watch)
    until(page, "performance.now() > 3000")
    assert [url for url in watch.requests if url.endswith("/python-plain.wasm")] != []
    assert page.evaluate(PREPARED) == ""
    assert watch.troubles == []


def test_a_browser_that_holds_no_files_keeps_the_module_and_tries_no_more(device, shop, watch):
    """The image comes compressed at every visit, once."""
    (worker,) = shop.folder.glob("assets/witnessmark/front-*/worker.js")
    lacks = "StorageManager.prototype.getDirectory = () => Promise.reject(new Error('none'));"
    worker.write_text(f"{lacks}\n{worker.read_text('utf-8')}", "utf-8")
    page = visit(device, shop.url + LEVER, watch)
    until(page, f"{PREPARED}.endsWith('/python-plain.wasm')")
    page.close()
    page = visit(device, shop.url + LEVER, watch)
    page.wait_for_timeout(1500)
    asked = [url.rpartition("/")[2] for url in watch.requests if url.endswith(COMPRESSED)]
    assert asked == ["image.zst"]
    assert watch.troubles == []
