"""Releases side by side: the newest holds, the old ones say so and stay as they were made."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

from witnessmark.release import Manifest, Shelf, file_digests, read_manifest

PAGE = (
    '<!doctype html><html><head><meta name="witnessmark-offline" content="yes"></head>'
    '<body dir="ltr" class="a"><h1>{}</h1></body></html>'
)


def site(folder: Path, *uris: str) -> Path:
    for uri in uris:
        path = folder / uri
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(PAGE.format(uri), "utf-8")
    (folder / "logo.svg").write_text("<svg/>", "utf-8")
    return folder


def put(shelf: Shelf, folder: Path, version: str, previous: str, *uris: str) -> Path:
    made = site(folder / f"site-{version}", "index.html", *uris)
    manifest = Manifest(version, f"2026-0{len(version)}-01", f"Note <{version}>", previous, "0.1.0",
                        "pyodide", 1, {}, file_digests(made))  # fmt: skip
    return shelf.put(made, manifest, f"# Release {version}\n")


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    """Three releases; the page pull/ came with the first and is gone in the third."""
    made = Shelf(tmp_path / "releases")
    put(made, tmp_path, "1.0", "", "pull/index.html")
    put(made, tmp_path, "1.1", "1.0", "pull/index.html")
    put(made, tmp_path, "2.0", "1.1")
    return made


def text(shelf: Shelf, path: str) -> str:
    return (shelf.folder / path).read_text("utf-8")


def test_the_newest_holds(shelf):
    """In the order in which they follow one another, whatever their names."""
    assert [each.version for each in shelf.releases()] == ["2.0", "1.1", "1.0"]
    assert (shelf.folder / "current" / "index.html").samefile(shelf.folder / "2.0" / "index.html")
    assert "old" not in text(shelf, "2.0/index.html")


def test_old_releases_stay_reachable_and_say_that_they_are_old(shelf):
    """One banner a page, at the top, with a link to the same page where there is one."""
    for version in ("1.0", "1.1"):
        html = text(shelf, f"{version}/pull/index.html")
        assert html.count("<!--wm-old-->") == 1
        assert (
            html.index('class="a">') < html.index(f"This is release {version}") < html.index("<h1>")
        )
        assert "It is old: release 2.0 of 2026-03-01 has taken its place." in html
        assert 'href="../../2.0/index.html"' in html  # pull/ is gone
        assert 'href="../2.0/index.html"' in text(shelf, f"{version}/index.html")
        assert "witnessmark-offline" not in html


def test_every_link_of_a_banner_and_of_the_list_leads_somewhere(shelf):
    """Relative, so that the folder can lie anywhere."""
    for path in [*shelf.folder.glob("1.*/**/*.html"), shelf.folder / "index.html"]:
        for address in re.findall(r'href="([^"]+)"', path.read_text("utf-8")):
            assert (path.parent / address).is_file(), (path, address)
    index = text(shelf, "index.html")
    assert index.index("Release 2.0") < index.index("Release 1.1") < index.index("Release 1.0")
    assert "Note &lt;1.0&gt;" in index


def test_a_release_stays_checked_against_its_manifest(shelf):
    """The banner does not count; any other change does."""
    for version in ("1.0", "1.1", "2.0"):
        assert shelf.differing(version) == []
    page = shelf.folder / "1.0" / "pull" / "index.html"
    page.write_text(page.read_text("utf-8").replace("<h1>", "<h1>!"), "utf-8")
    (shelf.folder / "1.1" / "logo.svg").unlink()
    (shelf.folder / "2.0" / "added.html").write_text("", "utf-8")
    assert shelf.differing("1.0") == ["pull/index.html"]
    assert shelf.differing("1.1") == ["logo.svg"]
    assert shelf.differing("2.0") == ["added.html"]


def test_what_was_compressed_for_the_server_is_told_too(shelf, tmp_path):
    """A page.gz beside a page is not left behind without the banner."""
    page = shelf.folder / "2.0" / "index.html"
    page.with_name("index.html.gz").write_bytes(gzip.compress(page.read_bytes()))
    put(shelf, tmp_path, "2.1", "2.0")
    packed = gzip.decompress(page.with_name("index.html.gz").read_bytes())
    assert packed == page.read_bytes()
    assert b"This is release 2.0" in packed
    assert shelf.differing("2.0") == []


def test_a_manifest_is_read_as_it_was_written(shelf):
    """With one digest over all files."""
    manifest = read_manifest(shelf.folder / "1.0")
    assert manifest.note == "Note <1.0>"
    assert len(manifest.digest) == 64
    assert manifest.files.keys() == {"index.html", "pull/index.html", "logo.svg"}
