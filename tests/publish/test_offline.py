"""The service worker's list: what a release is made of, by content."""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import Path

import pytest

from witnessmark.publish import write_service_worker

SITE = {
    "index.html": "<p>start</p>",
    "index.html.gz": "compressed beforehand",
    "a/index.html": "<p>a</p>",
    "sitemap.xml": "<urlset/>",
    "sitemap.xml.gz": "has the time in it",
    "search/search_index.json": '{"config": {"lang": ["en"]}}',
    "assets/javascripts/bundle.0123abcd.min.js": "b()",
    "assets/javascripts/bundle.0123abcd.min.js.map": "{}",
    "assets/javascripts/lunr/min/lunr.de.min.js": "de()",
    "assets/witnessmark/runtime-0123456789ab/image.bin.gz": "no copy of another file",
    "assets/witnessmark/bundle-0123456789ab/spare.whl": "only when the start fails",
    ".htaccess": "not for readers",
}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    for uri, text in SITE.items():
        path = tmp_path / uri
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return tmp_path


def listed(site: Path, *leave_out: str) -> tuple[str, dict[str, str]]:
    """The release's name and files as the script has them."""
    text = write_service_worker(site, leave_out).read_text("utf-8")
    found = re.match(r'const RELEASE = "([0-9a-f]{12})";\nconst FILES = (\{.*?\});', text, re.S)
    assert found is not None
    return found[1], json.loads(found[2])


def test_it_lists_what_a_reader_may_ask_for(site):
    """Pages, scripts, the runtime; no source maps, no doubles, no lists for other languages."""
    spare = "assets/witnessmark/bundle-0123456789ab/spare.whl"
    _, files = listed(site, spare)
    assert set(files) == {
        "index.html", "a/index.html", "sitemap.xml", "search/search_index.json",
        "assets/javascripts/bundle.0123abcd.min.js",
        "assets/witnessmark/runtime-0123456789ab/image.bin.gz",
    }  # fmt: skip
    assert files["index.html"] == hashlib.sha256(b"<p>start</p>").hexdigest()[:24]


def test_search_in_another_language_takes_its_lists_along(site):
    """The search of a German handbook loads the word lists, so they are kept."""
    (site / "search/search_index.json").write_text('{"config": {"lang": ["de"]}}', "utf-8")
    assert "assets/javascripts/lunr/min/lunr.de.min.js" in listed(site)[1]


def test_the_release_follows_every_file_and_nothing_else(site):
    """The same site is the same release; a change in any file makes another."""
    first, files = listed(site)
    assert listed(site) == (first, files)
    (site / "a/index.html").write_text("<p>b</p>", "utf-8")
    assert listed(site)[0] != first
