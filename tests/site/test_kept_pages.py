"""Pages that an earlier build has converted: the same as converted anew, and never out of date."""

from __future__ import annotations

import re
import shutil

import pytest

from tests.site.conftest import CALCULATORS, GENERATORS
from tests.site.test_build import page, tree
from witnessmark.bundle.cache import handbook_entry, read_checked

pytestmark = pytest.mark.site

TOOLED = CALCULATORS.replace("Torque, calc", "ToolPlace, Torque, calc").replace(
    "sources=[STATICS],\n",
    "sources=[STATICS],\n"
    '    tools=(ToolPlace("tool", "Multiplier", "torque multiplier", {"arm": "{arm}"}),),\n',
)

OTHER = """\
# Another page

## A heading with {nut.torque}

[To the heading of the other page](pull.md#pull) and [to a footnote][^1].

[^1]: Said below.
"""


@pytest.fixture
def kept(project):
    """The folder of kept pages; gone when the test is over."""
    folder = handbook_entry(project / "calculators", kind="pages")
    yield folder
    for kind in ("pages", "outcomes", "rendered"):
        shutil.rmtree(handbook_entry(project / "calculators", kind=kind), ignore_errors=True)


@pytest.fixture(autouse=True)
def steady_day(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764028800")


def names(folder):
    return {path.name: path.stat().st_ino for path in folder.iterdir()}


@pytest.mark.parametrize("generator", GENERATORS)
def test_kept_pages_make_the_same_site(project, build, kept, generator):
    """Byte for byte, contents lists, links to headings and search index too."""
    (project / "docs/other.md").write_text(OTHER, "utf-8")
    config = project / "mkdocs.yml"
    config.write_text(config.read_text("utf-8").replace("[tables,", "[footnotes, tables,"), "utf-8")
    sites, files = [], []
    for _ in range(2):
        done = build(project, generator, "--strict")
        assert done.returncode == 0, done.stderr
        sites.append(tree(project / "site"))
        files.append(names(kept))
    assert sites[0] == sites[1]
    assert files[0] == files[1], "the second build converted a page"
    shutil.rmtree(kept)
    assert build(project, generator, "--strict").returncode == 0
    assert tree(project / "site") == sites[1]


def test_one_changed_page_is_one_conversion(project, build, kept):
    """The others are taken as they are."""
    assert build(project).returncode == 0
    before = names(kept)
    text = project / "docs/pull.md"
    text.write_text(text.read_text("utf-8").replace("Pull steadily.", "Pull slowly."), "utf-8")
    assert build(project).returncode == 0
    assert "Pull slowly." in page(project, "pull")
    after = names(kept)
    assert len(after.keys() - before.keys()) == 1
    assert before.items() <= after.items()


def test_a_new_page_changes_links_to_it(project, build, kept):
    """A link that led nowhere is mended by the page it names, without a change of its own."""
    index = project / "docs/index.md"
    index.write_text("# Start\n\n[Pull](pull.md), [other](other.md)\n", "utf-8")
    assert build(project).returncode == 0
    assert 'href="other.md"' in (project / "site/index.html").read_text("utf-8")
    (project / "docs/other.md").write_text("# Other\n", "utf-8")
    assert build(project).returncode == 0
    assert 'href="other/"' in (project / "site/index.html").read_text("utf-8")


def test_what_is_said_of_a_page_is_said_at_every_build(project, build, kept):
    """A page with a warning is not kept; neither is a warning about a heading lost."""
    (project / "docs/other.md").write_text("# Other\n\n[no](nowhere.md)\n", "utf-8")
    index = project / "docs/index.md"
    index.write_text("# Start\n\n[Pull](pull.md#no-such-heading)\n", "utf-8")
    config = project / "mkdocs.yml"
    text = config.read_text("utf-8")
    config.write_text(f"{text}validation: {{links: {{anchors: warn}}}}\n", "utf-8")
    for _ in range(2):
        done = build(project)
        assert done.returncode == 0
        assert "'nowhere.md'" in done.stderr
        assert "no-such-heading" in done.stderr
        assert build(project, "mkdocs", "--strict").returncode != 0


def test_an_extension_that_reads_files_keeps_nothing(project, build, kept):
    """With includes a page hangs on files that its text does not tell of."""
    config = project / "mkdocs.yml"
    config.write_text(
        config.read_text("utf-8").replace("[tables,", "[pymdownx.snippets, tables,"), "utf-8"
    )
    (project / "part.txt").write_text("The first words.\n", "utf-8")
    (project / "docs/other.md").write_text('# Other\n\n--8<-- "part.txt"\n', "utf-8")
    assert build(project).returncode == 0
    assert "The first words." in page(project, "other")
    (project / "part.txt").write_text("Other words.\n", "utf-8")
    assert build(project).returncode == 0
    assert "Other words." in page(project, "other")
    records = [read_checked(path) for path in kept.iterdir()]
    assert ["html" in record for record in records] == [False], "but for the reference pages' text"


def test_spoiled_files_are_made_anew(project, build, kept):
    """A kept page or part that is not as it was written is not believed."""
    assert build(project).returncode == 0
    site = tree(project / "site")
    good = {path: path.read_bytes() for path in kept.iterdir()}
    spoils = (b"", b"[]", good[next(iter(good))][:-3])
    for number, path in enumerate(good):
        path.write_bytes(spoils[number % 3])
    assert build(project).returncode == 0
    assert tree(project / "site") == site
    assert {path: path.read_bytes() for path in kept.iterdir()} == good


def test_the_day_counts_where_a_certificate_does(project, build, kept, monkeypatch):
    """A tool whose certificate runs out overnight is told of on the next day."""
    (project / "calculators/lever.py").write_text(TOOLED, "utf-8")
    book = project / "docs/databook/shop.yml"
    book.write_text(
        book.read_text("utf-8") + "  geared:\n    title: geared multiplier\n"
        "    tool: torque multiplier\n    arm: {is: 1.2 m, kind: length}\n"
        "    ratio: {is: 4, kind: number}\n    due: 2025-11-25\n",
        "utf-8",
    )
    text = project / "docs/pull.md"
    text.write_text(
        text.read_text("utf-8").replace("\narm: tools.bar.length", "\ntool: geared"), "utf-8"
    )
    for epoch, told in (("1764028800", False), ("1764115200", True), ("1764028800", False)):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)  # 25 and 26 November 2025
        for _ in range(2):
            done = build(project)
            assert done.returncode == 0, done.stderr
            assert ("ran out" in page(project, "pull")) is told, page(project, "pull")


def test_translated_templates_are_never_stale(project, build, kept):
    """A template of the handbook's own is followed at once; a spoiled file is made anew."""
    config = project / "mkdocs.yml"
    text = config.read_text("utf-8")
    config.write_text(text.replace("font: false,", "font: false, custom_dir: over,"), "utf-8")
    template = project / "over/main.html"
    template.parent.mkdir()
    file = handbook_entry(project / "calculators") / "templates.json"
    for word in ("Firstword", "Otherword"):
        template.write_text(
            f'{{% extends "base.html" %}}{{% block announce %}}{word}{{% endblock %}}', "utf-8"
        )
        assert build(project).returncode == 0
        assert word in page(project, "pull")
        site, state = tree(project / "site"), file.stat()
        assert build(project).returncode == 0
        assert tree(project / "site") == site
        assert file.stat().st_ino == state.st_ino, "the second build translated a template"
    good = file.read_bytes()
    for spoiled in (b"", b"[]", good[:-3], good.replace(b"Otherword", b"Falseword")):
        file.write_bytes(spoiled)
        assert build(project).returncode == 0
        assert tree(project / "site") == site
        assert file.read_bytes() == good


def test_a_page_follows_the_pages_it_names(project, build, kept, tmp_path):
    """Title and machines of the page that comes next; a page that names none is not touched."""
    pull = project / "docs/pull.md"
    pull.write_text(
        pull.read_text("utf-8").replace("tools: [bar]", "tools: [bar]\nnext: [other]"), "utf-8"
    )
    book = project / "docs/databook/lg2.yml"
    book.write_text(
        book.read_text("utf-8").replace("LG2\n", "LG2\nvariants: [canal, stationary]\n"), "utf-8"
    )
    before: dict[str, int] = {}
    for head, title, whom in (
        ("", "Next page", ""),
        ("", "Another title", ""),
        ("---\nmachines: [LG2]\nvariants: [canal]\n---\n", "Another title", " (canal)"),
    ):
        (project / "docs/other.md").write_text(f"{head}# {title}\n", "utf-8")
        assert build(project, "mkdocs", "--strict").returncode == 0
        end = f'<span class="wm-whom">{whom}</span>' if whom else ""
        assert re.search(rf">{title}</a>{re.escape(end)}</dd>", page(project, "pull"))
        after = names(kept)
        if before:
            assert len(after.items() - before.items()) == 2, "the page, and the one that names it"
        before = after
        twin = tmp_path / "twin" / project.name
        shutil.copytree(project, twin, ignore=shutil.ignore_patterns("site"))
        assert build(twin, "mkdocs", "--strict").returncode == 0
        assert tree(project / "site") == tree(twin / "site")
        shutil.rmtree(twin)
        for kind in ("pages", "outcomes", "rendered"):
            shutil.rmtree(handbook_entry(twin / "calculators", kind=kind))
