"""The handbook on a strict server: nginx under the configuration that its own page shows."""

from __future__ import annotations

import gzip
import re
import subprocess
import urllib.error
import urllib.request

import pytest

from tests.browser.conftest import live
from tests.browser.nginx import shown

pytestmark = pytest.mark.browser

TIGHTENING = "procedures/tightening-through-the-multiplier/"
FIGURE = '#wm-planetary-multiplier [data-result="setting"] .wm-figure'

# What the policy refuses is told to the page as an event; the console hears of it as well.
LISTEN = """
window.refused = [];
document.addEventListener("securitypolicyviolation",
  (event) => window.refused.push(`${event.violatedDirective} ${event.blockedURI}`));
"""


def ask(url: str, method: str = "GET", **headers: str):
    """Status, headers and body of an answer."""
    request = urllib.request.Request(url, method=method, headers=headers)
    try:
        with urllib.request.urlopen(request, timeout=20) as answer:
            return answer.status, answer.headers, answer.read()
    except urllib.error.HTTPError as error:
        return error.code, error.headers, error.read()


def uris(site_folder):
    return sorted(path.relative_to(site_folder).as_posix() for path in site_folder.rglob("*.*"))


def test_nothing_inline_is_left_in_a_page(site_folder):
    """No script, style element, style attribute or event handler stands in any page."""
    for path in site_folder.rglob("*.html"):
        html = path.read_text("utf-8")
        scripts = re.findall(r"<script(?![^>]*\bsrc=)[^>]*>(?!</script>)", html)
        assert [tag for tag in scripts if 'type="application/json"' not in tag] == [], path
        assert re.findall(r"<style|<[a-z][^>]*\s(?:style|on[a-z]+)=", html) == [], path


def test_the_policy_is_strict_and_on_every_answer(base, site_folder):
    """Pages, scripts, the worker's script and even a missing page come under the policy."""
    script = next(uri for uri in uris(site_folder) if uri.endswith("/worker.js"))
    for uri in ("", script, "no/such/page/"):
        policy = ask(base + uri)[1]["Content-Security-Policy"]
        assert "default-src 'self'" in policy
        assert "script-src 'self' 'wasm-unsafe-eval';" in policy
        assert "style-src 'self';" in policy
        assert "unsafe-inline" not in policy
        assert "'unsafe-eval'" not in policy


def test_types_and_keeping(base, site_folder):
    """Hashed names are kept for ever, pages and the search index never without asking."""
    kept, types = {}, {}
    for uri in uris(site_folder):
        status, headers, _ = ask(base + uri, "HEAD")
        assert status == 200, uri
        kept[uri] = "immutable" in headers["Cache-Control"]
        types[uri.rsplit(".", 1)[-1]] = headers["Content-Type"].split(";")[0]
    assert types["wasm"] == "application/wasm"
    assert types["js"] == types["mjs"] == "text/javascript"
    assert {uri for uri in kept if uri.startswith("assets/witnessmark/") and not kept[uri]} == set()
    assert not any(kept[uri] for uri in kept if not uri.startswith("assets/"))
    assert kept[next(uri for uri in kept if "javascripts/bundle." in uri and uri.endswith("js"))]


def test_compressed_on_the_way_and_beforehand(nginx, base, site_folder, tmp_path):
    """What is sent is compressed, and the command of the page makes the files that spare it."""
    wasm = next(uri for uri in uris(site_folder) if uri.endswith(".wasm"))
    _, headers, body = ask(base + wasm, **{"Accept-Encoding": "gzip"})
    assert headers["Content-Encoding"] == "gzip"
    original = (site_folder / wasm).read_bytes()
    assert gzip.decompress(body) == original

    (tmp_path / "site").mkdir()
    (tmp_path / "site/page.html").write_text("<p>words</p>" * 500, "utf-8")
    (tmp_path / "site/picture.png").write_bytes(b"\0" * 5000)
    subprocess.run(shown("compress"), shell=True, check=True, cwd=tmp_path)
    made = {path.name for path in (tmp_path / "site").iterdir()}
    assert made == {"page.html", "page.html.gz", "picture.png"}


def test_it_only_reads_and_a_missing_page_is_the_handbooks_own(base):
    """Nothing can be written; what does not exist is answered by the handbook's page."""
    assert ask(base, "POST")[0] in (403, 405)
    assert ask(base, "DELETE")[0] in (403, 405)
    status, _, body = ask(f"{base}no/such/page/")
    assert status == 404
    assert b"Lockgate Engine Works handbook" in body


def test_no_page_breaks_the_policy_and_instant_navigation_holds(page, base, site_folder, watch):
    """Through every page by its links, without a load: nothing refused, one runtime all along."""
    page.add_init_script(LISTEN)
    page.goto(base + TIGHTENING)
    live(page)
    page.evaluate("document.body.dataset.mine = 'yes'")
    pages = [uri.removesuffix("index.html") for uri in uris(site_folder) if "index.html" in uri]
    assert len(pages) > 12
    for uri in pages:
        page.evaluate(
            """(url) => {
              const link = document.createElement("a");
              link.href = url;
              document.querySelector("[data-md-component=container]").append(link);
              link.click();
            }""",
            base + uri,
        )
        title = re.search(r"<title>(.*?)</title>", (site_folder / uri / "index.html").read_text())
        page.wait_for_function("(title) => document.title === title", arg=title[1])
    assert page.evaluate("document.body.dataset.mine") == "yes"
    fetched = page.evaluate("performance.getEntriesByType('resource').map((each) => each.name)")
    assert sum(".asm.wasm" in name for name in fetched) <= 1
    assert page.evaluate("window.refused") == []
    assert watch.troubles == []


def test_every_page_opened_afresh_keeps_to_the_policy(page, base, site_folder, watch):
    """Palette, search, calculator and drawings under the policy, in the dark as well."""
    page.add_init_script(LISTEN)
    page.emulate_media(color_scheme="dark")
    for uri in uris(site_folder):
        if uri.endswith("index.html"):
            page.goto(base + uri.removesuffix("index.html"))
            assert page.evaluate("document.body.dataset.mdColorScheme") == "slate", uri
            assert page.evaluate("window.refused") == [], uri
    page.goto(f"{base}404.html")
    assert page.evaluate("window.refused") == []

    page.goto(base + TIGHTENING)
    live(page)
    page.locator("#wm-planetary-multiplier-multiplier").select_option("")
    page.locator("#wm-planetary-multiplier-factor:enabled").fill("4")
    page.wait_for_function(f"document.querySelector('{FIGURE}').textContent.startsWith('120')")
    page.locator("label[for=__palette_0]:visible, label[for=__palette_1]:visible").first.click()
    assert page.evaluate("document.body.dataset.mdColorScheme") == "default"
    page.reload()
    assert page.evaluate("document.body.dataset.mdColorScheme") == "default"

    page.locator(".md-search__input").press_sequentially("threadlocker")
    found = page.locator(".md-search-result__link").first
    found.wait_for()
    assert "threadlocker" in found.get_attribute("href")
    assert page.evaluate("window.refused") == []
    assert watch.troubles == []
