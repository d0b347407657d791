"""What theme and search made of a page at an earlier build: the same as made anew, never stale."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.site.conftest import GENERATORS
from tests.site.test_build import page, tree
from witnessmark.bundle.cache import handbook_entry
from witnessmark.mkdocs.rendered import OF_PAGE, UNSEEN

pytestmark = pytest.mark.site

KINDS = ("outcomes", "pages", "rendered")

SETTINGS = """\
copyright: A shop
nav:
  - index.md
  - Work: [pull.md, other.md]
  - Elsewhere: https://elsewhere.example/
  - "Tables": "reference/tables/*"
  - "Calculators": "reference/calculators/*"
"""


@pytest.fixture
def shop(project):
    """The small handbook with a navigation; what is kept of it is gone when the test is over."""
    config = project / "mkdocs.yml"
    config.write_text(config.read_text("utf-8") + SETTINGS, "utf-8")
    (project / "docs/other.md").write_text("# Another page\n\n## Part\n\nWords.\n", "utf-8")
    yield project
    forget(project)


@pytest.fixture(autouse=True)
def steady_day(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")  # MkDocs' own theme writes the time


def forget(project: Path) -> None:
    for kind in KINDS:
        shutil.rmtree(handbook_entry(project / "calculators", kind=kind), ignore_errors=True)


def renderings(project: Path) -> dict[str, int]:
    folder = handbook_entry(project / "calculators", kind="rendered")
    return {path.name: path.stat().st_ino for path in folder.glob("*")}


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def own_value(project):
    with (project / "mkdocs.yml").open("a", encoding="utf-8") as file:
        file.write("extra: {homepage: https://shop.example/}\n")


def own_style(project):
    (project / "docs/own.css").write_text("p { color: teal }\n", "utf-8")
    with (project / "mkdocs.yml").open("a", encoding="utf-8") as file:
        file.write("extra_css: [own.css]\n")


CONFIG, PULL, OTHER = "mkdocs.yml", "docs/pull.md", "docs/other.md"
ICON = (OTHER, "# Another", "---\nicon: material/wrench\n---\n# Another")
WORDS = (OTHER, "Words.", "Other words.")

CHANGES = {
    "feature": (CONFIG, "[navigation.prune]", "[navigation.prune, navigation.tabs]"),
    "colours": (CONFIG, "font: false,", "font: false, palette: {primary: teal},"),
    "name of the site": (CONFIG, "Test handbook", "Other handbook"),
    "copyright": (CONFIG, "A shop", "Another shop"),
    "own value": own_value,
    "own style": own_style,
    "title elsewhere": (OTHER, "# Another page", "# Another title"),
    "icon elsewhere": (
        OTHER,
        "# Another title",
        "---\nicon: material/wrench\n---\n# Another title",
    ),
    "order": (CONFIG, "[pull.md, other.md]", "[other.md, pull.md]"),
    "hidden contents": (PULL, "tools: [bar]", "tools: [bar]\nhide: [toc]"),
    "left out of the search": (PULL, "tools: [bar]", "tools: [bar]\nsearch: {exclude: true}"),
    "weight in the search": (PULL, "{exclude: true}", "{boost: 2}"),
    "words": WORDS,
    "heading": (OTHER, "## Part", "## Other part"),
    "value": ("docs/databook/lg2.yml", "480", "490"),
}
"""What is changed, one after the other: a file, a text in it and another."""


def changed(project, change):
    if callable(change):
        change(project)
    else:
        name, old, new = change
        replaced(project / name, old, new)


def test_every_change_is_followed(shop, build, tmp_path):
    """One change after the other; each time the site is the one that an empty cache gives."""
    assert build(shop, "mkdocs", "--strict").returncode == 0
    twin = tmp_path / "twin" / shop.name
    seen = tree(shop / "site")
    for name, change in CHANGES.items():
        changed(shop, change)
        assert build(shop, "mkdocs", "--strict").returncode == 0
        site = tree(shop / "site")
        assert site != seen, name
        seen = site
        shutil.rmtree(twin, ignore_errors=True)
        shutil.copytree(shop, twin, ignore=shutil.ignore_patterns("site"))
        forget(twin)
        assert build(twin, "mkdocs", "--strict").returncode == 0
        assert tree(twin / "site") == site, name
    forget(twin)


@pytest.mark.parametrize("generator", GENERATORS)
def test_a_changed_page_is_rendered_alone(shop, build, generator):
    """Where its title stays, no other page is rendered; unchanged, none is."""
    assert build(shop, generator).returncode == 0
    before = renderings(shop)
    assert len(before) > 5
    assert build(shop, generator).returncode == 0
    assert renderings(shop) == before
    changed(shop, WORDS)
    assert build(shop, generator).returncode == 0
    after = renderings(shop)
    assert before.keys() == after.keys()
    assert len(before.items() - after.items()) == 1
    assert "Other words." in page(shop, "other")


def test_the_search_of_the_site_generator(shop, build):
    """With a theme that is not known pages are rendered anew, and MkDocs' own search reads each
    changed page."""
    replaced(shop / "mkdocs.yml", "{name: material, font: false, features: [navigation.prune]}",
             "mkdocs")  # fmt: skip
    sites = []
    for _ in range(2):
        done = build(shop)
        assert done.returncode == 0, done.stderr
        sites.append(tree(shop / "site"))
    assert sites[0] == sites[1]
    assert not renderings(shop)
    kept = handbook_entry(shop / "calculators") / "search.json"
    assert "Words." in kept.read_text("utf-8")
    changed(shop, WORDS)
    assert build(shop).returncode == 0
    assert "Other words." in (shop / "site/search/search_index.json").read_text("utf-8")
    assert "Other words." in kept.read_text("utf-8")


def test_a_hook_takes_part_in_every_page(shop, build):
    """What a hook gives the theme may change without anything that is known here."""
    (shop / "hook.py").write_text(
        "from pathlib import Path\n\n"
        "def on_page_context(context, *, page, config, nav):\n"
        '    page.title = Path("said.txt").read_text("utf-8")\n'
        "    return context\n", "utf-8",
    )  # fmt: skip
    with (shop / "mkdocs.yml").open("a", encoding="utf-8") as file:
        file.write("hooks: [hook.py]\n")
    for word in ("Firstword", "Otherword"):
        (shop / "said.txt").write_text(word, "utf-8")
        assert build(shop).returncode == 0
        assert f"<title>{word}" in page(shop, "other")
    assert not renderings(shop)


def test_spoiled_files_are_made_anew(shop, build):
    """A rendering, or what the search read, that is not as it was written is not believed."""
    assert build(shop).returncode == 0
    site = tree(shop / "site")
    files = [*handbook_entry(shop / "calculators", kind="rendered").iterdir()]
    files.append(handbook_entry(shop / "calculators") / "search.json")
    good = {path: path.read_bytes() for path in files}
    for number, path in enumerate(files):
        spoils = (b"", b"[]", good[path][:-3], good[path].replace(b"a", b"e"))
        path.write_bytes(spoils[number % 4])
    assert build(shop).returncode == 0
    assert tree(shop / "site") == site
    assert {path: path.read_bytes() for path in files} == good


WATCHED = """\
import json, sys
import jinja2.runtime
from jinja2 import Environment

seen = set()

def looks(kind, own):
    def look(environment, thing, name):
        of = type(thing).__name__
        if of == "Page" and not thing.active:
            of = "other Page"
        seen.add((of, str(name)))
        return own(environment, thing, name)
    return look

Environment.getattr = looks("attribute", Environment.getattr)
Environment.getitem = looks("item", Environment.getitem)
resolve = jinja2.runtime.Context.resolve_or_missing

def resolved(context, name):
    seen.add(("context", name))
    return resolve(context, name)

jinja2.runtime.Context.resolve_or_missing = resolved
from mkdocs.commands import build
own_page = build._build_page

def page_built(*arguments, **named):
    own_page(*arguments, **named)
    every.update(seen)
    seen.clear()

def themed(*arguments, **named):
    own_template(*arguments, **named)
    seen.clear()

every = set()
build._build_page = page_built
own_template = build._build_theme_template
build._build_theme_template = themed
from mkdocs.__main__ import cli
try:
    cli(["build", "-q"])
finally:
    print(json.dumps(sorted(every)))
"""

LOOKED_AT = {
    "Page": {*OF_PAGE, "content", "toc", "previous_page", "next_page", "ancestors", "parent",
             "children", "active", "pages", "encrypted", "typeset"},
    "other Page": {*OF_PAGE, "children", "active", "pages", "encrypted", "typeset"},
}  # fmt: skip


def test_the_theme_looks_at_nothing_else(shop):
    """A rendering is named by all that the theme looks at, with every feature turned on."""
    replaced(
        shop / "mkdocs.yml", "font: false, features: [navigation.prune]",
        "features: [navigation.tabs, navigation.sections, navigation.indexes, navigation.path, "
        "navigation.footer, navigation.top, navigation.instant, navigation.tracking, toc.follow, "
        "toc.integrate, search.suggest, search.share, content.action.edit, content.action.view, "
        "content.tooltips, announce.dismiss, header.autohide]",
    )  # fmt: skip
    with (shop / "mkdocs.yml").open("a", encoding="utf-8") as file:
        file.write(
            "repo_url: https://code.example/shop\nedit_uri: edit/main/docs/\n"
            "extra: {social: [{icon: material/wrench, link: 'https://shop.example/'}]}\n"
        )
    changed(shop, ICON)
    forget(shop)
    done = subprocess.run(
        [sys.executable, "-c", WATCHED], cwd=shop, text=True, capture_output=True, check=False,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1"}, timeout=300,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    seen = {(of, name) for of, name in json.loads(done.stdout)}
    assert ("Page", "content") in seen
    assert ("other Page", "title") in seen
    assert not {("context", each) for each in ("pages", "build_date_utc")} & seen
    looked = {name for of, name in seen if of == "MkDocsConfig"}
    assert "site_name" in looked
    assert looked & UNSEEN <= {"theme", "plugins"}
    for of in ("Page", "other Page"):
        assert {name for kind, name in seen if kind == of} <= LOOKED_AT[of]
