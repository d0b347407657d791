"""The handbook on the device: works without its server, and is never out of date with it."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.conftest import Watch, build, live, opened, until
from tests.browser.nginx import Nginx
from tests.browser.on_device import release_kept

pytestmark = pytest.mark.browser

TIGHTENING = "procedures/tightening-through-the-multiplier/"
MULTIPLIER = "#wm-planetary-multiplier"
LEVER = "procedures/lever/"
PULL = '#wm-long-lever-2 [data-result="pull"] .wm-number'


@pytest.fixture
def tablet(chromium: Browser, watch: Watch) -> Iterator[BrowserContext]:
    """A browser that lets a site keep things."""
    context = chromium.new_context(viewport={"width": 1280, "height": 800})
    watch.over(context)
    yield context
    context.close()


@pytest.fixture
def demo(nginx: Nginx) -> Iterator[Nginx]:
    """The server of the demo handbook, for a test that stops it."""
    yield nginx
    nginx.stop()
    nginx.start()


def computes(page: Page, factor: str = "4", shown: str = "120") -> None:
    """The calculator takes an entry and gives the figure for it."""
    live(page)
    page.locator(f"{MULTIPLIER}-multiplier").select_option("")  # its factor is typed
    page.locator(f"{MULTIPLIER}-factor:enabled").fill(factor)
    figure = f'{MULTIPLIER} [data-result="setting"] .wm-figure'
    until(page, f"document.querySelector('{figure}').textContent.startsWith('{shown}')")


def test_the_whole_handbook_works_with_the_server_gone(tablet, demo, watch):
    """After one visit to one page: every page, a calculator, the search, a change of page."""
    page = opened(tablet)
    page.goto(demo.url + TIGHTENING)
    computes(page)
    release_kept(page)
    assert page.locator(".wm-copy").count() == 0
    assert watch.troubles == []
    demo.stop()

    for path in demo.folder.rglob("index.html"):
        uri = path.parent.relative_to(demo.folder).as_posix()
        page.goto(demo.url if uri == "." else f"{demo.url}{uri}/")
        title = re.search(r"<title>(.*?)</title>", path.read_text("utf-8"))
        assert page.evaluate("document.title") == title[1]
        page.locator("article > .wm-copy:first-child").wait_for()
        assert page.evaluate("[...document.images].every((image) => image.naturalWidth > 0)")
    page.goto(f"{demo.url}procedures/threadlocker")
    assert page.url == f"{demo.url}procedures/threadlocker/"
    assert page.goto(f"{demo.url}no/such/page/").status == 404
    watch.troubles.clear()  # of the page that does not exist

    page.goto(demo.url + TIGHTENING)
    computes(page)
    assert "The server does not answer" in page.locator(".wm-copy").inner_text()
    page.evaluate("document.body.dataset.mine = 'yes'")
    page.locator(".md-search__input").press_sequentially("threadlocker")
    page.locator(".md-search-result__link").first.click()
    page.wait_for_url("**/threadlocker/**")
    until(page, "document.title.startsWith('Threadlocker')")
    assert page.evaluate("document.body.dataset.mine") == "yes"
    assert page.locator(".wm-copy").count() == 1
    live(page)

    demo.start()
    page.locator(".md-nav__link[href$='tightening-through-the-multiplier/']").first.click()
    until(page, "document.title.startsWith('Tightening')")
    until(page, "document.querySelector('.wm-copy') === null")
    page.reload()
    assert page.locator(".wm-copy").count() == 0


def test_a_server_that_hangs_is_not_waited_for(tablet, demo):
    """The copy is there after a few seconds, although the server has taken the request."""
    page = opened(tablet)
    page.goto(demo.url)
    release_kept(page)
    demo.hang()
    page.goto(demo.url + TIGHTENING)
    page.locator(".wm-copy").wait_for()
    computes(page)


def test_a_new_release_comes_whole(tablet, shop, tmp_path, watch):
    """Old words stay with old maths, new words come with new maths, by load and without."""
    page = opened(tablet)
    page.goto(shop.url + LEVER)
    live(page)
    first = release_kept(page)
    old = page.locator(PULL).inner_text()

    for name, was, becomes in (
        ("calculators/lever.py", 'Q(pull, "N")', 'Q(1.1 * pull, "N")'),
        ("docs/procedures/wedge.md", "# Driving the wedge", "# Driving the new wedge"),
    ):
        path = tmp_path / "shop" / name
        text = path.read_text("utf-8")
        assert was in text
        path.write_text(text.replace(was, becomes), "utf-8")
    build(tmp_path / "shop", tmp_path / "site2", TRIAL_ADDRESS=shop.url)

    # Published, and gone before this device has asked for anything: all of the old release.
    shop.stop()
    shutil.rmtree(shop.folder)
    (tmp_path / "site2").rename(shop.folder)
    page.goto(shop.url + LEVER)
    live(page)
    page.locator(".wm-copy").wait_for()
    assert page.locator(PULL).inner_text() == old

    # Back again: the open page of the old release meets a page of the new one, and gives way.
    shop.start()
    page.evaluate("window.same = true")
    page.locator(".wm-ready a", has_text="Driving the wedge").click()
    page.wait_for_url("**/wedge/")
    until(page, "document.querySelector('h1')?.textContent.startsWith('Driving the new wedge')")
    until(page, "window.same === undefined")
    live(page)
    page.goto(shop.url + LEVER)
    live(page)
    new = page.locator(PULL).inner_text()
    assert new != old
    assert page.locator(".wm-copy").count() == 0

    second = release_kept(page, but=first)
    shop.stop()
    page.goto(shop.url + LEVER)
    live(page)
    page.locator(".wm-copy").wait_for()
    assert page.locator(PULL).inner_text() == new
    assert second != first


def test_a_release_that_is_not_to_be_kept_is_forgotten(tablet, shop, watch):
    """Pages without the word for it (live preview, ``offline: false``) end an old registration."""
    page = opened(tablet)
    page.goto(shop.url)
    release_kept(page)
    for path in shop.folder.rglob("*.html"):
        html = path.read_text("utf-8")
        assert html.count('<meta name="witnessmark-offline" content="yes">') == 1
        path.write_text(html.replace('<meta name="witnessmark-offline" content="yes">', ""))
    (shop.folder / "sw.js").unlink()
    page.reload()
    until(page, "navigator.serviceWorker.getRegistrations().then((all) => all.length === 0)")
    until(page, "caches.keys().then((names) => names.length === 0)")
    assert watch.troubles == []


def test_a_release_changed_under_way_is_not_kept(tablet, shop):
    """A file that is not what the service worker's list says: nothing is kept, all else works."""
    (shop.folder / "index.html").write_text("<!doctype html><p>of another release", "utf-8")
    page = opened(tablet)
    failed = []
    page.on("console", lambda message: failed.append(message.text))
    page.goto(shop.url + LEVER)
    live(page)
    until(page, "navigator.serviceWorker.getRegistration().then((found) => found !== undefined)")
    until(page, "navigator.serviceWorker.getRegistration().then((found) => found === undefined)")
    assert page.evaluate("caches.keys().then((all) => all.some((name) => / release /.test(name)))"
                         ) is False  # fmt: skip


@pytest.mark.parametrize("want", ["no room", "no service worker"])
def test_a_device_that_keeps_nothing_works_all_the_same(tablet, trial, watch, want):
    """A full store or an old browser: the page computes and nobody complains."""
    page = opened(tablet)
    if want == "no room":
        session = tablet.new_cdp_session(page)
        origin = trial.split("/shop/")[0]
        session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 100_000})
    else:
        page.add_init_script("delete Navigator.prototype.serviceWorker")
    page.goto(trial + LEVER)
    live(page)
    page.locator("#wm-long-lever-2-torque").fill("200")
    until(page, f"document.querySelector('{PULL}').textContent.startsWith('2')")
    page.wait_for_timeout(1500)
    names = page.evaluate("caches.keys()")
    assert [name for name in names if " release " in name] == []
    assert watch.troubles == []
    page.goto(trial)
    assert page.locator("h1").count() == 1
