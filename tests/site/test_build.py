"""Whole sites, built as their user builds them, on MkDocs and on its drop-in fork."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.site.conftest import GENERATORS, run_build
from witnessmark.bundle.cache import handbook_entry

pytestmark = pytest.mark.site


def page(project: Path, uri: str) -> str:
    return (project / "site" / uri / "index.html").read_text("utf-8")


def wheel_names(project: Path) -> set[str]:
    import zipfile

    (wheel,) = (project / "site").glob("assets/witnessmark/bundle-*/calculators-*.whl")
    return {name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("calculators/")}


@pytest.mark.parametrize("generator", GENERATORS)
def test_a_handbook_is_built(project, build, generator):
    """Values, default results, plate, widget, reference pages and bundle are in the site."""
    done = build(project, generator, "--strict")
    assert done.returncode == 0, done.stderr
    html = page(project, "pull")
    assert "480\u202fN·m" in html or "480 N·m" in html
    assert re.search(r'<span class="wm-si">360\u202fN·m</span>', html)
    assert 'data-calculator="lever"' in html
    assert re.search(r'<span class="wm-number">360</span>\u202f<span class="wm-unit">N·m', html)
    assert "long bar" in html
    assert re.search(r'<meta name="witnessmark" content="\S+ book [0-9a-f]{12}">', html)
    reference = page(project, "reference/calculators/lever")
    assert "agrees" in reference
    assert "<math" not in reference
    assert "Moment of a force, by hand" in page(project, "reference/sources")
    overview = page(project, "reference/sign-off")
    assert '<tr data-state="unsigned" data-kind="page">' in overview
    assert '<a href="../../pull/">Pull on the bar</a>' in overview
    assert "<b>Not signed</b>" in html
    assert not list((project / "site").rglob("*.yml"))


def test_assets_are_named_by_their_content(project, build):
    """Script and style are asked for under names with a digest, relative to the page."""
    assert build(project).returncode == 0
    html = page(project, "pull")
    script = re.search(r'<script src="\.\./(assets/witnessmark/front-[0-9a-f]{12}/main\.js)"', html)
    style = re.search(r'href="\.\./(assets/witnessmark/front-[0-9a-f]{12}/wm\.css)"', html)
    assert script
    assert style
    for found in (script, style):
        assert (project / "site" / found[1]).is_file()
    assert 'type="module"' in html[script.start() : script.end() + 40]
    names = {path.name.split("-")[0] for path in (project / "site/assets/witnessmark").iterdir()}
    assert names == {"runtime", "start", "image", "bundle", "front", "inline"}


def test_only_used_modules_travel(project, build):
    """Without reference pages, a calculator that no page uses stays at home."""
    config = project / "mkdocs.yml"
    config.write_text(
        config.read_text("utf-8").replace("witnessmark]", "witnessmark: {reference: false}]"),
        "utf-8",
    )
    assert build(project, "mkdocs", "--strict").returncode == 0
    names = {Path(name).stem for name in wheel_names(project)}
    assert "lever" in names
    assert "unused" not in names
    assert not list((project / "site" / "reference").rglob("*.html"))


def test_search_finds_words_not_widgets(project, build):
    """The search index has the text of a step, and no label or figure of a calculator."""
    assert build(project).returncode == 0
    index = json.loads((project / "site/search/search_index.json").read_text("utf-8"))
    text = " ".join(part["text"] for part in index["docs"] if part["location"].startswith("pull"))
    assert "Pull steadily" in text
    assert "Torque at the nut" not in text


@pytest.mark.parametrize("generator", GENERATORS)
def test_every_fault_is_told_at_once(project, build, generator):
    """Wrong names and units in page, data book and calculators: one message, no site published."""
    docs = project / "docs"
    (docs / "pull.md").write_text(PROCEDURE_WITH_FAULTS, "utf-8")
    book = docs / "databook" / "shop.yml"
    book.write_text(book.read_text("utf-8").replace("1.2 m", "1.2 kg"), "utf-8")
    done = build(project, generator)
    assert done.returncode != 0
    for expected in (
        "docs/pull.md:8: {nut.torqe}",
        "did you mean 'nut.torque'?",
        "docs/pull.md:13: levr",
        "did you mean 'lever'?",
        "docs/databook/shop.yml:5: tools.bar.length",
    ):
        assert expected in done.stderr
    assert "4 faults" in done.stderr or "3 faults" in done.stderr


PROCEDURE_WITH_FAULTS = """\
---
title: Pull on the bar
machines: [LG2]
tools: [bar]
---
# Pull on the bar

The nut gets {nut.torqe}.

//// step | Pull
Pull steadily.

/// calculator | levr
///
////
"""


def test_a_calculator_that_cannot_be_imported_is_a_fault(project, build):
    """A syntax error in a module is told with its file and line."""
    module = project / "calculators" / "lever.py"
    module.write_text(module.read_text("utf-8") + "\ndef broken(:\n", "utf-8")
    done = build(project)
    assert done.returncode != 0
    assert re.search(r"calculators/lever\.py:\d+", done.stderr)


def tree(folder: Path) -> dict[str, str]:
    """Digest of every file of a site, but for the archive that carries the time of the build."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != "sitemap.xml.gz"
    }


def test_the_same_sources_give_the_same_site(project, build, tmp_path):
    """Two builds in two folders are the same, file by file."""
    other = tmp_path / "elsewhere" / "copy"
    shutil.copytree(project, other)
    assert build(project).returncode == 0
    assert build(other).returncode == 0
    assert tree(project / "site") == tree(other / "site")


def test_the_demo_handbook_is_built_strictly(demo_site):
    """The handbook of this repository, with MkDocs' own warnings as errors."""
    assert (demo_site / "procedures/rear-seal-renewal/index.html").is_file()


def entry_of(project: Path) -> Path:
    """Where the cache keeps what builds of this handbook worked out."""
    return handbook_entry(project / "calculators")


def forget(project: Path) -> None:
    """Empty the cache of all that builds of this handbook worked out."""
    for kind in ("outcomes", "pages"):
        shutil.rmtree(handbook_entry(project / "calculators", kind=kind))


def test_a_warm_cache_makes_the_same_site(project, build, monkeypatch):
    """What is kept gives byte for byte what working it out gives, and is not written again."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")
    sites, files = [], []
    for _ in range(2):
        done = build(project, "mkdocs", "--clean", "--strict")
        assert done.returncode == 0, done.stderr
        sites.append(tree(project / "site"))
        kept = [entry_of(project) / name for name in ("outcomes.json", "answers.json")]
        files.append([(path.stat().st_ino, path.stat().st_mtime_ns) for path in kept])
    shutil.rmtree(entry_of(project))
    assert files[0] == files[1], "the second build worked something out"
    assert sites[0] == sites[1]


def test_what_is_kept_is_never_stale(project, build, monkeypatch):
    """After any change a build with a warm cache writes what one with an empty cache writes."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")
    assert build(project).returncode == 0
    seen = [tree(project / "site")]
    for file, old, new in (
        ("docs/pull.md", "Pull steadily.", "Pull slowly."),
        ("docs/databook/shop.yml", "1.2 m", "1.5 m"),
        ("docs/databook/shop.yml", "long bar", "longer bar"),
        ("calculators/lever.py", "force * arm", "2 * force * arm"),
        ("calculators/lever.py", "2 * force", "3 * force"),
        ("calculators/lever.py", "by hand", "by pencil"),
        ("docs/pull.md", "title: Pull on the bar", "title: Pull on the longer bar"),
        ("mkdocs.yml", "handbook.example", "other.example"),
    ):
        path = project / file
        text = path.read_text("utf-8")
        assert old in text
        path.write_text(text.replace(old, new), "utf-8")
        sites = []
        for cold in (False, True):
            if cold:
                forget(project)
            assert build(project).returncode == 0
            sites.append(tree(project / "site"))
        assert sites[0] == sites[1], file
        assert sites[0] not in seen, file
        seen.append(sites[0])
    forget(project)


def test_two_builds_at_once_do_not_disturb_each_other(project, tmp_path):
    """They share one cache; both sites are whole and the same."""
    with ThreadPoolExecutor(2) as both:
        sites = [tmp_path / name for name in ("one", "two")]
        done = list(both.map(lambda site: run_build(project, site=site), sites))
    assert [each.returncode for each in done] == [0, 0], done
    assert tree(sites[0]) == tree(sites[1])
    shutil.rmtree(entry_of(project))


def test_no_id_stands_twice_on_a_page(demo_site):
    """Labels, descriptions, links and what readings feed find their one element."""
    for path in sorted(demo_site.rglob("*.html")):
        html = re.sub(r"<pre.*?</pre>", "", path.read_text("utf-8"), flags=re.DOTALL)
        ids = re.findall(r'<[a-z][^<>]*?\sid="([^"]+)"', html)
        assert sorted(each for each, count in Counter(ids).items() if count > 1) == [], path
